// What Read draws of the outcome: the real path, and over it the dimensions of the grade.

import { drawOutcome } from '../path/outcome.js';
import { dimensions, named, placerOver } from '../path/notes.js';
import { fill, pair } from '../table/svg.js';
import { isBlank } from './state.js';

/** @import { Grade, Pair, Question } from '../engine/protocol.js' */
/** @import { State } from './state.js' */
/** @import { Frame } from '../table/frame.js' */

/** The grade that is shown: the player's own or the sender's. @param {State} state @returns {Grade | null} */
export const shownGrade = ({ result, shown }) =>
  (shown === 'sender' ? result?.sender?.grade : result?.grade) ?? null;

/** @param {SVGGElement} group @param {State} state @param {Frame} frame */
export function drawRun(group, { result, phase, clock }, frame) {
  drawOutcome(group, result && { tracks: result.tracks, way: result, whole: phase !== 'playing', clock }, frame);
}

/** @param {State} state @param {Question} question @param {Frame} frame */
function placerFor({ result, points }, { table, balls, aim }, frame) {
  const real = result ? [result.path, [result.tangent.from, result.tangent.to]] : [];
  /** @type {Pair[][]} */
  const lines = [[pair(aim.ghost), ...points.map(pair)], aim.path, ...real];
  return placerOver({ table, places: [...balls, ...points, aim.ghost, ...(result ? [result.stop] : [])], lines }, frame);
}

/** @param {SVGGElement} group @param {State} state @param {Frame} frame */
export function drawNotes(group, state, frame) {
  const { question, result, phase, line } = state;
  const grade = phase === 'played' ? shownGrade(state) : null;
  const begins = isBlank(state) && !state.practised;
  if (!question || (!begins && !grade)) return group.replaceChildren();
  const placer = placerFor(state, question, frame);
  if (begins) return fill(group, named('note start', 'cue ball leaves here', question.aim.ghost, frame, placer, true));
  if (!result || !grade) return;
  group.replaceChildren(...dimensions(grade, line, question.table, frame, placer));
  const [x, y] = result.tangent.to;
  group.append(...named('note thin', 'tangent line', { x, y }, frame, placer));
  if (result.slideEnd) group.append(...named('note thin', 'slide ends', result.slideEnd, frame, placer));
}
