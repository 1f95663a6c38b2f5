// The grade of an answer: the zone, what it is worth, and the path that was called.

import { button, byId, onClick } from '../../dom.js';
import { createLines } from '../../panels/lines.js';
import { shownVerdict } from '../verdict.js';

/** @import { Line } from '../../panels/lines.js' */
/** @import { Model, State } from '../state.js' */

const percent = (/** @type {number} */ share) => Math.round(100 * share);

/** @param {string} id @param {string} label @param {number} share @param {string} spoken @returns {Line} */
const shareLine = (id, label, share, spoken) => ({ id, label, text: `${percent(share)} %`, spoken: `${percent(share)} per cent ${spoken}` });

/** @param {State} state @returns {Line[]} */
export function linesOf(state) {
  const verdict = shownVerdict(state);
  if (!verdict || !state.question) return [];
  const { zone, worth, grade } = verdict;
  const { next } = state.question.item.demand;
  return [
    shareLine('held', 'stops in the zone', zone.share, 'of the strokes stop in the zone'),
    shareLine('gives', 'goes as asked', zone.gives, 'of the strokes give what is asked'),
    ...(zone.scratches > 0 ? [shareLine('scratch', 'scratches', zone.scratches, 'of the strokes scratch')] : []),
    ...(worth ? [
      shareLine('worth', `the ${next} from the zone`, worth.zone, `chance of the ${next} from the zone`),
      shareLine('both', `this and the ${next}`, worth.both, `chance of this shot as asked and the ${next} after it`),
    ] : []),
    ...(grade ? [
      { id: 'path', label: 'called path', text: `${Math.round(grade.mark)} of 100`, spoken: `${Math.round(grade.mark)} of 100` },
      ...grade.lines,
    ] : []),
  ];
}

/** @param {State} state @param {'own' | 'sender'} shown @returns {State} */
const turned = (state, shown) => (state.phase === 'played' ? { ...state, shown, line: null } : state);

/** @param {Model} model */
export function createGradePanel(model) {
  const [part, panel] = ['leave', 'leave-grade'].map((id) => byId(id, HTMLElement));
  const list = byId('leave-lines', HTMLUListElement);
  const [title, mark, whose, legendCall, legendSender] = ['leave-grade-title', 'leave-mark', 'leave-whose', 'leave-legend-call', 'leave-legend-sender'].map((id) => byId(id, HTMLElement));
  const [own, sender] = ['leave-own', 'leave-sender'].map(button);
  const showLines = createLines(list, model, () => linesOf(model.state));

  onClick('leave-own', () => model.change(turned, 'own'));
  onClick('leave-sender', () => model.change(turned, 'sender'));

  model.onDraw((state, before) => {
    const played = state.phase === 'played';
    panel.hidden = !played;
    part.classList.toggle('played', played);
    const verdict = shownVerdict(state);
    if (!verdict || !played || (before.phase === 'played' && state.shown === before.shown && state.line === before.line && state.result === before.result)) return;
    title.textContent = state.shown === 'own' ? 'Your zone' : 'The sender’s zone';
    mark.textContent = String(Math.round(verdict.zone.mark));
    showLines(state.line);
    legendCall.hidden = state.points.length === 0;
    // A keyboard that was on the table goes on through the lines.
    if (before.phase !== 'played' && (document.activeElement === document.body || document.activeElement?.closest('#leave-table'))) list.focus();
    const other = state.result?.sender ?? null;
    whose.hidden = legendSender.hidden = other === null;
    if (!other) return;
    own.textContent = `Yours ${Math.round(state.result?.zone.mark ?? 0)}`;
    sender.textContent = `Theirs ${Math.round(other.zone.mark)}`;
    own.setAttribute('aria-pressed', String(state.shown === 'own'));
    sender.setAttribute('aria-pressed', String(state.shown === 'sender'));
  });
}
