// Draws what really happened, and over it the dimensions of the grade.

import { isBlank } from './state.js';
import { drawDimension } from '../table/dimension.js';
import { createPlacer } from '../table/labels.js';
import { mm, pathData, svg } from '../table/svg.js';
import { isNumbered, numeralAt } from '../table/tabletop.js';
import { pathSoFar } from '../table/track.js';

/** @import { Grade, Place } from '../engine/protocol.js' */
/** @import { State } from './state.js' */
/** @import { Frame } from '../table/frame.js' */
/** @import { Placer, Spot } from '../table/labels.js' */

/** Size of the notes on the drawing, CSS pixels. */
const NOTE = 12;
const NAME = 11;

/** The lines whose dimensions are drawn: of the arcs, which would cover one another, the first and the one pointed at. @param {Grade} grade @param {string | null} line */
function drawnLines({ lines }, line) {
  const arc = lines.find(({ dimension }) => dimension?.kind === 'arc');
  return lines.filter((one) => one.dimension && (one.dimension.kind === 'line' || one === arc || one.id === line));
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
  for (const place of [...(question?.balls ?? []), ...points, ...(question ? [question.aim.ghost] : []), ...(result ? [result.stop] : [])]) {
    placer.avoid(frame.toView(place), r);
  }
  for (const hole of question?.table.pockets ?? []) placer.avoid(frame.toView(hole), mm(hole.r));
  for (const sight of question?.table.sights ?? []) {
    const seen = question && isNumbered(frame) ? [sight, numeralAt(sight, question.table)] : [sight];
    for (const [x, y] of seen) placer.avoid(frame.toView({ x, y }), 10);
  }
  const called = question ? [question.aim.ghost, ...points] : [];
  const real = (result?.path ?? []).map(([x, y]) => ({ x, y }));
  const aim = (question?.aim.path ?? []).map(([x, y]) => ({ x, y }));
  const tangent = (result ? [result.tangent.from, result.tangent.to] : []).map(([x, y]) => ({ x, y }));
  const noses = (question?.table.outline ?? []).map(([x, y]) => ({ x, y }));
  for (const path of [called, real, aim, tangent, noses]) placer.avoidLine(path.map(frame.toView));
  return placer;
}

/** Names a place where there is room for a name. @param {string} name @param {string} text @param {Place} place @param {Frame} frame @param {Placer} placer */
function named(name, text, place, frame, placer) {
  const { x, y } = frame.toView(place);
  const spots = [9, 16, 26].flatMap((gap) => {
    const far = gap * frame.px;
    return /** @type {Spot[]} */ ([
      { x: x + far, y, anchor: 'start' },
      { x: x - far, y, anchor: 'end' },
      { x: x + 0.7 * far, y: y - far, anchor: 'start' },
      { x: x + 0.7 * far, y: y + far, anchor: 'start' },
      { x: x - 0.7 * far, y: y - far, anchor: 'end' },
      { x: x - 0.7 * far, y: y + far, anchor: 'end' },
      { x, y: y - 1.4 * far, anchor: 'middle' },
      { x, y: y + 1.4 * far, anchor: 'middle' },
    ]);
  });
  const spot = placer.free(text, spots);
  if (!spot) return [];
  return [svg('text', { class: name, x: spot.x, y: spot.y, dy: '0.36em', 'font-size': NAME * frame.px, 'text-anchor': spot.anchor }, text)];
}

/** @param {SVGGElement} group @param {State} state @param {Frame} frame */
export function drawNotes(group, state, frame) {
  const { question, result, phase, line } = state;
  if (question && isBlank(state) && !state.practised) {
    return group.replaceChildren(...named('note start', 'start here', question.aim.ghost, frame, placerFor(state, frame)));
  }
  const grade = shownGrade(state);
  if (!question || !result || !grade || phase !== 'played') return group.replaceChildren();
  const size = NOTE * frame.px;
  const placer = placerFor(state, frame);
  const measured = drawnLines(grade, line);
  const weight = (/** @type {string} */ id) => (line === null ? '' : line === id ? ' lit' : ' dim');
  group.replaceChildren(
    ...measured.map(({ id, dimension }) =>
      svg('g', { class: `dimension${weight(id)}` },
        ...(dimension ? drawDimension(dimension, question.table, frame, placer, size) : []))),
  );
  const [x, y] = result.tangent.to;
  group.append(...named('note thin', 'tangent line', { x, y }, frame, placer));
  if (result.slideEnd) group.append(...named('note thin', 'slide ends', result.slideEnd, frame, placer));
}
