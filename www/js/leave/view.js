// Leave's drawing: the zone, the aim, the call, and what came of them.

import { drawCall, drawHandles } from '../path/call.js';
import { drawOutcome } from '../path/outcome.js';
import { drawAimOf, drawMarks, drawPockets } from '../stroke/drawing.js';
import { shownZone } from '../stroke/state.js';
import { drawBalls } from '../table/balls.js';
import { drawLine } from '../table/chance-map.js';
import { createSheet } from '../table/sheet.js';
import { mm } from '../table/svg.js';
import { drawTabletop } from '../table/tabletop.js';
import { drawZone } from '../table/zone.js';
import { drawNotes, drawVerdict } from './verdict.js';

/** @import { ChanceMap } from './map.js' */
/** @import { Model, State } from './state.js' */

const LAYERS = /** @type {const} */ (['tabletop', 'heat', 'pockets', 'stops', 'zones', 'was', 'aim', 'outcome', 'call', 'marks', 'balls', 'handles']);

/** @param {SVGSVGElement} root @param {Model} model @param {Pick<ChanceMap, 'place'>} map */
export function createView(root, model, map) {
  const sheet = createSheet(root, 'leave-drawing', LAYERS, model);
  const { layers, notes, loupe } = sheet;

  model.onDraw((state, before) => {
    const { question, result, clock, trial, phase } = state;
    if (!question) return;
    const fresh = sheet.reframe(question.table, question !== before.question);
    const { frame } = sheet.board;
    if (!frame) return;
    const r = mm(question.table.ballRadius);
    if (fresh) {
      drawTabletop(layers.tabletop, question.table, frame);
      for (const layer of [layers.balls, layers.was, layers.handles, layers.zones, layers.pockets]) layer.replaceChildren();
    }
    const live = phase === 'drawing';
    const changed = (/** @type {(keyof State)[]} */ ...names) => fresh || names.some((name) => state[name] !== before[name]);
    const { demand } = question.item;
    const { pockets } = question.table;
    if (changed('heat')) {
      drawLine(layers.heat, state.heat);
      map.place(layers.heat, question.table, state.heat !== null);
      root.classList.toggle('mapped', state.heat !== null);
    }
    if (changed('pocket', 'phase')) drawPockets(layers.pockets, pockets, state.pocket, live && !demand.pocket);
    if (changed('trial', 'phase', 'mode')) drawAimOf(layers.aim, { trial, balls: question.balls, pockets }, r, live && state.mode === 'path');
    if (changed('zone', 'zoning', 'phase', 'mode')) drawZone(layers.zones, shownZone(state), question.table, frame, live && state.mode === 'zone');
    if (changed('phase')) drawMarks(layers.marks, phase === 'playing' || phase === 'played' ? [] : question.balls, demand, frame, r);
    if (changed('result', 'phase', 'clock')) {
      const way = result?.path;
      drawOutcome(layers.outcome, way ? { tracks: result.tracks, way, whole: phase !== 'playing', clock } : null, frame);
      const ghost = trial?.ghost ?? null;
      drawBalls(layers.balls, layers.was, { table: question.table, balls: question.balls, ghost, tracks: result?.tracks ?? [], clock }, frame);
    }
    if (changed('result', 'phase', 'shown', 'line')) drawVerdict(layers.stops, state, frame);
    if (trial?.ghost) {
      const sender = (phase === 'played' && result?.sender?.answer.call) || null;
      drawCall(layers.call, state, trial.ghost, r, sender);
      drawHandles(layers.handles, state, frame, r, live && state.mode === 'path');
    }
    root.classList.toggle('live', live);
    root.classList.toggle('measured', state.line !== null);
    loupe.show(frame, state.held ?? (state.draft?.grip === 'touch' ? state.draft.point : null));
  });

  // By itself, for the first time it is slow, and the table shall not wait for it.
  model.onDraw((state) => {
    const { frame } = sheet.board;
    if (frame) drawNotes(notes, layers.balls, state, frame);
  });

  return sheet.board;
}

/** @typedef {ReturnType<typeof createView>} View */
