// Draws a stroke: the tip on the cue ball's face, the speed on a ruler.

import { byId } from '../dom.js';
import { fill, svg } from '../table/svg.js';

/** @import { Stroke } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */
/** @import { Name } from '../parts.js' */

/** Radius of the drawn face. */
const FACE = 46;
/** The ruler shows at least so many lengths. */
const LEAST_LENGTHS = 5;

/** @param {SVGSVGElement} face @param {Stroke} stroke */
export function drawFace(face, { side, height, miscue }) {
  const [x, y] = [side * FACE, -height * FACE];
  const ticks = [-1.5, -1, -0.5, 0.5, 1, 1.5]
    .map((tip) => (tip * FACE) / 4)
    .map((t) => `M${t} -2.5v5M-2.5 ${t}h5`)
    .join('');
  fill(face, [
    svg('circle', { class: 'face-ball', r: FACE }),
    svg('path', { class: 'face-cross', d: `M${-FACE} 0H${FACE}M0 ${-FACE}V${FACE}${ticks}` }),
    svg('circle', { class: 'face-miscue', r: miscue * FACE }),
    svg('path', { class: 'face-lead', d: `M${x} 0V${y}H0` }),
    svg('circle', { class: 'face-tip', cx: x, cy: y, r: 5.6 }),
  ]);
}

/** Where the ruler's bar begins, and how long all of it is. */
const [bottom, tall] = [104, 104];

/** Where a place in the drawn face meets the ball, as fractions of its radius. @param {{ x: number, y: number }} place */
export const faceAt = ({ x, y }) => ({ side: x / FACE, height: -y / FACE });

/** How many lengths a place beside the ruler says. @param {{ y: number }} place @param {number} most */
export const rulerAt = ({ y }, most) => ((bottom - y) * most) / tall;

/** @param {SVGSVGElement} ruler @param {Stroke} stroke @param {number} [most] How many lengths it shows. */
export function drawRuler(ruler, { lengths }, most = Math.max(LEAST_LENGTHS, Math.ceil(lengths))) {
  const at = (/** @type {number} */ n) => bottom - (tall * n) / most;
  const step = most > 8 ? 2 : 1;
  /** @type {Element[]} */
  const marks = [];
  let d = `M22 ${at(most)}V${bottom}`;
  for (let n = 0; n <= most; n += 1) {
    d += `M22 ${at(n)}h10`;
    if (n < most) d += `M22 ${at(n + 0.5)}h5`;
    if (n % step === 0) marks.push(svg('text', { class: 'ruler-number', x: 37, y: at(n), dy: '0.35em' }, String(n)));
  }
  fill(ruler, [
    svg('path', { class: 'ruler-line', d }),
    ...marks,
    svg('path', { class: 'ruler-bar', d: `M22 ${bottom}V${at(lengths)}` }),
    svg('text', { class: 'ruler-number', x: 0, y: 0, transform: 'translate(62 52) rotate(-90)', 'text-anchor': 'middle' }, 'lengths'),
    svg('path', { class: 'ruler-pointer', d: `M20 ${at(lengths)}l-13 -6v12z` }),
  ]);
}

/**
 * Shows the stroke that a question gives, and its words.
 * @param {Name} name @param {ModelOf<{ question: { stroke: Stroke } | null }>} model
 */
export function showGiven(name, model) {
  const [face, ruler] = ['face', 'ruler'].map((one) => byId(`${name}-${one}`, SVGSVGElement));
  const words = byId(`${name}-words`, HTMLElement);
  model.onDraw(({ question }, before) => {
    if (!question || question === before.question) return;
    drawFace(face, question.stroke);
    drawRuler(ruler, question.stroke);
    words.textContent = question.stroke.words;
  });
}
