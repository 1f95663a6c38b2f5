// The grade line by line; the line that is pointed at is lit on the table.

import { button, byId, onClick } from '../../dom.js';
import { createLines } from '../../panels/lines.js';
import { shownGrade } from '../outcome.js';

/** @import { Model, State } from '../state.js' */

/** @param {State} state @param {'own' | 'sender'} shown @returns {State} */
const turned = (state, shown) => (state.phase === 'played' ? { ...state, shown, line: null } : state);

/** @param {Model} model */
export function createGradePanel(model) {
  const [part, panel] = ['read', 'grade'].map((id) => byId(id, HTMLElement));
  const list = byId('lines', HTMLUListElement);
  const [title, mark, whose, legend] = ['grade-title', 'mark', 'whose', 'legend-sender'].map((id) => byId(id, HTMLElement));
  const [own, sender] = [button('own'), button('sender')];

  const showLines = createLines(list, model, () => shownGrade(model.state)?.lines ?? []);
  onClick('own', () => model.change(turned, 'own'));
  onClick('sender', () => model.change(turned, 'sender'));

  model.onDraw((state, before) => {
    panel.hidden = state.phase !== 'played';
    part.classList.toggle('played', state.phase === 'played');
    const grade = shownGrade(state);
    if (!grade || state.phase !== 'played' || (grade === shownGrade(before) && before.phase === 'played' && state.line === before.line)) return;
    title.textContent = state.shown === 'own' ? 'Your call' : 'The sender’s call';
    mark.textContent = String(Math.round(grade.mark));
    showLines(state.line);
    // A keyboard that was on the table goes on through the lines.
    if (before.phase !== 'played' && (document.activeElement === document.body || document.activeElement?.closest('#table'))) list.focus();
    const other = state.result?.sender ?? null;
    whose.hidden = legend.hidden = other === null;
    if (!other) return;
    own.textContent = `Yours ${Math.round(state.result?.grade.mark ?? 0)}`;
    sender.textContent = `Theirs ${Math.round(other.grade.mark)}`;
    own.setAttribute('aria-pressed', String(state.shown === 'own'));
    sender.setAttribute('aria-pressed', String(state.shown === 'sender'));
  });
}
