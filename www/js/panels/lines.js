// A grade line by line; the line that is pointed at is lit on the table.

import { html } from '../dom.js';
import { sync } from '../table/svg.js';

/** @import { ModelOf } from '../state.js' */

/** What is seen is terse; what is spoken says the same in whole words. @typedef {{ id: string, label: string, text: string, spoken: string }} Line */

/** Longer grades are set smaller. */
const MANY = 8;

/** @template {{ line: string | null }} S @param {S} state @param {string | null} line @returns {S} */
const pointed = (state, line) => (state.line === line ? state : { ...state, line });

/** @param {string} key */
function makeLine(key) {
  const item = html('li', { class: 'line' });
  item.id = key;
  item.setAttribute('role', 'option');
  const [label, value] = [html('span', { class: 'label' }), html('span', { class: 'value' })];
  for (const seen of [label, value]) seen.setAttribute('aria-hidden', 'true');
  item.append(label, value, html('span', { class: 'spoken' }));
  return item;
}

/** @template {{ line: string | null }} S @param {HTMLUListElement} list @param {ModelOf<S>} model @param {() => readonly Line[]} linesOf Those that are shown. */
export function createLines(list, model, linesOf) {
  const lineOf = (/** @type {Event} */ { target }) =>
    (target instanceof Element && target.closest('li')?.getAttribute('data-key')) || null;
  const keyOf = (/** @type {string} */ id) => `${list.id}-${id}`;
  const point = (/** @type {string | null} */ line) => model.change((state) => pointed(state, line));

  list.addEventListener('pointerover', (event) => point(lineOf(event)));
  list.addEventListener('pointerleave', (event) => event.pointerType === 'mouse' && point(null));
  list.addEventListener('focus', () => {
    if (list.matches(':focus-visible')) point(model.state.line ?? linesOf()[0]?.id ?? null);
  });
  list.addEventListener('blur', () => point(null));
  list.addEventListener('keydown', (event) => {
    const all = linesOf();
    const at = all.findIndex(({ id }) => id === model.state.line);
    const next = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: all.length - 1 }[event.key];
    if (next === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    if (all[next]) point(all[next].id);
  });

  /** Shows the lines. @param {string | null} chosen */
  return (chosen) => {
    const lines = linesOf();
    list.classList.toggle('many', lines.length > MANY);
    sync(list, lines, ({ id }) => id, ({ id }) => makeLine(keyOf(id)), (item, { id, label, text, spoken }) => {
      item.setAttribute('aria-selected', String(id === chosen));
      [label, text, `${label}: ${spoken}`].forEach((words, k) => (item.children[k].textContent = words));
    });
    if (chosen === null) list.removeAttribute('aria-activedescendant');
    else list.setAttribute('aria-activedescendant', keyOf(chosen));
  };
}
