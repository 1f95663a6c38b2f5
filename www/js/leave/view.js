// Leave's drawing: the zone, the aim, the call, and what came of them.

import { drawAim, drawCall, drawHandles } from '../path/call.js';
import { drawOutcome } from '../path/outcome.js';
import { drawBalls } from '../table/balls.js';
import { drawLine } from '../table/heat.js';
import { createSheet } from '../table/sheet.js';
import { fill, mm, set, svg } from '../table/svg.js';
import { sync } from '../table/sync.js';
import { drawTabletop } from '../table/tabletop.js';
import { pathOf } from '../table/track.js';
import { drawZone } from '../table/zone.js';
import { drawNotes, drawVerdict } from './verdict.js';
import { shownZone } from './state.js';

/** @import { Ball, Pair, Table, Trial } from '../engine/protocol.js' */
/** @import { Frame } from '../table/frame.js' */
/** @import { ChanceMap } from './map.js' */
/** @import { Model, State } from './state.js' */

const LAYERS = /** @type {const} */ (['tabletop', 'heat', 'pockets', 'stops', 'zones', 'was', 'aim', 'outcome', 'call', 'marks', 'balls', 'handles']);

/** The cue ball's way to the ball that it meets. @param {Trial} trial @returns {Pair[]} */
export const approach = ({ tracks, contactTime }) => (contactTime === null ? [] : pathOf(tracks, 'cue', 0, contactTime));

/** The pockets: those that can be chosen, and the one that is asked for or chosen. @param {SVGGElement} group @param {Table['pockets']} pockets @param {string | null} pocket @param {boolean} open Whether one can be chosen. */
export function drawPockets(group, pockets, pocket, open) {
  const shown = open ? pockets : pockets.filter(({ id }) => id === pocket);
  sync(group, shown, ({ id }) => id,
    () => svg('g', { class: 'aim-pocket' }, svg('circle', { class: 'halo' }), svg('path', { class: 'bullseye' })),
    (element, { id, x, y, r }) => {
      const chosen = id === pocket;
      const name = `${id.replace('-', ' ')} pocket`;
      set(element, {
        'data-handle': open ? `pocket ${id}` : null,
        role: open ? 'button' : 'img',
        tabindex: open ? 0 : null,
        'aria-pressed': open ? String(chosen) : null,
        'aria-label': open ? `Aim at the ${name}` : `Aimed at the ${name}`,
      });
      const [cx, cy, arm] = [mm(x), mm(y), 0.62 * mm(r)];
      set(element.children[0], { cx, cy, r: mm(r) });
      const ring = `M${cx - arm} ${cy}a${arm} ${arm} 0 1 0 ${2 * arm} 0a${arm} ${arm} 0 1 0 ${-2 * arm} 0`;
      set(element.children[1], { d: chosen ? `${ring}M${cx} ${cy - arm}v${2 * arm}M${cx - arm} ${cy}h${2 * arm}` : '' });
    });
}

/**
 * The aim of a trial, to the pocket if it pots the ball that is to be potted.
 * @param {SVGGElement} group @param {{ trial: Trial | null, balls: readonly Ball[], pockets: Table['pockets'] }} of
 * @param {number} r @param {boolean} live Whether a path can start at its ghost ball.
 */
export function drawAimOf(group, { trial, balls, pockets }, r, live) {
  if (!trial?.ghost) return group.replaceChildren();
  const { demand } = trial.item;
  const [on, pocket] = [balls.find(({ id }) => id === trial.first), pockets.find(({ id }) => id === demand.pocket)];
  const toPocket = on && pocket && !trial.refusal && trial.first === demand.on;
  const focused = group.contains(document.activeElement);
  drawAim(group, { path: approach(trial), ghost: trial.ghost, first: trial.first ?? '', pocketPath: toPocket ? [[on.x, on.y], [pocket.x, pocket.y]] : [] }, r);
  const ghost = group.lastElementChild;
  if (ghost) set(ghost, { tabindex: live ? 0 : null, role: live ? 'button' : 'img' });
  if (focused && live && ghost instanceof SVGElement) ghost.focus();
}

/**
 * Rings around the ball on and the next one: one line, two lines.
 * @param {SVGGElement} group @param {readonly Ball[]} balls None, where nothing is marked.
 * @param {{ on?: string | null, next?: string | null }} demand @param {Frame} frame @param {number} r
 */
export function drawMarks(group, balls, { on, next }, frame, r) {
  const ring = (/** @type {string | null | undefined} */ id, /** @type {number} */ gap) => {
    const ball = balls.find((one) => one.id === id);
    return ball ? [svg('circle', { class: 'ring', cx: mm(ball.x), cy: mm(ball.y), r: r + gap * frame.px })] : [];
  };
  fill(group, [...ring(on, 3.5), ...ring(next, 3.5), ...ring(next, 6.5)]);
}

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
    drawNotes(notes, state, frame);
    root.classList.toggle('live', live);
    root.classList.toggle('measured', state.line !== null);
    loupe.show(frame, state.held ?? (state.draft?.grip === 'touch' ? state.draft.point : null));
  });

  return sheet.board;
}

/** @typedef {ReturnType<typeof createView>} View */
