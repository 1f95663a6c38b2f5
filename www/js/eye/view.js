// Eye's drawing: what is given, the handle, and the truth once it was answered.

import { drawBalls } from '../table/balls.js';
import { createSheet } from '../table/sheet.js';
import { mm, pathData, set, svg } from '../table/svg.js';
import { drawTabletop } from '../table/tabletop.js';

/** @import { EyeQuestion } from '../engine/protocol.js' */
/** @import { Frame } from '../table/frame.js' */
/** @import { Model, State } from './state.js' */

const LAYERS = /** @type {const} */ (['tabletop', 'was', 'aim', 'outcome', 'call', 'balls', 'handles']);

/** @param {SVGGElement} group @param {EyeQuestion} question @param {number} r Ball's radius, mm. */
function drawGiven(group, { given, ghost }, r) {
  const lines = [svg('path', { class: 'aim', d: pathData(given) })];
  if (ghost) lines.push(svg('path', { class: 'ghost', d: `M${mm(ghost[0]) - r} ${mm(ghost[1])}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0` }));
  group.replaceChildren(...lines);
}

/** @param {SVGGElement} group @param {State} state @param {number} r */
function drawTruth(group, { result }, r) {
  if (!result) return group.replaceChildren();
  const { way, truth } = result;
  group.replaceChildren(
    svg('path', { class: 'real', d: pathData(way) }),
    svg('path', { class: 'eye-truth', d: pathData(truth.line) }),
    svg('circle', { class: 'eye-truth', cx: mm(truth.x), cy: mm(truth.y), r: 0.5 * r }));
}

/** @param {SVGSVGElement} root @param {Model} model */
export function createView(root, model) {
  const sheet = createSheet(root, 'eye-drawing', LAYERS, model);
  const { layers, loupe } = sheet;
  const line = svg('path', { class: 'call' });
  layers.call.append(line);
  const handle = svg('g', { class: 'handle eye-handle', 'data-handle': 'answer', role: 'slider', 'aria-label': 'Answer' },
    svg('circle', { class: 'halo' }), svg('circle', { class: 'dot' }));

  /** @param {State} state @param {Frame} frame @param {number} r */
  function drawHandle({ handle: at, phase }, frame, r) {
    if (!at) return handle.remove();
    const live = phase === 'drawing';
    set(line, { d: at.line.length > 1 ? pathData(at.line) : '' });
    set(handle, {
      transform: `translate(${mm(at.x)} ${mm(at.y)})`,
      tabindex: live ? 0 : null,
      'aria-valuenow': at.value,
      'aria-valuetext': at.words,
      'aria-disabled': live ? null : 'true',
    });
    set(handle.children[0], { r: Math.max(14 * frame.px, 0.9 * r) });
    set(handle.children[1], { r: 7 * frame.px });
    if (!handle.isConnected) layers.handles.append(handle);
  }

  model.onDraw((state, before) => {
    const { question, result, phase } = state;
    if (!question) return;
    const fresh = sheet.reframe(question.table, question !== before.question);
    const { frame } = sheet.board;
    if (!frame) return;
    const r = mm(question.table.ballRadius);
    if (fresh) {
      drawTabletop(layers.tabletop, question.table, frame);
      drawGiven(layers.aim, question, r);
      for (const layer of [layers.balls, layers.was]) layer.replaceChildren();
      const { table, balls, ghost } = question;
      drawBalls(layers.balls, layers.was, { table, balls, ghost: ghost && { x: ghost[0], y: ghost[1] }, tracks: [], clock: 0 }, frame);
    }
    if (fresh || result !== before.result) drawTruth(layers.outcome, state, r);
    drawHandle(state, frame, r);
    root.classList.toggle('live', phase === 'drawing');
    loupe.show(frame, state.held ? state.handle : null);
  });

  return sheet.board;
}
