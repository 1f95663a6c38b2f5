// The one drawing: its layers from the table up, redrawn where the state changed.

import { drawBalls } from './balls.js';
import { drawAim, drawCall, drawHandles } from './call.js';
import { frameOf } from './frame.js';
import { createLoupe } from './loupe.js';
import { drawNotes, drawOutcome } from './outcome.js';
import { mm, set, svg } from './svg.js';
import { drawTabletop } from './tabletop.js';

/** @import { Place } from '../engine/protocol.js' */
/** @import { Model } from '../model.js' */
/** @import { State } from '../state.js' */
/** @import { Frame } from './frame.js' */

const LAYERS = /** @type {const} */ (['tabletop', 'was', 'aim', 'outcome', 'call', 'balls', 'handles']);

/** @param {SVGSVGElement} root @param {Model} model @param {MediaQueryList} upright Says when the table stands. */
export function createView(root, model, upright) {
  const layers = /** @type {Record<typeof LAYERS[number], SVGGElement>} */ ({});
  const flipped = svg('g', {});
  for (const name of LAYERS) flipped.append((layers[name] = svg('g', { class: name })));
  const notes = svg('g', { class: 'notes' });
  root.append(svg('g', { id: 'drawing' }, flipped, notes));
  const loupe = createLoupe(root, 'drawing');

  /** @type {Frame | null} */
  let frame = null;
  let stale = true;

  /** @param {State} state */
  function reframe({ question }) {
    const { width, height } = root.getBoundingClientRect();
    if (!question || width === 0 || height === 0) return;
    frame = frameOf(question.table, upright.matches, width, height);
    set(root, { viewBox: frame.box.join(' '), class: frame.standing ? 'standing' : 'lying' });
    set(flipped, { transform: frame.flip });
  }

  model.onDraw((state, before) => {
    const { question } = state;
    const fresh = stale || question !== before.question;
    if (fresh) reframe(state);
    stale = false;
    if (!question || !frame) return;
    const r = mm(question.table.ballRadius);
    if (fresh) {
      drawTabletop(layers.tabletop, question.table, frame);
      drawAim(layers.aim, question.aim, r);
      for (const layer of [layers.balls, layers.was, layers.handles]) layer.replaceChildren();
    }
    const live = state.phase === 'drawing';
    set(layers.aim.lastElementChild ?? layers.aim, { tabindex: live ? 0 : null, role: live ? 'button' : 'img' });
    const ran = fresh || state.result !== before.result || state.phase !== before.phase || state.clock !== before.clock;
    if (ran) {
      drawOutcome(layers.outcome, state, frame);
      drawBalls(layers.balls, layers.was, state, frame);
    }
    drawCall(layers.call, state);
    drawHandles(layers.handles, state, frame);
    drawNotes(notes, state, frame);
    root.classList.toggle('live', live);
    root.classList.toggle('measured', state.line !== null);
    if (state.draft?.grip === 'touch') loupe.show(frame, state.draft.point);
    else loupe.hide();
  });

  const resized = () => {
    stale = true;
    model.schedule();
  };
  new ResizeObserver(resized).observe(root);
  upright.addEventListener('change', resized);

  return {
    get frame() {
      return frame;
    },

    /** Where a pointer is on the table, m. @param {{ clientX: number, clientY: number }} event @returns {Place | null} */
    placeOf({ clientX, clientY }) {
      const matrix = flipped.getScreenCTM();
      if (!matrix) return null;
      const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(matrix.inverse());
      return { x: x / 1000, y: y / 1000 };
    },

    /** Puts the keyboard on a handle, as soon as it is drawn. @param {number | 'ghost'} handle */
    focus(handle) {
      model.flush();
      const element = root.querySelector(`[data-handle="${handle}"]`);
      if (element instanceof SVGElement) element.focus();
    },
  };
}

/** @typedef {ReturnType<typeof createView>} View */
