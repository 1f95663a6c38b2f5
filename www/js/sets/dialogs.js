// The words of the open set and of its items, typed.

import { LIMITS } from '../../pkg/limits.js';
import { hide, html } from '../dom.js';
import { answerLine, labelled, makeDialog, numberField, numberIn, press, row } from '../panels/dialog.js';
import { EMPTY_SET } from './session.js';
import { changed, entriesOf, openSet } from './state.js';
import { nameOf } from './words.js';

/** @import { Session } from './session.js' */
/** @import { Model } from './state.js' */

/** @param {number} rows */
const noteField = (rows) => html('textarea', { rows, maxlength: LIMITS.longestNote });

/** The words of the chosen item. @param {Model} model */
export function createItemDialog(model) {
  const title = html('input', { type: 'text', maxlength: LIMITS.longestTitle, autocomplete: 'off' });
  const note = noteField(6);
  const form = html('form', { novalidate: '' },
    labelled('Title, seen before the item is played', title),
    labelled('Note, seen when it is revealed: skill, path, trap', note),
    row(press('Keep', undefined, { type: 'submit', class: 'action primary' }), press('Cancel', () => dialog.close())));
  const dialog = makeDialog('sets-item', 'The item', form);

  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const { chosen } = model.state;
    const words = { title: title.value.trim(), note: note.value.trim() };
    model.change(changed, (set) => ({ ...set, entries: set.entries.map((entry, k) => (k === chosen ? { ...entry, ...words } : entry)) }));
    dialog.close();
  });

  return () => {
    const entry = entriesOf(model.state)[model.state.chosen];
    if (!entry) return;
    title.value = entry.title;
    title.placeholder = nameOf(model.state, model.state.chosen);
    note.value = entry.note;
    dialog.showModal();
  };
}

/** The words of the open set or of a new one, and what counts as passed. @param {Model} model @param {Session} session */
export function createSetDialog(model, session) {
  const title = html('input', { type: 'text', maxlength: LIMITS.longestTitle, autocomplete: 'off', required: '' });
  const note = noteField(3);
  const [mark, need] = [numberField({ required: '' }), numberField({ required: '' })];
  const said = answerLine();
  const deleting = press('Delete the set', drop);
  const form = html('form', { novalidate: '' },
    labelled('Title', title),
    labelled('Note', note),
    html('div', { class: 'fields' },
      labelled('An item is passed with a mark of at least, 1 to 100', mark),
      labelled('Items that must be passed, 1 to 50', need)),
    html('p', { class: 'small' }, 'A run in Clear is passed when it is cleared without a shot taken back.'),
    said,
    row(press('Keep', undefined, { type: 'submit', class: 'action primary' }), deleting, press('Cancel', () => dialog.close())));
  const dialog = makeDialog('sets-words', 'The set', form);
  /** Whether the set is made only when its words are kept. */
  let isNew = false;

  function drop() {
    session.drop();
    dialog.close();
  }

  /** @param {HTMLInputElement} field @param {number} most */
  function whole(field, most) {
    const number = numberIn(field);
    if (Number.isInteger(number) && number >= 1 && number <= most) return number;
    said.textContent = `Give a whole number from 1 to ${most}.`;
    field.focus();
    return null;
  }

  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const words = { title: title.value.trim(), note: note.value.trim() };
    if (!words.title) {
      said.textContent = 'Give the set a title.';
      return title.focus();
    }
    const [least, of] = [whole(mark, 100), whole(need, 50)];
    if (least === null || of === null) return;
    const kept = { ...words, pass: { mark: least, need: of } };
    if (isNew) session.take({ ...EMPTY_SET, ...kept });
    else model.change(changed, (set) => ({ ...set, ...kept }));
    dialog.close();
  });

  return (/** @type {boolean} */ fresh) => {
    const set = fresh ? EMPTY_SET : openSet(model.state);
    if (!set) return;
    isNew = fresh;
    hide(deleting, fresh);
    [title.value, note.value, mark.value, need.value] = [set.title, set.note, String(set.pass.mark), String(set.pass.need)];
    said.textContent = '';
    dialog.showModal();
  };
}
