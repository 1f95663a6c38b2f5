// The stroke in the player's hand: the tip dragged on the cue ball's face, the speed on the ruler; both by keys too.

import { byId, hide, html, put } from '../dom.js';
import { set } from '../table/svg.js';
import { drawFace, drawRuler, faceAt, rulerAt } from './gauges.js';

/** @import { Struck, Trial } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */
/** @import { Name } from '../parts.js' */
/** @import { OfStroke } from '../stroke/state.js' */

/** What a part's state holds of a stroke that can be changed. @typedef {Pick<OfStroke, 'trial' | 'scale'>} Striking */

/**
 * What differs between the parts: whether the stroke can be changed, what a change does on its way and when it stands,
 * and what is said of the stroke beside the gauges: words, and what to mind.
 * @template {Striking} S
 * @typedef {object} Held
 * @property {(state: S) => boolean} isLive
 * @property {(change: Partial<Struck>) => void} preview @property {(change: Partial<Struck>) => Promise<void>} commit
 * @property {(trial: Trial) => string} words @property {(trial: Trial) => string} [advice]
 */

/** Steps of an arrow key: a quarter of a tip, and a tenth of a length; with shift finer. */
const TIP = 1 / 16;
const FINE_TIP = 1 / 100;
const LENGTHS = 0.1;
const FINE_LENGTHS = 0.02;
/** The ruler shows at least so many lengths, and the slowest stroke goes so many. */
const LEAST_SHOWN = 5;
const SLOWEST = 0.1;
/** So near the middle of the face is the middle. */
const MIDDLE = 0.035;
const HAIR = 1e-3;

/** Where the arrow keys move the tip on the face, upward positive. @type {Record<string, [number, number]>} */
const TIP_ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

const round = (/** @type {number} */ value) => Math.round(value * 1e4) / 1e4;

/** The speed that a scale gives for so many lengths. @param {Striking['scale']} scale @param {number} lengths */
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

/** @template {Striking} S @param {Name} name @param {ModelOf<S>} model @param {Held<S>} held @param {(sentence: string) => void} announce */
export function createControls(name, model, { isLive, preview, commit, words, advice }, announce) {
  const [face, ruler] = ['face', 'ruler'].map((id) => byId(`${name}-${id}`, SVGSVGElement));
  const [said, minded] = ['words', 'advice'].map((id) => byId(`${name}-${id}`, HTMLElement));
  const live = () => isLive(model.state);
  /** How many lengths the ruler shows; it keeps them while it is dragged. */
  let most = LEAST_SHOWN;
  let ruled = false;

  /** @param {Partial<Struck>} change @param {boolean} last */
  const wish = (change, last) => (last ? commit(change) : preview(change));

  /** @param {number} side @param {number} height @param {boolean} last */
  function tip(side, height, last) {
    // A hair within the limit, so that rounding makes no miscue.
    const limit = (model.state.trial?.stroke.miscue ?? 0.5) - HAIR;
    const share = Math.min(1, limit / (Math.hypot(side, height) || 1));
    return wish({ side: round(share * side), height: round(share * height) }, last);
  }

  /** @param {number} lengths @param {boolean} last */
  function pace(lengths, last) {
    const { scale } = model.state;
    if (scale.length < 2) return;
    const { lengths: longest } = scale[scale.length - 1];
    return wish({ speed: speedFor(scale, Math.min(longest, Math.max(SLOWEST, lengths))) }, last);
  }

  draggable(face, live, (event, last) => {
    const at = faceAt(within(face, event));
    const [side, height] = [at.side, at.height].map((one) => (Math.abs(one) < MIDDLE && !event.altKey ? 0 : one));
    void tip(side, height, last);
  });
  draggable(ruler, live, (event, last) => {
    ruled = !last;
    void pace(Math.min(most, Math.round(20 * rulerAt(within(ruler, event), most)) / 20), last);
  });

  /** @param {SVGSVGElement} gauge @param {(arrow: [number, number], fine: boolean, held: boolean) => Promise<void> | void | undefined} act */
  function keyed(gauge, act) {
    gauge.addEventListener('keydown', async (event) => {
      const arrow = TIP_ARROWS[event.key];
      if (!arrow || !live() || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      await act(arrow, event.shiftKey, event.repeat);
      announce(model.state.trial?.stroke.words ?? '');
    });
  }
  keyed(face, ([right, up], fine) => {
    const stroke = model.state.trial?.item.shot.stroke;
    const step = fine ? FINE_TIP : TIP;
    return stroke && tip(stroke.side + step * right, stroke.height + step * up, true);
  });
  keyed(ruler, ([right, up], fine, repeat) => {
    const lengths = model.state.trial?.stroke.lengths ?? 0;
    return pace(lengths + (fine ? FINE_LENGTHS : repeat ? 3 * LENGTHS : LENGTHS) * (right + up), true);
  });

  model.onDraw((state, before) => {
    const { trial } = state;
    if (!trial || (trial === before.trial && live() === isLive(before))) return;
    const { stroke } = trial;
    if (!ruled) most = Math.max(LEAST_SHOWN, Math.ceil(stroke.lengths));
    drawFace(face, stroke);
    drawRuler(ruler, stroke, most);
    /** @param {SVGSVGElement} gauge @param {number} now @param {string} text */
    const tell = (gauge, now, text) => {
      set(gauge, { 'aria-valuenow': now.toFixed(2), 'aria-valuetext': text, 'aria-disabled': String(!live()), tabindex: live() ? 0 : -1 });
    };
    tell(face, stroke.tips.height, stroke.words);
    tell(ruler, stroke.lengths, `${stroke.lengths.toFixed(1)} lengths, ${stroke.speed.toFixed(2)} metres a second`);
    put(said, words(trial));
    const mind = advice?.(trial) ?? '';
    hide(minded, mind === '');
    if (minded.textContent !== mind) minded.replaceChildren(html('li', {}, mind));
  });
}
