// A called path, headless: its points, what is chosen of it, what is on its way.

import { MOST_POINTS } from '../../pkg/first.js';
import { back, forth, stepped } from '../state.js';

/** @import { Call, CallPoint, Point } from '../engine/protocol.js' */
/** @import { ModelOf, Steps } from '../state.js' */
/** @import { SnapRequest } from './snap.js' */

/**
 * A point that is not placed yet: a new one, to stand before the point `at`, or the point `at` on
 * its way; `grip` says what places it, so that the drawing can stay clear of a finger.
 * @typedef {{ kind: 'insert' | 'move', at: number, point: Point, grip: 'hover' | 'mouse' | 'touch' }} Draft
 */

/**
 * What a part's state holds of a path. Only in the phase `drawing` does it change.
 * @typedef {object} OfPath
 * @property {string} phase
 * @property {readonly Point[]} points The call in order; the last one is the stop.
 * @property {number | null} selected
 * @property {Draft | null} draft
 * @property {boolean} snap
 */
/** @typedef {OfPath & Steps} Path */

/** @typedef {ModelOf<Path>} PathModel */

/** What is said where a call has no room for another. */
export const FULL = `A call has room for ${MOST_POINTS} points.`;

/** @template {Path} S @param {S} state @param {readonly Point[]} points @param {number | null} selected @returns {S} */
const changed = (state, points, selected) => ({
  ...stepped(state, /** @type {Partial<S>} */ ({ points })),
  selected,
  draft: null,
});

/** Where the next point goes: behind the selected one, else at the end. @param {Path} state */
export const nextIndex = ({ selected, points }) => (selected === null ? points.length : selected + 1);

/** @param {Path} state */
export const isFull = ({ points }) => points.length >= MOST_POINTS;

/**
 * Adds a point before the point `at`.
 * @template {Path} S
 * @param {S} state @param {Point} point @param {number} at @param {boolean} [select]
 * @returns {S}
 */
export function placed(state, point, at, select = false) {
  if (state.phase !== 'drawing' || isFull(state) || at < 0 || at > state.points.length) return state;
  // Going on in the middle of a path keeps going on there.
  const follow = select || (state.selected !== null && at < state.points.length);
  return changed(state, state.points.toSpliced(at, 0, point), follow ? at : null);
}

/** @template {Path} S @param {S} state @param {Point} point @param {number} at @returns {S} */
export function moved(state, point, at) {
  const before = state.points[at];
  if (state.phase !== 'drawing' || !before) return state;
  if (before.x === point.x && before.y === point.y && before.rail === point.rail) return { ...state, draft: null };
  return changed(state, state.points.with(at, point), state.selected);
}

/** @template {Path} S @param {S} state @param {number} at @returns {S} */
export function removed(state, at) {
  if (state.phase !== 'drawing' || !state.points[at]) return state;
  return changed(state, state.points.toSpliced(at, 1), null);
}

/** @template {Path} S @param {S} state @returns {S} */
export const undone = (state) =>
  state.phase === 'drawing' && state.past.length > 0 ? { ...back(state), selected: null, draft: null } : state;

/** @template {Path} S @param {S} state @returns {S} */
export const redone = (state) =>
  state.phase === 'drawing' && state.future.length > 0 ? { ...forth(state), selected: null, draft: null } : state;

/** @template {Path} S @param {S} state @param {number | null} at @returns {S} */
export const selected = (state, at) =>
  at !== null && !state.points[at] ? state : { ...state, selected: state.phase === 'drawing' ? at : null };

/** @template {Path} S @param {S} state @param {Draft | null} draft @returns {S} */
export const drafted = (state, draft) => (state.phase === 'drawing' ? { ...state, draft } : state);

/** Puts the point that was on its way where it is. @template {Path} S @param {S} state @returns {S} */
export function dropped(state) {
  if (!state.draft) return state;
  const { kind, at, point } = state.draft;
  return kind === 'move' ? moved(state, point, at) : placed(state, point, at);
}

/** @template {Path} S @param {S} state @returns {S} */
export const snapTurned = (state) => ({ ...state, snap: !state.snap });

/** A point that the core has not read yet: as it was placed, with what is to be asked. @typedef {Point & { asked: SnapRequest }} Unread */

/** @param {Path} state @returns {Unread | null} */
export function unread({ points, draft, past, future }) {
  const steps = /** @type {Partial<OfPath>[]} */ ([...past, ...future]);
  const all = [points, ...steps.map((step) => step.points ?? []), draft ? [draft.point] : []].flat();
  return /** @type {Unread | null} */ (all.find((point) => 'asked' in point) ?? null);
}

/** Puts what the core made of a point in its place, in the steps too. @template {Path} S @param {S} state @param {Unread} before @param {Point} point @returns {S} */
export function read(state, before, point) {
  const there = (/** @type {readonly Point[]} */ points) => points.map((one) => (one === before ? point : one));
  const step = (/** @type {Partial<OfPath>} */ one) => (one.points ? { ...one, points: there(one.points) } : one);
  const { points, draft, past, future } = state;
  return { ...state, points: there(points), draft: draft?.point === before ? { ...draft, point } : draft, past: past.map(step), future: future.map(step) };
}

/** The points as they look with the one that is on its way. @param {OfPath} state @returns {readonly Point[]} */
export function shownPoints({ points, draft }) {
  if (!draft || draft.grip === 'hover') return points;
  return draft.kind === 'move' ? points.with(draft.at, draft.point) : points.toSpliced(draft.at, 0, draft.point);
}

/** A point without its words, as the core takes it. @param {CallPoint} point @returns {CallPoint} */
export const bare = ({ x, y, rail }) => (rail ? { x, y, rail } : { x, y });

/**
 * The call that the points make. A last point on a rail is both: the touch, and the place where the
 * ball dies.
 * @param {readonly Point[]} points @returns {Call}
 */
export function callOf(points) {
  const called = points.map(bare);
  const last = called.at(-1);
  if (!last) throw new Error('a call has at least its stop');
  return { points: last.rail ? called : called.slice(0, -1), stop: { x: last.x, y: last.y } };
}

/** The line of a call from the ghost ball to its stop. @param {Call} call */
export function pathOf({ points, stop }) {
  const last = points.at(-1);
  return last && last.x === stop.x && last.y === stop.y ? points : [...points, stop];
}
