// The items of the open set: chosen, dragged to another place, moved by keys.

import { byId, html } from '../dom.js';
import { sync } from '../table/svg.js';
import { chose, entriesOf, isOwn, moved, removed } from './state.js';
import { markOf, nameOf, partOf } from './words.js';

/** @import { Model, State } from './state.js' */

/** @param {string} key */
function makeLine(key) {
  const line = html('li', { class: 'line', role: 'option', id: `sets-line-${key}` });
  line.append(html('span', { class: 'grip', 'aria-hidden': 'true' }, '⠿'), html('span', { class: 'label' }), html('span', { class: 'value' }));
  return line;
}

/** @param {Model} model @param {() => void} act Opens the chosen item. @param {(sentence: string) => void} announce */
export function createList(model, act, announce) {
  const list = byId('sets-list', HTMLOListElement);
  /** Where a dragged item came from. @type {number | null} */
  let held = null;

  const at = (/** @type {Event} */ { target }) => {
    const line = target instanceof Element ? target.closest('li') : null;
    return line ? [...list.children].indexOf(line) : -1;
  };
  /** @param {number} to */
  function move(to) {
    const { chosen } = model.state;
    model.change(moved, chosen, to);
    if (model.state.chosen === to) announce(`${nameOf(model.state, to)}: now ${to + 1} of ${entriesOf(model.state).length}.`);
  }

  list.addEventListener('click', (event) => {
    const line = at(event);
    if (line >= 0) model.change(chose, line);
  });
  list.addEventListener('dblclick', act);
  list.addEventListener('keydown', (event) => {
    const { key, altKey } = event;
    const { chosen } = model.state;
    const last = entriesOf(model.state).length - 1;
    const to = { ArrowUp: chosen - 1, ArrowDown: chosen + 1, Home: 0, End: last }[key];
    if (event.ctrlKey || event.metaKey) return;
    if (to !== undefined) {
      if (altKey) move(to);
      else model.change(chose, to);
    } else if (key === 'Delete') model.change(removed);
    else if (key === 'Enter') act();
    else return;
    event.preventDefault();
  });

  list.addEventListener('pointerdown', (event) => {
    const grip = event.target instanceof Element && event.target.closest('.grip');
    if (!grip || event.button !== 0 || !isOwn(model.state)) return;
    held = at(event);
    model.change(chose, held);
    list.setPointerCapture(event.pointerId);
    event.preventDefault();
  });
  list.addEventListener('pointermove', ({ clientY }) => {
    if (held === null) return;
    const to = [...list.children].findIndex((line) => clientY < line.getBoundingClientRect().bottom);
    for (const [k, line] of [...list.children].entries()) line.classList.toggle('target', k === (to < 0 ? list.children.length - 1 : to));
  });
  const drop = (/** @type {PointerEvent} */ { clientY, type }) => {
    if (held === null) return;
    held = null;
    const to = [...list.children].findIndex((line) => clientY < line.getBoundingClientRect().bottom);
    for (const line of list.children) line.classList.remove('target');
    if (type === 'pointerup') move(to < 0 ? list.children.length - 1 : to);
  };
  list.addEventListener('pointerup', drop);
  list.addEventListener('pointercancel', drop);

  /** @param {State} state */
  return (state) => {
    const entries = entriesOf(state);
    const own = isOwn(state);
    list.classList.toggle('own', own);
    sync(list, entries.map((entry, k) => ({ entry, k })), ({ k }) => String(k), ({ k }) => makeLine(String(k)), (line, { k }) => {
      const passed = state.tally?.passed[k] ?? null;
      line.setAttribute('aria-selected', String(k === state.chosen));
      line.classList.toggle('passed', passed === true);
      const mark = markOf(state, k);
      line.children[1].textContent = `${k + 1}. ${nameOf(state, k)}`;
      line.children[2].textContent = mark ? `${mark}${passed ? ' ✓' : ''}` : partOf(state, k);
    });
    const chosen = entries.length > 0 ? list.children[state.chosen] : null;
    if (chosen) list.setAttribute('aria-activedescendant', chosen.id);
    else list.removeAttribute('aria-activedescendant');
    return chosen ?? null;
  };
}
