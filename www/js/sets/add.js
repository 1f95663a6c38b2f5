// Puts the open item of a part into a set of the player's own.

import { LIMITS } from '../../pkg/limits.js';
import { html, option } from '../dom.js';
import { answerLine, labelled, makeDialog, press, row } from '../panels/dialog.js';
import { sentenceFor } from '../sentences.js';
import { NOT_KEPT } from '../store.js';
import { changeKept, freshId, readKept } from './kept.js';

/** @import { AnyItem } from '../engine/protocol.js' */
/** @import { Page } from '../main.js' */

const NEW = 'new';

/** @typedef {ReturnType<typeof createAddDialog>} AddDialog */
/** @type {AddDialog | null} */
let made = null;

/** @param {Page} page */
function createAddDialog(page) {
  const into = html('select', {});
  const name = html('input', { type: 'text', maxlength: LIMITS.longestTitle, autocomplete: 'off' });
  const title = html('input', { type: 'text', maxlength: LIMITS.longestTitle, autocomplete: 'off' });
  const note = html('textarea', { rows: 4, maxlength: LIMITS.longestNote });
  const said = answerLine();
  const named = labelled('Title of the new set', name);
  const form = html('form', { novalidate: '' },
    labelled('Set', into), named, labelled('Title of the item', title), labelled('Note, seen when it is revealed', note), said,
    row(press('Add', undefined, { type: 'submit', class: 'action primary' }), press('Cancel', () => dialog.close())));
  const dialog = makeDialog('sets-add', 'Add to a set', form);
  /** @type {AnyItem | null} */
  let item = null;

  into.addEventListener('change', () => (named.hidden = into.value !== NEW));

  form.addEventListener('submit', (event) => {
    event.preventDefault();
    if (!item) return;
    const entry = { title: title.value.trim(), note: note.value.trim(), item };
    const { own } = readKept();
    const full = own.find(({ id }) => id === into.value)?.set.entries.length ?? 0;
    if (full >= LIMITS.mostEntries) return void (said.textContent = `A set has room for ${LIMITS.mostEntries} items.`);
    const id = into.value === NEW ? freshId(own) : into.value;
    const kept = changeKept((all) => {
      const fresh = { version: /** @type {const} */ (1), kind: /** @type {const} */ ('set'), title: name.value.trim() || 'New set', note: '', pass: { mark: 50, need: 7 }, entries: [entry] };
      const changed = all.own.map((one) => (one.id === id ? { ...one, set: { ...one.set, entries: [...one.set.entries, entry] } } : one));
      return { ...all, own: into.value === NEW ? [...all.own, { id, set: fresh }] : changed, open: id };
    });
    dialog.close();
    page.voice.say(kept ? 'Added. Sets has it.' : NOT_KEPT);
  });

  return (/** @type {AnyItem} */ wanted, /** @type {string} */ task) => {
    const { own, open } = readKept();
    item = wanted;
    into.replaceChildren(...own.map(({ id, set }) => option(id, `${set.title} (${set.entries.length})`)), option(NEW, 'New set'));
    into.value = own.some(({ id }) => id === open) ? String(open) : (own.at(-1)?.id ?? NEW);
    named.hidden = into.value !== NEW;
    [title.value, title.placeholder, note.value, said.textContent] = ['', task.slice(0, 80), '', ''];
    dialog.showModal();
  };
}

/** @param {Page} page @param {string} link The item's. @param {string} task */
export async function addToSet(page, link, task) {
  made ??= createAddDialog(page);
  try {
    const { question } = await page.engine.ask('openLink', link);
    made(question.item, task);
  } catch (error) {
    page.voice.say(sentenceFor(error));
  }
}
