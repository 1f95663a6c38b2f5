// Sets from files: by a chooser or dropped. What is wrong is listed, what is good is offered, and the user decides.

import { byId, html } from '../dom.js';
import { answerLine, makeDialog, press, row } from '../panels/dialog.js';
import { sentenceFor } from '../sentences.js';

/** @import { ItemSet } from '../engine/protocol.js' */
/** @import { Session } from './session.js' */

/** A larger file is not even read; the core's own limit is told by the core, bytes. */
const LARGEST = 4 * 1024 * 1024;

/** @param {Session} session @param {() => boolean} isOpen */
export function createFileDialog(session, isOpen) {
  const field = html('input', { type: 'file', accept: '.json,application/json', 'aria-label': 'The file of a set' });
  const said = answerLine();
  const faults = html('ul', { class: 'faults', 'aria-label': 'What is wrong with the file', tabindex: 0, hidden: '' });
  const take = press('Add', add, { class: 'action primary', hidden: '' });
  const dialog = makeDialog('sets-file', 'Open a set from a file', field, said, faults, row(take, press('Cancel', () => dialog.close())));
  /** @type {ItemSet | null} */
  let found = null;

  function add() {
    if (!found) return;
    session.take({ ...found, title: found.title || 'Set without a title' });
    dialog.close();
  }

  function clear() {
    found = null;
    said.textContent = 'Nothing is kept before you say so.';
    faults.hidden = take.hidden = true;
    faults.replaceChildren();
  }

  /** @param {File} file */
  async function look(file) {
    clear();
    if (file.size > LARGEST) return void (said.textContent = 'This file is too large to be a set.');
    try {
      const { set, faults: all, words } = await session.look(await file.text());
      found = set;
      // What a file says is only ever text.
      said.textContent = set ? `${set.title || 'Set without a title'}: ${words}` : words;
      faults.replaceChildren(...all.map(({ place, rule }) => html('li', {}, `${place}: ${rule}`)));
      faults.hidden = all.length === 0;
      const n = set?.entries.length ?? 0;
      take.hidden = n === 0;
      take.textContent = all.length === 0 ? 'Add the set' : `Add ${n === 1 ? 'the good item' : `the ${n} good items`}`;
    } catch (error) {
      said.textContent = sentenceFor(error);
    }
  }

  field.addEventListener('change', () => {
    const file = field.files?.[0];
    if (file) void look(file);
  });

  const part = byId('sets', HTMLElement);
  const over = (/** @type {boolean} */ is) => part.classList.toggle('dropping', is);
  addEventListener('dragover', (event) => {
    if (!isOpen() || !event.dataTransfer?.types.includes('Files')) return;
    event.preventDefault();
    over(true);
  });
  addEventListener('dragleave', ({ relatedTarget }) => relatedTarget === null && over(false));
  addEventListener('drop', (event) => {
    over(false);
    const file = event.dataTransfer?.files[0];
    if (!isOpen() || !file) return;
    event.preventDefault();
    open();
    void look(file);
  });

  function open() {
    clear();
    field.value = '';
    if (!dialog.open) dialog.showModal();
  }
  return open;
}

/** Gives a text out as a file. @param {string} name @param {string} text */
export function save(name, text) {
  const url = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  const link = html('a', { href: url, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  // The browser has begun to save by then.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/** The name of a set's file: letters and digits of its title. @param {string} title */
export const fileName = (title) => `${title.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '').slice(0, 40) || 'set'}.json`;
