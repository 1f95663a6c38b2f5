// The stroke in the player's hand: the tip dragged on the cue ball's face, the speed on the ruler; both by keys too.

import { byId } from '../../dom.js';
import { drawFace, drawRuler, faceAt, rulerAt } from '../../panels/gauges.js';
import { stroked } from '../session.js';
import { shownItem } from '../state.js';

/** @import { Session } from '../session.js' */
/** @import { Model } from '../state.js' */

/** Steps of an arrow key: a quarter of a tip, and a tenth of a length; with shift finer. */
const TIP = 1 / 16;
const FINE_TIP = 1 / 100;
const LENGTHS = 0.1;
const FINE_LENGTHS = 0.02;

/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

const round = (/** @type {number} */ value) => Math.round(value * 1e4) / 1e4;

/**
 * What a scale says between its entries.
 * @param {readonly { speed: number, lengths: number }[]} scale @param {'speed' | 'lengths'} of @param {'speed' | 'lengths'} wanted @param {number} value
 */
function between(scale, of, wanted, value) {
  const last = scale.length - 1;
  const k = Math.min(last - 1, Math.max(0, scale.findIndex((one) => one[of] >= value) - 1));
  const [a, b] = [scale[k], scale[k + 1]];
  return round(a[wanted] + ((value - a[of]) / (b[of] - a[of])) * (b[wanted] - a[wanted]));
}

/**
 * Lets a gauge be dragged. @param {SVGSVGElement} gauge @param {Model} model
 * @param {(event: PointerEvent) => void} drag @param {() => void} drop
 */
function draggable(gauge, model, drag, drop) {
  let held = -1;
  gauge.addEventListener('pointerdown', (event) => {
    if (event.button !== 0 || !model.state.item) return;
    held = event.pointerId;
    gauge.setPointerCapture(held);
    drag(event);
  });
  gauge.addEventListener('pointermove', (event) => event.pointerId === held && drag(event));
  for (const end of /** @type {const} */ (['pointerup', 'pointercancel'])) {
    gauge.addEventListener(end, (event) => {
      if (event.pointerId !== held) return;
      held = -1;
      drop();
    });
  }
}

/** Where a pointer is in a gauge's own units. @param {SVGSVGElement} gauge @param {PointerEvent} event */
function within(gauge, { clientX, clientY }) {
  const matrix = gauge.getScreenCTM();
  return new DOMPoint(clientX, clientY).matrixTransform(matrix?.inverse());
}

/** @param {Model} model @param {Session} session @param {(sentence: string) => void} announce */
export function createControls(model, session, announce) {
  const face = byId('bench-face', SVGSVGElement);
  const ruler = byId('bench-ruler', SVGSVGElement);
  const words = byId('bench-words', HTMLElement);
  const advice = byId('bench-reach', HTMLElement);
  let wish = stroked({});
  /** The ruler keeps its scale while it is dragged. */
  let most = 0;

  /** @param {number} side @param {number} height @param {boolean} last */
  function tip(side, height, last) {
    const { trial, aimed } = model.state;
    const limit = trial?.stroke.miscue ?? 0.5;
    const far = Math.hypot(side, height);
    // A hair within the limit, so that rounding makes no miscue.
    const share = far > limit - 1e-3 ? (limit - 1e-3) / far : 1;
    wish = stroked({ side: round(share * side), height: round(share * height) });
    return last ? session.commit(wish, aimed) : session.preview(wish, aimed);
  }

  /** @param {number} lengths @param {boolean} last */
  function pace(lengths, last) {
    const { scale, aimed } = model.state;
    if (scale.length < 2) return;
    const speed = between(scale, 'lengths', 'speed', Math.max(0.1, lengths));
    const limit = scale[scale.length - 1].speed;
    wish = stroked({ speed: Math.min(limit, Math.max(0.05, speed)) });
    return last ? session.commit(wish, aimed) : session.preview(wish, aimed);
  }

  draggable(face, model, (event) => {
    const at = faceAt(within(face, event));
    // The middle is easy to hit.
    const [side, height] = [at.side, at.height].map((one) => (Math.abs(one) < 0.03 && !event.altKey ? 0 : one));
    void tip(side, height, false);
  }, () => void session.commit(wish, model.state.aimed));

  draggable(ruler, model, (event) => {
    most ||= Number(ruler.getAttribute('data-most'));
    void pace(Math.round(20 * rulerAt(within(ruler, event), most)) / 20, false);
  }, () => {
    most = 0;
    void session.commit(wish, model.state.aimed);
  });

  face.addEventListener('keydown', async (event) => {
    const arrow = ARROWS[event.key];
    const item = shownItem(model.state);
    if (!arrow || !item || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    const step = event.shiftKey ? FINE_TIP : TIP;
    await tip(item.shot.stroke.side + step * arrow[0], item.shot.stroke.height + step * arrow[1], true);
    announce(model.state.trial?.stroke.words ?? '');
  });

  ruler.addEventListener('keydown', async (event) => {
    const arrow = ARROWS[event.key];
    const { trial } = model.state;
    if (!arrow || !trial || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    const step = (event.shiftKey ? FINE_LENGTHS : event.repeat ? 3 * LENGTHS : LENGTHS) * (arrow[0] + arrow[1]);
    await pace(trial.stroke.lengths + step, true);
    announce(model.state.trial?.stroke.words ?? '');
  });

  model.onDraw(({ trial, item }, before) => {
    if (!trial || (trial === before.trial && item === before.item)) return;
    const { stroke, reach } = trial;
    drawFace(face, stroke);
    const shown = Math.max(most, 5, Math.ceil(stroke.lengths));
    drawRuler(ruler, stroke, most || shown);
    ruler.setAttribute('data-most', String(most || shown));
    const set = (/** @type {SVGSVGElement} */ gauge, /** @type {number} */ now, /** @type {string} */ text) => {
      gauge.setAttribute('aria-valuenow', now.toFixed(2));
      gauge.setAttribute('aria-valuetext', text);
    };
    const contact = stroke.words.split('.')[0];
    set(face, stroke.tips.height, contact);
    set(ruler, stroke.lengths, `${stroke.lengths.toFixed(1)} lengths, ${stroke.speed.toFixed(2)} metres a second`);
    words.textContent = `${stroke.words} ${stroke.speed.toFixed(2)} m/s, cue at ${Math.round(stroke.elevation)}°.`;
    advice.textContent = reach.words;
    advice.hidden = !reach.needsRest;
  });
}
