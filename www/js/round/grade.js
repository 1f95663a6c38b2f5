// The grade line by line, the player's own or the sender's; the line that is pointed at is lit on the table.

import { button, byId, hide, onClick, put } from '../dom.js';
import { createLines } from '../panels/lines.js';
import { compared } from './state.js';

/** @import { Line } from '../panels/lines.js' */
/** @import { Name } from '../parts.js' */
/** @import { AnyRound, RoundModel } from './state.js' */

/**
 * What is graded: `own` and `sender` head it; the marks of both, of the sender's answer null if there is none.
 * @template {AnyRound} S
 * @typedef {{ own: string, sender: string, marks(state: S): { own: number, sender: number | null } | null, lines(state: S): readonly Line[] }} Graded
 */

/** @template {AnyRound} S @param {Name} name @param {RoundModel<S>} model @param {Graded<S>} graded */
export function createGradePanel(name, model, graded) {
  const [part, panel] = [name, `${name}-grade`].map((id) => byId(id, HTMLElement));
  const list = byId(`${name}-lines`, HTMLUListElement);
  const [title, mark, whose] = ['grade-title', 'mark', 'whose'].map((id) => byId(`${name}-${id}`, HTMLElement));
  const [own, sender] = ['own', 'sender'].map((id) => button(`${name}-${id}`));
  const showLines = createLines(list, model, () => graded.lines(model.state));
  /** A ring round what nobody sought would cut through the grade: for keyboards only. */
  let keyed = false;
  for (const kind of ['keydown', 'pointerdown']) addEventListener(kind, () => (keyed = kind === 'keydown'), true);
  onClick(own.id, () => model.change(compared, 'own'));
  onClick(sender.id, () => model.change(compared, 'sender'));

  /** A keyboard that was on the table goes on through the lines: once they are seen, for to focus what is not would lay out the page. */
  function goOn() {
    const { activeElement: at } = document;
    if (model.state.phase === 'played' && (at === document.body || at?.closest(`#${name}-table`))) list.focus();
  }

  /** What had the keyboard is gone: it begins with what can be moved on the table. */
  function begin() {
    const first = document.querySelector(`#${name}-table [data-handle][tabindex="0"]`);
    const { activeElement: at } = document;
    if (at === document.body || panel.contains(at)) (first instanceof SVGElement ? first : button(`${name}-deal`)).focus();
  }

  model.onDraw((state, before) => {
    const played = state.phase === 'played';
    if (!played && panel.contains(document.activeElement)) setTimeout(begin);
    hide(panel, !played);
    part.classList.toggle('played', played);
    const marks = played ? graded.marks(state) : null;
    const names = /** @type {const} */ (['phase', 'result', 'shown', 'line']);
    if (!marks || names.every((one) => state[one] === before[one])) return;
    put(title, graded[state.shown]);
    put(mark, String(Math.round(marks[state.shown] ?? 0)));
    showLines(state.line);
    if (keyed && before.phase !== 'played') setTimeout(goOn);
    const other = marks.sender !== null;
    hide(whose, !other);
    part.classList.toggle('sent', other);
    part.classList.toggle('called', state.points.length > 0);
    if (!other) return;
    own.textContent = `Yours ${Math.round(marks.own)}`;
    sender.textContent = `Theirs ${Math.round(marks.sender ?? 0)}`;
    own.setAttribute('aria-pressed', String(state.shown === 'own'));
    sender.setAttribute('aria-pressed', String(state.shown === 'sender'));
  });
}
