// A played shot as a moving picture: one file, drawn from the core's own samples, that runs in real time and begins
// anew after a pause. The animation is SVG's own (SMIL), which Chromium, Firefox and WebKit play alike.

import { drawBalls, pathOf } from '../table/balls.js';
import { mm, pathData, set, svg } from '../table/svg.js';
import { drawTabletop } from '../table/tabletop.js';
import { standAlone } from './alone.js';
import { layersOf, paperFrame } from './diagram.js';

/** @import { Ball, Place, Table, Track } from '../engine/protocol.js' */

/** A shot that was played: the balls as they lay, and how they ran. @typedef {{ table: Table, balls: readonly Ball[], ghost: Place | null, tracks: readonly Track[], duration: number }} Run */

/** Before the stroke and after the last ball rests, s. */
const LEAD = 0.8;
const PAUSE = 1.6;
/** The picture is drawn for a table of this width on the screen, pixels. */
const WIDTH = 900;

/** @param {number} value @param {number} digits */
const short = (value, digits) => String(Number(value.toFixed(digits)));

/** The moments of a run as shares of the whole loop. @param {readonly number[]} times @param {number} whole */
const keyTimes = (times, whole) => ['0', ...times.map((t) => short((t + LEAD) / whole, 6)), '1'].join(';');

/** What all the animations have in common. @param {number} whole */
const loop = (whole) => ({ dur: `${short(whole, 3)}s`, repeatCount: 'indefinite', calcMode: 'linear' });

/** The samples of a track, one by one. @param {Track} track @returns {{ t: number, x: number, y: number }[]} */
const samplesOf = ({ samples }) =>
  Array.from({ length: samples.length / 3 }, (_, k) => ({ t: samples[3 * k], x: samples[3 * k + 1], y: samples[3 * k + 2] }));

/** First and last once more, for the lead and the pause. @template T @param {readonly T[]} list @returns {T[]} */
const held = (list) => [list[0], ...list, list[list.length - 1]];

/** Lets a ball run along its track. @param {Element} ball @param {Track} track @param {string} upright @param {number} whole */
function runBall(ball, track, upright, whole) {
  const samples = samplesOf(track);
  const [{ x, y }] = samples;
  set(ball, { transform: upright });
  const running = svg('g', { transform: `translate(${mm(x)} ${mm(y)})` });
  ball.replaceWith(running);
  running.append(ball, svg('animateTransform', {
    attributeName: 'transform',
    type: 'translate',
    values: held(samples.map((one) => `${mm(one.x)} ${mm(one.y)}`)).join(';'),
    keyTimes: keyTimes(samples.map(({ t }) => t), whole),
    ...loop(whole),
  }));
  if (track.pocketedAt === null) return;
  const fallen = short((track.pocketedAt + LEAD) / whole, 6);
  running.append(svg('animate', { attributeName: 'visibility', values: 'visible;hidden', keyTimes: `0;${fallen}`, ...loop(whole), calcMode: 'discrete' }));
}

/** Draws the path as far as the cue ball has come. @param {Element} path @param {Track} track @param {number} whole */
function drawAlong(path, track, whole) {
  const samples = samplesOf(track);
  let gone = 0;
  const lengths = samples.map(({ x, y }, k) => (gone += k ? Math.hypot(x - samples[k - 1].x, y - samples[k - 1].y) : 0));
  set(path, { pathLength: 1, 'stroke-dasharray': '1 1', 'stroke-linecap': null });
  path.append(svg('animate', {
    attributeName: 'stroke-dashoffset',
    values: held(lengths.map((length) => short(1 - length / (gone || 1), 5))).join(';'),
    keyTimes: keyTimes(samples.map(({ t }) => t), whole),
    ...loop(whole),
  }));
}

/** @param {Run} run @param {Element} where As for `standAlone`. @param {string} title */
export function movingPicture({ table, balls, ghost, tracks, duration }, where, title) {
  const frame = paperFrame(table, 1);
  frame.px = frame.box[2] / WIDTH;
  const { root, layers } = layersOf('moving', frame, ['tabletop', 'was', 'outcome', 'balls']);
  const cue = tracks.find(({ id }) => id === 'cue');
  const path = svg('path', { class: 'real', d: pathData(pathOf(tracks, 'cue')) });
  drawTabletop(layers.tabletop, table, frame);
  drawBalls(layers.balls, layers.was, { table, balls, ghost, tracks, clock: 0 }, frame);
  if (cue) layers.outcome.append(path);
  const standing = new Map([...layers.balls.children].map((ball) => [ball.getAttribute('data-key'), ball]));
  standAlone(root, where, frame.px, title, 'A played shot in real time, again and again.');
  const whole = LEAD + duration + PAUSE;
  for (const track of tracks) {
    const ball = standing.get(track.id);
    if (ball) runBall(ball, track, frame.upright, whole);
  }
  if (cue) drawAlong(path, cue, whole);
  return root;
}
