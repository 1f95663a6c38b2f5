// The grade line by line; the line that is pointed at is lit on the table.

import { button, byId, html, onClick } from '../../dom.js';
import { shownGrade } from '../outcome.js';
import { sync } from '../../table/sync.js';

/** @import { GradeLine } from '../../engine/protocol.js' */
/** @import { Model, State } from '../state.js' */

/** Longer grades are set smaller. */
const MANY = 8;

/** @param {State} state @param {string | null} line @returns {State} */
const pointed = (state, line) => (state.line === line ? state : { ...state, line });

/** @param {State} state @param {'own' | 'sender'} shown @returns {State} */
const turned = (state, shown) => (state.phase === 'played' ? { ...state, shown, line: null } : state);

/** @param {GradeLine} line */
function makeLine({ id }) {
  const item = html('li', 'line');
  item.id = `line-${id}`;
  item.setAttribute('role', 'option');
  const [label, value] = [html('span', 'label'), html('span', 'value')];
  // What is seen is terse; what is spoken says the same in whole words.
  for (const seen of [label, value]) seen.setAttribute('aria-hidden', 'true');
  item.append(label, value, html('span', 'spoken'));
  return item;
}

/** @param {Model} model */
export function createGradePanel(model) {
  const [part, panel] = ['read', 'grade'].map((id) => byId(id, HTMLElement));
  const list = byId('lines', HTMLUListElement);
  const [title, mark, whose, legend] = ['grade-title', 'mark', 'whose', 'legend-sender'].map((id) => byId(id, HTMLElement));
  const [own, sender] = [button('own'), button('sender')];

  const lines = () => shownGrade(model.state)?.lines ?? [];
  const lineOf = (/** @type {Event} */ { target }) =>
    (target instanceof Element && target.closest('li')?.getAttribute('data-key')) || null;

  list.addEventListener('pointerover', (event) => model.change(pointed, lineOf(event)));
  list.addEventListener('pointerleave', (event) => event.pointerType === 'mouse' && model.change(pointed, null));
  list.addEventListener('focus', () => {
    if (list.matches(':focus-visible')) model.change(pointed, model.state.line ?? lines()[0]?.id ?? null);
  });
  list.addEventListener('blur', () => model.change(pointed, null));
  list.addEventListener('keydown', (event) => {
    const all = lines();
    const at = all.findIndex(({ id }) => id === model.state.line);
    const next = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: all.length - 1 }[event.key];
    if (next === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    if (all[next]) model.change(pointed, all[next].id);
  });
  onClick('own', () => model.change(turned, 'own'));
  onClick('sender', () => model.change(turned, 'sender'));

  model.onDraw((state, before) => {
    panel.hidden = state.phase !== 'played';
    part.classList.toggle('played', state.phase === 'played');
    const grade = shownGrade(state);
    if (!grade || state.phase !== 'played' || (grade === shownGrade(before) && before.phase === 'played' && state.line === before.line)) return;
    list.classList.toggle('many', grade.lines.length > MANY);
    title.textContent = state.shown === 'own' ? 'Your call' : 'The sender’s call';
    mark.textContent = String(Math.round(grade.mark));
    sync(list, grade.lines, ({ id }) => id, makeLine, (item, { id, label, text, spoken }) => {
      item.setAttribute('aria-selected', String(id === state.line));
      [label, text, `${label}: ${spoken}`].forEach((words, k) => (item.children[k].textContent = words));
    });
    // A keyboard that was on the table goes on through the lines.
    if (before.phase !== 'played' && (document.activeElement === document.body || document.activeElement?.closest('#table'))) list.focus();
    if (state.line === null) list.removeAttribute('aria-activedescendant');
    else list.setAttribute('aria-activedescendant', `line-${state.line}`);
    const other = state.result?.sender ?? null;
    whose.hidden = legend.hidden = other === null;
    if (!other) return;
    own.textContent = `Yours ${Math.round(state.result?.grade.mark ?? 0)}`;
    sender.textContent = `Theirs ${Math.round(other.grade.mark)}`;
    own.setAttribute('aria-pressed', String(state.shown === 'own'));
    sender.setAttribute('aria-pressed', String(state.shown === 'sender'));
  });
}
