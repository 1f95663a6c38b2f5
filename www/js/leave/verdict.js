// What is drawn of a grade: where the hand's strokes stop, the best zone, the dimensions of the path.

import { dimensions, named, placerOver } from '../path/notes.js';
import { ellipse, onCloth } from '../table/area.js';
import { fill, mm, pair, svg } from '../table/svg.js';

/** @import { Grade, LeaveQuestion, Pair } from '../engine/protocol.js' */
/** @import { Frame } from '../table/frame.js' */
/** @import { State } from './state.js' */

/** What came of an answer, for the player's own and the sender's. @typedef {Pick<import('../engine/protocol.js').LeaveResult, 'grade' | 'zone' | 'worth' | 'sentence'>} Verdict */

/** What stands round a ball, px: two rings and room, and beside it half of a number. */
const RINGED = 9;
const TAG = 8;

/** The verdict that is shown: the player's own or the sender's. @param {State} state @returns {Verdict | null} */
export const shownVerdict = ({ result, shown }) => (shown === 'sender' ? result?.sender : result) ?? null;

/** @param {SVGGElement} group @param {State} state @param {Frame} frame */
export function drawVerdict(group, state, frame) {
  const verdict = shownVerdict(state);
  if (!verdict || !state.question || state.phase !== 'played') return group.replaceChildren();
  const { stops, best } = verdict.zone;
  const size = 1.7 * frame.px;
  // One path of small dots: a dot each would be slow to draw.
  const d = stops.map(([x, y]) => `M${mm(x) - size} ${mm(y)}a${size} ${size} 0 1 0 ${2 * size} 0a${size} ${size} 0 1 0 ${-2 * size} 0`).join('');
  const sender = state.result?.sender;
  group.replaceChildren(
    svg('path', { class: 'stops', d }),
    onCloth('leave-zones', state.question.table, [
      ...(best ? [ellipse(best, { class: 'zone-best' })] : []),
      ...(sender ? [ellipse(sender.answer.zone, { class: 'zone-sender' })] : []),
    ]),
  );
}

/** @param {State} state @param {LeaveQuestion} question @param {Frame} frame */
function placerFor({ result, trial, points, phase, zone, zoning }, { table, balls }, frame) {
  const way = phase === 'played' ? result?.path : null;
  const ghost = trial?.ghost ?? null;
  /** @type {Pair[][]} */
  const lines = [];
  if (ghost) lines.push([pair(ghost), ...points.map(pair)]);
  if (way) lines.push(way.path, [way.tangent.from, way.tangent.to]);
  const cue = balls.find(({ id }) => id === 'cue');
  if (ghost && cue) lines.push([pair(cue), pair(ghost)]);
  const area = zoning ?? zone;
  const places = [...balls, ...points, ...(ghost ? [ghost] : []), ...(way ? [way.stop] : []), ...(area ? [area] : [])];
  return placerOver({ table, places, lines }, frame);
}

/**
 * Names the ball on and the next. Where the balls are too small for their numbers, name and number are one text.
 * @param {SVGGElement} group @param {SVGGElement} drawn The balls. @param {State} state @param {Frame} frame
 */
export function drawNotes(group, drawn, state, frame) {
  const { question, result, phase, line } = state;
  if (!question || phase === 'playing') return group.replaceChildren();
  const placer = placerFor(state, question, frame);
  const { on, next } = question.item.demand;
  /** @type {Map<string | null, Element>} */
  const tags = new Map([...drawn.querySelectorAll('.tag')].map((tag) => [tag.textContent, tag]));
  for (const [id, tag] of tags) {
    tag.removeAttribute('visibility');
    const ball = question.balls.find((one) => one.id === id);
    const [x, y] = ['x', 'y'].map((name) => Number(tag.getAttribute(name)));
    if (!ball) continue;
    const at = frame.toView(ball);
    const ringed = phase !== 'played' && (id === on || id === next);
    if (ringed) placer.avoid(at, mm(question.table.ballRadius) + RINGED * frame.px);
    else if (id !== next) placer.avoid({ x: at.x + x, y: at.y + y }, TAG * frame.px);
  }
  const ballNote = (/** @type {string | null | undefined} */ id, /** @type {string} */ text) => {
    const ball = question.balls.find((one) => one.id === id);
    if (!ball) return [];
    const tag = tags.get(ball.id);
    const note = named(tag ? 'note' : 'note thin', tag ? `${ball.id} ${text}` : text, ball, frame, placer);
    if (note.length) tag?.setAttribute('visibility', 'hidden');
    return note;
  };
  if (phase !== 'played') {
    fill(group, [...ballNote(on, 'on'), ...ballNote(next, 'next')]);
    return;
  }
  const grade = /** @type {Grade | null} */ (shownVerdict(state)?.grade ?? null);
  const best = shownVerdict(state)?.zone.best;
  group.replaceChildren(...(grade ? dimensions(grade, line, question.table, frame, placer) : []), ...ballNote(next, 'next'));
  if (best) group.append(...named('note thin', 'best for this stroke', best, frame, placer));
  const [x, y] = result?.path?.tangent.to ?? [0, 0];
  if (result?.path) group.append(...named('note thin', 'tangent line', { x, y }, frame, placer));
  if (result?.path?.slideEnd) group.append(...named('note thin', 'slide ends', result.path.slideEnd, frame, placer));
}
