// Read's drawing, redrawn where the state changed.

import { drawBalls } from '../table/balls.js';
import { createSheet } from '../table/sheet.js';
import { mm, set } from '../table/svg.js';
import { drawTabletop } from '../table/tabletop.js';
import { drawAim, drawCall, drawHandles } from '../path/call.js';

/** @import { Frame } from '../table/frame.js' */
/** @import { Model, State } from './state.js' */

/** Draws more in it, each time that it is drawn: `ran` says whether the shot, or how the table lies, changed. @typedef {(state: State, frame: Frame, ran: boolean) => void} More */

const LAYERS = /** @type {const} */ (['tabletop', 'was', 'aim', 'outcome', 'call', 'balls', 'handles']);

/** @param {SVGSVGElement} root @param {Model} model */
export function createView(root, model) {
  const sheet = createSheet(root, 'read-drawing', LAYERS, model);
  const { layers, notes, board, loupe } = sheet;
  /** @type {More[]} */
  const all = [];
  let show = () => {};
  /** @type {Promise<void>} */
  const drawn = new Promise((done) => (show = done));

  model.onDraw((state, before) => {
    const { question, result, clock } = state;
    if (!question) return;
    const fresh = sheet.reframe(question.table, question !== before.question);
    const { frame } = board;
    if (!frame) return;
    const r = mm(question.table.ballRadius);
    if (fresh) {
      drawTabletop(layers.tabletop, question.table, frame);
      drawAim(layers.aim, question.aim, r);
      for (const layer of [layers.balls, layers.was, layers.handles]) layer.replaceChildren();
    }
    const live = state.phase === 'drawing';
    set(layers.aim.lastElementChild ?? layers.aim, { tabindex: live ? 0 : null, role: live ? 'button' : 'img' });
    const ran = fresh || result !== before.result || state.phase !== before.phase || clock !== before.clock;
    if (ran) {
      const { table, balls, aim } = question;
      drawBalls(layers.balls, layers.was, { table, balls, ghost: aim.ghost, tracks: result?.tracks ?? [], clock }, frame);
    }
    drawCall(layers.call, state, question.aim.ghost, r, (state.phase === 'played' && result?.sender?.call) || null);
    drawHandles(layers.handles, state, frame, r, live);
    for (const draw of all) draw(state, frame, ran);
    if (fresh) setTimeout(show);
    root.classList.toggle('live', live);
    root.classList.toggle('measured', state.line !== null);
    loupe.show(frame, state.draft?.grip === 'touch' ? state.draft.point : null);
  });

  return {
    board,
    /** Where the shot is drawn, and the short texts. */
    outcome: layers.outcome,
    notes,
    /** Once something is on the table, and seen. */
    drawn,
    /** @param {More} draw */
    join: (draw) => void all.push(draw),
  };
}
