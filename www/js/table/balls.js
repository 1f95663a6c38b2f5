// Draws the balls where they are at the shown moment, and thin where they were.

import { mm, set, svg } from './svg.js';
import { sync } from './sync.js';
import { shownAt } from './track.js';

/** @import { Ball } from '../engine/protocol.js' */
/** @import { State } from '../state.js' */
/** @import { Frame } from './frame.js' */

/** A ball smaller than this on the screen has its number beside it, pixels. */
const READABLE = 8.5;

/** The band of a striped ball of radius 1, scaled. @param {number} r */
const band = (r) =>
  `M${-0.8 * r} ${-0.6 * r}A${r} ${r} 0 0 0 ${-0.8 * r} ${0.6 * r}H${0.8 * r}A${r} ${r} 0 0 0 ${0.8 * r} ${-0.6 * r}Z`;

/** @param {Ball} ball @param {number} r @param {Frame} frame */
function makeBall({ id, words }, r, frame) {
  const cue = id === 'cue';
  const number = Number(id);
  const striped = number > 8;
  const body = svg('g', { class: cue ? 'ball cue' : `ball n${striped ? number - 8 : number}`, role: 'img', 'aria-label': words });
  body.append(svg('circle', { class: striped || cue ? 'white' : 'colour', r }));
  if (striped) body.append(svg('path', { class: 'colour', d: band(r) }));
  body.append(svg('circle', { class: 'edge', r }));
  if (cue) return body;
  if (r / frame.px >= READABLE) {
    body.append(
      svg('circle', { class: 'white', r: 0.62 * r }),
      svg('text', { class: 'number', 'font-size': (number > 9 ? 0.82 : 0.98) * r, dy: '0.36em' }, id),
    );
  } else {
    body.append(svg('text', { class: 'tag', 'font-size': 11 * frame.px, x: r + 3 * frame.px, y: -0.5 * r }, id));
  }
  return body;
}

/** @param {SVGGElement} group @param {SVGGElement} ghosts @param {State} state @param {Frame} frame */
export function drawBalls(group, ghosts, { question, result, clock }, frame) {
  if (!question) return;
  const r = mm(question.table.ballRadius);
  /** @param {Ball} ball @returns {[number, number] | null} */
  const place = (ball) => {
    const track = result?.tracks.find(({ id }) => id === ball.id);
    return track ? shownAt(track, clock) : [ball.x, ball.y];
  };
  const standing = question.balls.flatMap((ball) => {
    const at = place(ball);
    return at ? [{ ball, at }] : [];
  });
  sync(
    group,
    standing,
    ({ ball }) => ball.id,
    ({ ball }) => makeBall(ball, r, frame),
    (element, { at: [x, y] }) => set(element, { transform: `translate(${mm(x)} ${mm(y)}) ${frame.upright}` }),
  );
  const gone = result ? question.balls.filter(({ id }) => result.tracks.some((track) => track.id === id)) : [];
  sync(
    ghosts,
    gone,
    ({ id }) => id,
    ({ x, y }) => svg('circle', { class: 'was', cx: mm(x), cy: mm(y), r }),
  );
}
