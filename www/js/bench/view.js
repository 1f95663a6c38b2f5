// The Bench's drawing: layout, path, zone, and what can be taken hold of.

import { drawMarks, drawPockets } from '../stroke/drawing.js';
import { drawBalls, pathOf } from '../table/balls.js';
import { drawLine } from '../table/chance-map.js';
import { createSheet } from '../table/sheet.js';
import { fill, mm, pathData, set, svg } from '../table/svg.js';
import { drawTabletop } from '../table/tabletop.js';
import { drawZone } from '../table/zone.js';
import { shownItem } from './state.js';

/** @import { Pair } from '../engine/protocol.js' */
/** @import { Frame } from '../table/frame.js' */
/** @import { HeatMap } from '../table/chance-map.js' */
/** @import { Trial } from './core.js' */
/** @import { Model, State } from './state.js' */

const LAYERS = /** @type {const} */ (['tabletop', 'heat', 'pockets', 'zones', 'was', 'aim', 'outcome', 'traces', 'marks', 'balls', 'handles']);

/** The cue ball's path from the ghost ball on; nothing if it meets no ball. @param {Trial} trial @returns {[number, number][]} */
const leaving = ({ contactTime, duration, tracks }) => (contactTime === null ? [] : pathOf(tracks, 'cue', contactTime, duration));

/** @param {SVGGElement} group @param {Trial} trial @param {State} state @param {number} r */
function drawPaths(group, trial, state, r) {
  const { demand } = trial.item;
  const others = trial.tracks.filter(({ id }) => id !== 'cue');
  const stop = trial.stop.pocket || state.phase !== 'set' ? [] : [svg('circle', { class: 'stop', cx: mm(trial.stop.x), cy: mm(trial.stop.y), r })];
  fill(group, [
    ...others.map(({ id }) => svg('path', { class: id === demand.on ? 'object-path on' : 'object-path', d: pathData(pathOf(trial.tracks, id)) })),
    svg('path', { class: 'real', d: pathData(leaving(trial)) }),
    ...state.ten.map(({ stop: [x, y], met }) => svg('circle', { class: met ? 'ten met' : 'ten', cx: mm(x), cy: mm(y), r: 0.4 * r })),
    ...stop,
  ]);
}

/** The aim, with the handle that turns it. @param {SVGGElement} group @param {Trial} trial @param {Frame} frame */
function drawTurning(group, { aim, ghost }, frame) {
  const end = ghost ?? { x: aim.at(-1)?.[0] ?? 0, y: aim.at(-1)?.[1] ?? 0 };
  let handle = group.querySelector('.aim-end');
  if (!handle) {
    handle = svg('g', { class: 'aim-end', 'data-handle': 'aim', role: 'slider', tabindex: 0, 'aria-label': 'Aim' },
      svg('circle', { class: 'halo' }), svg('circle', { class: 'ring' }), svg('circle', { class: 'centre' }));
    group.replaceChildren(svg('path', { class: 'aim' }), handle);
  }
  set(group.children[0], { d: pathData(aim) });
  const [halo, ring, centre] = handle.children;
  const at = { cx: mm(end.x), cy: mm(end.y) };
  set(halo, { ...at, r: 14 * frame.px });
  set(ring, { ...at, r: 9 * frame.px });
  set(centre, { ...at, r: 2 * frame.px });
  return handle;
}

/** @param {SVGSVGElement} root @param {Model} model @param {HeatMap} heatMap */
export function createView(root, model, heatMap) {
  const sheet = createSheet(root, 'bench-drawing', LAYERS, model);
  const { layers } = sheet;

  model.onDraw((state, before) => {
    const { board, trial, phase, clock, chosen } = state;
    const item = shownItem(state);
    if (!board || !item || !trial) return;
    const fresh = sheet.reframe(board.table, board !== before.board);
    const { frame } = sheet.board;
    if (!frame) return;
    const r = mm(board.table.ballRadius);
    if (fresh) {
      drawTabletop(layers.tabletop, board.table, frame);
      for (const name of /** @type {const} */ (['balls', 'was', 'pockets', 'handles', 'zones', 'aim'])) layers[name].replaceChildren();
    }
    drawPockets(layers.pockets, board.table.pockets, item.demand.pocket ?? null, true);
    if (fresh || state.heat !== before.heat) {
      drawLine(layers.heat, state.heat);
      heatMap.place(layers.heat, board.table, state.heat !== null);
    }
    drawZone(layers.zones, item.demand.zone, board.table, frame, true);
    const running = phase === 'playing';
    drawBalls(layers.balls, layers.was, { table: board.table, balls: trial.balls, ghost: trial.ghost, tracks: running ? trial.tracks : [], clock }, frame);
    for (const ball of layers.balls.children) {
      const id = ball.getAttribute('data-key');
      const name = id === item.demand.on ? ', the ball on' : id === item.demand.next ? ', the next ball' : '';
      const words = trial.balls.find((one) => one.id === id)?.words ?? '';
      set(ball, { role: 'button', tabindex: 0, 'data-handle': `ball ${id}`, 'aria-label': words + name, 'aria-pressed': String(chosen === `ball ${id}`) });
      ball.classList.toggle('chosen', chosen === `ball ${id}`);
    }
    drawMarks(layers.marks, running ? [] : trial.balls, item.demand, frame, r);
    drawChosen(layers.handles, state, frame, r);
    const handle = drawTurning(layers.aim, trial, frame);
    const { azimuth } = item.shot.stroke;
    set(handle, { 'aria-valuenow': azimuth.toFixed(2), 'aria-valuemin': -360, 'aria-valuemax': 360, 'aria-valuetext': `${azimuth.toFixed(2)} degrees. ${trial.words}` });
    root.classList.toggle('mapped', state.heat !== null);
    drawPaths(layers.outcome, trial, state, r);
    drawTraces(layers.traces, state);
    sheet.loupe.show(frame, state.held);
  });

  return sheet.board;
}

/** The traces of the stops, broken where these jump. @param {SVGGElement} group @param {State} state */
function drawTraces(group, { margins, lit, draft }) {
  if (!margins || draft) return group.replaceChildren();
  fill(group, margins.traces.map(({ input, points }) => {
    const d = points.map(({ x, y }, k) => `${k === 0 || points[k - 1].jumps ? 'M' : 'L'}${mm(x)} ${mm(y)}`).join('');
    return svg('path', { class: input === lit ? 'trace lit' : lit ? 'trace dim' : 'trace', d });
  }));
}

/** Marks the ball that is chosen. @param {SVGGElement} group @param {State} state @param {Frame} frame @param {number} r */
function drawChosen(group, { trial, phase, chosen }, frame, r) {
  const ball = phase === 'playing' ? null : trial?.balls.find(({ id }) => chosen === `ball ${id}`);
  fill(group, ball ? [svg('circle', { class: 'chosen-ring', cx: mm(ball.x), cy: mm(ball.y), r: r + 8 * frame.px })] : []);
}

/** @typedef {ReturnType<typeof createView>} View */
