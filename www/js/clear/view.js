// Clear's drawing: what is left in its order, the shot at hand, the plan, and where the balls ran.

import { named, placerOver } from '../path/notes.js';
import { drawAimOf, drawMarks, drawPockets } from '../stroke/drawing.js';
import { shownZone } from '../stroke/state.js';
import { ellipse, onCloth } from '../table/area.js';
import { drawBalls, pathOf } from '../table/balls.js';
import { createSheet } from '../table/sheet.js';
import { mm, pair, pathData, set, svg } from '../table/svg.js';
import { drawTabletop } from '../table/tabletop.js';
import { drawZone } from '../table/zone.js';
import { isOrderable, isOver } from './state.js';
import { pointedAt, waysOf } from './words.js';

/** @import { ClearStep } from '../engine/protocol.js' */
/** @import { Frame } from '../table/frame.js' */
/** @import { Model, State } from './state.js' */

const LAYERS = /** @type {const} */ (['tabletop', 'pockets', 'plan', 'zones', 'was', 'aim', 'outcome', 'marks', 'balls']);
const HATCH = 'clear-plan-hatch';

/** What is shown: the balls of the shot that is seen again, else what is left. @param {State} state */
const ballsOf = ({ seen, now }) => seen ?? now?.balls ?? [];

/** The shots of the plan that are drawn: none while one is played. @param {State} state @returns {readonly ClearStep[]} */
const drawnSteps = ({ panel, plan, phase }) => (panel === 'plan' && phase === 'drawing' && plan ? plan.shots : []);

/** The shot of the plan that stands out: the one that is pointed at, else the first. @param {State} state */
const litStep = ({ line }) => pointedAt(line, 'step') ?? 0;

/** What the plan would have played where a shot of the run is pointed at. @param {State} state */
function betterShot({ shots, line, phase }) {
  const at = pointedAt(line, 'shot');
  return phase === 'playing' || at === null ? null : (shots[at]?.better ?? null);
}

/** @param {SVGGElement} group @param {State} state @param {Frame} frame */
function drawPlan(group, state, { px }) {
  const { question } = state;
  const better = betterShot(state);
  const steps = better ? [better] : drawnSteps(state);
  const lit = better ? 0 : litStep(state);
  const step = 6 * px;
  const pattern = svg('pattern', { id: HATCH, patternUnits: 'userSpaceOnUse', width: step, height: step, patternTransform: 'rotate(45)' },
    svg('path', { class: 'zone-hatch', d: `M0 0V${step}` }));
  group.replaceChildren(...(steps.length ? [pattern] : []), ...steps.flatMap(({ path, zone }, k) => {
    const weight = lit === k ? ' lit' : ' dim';
    const area = zone && question ? [onCloth(`clear-zone-${k}`, question.table, [ellipse(zone, { class: `plan-zone${weight}`, fill: `url(#${HATCH})` })])] : [];
    return [...area, svg('path', { class: `plan-path${weight}`, d: pathData(path) })];
  }));
}

/** Where the balls run, or ran last. @param {SVGGElement} group @param {State} state */
function drawRun(group, { phase, result, trail, clock, again }) {
  const running = phase === 'playing' && result;
  const tracks = running ? result.tracks : trail;
  const path = pathOf(tracks, 'cue', 0, running ? clock : Infinity);
  group.replaceChildren(...(path.length && !(again && !running) ? [svg('path', { class: running ? 'real' : 'real past', d: pathData(path) })] : []));
}

/** The balls that can be given a place in the order take the keyboard. @param {SVGGElement} group @param {State} state */
function nameBalls(group, state) {
  const { order, shots, now } = state;
  for (const ball of group.children) {
    const id = ball.getAttribute('data-key') ?? '';
    const live = isOrderable(state, id);
    const words = ballsOf(state).find((one) => one.id === id)?.words ?? '';
    const at = order.indexOf(id);
    const place = at >= 0 ? `, number ${shots.length + at + 1} in the order` : live ? ', not in the order yet' : '';
    const other = id !== 'cue' && now && !now.left.includes(id) ? ', in the way' : '';
    set(ball, {
      role: live ? 'button' : 'img', tabindex: live ? 0 : null, 'data-handle': live ? `ball ${id}` : null,
      'aria-label': words + place + other, 'aria-pressed': live ? String(at >= 0) : null,
    });
    ball.classList.toggle('obstacle', other !== '');
  }
}

/** A number in its box. @param {Element} text @param {Frame} frame @param {string} kind */
function boxed(text, { px }, kind) {
  const [x, y] = ['x', 'y'].map((name) => Number(text.getAttribute(name)));
  const wide = ((text.textContent?.length ?? 1) * 7 + 6) * px;
  const anchor = text.getAttribute('text-anchor');
  const left = anchor === 'start' ? x - 3 * px : anchor === 'end' ? x - wide + 3 * px : x - wide / 2;
  return [svg('rect', { class: `order-box${kind}`, x: left, y: y - 7.5 * px, width: wide, height: 15 * px }), text];
}

/** @param {SVGGElement} notes @param {SVGGElement} balls @param {State} state @param {Frame} frame */
function drawNotes(notes, balls, state, frame) {
  const { question, order, shots, phase, now, trial, line } = state;
  if (!question || !now || phase === 'playing' || isOver(state)) return notes.replaceChildren();
  const steps = drawnSteps(state);
  const ghost = trial?.ghost;
  const cue = now.balls.find(({ id }) => id === 'cue');
  const zone = shownZone(state);
  const lines = [...(ghost && cue ? [[pair(cue), pair(ghost)]] : []), ...steps.map(({ path }) => path)];
  const placer = placerOver({ table: question.table, places: [...now.balls, ...(zone ? [zone] : [])], lines }, frame);
  for (const ball of balls.querySelectorAll('.tag')) {
    const at = now.balls.find(({ id }) => id === ball.textContent);
    const [x, y] = ['x', 'y'].map((name) => Number(ball.getAttribute(name)));
    if (at) placer.avoid({ x: frame.toView(at).x + x, y: frame.toView(at).y + y }, 8 * frame.px);
  }
  // Where the plan is shown, its order is; else the player's own. In rotation the balls have their order on them.
  const shown = steps.length ? steps.map(({ ball }) => ball) : order;
  const one = now.item.game.kind === 'rotation';
  notes.replaceChildren(...(one ? [] : shown).flatMap((id, k) => {
    const ball = now.balls.find((other) => other.id === id);
    const kind = steps.length ? ' of-plan' : '';
    const [text] = ball ? named(`order${kind}`, String(shots.length + k + 1), ball, frame, placer) : [];
    return text ? boxed(text, frame, kind) : [];
  }));
  const step = steps[litStep(state)];
  if (step?.stop) notes.append(...named('note thin', 'stop', { x: step.stop[0], y: step.stop[1] }, frame, placer));
  for (const [k, { stop: [x, y] }] of (step?.seconds ?? []).entries()) notes.append(...named('note thin', String(k + 1), { x, y }, frame, placer));
  if (pointedAt(line, 'way') === null && steps.length === 0) {
    for (const [id, text] of /** @type {const} */ ([[order[0], 'on'], [order[1], 'next']])) {
      const ball = now.balls.find((other) => other.id === id);
      if (ball && one) notes.append(...named('note thin', text, ball, frame, placer));
    }
  }
}

/** The second plans' stops of the step that is pointed at. @param {SVGGElement} group @param {State} state @param {number} r */
function drawSeconds(group, state, r) {
  const step = drawnSteps(state)[litStep(state)];
  if (step) group.append(...step.seconds.map(({ stop: [x, y] }) => svg('circle', { class: 'plan-second', cx: mm(x), cy: mm(y), r })));
}

/** @param {SVGSVGElement} root @param {Model} model */
export function createView(root, model) {
  const sheet = createSheet(root, 'clear-drawing', LAYERS, model);
  const { layers, notes, loupe } = sheet;

  model.onDraw((state, before) => {
    const { question, now, result, clock, trial, phase, order, line, panel } = state;
    if (!question || !now) return;
    const fresh = sheet.reframe(question.table, question !== before.question);
    const { frame } = sheet.board;
    if (!frame) return;
    const { table } = question;
    const r = mm(table.ballRadius);
    if (fresh) {
      drawTabletop(layers.tabletop, table, frame);
      for (const layer of [layers.balls, layers.was, layers.zones, layers.pockets]) layer.replaceChildren();
    }
    const live = phase === 'drawing';
    const at = pointedAt(line, 'way');
    const way = panel === 'now' && at !== null ? waysOf(state)[at] : null;
    const step = live ? drawnSteps(state)[litStep(state)] : null;
    const showing = step != null;
    const told = way ?? step;
    drawPockets(layers.pockets, table.pockets, told?.pocket ?? state.pocket, live && !told);
    drawAimOf(layers.aim, { trial: live && !told ? trial : null, balls: now.balls, pockets: table.pockets }, r, false);
    drawZone(layers.zones, live && !showing ? shownZone(state) : null, table, frame, live);
    drawMarks(layers.marks, live ? now.balls : [], told ? { on: told.ball } : { on: order[0], next: order[1] }, frame, r);
    drawPlan(layers.plan, state, frame);
    drawSeconds(layers.plan, state, r);
    // How the balls ran is in the way as soon as the next stroke is set.
    const setting = live && (state.past.length > 0 || shownZone(state) !== null);
    drawRun(layers.outcome, showing || setting ? { ...state, trail: [] } : state);
    const same = ['now', 'seen'].every((name) => state[/** @type {keyof State} */ (name)] === before[/** @type {keyof State} */ (name)]);
    // The side on which a small ball has its number depends on where all lie.
    if (!same) layers.balls.replaceChildren();
    drawBalls(layers.balls, layers.was, { table, balls: ballsOf(state), ghost: trial?.ghost ?? null, tracks: result?.tracks ?? [], clock }, frame);
    nameBalls(layers.balls, state);
    drawNotes(notes, layers.balls, state, frame);
    root.classList.toggle('live', live && state.mode === 'zone');
    loupe.show(frame, state.held);
  });

  return sheet.board;
}

/** @typedef {ReturnType<typeof createView>} View */
