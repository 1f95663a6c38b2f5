// The stroke in the player's hand: the tip dragged on the cue ball's face, the speed on the ruler; both by keys too.

import { byId } from '../../dom.js';
import { drawFace, drawRuler, faceAt, rulerAt } from '../../panels/gauges.js';

/** @import { Struck } from '../../engine/protocol.js' */
/** @import { Session } from '../session.js' */
/** @import { Model } from '../state.js' */

/** Steps of an arrow key: a quarter of a tip, and a tenth of a length; with shift finer. */
const TIP = 1 / 16;
const FINE_TIP = 1 / 100;
const LENGTHS = 0.1;
const FINE_LENGTHS = 0.02;
/** The ruler shows at least so many lengths. */
const LEAST_LENGTHS = 5;

/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

const round = (/** @type {number} */ value) => Math.round(value * 1e4) / 1e4;

/** The speed that a scale gives for so many lengths. @param {Model['state']['scale']} scale @param {number} lengths */
function speedFor(scale, lengths) {
  const above = scale.findIndex((one) => one.lengths >= lengths);
  const k = Math.max(0, (above < 0 ? scale.length - 1 : above) - 1);
  const [a, b] = [scale[k], scale[k + 1]];
  return round(a.speed + ((lengths - a.lengths) / (b.lengths - a.lengths)) * (b.speed - a.speed));
}

/** Where a pointer is in a gauge's own units. @param {SVGSVGElement} gauge @param {PointerEvent} event */
const within = (gauge, { clientX, clientY }) => new DOMPoint(clientX, clientY).matrixTransform(gauge.getScreenCTM()?.inverse());

/** Lets a gauge be dragged. @param {SVGSVGElement} gauge @param {() => boolean} isLive @param {(event: PointerEvent, last: boolean) => void} drag */
function draggable(gauge, isLive, drag) {
  let held = -1;
  gauge.addEventListener('pointerdown', (event) => {
    if (event.button !== 0 || !isLive()) return;
    held = event.pointerId;
    gauge.setPointerCapture(held);
    drag(event, false);
  });
  gauge.addEventListener('pointermove', (event) => event.pointerId === held && drag(event, false));
  for (const end of /** @type {const} */ (['pointerup', 'pointercancel'])) {
    gauge.addEventListener(end, (event) => {
      if (event.pointerId !== held) return;
      held = -1;
      drag(event, true);
    });
  }
}

/** @param {Model} model @param {Session} session @param {(sentence: string) => void} announce */
export function createControls(model, session, announce) {
  const [face, ruler] = ['leave-face', 'leave-ruler'].map((id) => byId(id, SVGSVGElement));
  const [words, advice] = ['leave-words', 'leave-advice'].map((id) => byId(id, HTMLElement));
  const isLive = () => model.state.phase === 'drawing';
  /** How many lengths the ruler shows; it keeps them while it is dragged. */
  let most = LEAST_LENGTHS;

  /** @param {Partial<Struck>} change @param {boolean} last */
  const wish = (change, last) => (last ? session.commit(change) : session.preview(change));

  /** @param {number} side @param {number} height @param {boolean} last */
  function tip(side, height, last) {
    const limit = model.state.trial?.stroke.miscue ?? 0.5;
    const share = Math.min(1, limit / (Math.hypot(side, height) || 1));
    return wish({ side: round(share * side), height: round(share * height) }, last);
  }

  /** @param {number} lengths @param {boolean} last */
  function pace(lengths, last) {
    const { scale } = model.state;
    if (scale.length < 2) return;
    const { lengths: longest } = scale[scale.length - 1];
    return wish({ speed: speedFor(scale, Math.min(longest, Math.max(0.1, lengths))) }, last);
  }

  draggable(face, isLive, (event, last) => {
    const at = faceAt(within(face, event));
    // The middle is easy to hit.
    const [side, height] = [at.side, at.height].map((one) => (Math.abs(one) < 0.035 && !event.altKey ? 0 : one));
    void tip(side, height, last);
  });
  draggable(ruler, isLive, (event, last) => void pace(Math.min(most, Math.round(20 * rulerAt(within(ruler, event), most)) / 20), last));

  /** @param {SVGSVGElement} gauge @param {(arrow: [number, number], fine: boolean, held: boolean) => Promise<void> | void | undefined} act */
  function keyed(gauge, act) {
    gauge.addEventListener('keydown', async (event) => {
      const arrow = ARROWS[event.key];
      if (!arrow || !isLive() || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      await act(arrow, event.shiftKey, event.repeat);
      announce(model.state.trial?.stroke.words ?? '');
    });
  }
  keyed(face, ([right, up], fine) => {
    const { stroke } = model.state;
    const step = fine ? FINE_TIP : TIP;
    return stroke ? tip(stroke.side + step * right, stroke.height + step * up, true) : undefined;
  });
  keyed(ruler, ([right, up], fine, held) => {
    const lengths = model.state.trial?.stroke.lengths ?? 0;
    return pace(lengths + (fine ? FINE_LENGTHS : held ? 3 * LENGTHS : LENGTHS) * (right + up), true);
  });

  model.onDraw(({ trial, phase }, before) => {
    if (!trial || (trial === before.trial && phase === before.phase)) return;
    const { stroke, refusal, reach } = trial;
    most = Math.max(LEAST_LENGTHS, Math.ceil(stroke.lengths));
    drawFace(face, stroke);
    drawRuler(ruler, stroke, most);
    const live = phase === 'drawing';
    /** @param {SVGSVGElement} gauge @param {number} now @param {string} text */
    const tell = (gauge, now, text) => {
      gauge.setAttribute('aria-valuenow', now.toFixed(2));
      gauge.setAttribute('aria-valuetext', text);
      gauge.setAttribute('aria-disabled', String(!live));
      gauge.setAttribute('tabindex', live ? '0' : '-1');
    };
    tell(face, stroke.tips.height, stroke.words);
    tell(ruler, stroke.lengths, `${stroke.lengths.toFixed(1)} lengths, ${stroke.speed.toFixed(2)} metres a second`);
    words.textContent = stroke.words;
    advice.textContent = refusal ?? (reach.needsRest ? reach.words : '');
    advice.hidden = advice.textContent === '';
  });
}
