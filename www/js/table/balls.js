// Where balls are at a moment, by the samples of those that move; draws them there, and thin where they were.

import { mm, set, svg, sync } from './svg.js';

/** @import { Ball, Place, Table, Track } from '../engine/protocol.js' */
/** @import { Frame } from './frame.js' */

/**
 * What is drawn: the balls as they were set up, and where the tracks of those that move are at a moment, s. `ghost` is
 * the ghost ball, if there is one.
 * @typedef {{ table: Table, balls: readonly Ball[], ghost: Place | null, tracks: readonly Track[], clock: number }} Scene
 */

/** The last sample not after `time`. @param {Float64Array} samples */
function sampleBefore(samples, /** @type {number} */ time) {
  let [low, high] = [0, samples.length / 3 - 1];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (samples[3 * middle] <= time) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Where a ball is at a time: between two samples on the straight chord. @param {Float64Array} samples @param {number} time @returns {[number, number]} */
export function placeAt(samples, time) {
  const k = 3 * sampleBefore(samples, time);
  const [t, x, y] = samples.subarray(k, k + 3);
  if (k + 3 >= samples.length || time <= t) return [x, y];
  const [next, toX, toY] = samples.subarray(k + 3, k + 6);
  const share = next > t ? (time - t) / (next - t) : 1;
  return [x + share * (toX - x), y + share * (toY - y)];
}

/** Where a ball is drawn, or null once it has fallen. @param {Track} track @param {number} time */
export const shownAt = ({ samples, pocketedAt }, time) =>
  pocketedAt !== null && time >= pocketedAt ? null : placeAt(samples, time);

/**
 * A ball's path from one time to a later one; nothing if it does not move.
 * @param {readonly Track[]} tracks @param {string} id @param {number} [since] @param {number} [until] @returns {[number, number][]}
 */
export function pathOf(tracks, id, since = 0, until = Infinity) {
  const track = tracks.find((one) => one.id === id);
  if (!track || until <= since) return [];
  const { samples } = track;
  const [from, to] = [sampleBefore(samples, since), sampleBefore(samples, until)];
  /** @type {[number, number][]} */
  const path = [placeAt(samples, since)];
  for (let k = from + 1; k <= to; k++) path.push([samples[3 * k + 1], samples[3 * k + 2]]);
  path.push(placeAt(samples, until));
  return path;
}

/** A ball smaller than this on the screen has its number beside it, pixels. */
const READABLE = 8.5;

/** The band of a striped ball of radius 1, scaled. @param {number} r */
const band = (r) =>
  `M${-0.8 * r} ${-0.6 * r}A${r} ${r} 0 0 0 ${-0.8 * r} ${0.6 * r}H${0.8 * r}A${r} ${r} 0 0 0 ${0.8 * r} ${-0.6 * r}Z`;

/**
 * The way from a ball on which its number beside it is clear of the lines: off the line through the ghost
 * ball, on the side where the cue ball is not; in the view box, of length 1.
 * @param {Ball} ball @param {Scene} scene @param {Frame} frame
 */
function clearSide(ball, { ghost: aimed, balls }, { toView }) {
  const [at, ghost, cue] = [ball, aimed ?? { x: ball.x - 1, y: ball.y }, balls.find(({ id }) => id === 'cue') ?? ball].map(toView);
  const [dx, dy] = [at.x - ghost.x, at.y - ghost.y];
  const span = Math.hypot(dx, dy) || 1;
  const side = dx * (cue.y - ghost.y) - dy * (cue.x - ghost.x) > 0 ? 1 : -1;
  return { x: (side * dy) / span, y: (-side * dx) / span };
}

/** @param {Ball} ball @param {Scene} scene @param {Frame} frame */
function makeBall(ball, scene, frame) {
  const { id, words } = ball;
  const r = mm(scene.table.ballRadius);
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
    const { x, y } = clearSide(ball, scene, frame);
    const far = r + 9 * frame.px;
    body.append(svg('text', { class: 'tag', 'font-size': 11 * frame.px, x: far * x, y: far * y, dy: '0.36em' }, id));
  }
  return body;
}

/** @param {SVGGElement} group @param {SVGGElement} ghosts @param {Scene} scene @param {Frame} frame */
export function drawBalls(group, ghosts, scene, frame) {
  const { table, balls, tracks, clock } = scene;
  const r = mm(table.ballRadius);
  /** @param {Ball} ball @returns {[number, number] | null} */
  const place = (ball) => {
    const track = tracks.find(({ id }) => id === ball.id);
    return track ? shownAt(track, clock) : [ball.x, ball.y];
  };
  const standing = balls.flatMap((ball) => {
    const at = place(ball);
    return at ? [{ ball, at }] : [];
  });
  sync(
    group,
    standing,
    ({ ball }) => ball.id,
    ({ ball }) => makeBall(ball, scene, frame),
    (element, { at: [x, y] }) => set(element, { transform: `translate(${mm(x)} ${mm(y)}) ${frame.upright}` }),
  );
  sync(
    ghosts,
    balls.filter(({ id }) => tracks.some((track) => track.id === id)),
    ({ id }) => id,
    ({ x, y }) => svg('circle', { class: 'was', cx: mm(x), cy: mm(y), r }),
  );
}
