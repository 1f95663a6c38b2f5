// Draws what really happened, and over it the dimensions of the grade.

import { drawDimension } from './dimension.js';
import { createPlacer } from './labels.js';
import { mm, pathData, svg } from './svg.js';
import { pathSoFar } from './track.js';

/** @import { Grade } from '../engine/protocol.js' */
/** @import { State } from '../state.js' */
/** @import { Frame } from './frame.js' */

/** Size of the notes on the drawing, CSS pixels. */
const NOTE = 12;

/** Coarser drawings have no room for every dimension, mm per pixel. */
const COARSE = 3.6;

/** The lines whose dimensions are drawn: on a small drawing no arcs but the first and the one pointed at. @param {Grade} grade @param {string | null} line @param {number} px */
function drawnLines({ lines }, line, px) {
  const arc = lines.find(({ dimension }) => dimension?.kind === 'arc');
  return lines.filter((one) => one.dimension && (px < COARSE || one.dimension.kind === 'line' || one === arc || one.id === line));
}

/** The grade that is shown: the player's own or the sender's. @param {State} state @returns {Grade | null} */
export const shownGrade = ({ result, shown }) =>
  (shown === 'sender' ? result?.sender?.grade : result?.grade) ?? null;

/** @param {SVGGElement} group @param {State} state @param {Frame} frame */
export function drawOutcome(group, { result, phase, clock }, frame) {
  if (!result) return group.replaceChildren();
  if (phase === 'playing') {
    const path = pathSoFar(result, clock);
    return group.replaceChildren(...(path.length ? [svg('path', { class: 'real', d: pathData(path) })] : []));
  }
  const { tangent, slideEnd, touches, stop, path } = result;
  const { px } = frame;
  group.replaceChildren(
    svg('path', { class: 'tangent', d: pathData([tangent.from, tangent.to]) }),
    svg('path', { class: 'real', d: pathData(path) }),
    ...touches.map(({ x, y }) => svg('circle', { class: 'real-touch', cx: mm(x), cy: mm(y), r: 3.2 * px })),
  );
  if (slideEnd) {
    const [x, y] = [mm(slideEnd.x), mm(slideEnd.y)];
    group.append(svg('g', { class: 'slide-end', role: 'img', 'aria-label': slideEnd.words },
      svg('rect', { x: x - 4 * px, y: y - 4 * px, width: 8 * px, height: 8 * px, transform: `rotate(45 ${x} ${y})` })));
  }
  if (stop.pocket) {
    const [x, y, arm] = [mm(stop.x), mm(stop.y), 26];
    group.append(svg('path', { class: 'scratch', d: `M${x - arm} ${y - arm}l${2 * arm} ${2 * arm}M${x - arm} ${y + arm}l${2 * arm} ${-2 * arm}` }));
  }
}

/** @param {State} state @param {Frame} frame */
function placerFor({ question, result, points }, frame) {
  const placer = createPlacer(frame.box, NOTE * frame.px);
  const r = mm(question?.table.ballRadius ?? 0);
  for (const place of [...(question?.balls ?? []), ...points, ...(result ? [result.stop] : [])]) {
    placer.avoid(frame.toView(place), r);
  }
  const called = question ? [question.aim.ghost, ...points] : [];
  const real = (result?.path ?? []).map(([x, y]) => ({ x, y }));
  for (const path of [called, real]) placer.avoidLine(path.map(frame.toView));
  return placer;
}

/** @param {SVGGElement} group @param {State} state @param {Frame} frame */
export function drawNotes(group, state, frame) {
  const { question, result, phase, line } = state;
  const grade = shownGrade(state);
  if (!question || !result || !grade || phase !== 'played') return group.replaceChildren();
  const size = NOTE * frame.px;
  const placer = placerFor(state, frame);
  const measured = drawnLines(grade, line, frame.px);
  const weight = (/** @type {string} */ id) => (line === null ? '' : line === id ? ' lit' : ' dim');
  group.replaceChildren(
    ...measured.map(({ id, dimension }) =>
      svg('g', { class: `dimension${weight(id)}` },
        ...(dimension ? drawDimension(dimension, question.table, frame, placer, size) : []))),
  );
  /** @param {string} text @param {{ x: number, y: number }} place */
  const named = (text, place) => {
    const { x, y } = frame.toView(place);
    const gap = 9 * frame.px;
    const { anchor, ...spot } = placer.place(text, [
      { x: x + gap, y, anchor: 'start' },
      { x: x - gap, y, anchor: 'end' },
      { x, y: y - 1.6 * gap, anchor: 'middle' },
      { x, y: y + 1.6 * gap, anchor: 'middle' },
    ]);
    return svg('text', { class: 'note thin', ...spot, dy: '0.36em', 'font-size': 0.9 * size, 'text-anchor': anchor }, text);
  };
  const [x, y] = result.tangent.to;
  group.append(named('tangent line', { x, y }));
  if (result.slideEnd) group.append(named('slide ends', result.slideEnd));
}
