// The page's state, headless: every transition takes a state and gives the next one.

/** @import { Call, Point, Question, Result } from '../engine/protocol.js' */
/** @import { ModelOf } from '../model.js' */

/**
 * A point that is not placed yet: a new one, to stand before the point `at`, or the point `at` on
 * its way; `grip` says what places it, so that the drawing can stay clear of a finger.
 * @typedef {{ kind: 'insert' | 'move', at: number, point: Point, grip: 'hover' | 'mouse' | 'touch' }} Draft
 */

/**
 * @typedef {object} State
 * @property {'empty' | 'stuck' | 'drawing' | 'asking' | 'playing' | 'played'} phase
 * @property {Question | null} question
 * @property {string | null} sealed The sender's call, as it came with a link.
 * @property {readonly Point[]} points The call in order; the last one is the stop.
 * @property {number | null} selected
 * @property {Draft | null} draft
 * @property {readonly (readonly Point[])[]} past
 * @property {readonly (readonly Point[])[]} future
 * @property {Result | null} result
 * @property {number} clock Seconds of the shot shown so far.
 * @property {'own' | 'sender'} shown Whose grade is shown.
 * @property {string | null} line The line of the grade that is pointed at.
 * @property {boolean} snap
 * @property {number} rate
 * @property {boolean} dealing Whether a deal takes so long that it has to be said.
 * @property {boolean} practised Whether a call was ever played here: then nobody need be told where to start.
 */

/** @typedef {ModelOf<State>} Model */

/** The core takes 32 points and the stop. */
export const MOST_POINTS = 33;
const MOST_UNDO = 200;

/** @type {State} */
export const EMPTY = Object.freeze({
  phase: 'empty',
  question: null,
  sealed: null,
  points: [],
  selected: null,
  draft: null,
  past: [],
  future: [],
  result: null,
  clock: 0,
  shown: 'own',
  line: null,
  snap: true,
  rate: 1,
  dealing: false,
  practised: false,
});

/**
 * Opens an item, with what had been called on it before.
 * @param {State} state @param {Question} question
 * @param {{ sealed?: string | null, points?: readonly Point[] }} [kept]
 * @returns {State}
 */
export const opened = (state, question, { sealed = null, points = [] } = {}) => ({
  ...EMPTY,
  snap: state.snap,
  rate: state.rate,
  practised: state.practised,
  phase: 'drawing',
  question,
  sealed,
  points,
});

/** Calls were played here before. @param {State} state @returns {State} */
export const returned = (state) => ({ ...state, practised: true });

/** Nothing is called yet: what hovers is no point. @param {State} state */
export const isBlank = ({ phase, points, draft }) =>
  phase === 'drawing' && points.length === 0 && (draft === null || draft.grip === 'hover');

/** A deal is still on its way. @param {State} state @returns {State} */
export const awaited = (state) => (state.dealing ? state : { ...state, dealing: true });

/** Nothing could be opened, and nothing is on its way any more. @param {State} state @returns {State} */
export const stuck = (state) => ({ ...state, dealing: false, phase: state.phase === 'empty' ? 'stuck' : state.phase });

/** @param {State} state @param {readonly Point[]} points @param {number | null} selected @returns {State} */
const changed = (state, points, selected) => ({
  ...state,
  points,
  selected,
  draft: null,
  past: [...state.past, state.points].slice(-MOST_UNDO),
  future: [],
});

/** Where the next point goes: behind the selected one, else at the end. @param {State} state */
export const nextIndex = ({ selected, points }) => (selected === null ? points.length : selected + 1);

/** @param {State} state */
export const isFull = ({ points }) => points.length >= MOST_POINTS;

/**
 * Adds a point before the point `at`.
 * @param {State} state @param {Point} point @param {number} at @param {boolean} [select]
 * @returns {State}
 */
export function placed(state, point, at, select = false) {
  if (state.phase !== 'drawing' || isFull(state) || at < 0 || at > state.points.length) return state;
  // Going on in the middle of a path keeps going on there.
  const follow = select || (state.selected !== null && at < state.points.length);
  return changed(state, state.points.toSpliced(at, 0, point), follow ? at : null);
}

/** @param {State} state @param {Point} point @param {number} at @returns {State} */
export function moved(state, point, at) {
  const before = state.points[at];
  if (state.phase !== 'drawing' || !before) return state;
  if (before.x === point.x && before.y === point.y && before.rail === point.rail) return { ...state, draft: null };
  return changed(state, state.points.with(at, point), state.selected);
}

/** @param {State} state @param {number} at @returns {State} */
export function removed(state, at) {
  if (state.phase !== 'drawing' || !state.points[at]) return state;
  return changed(state, state.points.toSpliced(at, 1), null);
}

/** @param {State} state @returns {State} */
export function undone(state) {
  const points = state.past.at(-1);
  if (state.phase !== 'drawing' || !points) return state;
  const [past, future] = [state.past.slice(0, -1), [...state.future, state.points]];
  return { ...state, points, past, future, selected: null, draft: null };
}

/** @param {State} state @returns {State} */
export function redone(state) {
  const points = state.future.at(-1);
  if (state.phase !== 'drawing' || !points) return state;
  const [past, future] = [[...state.past, state.points], state.future.slice(0, -1)];
  return { ...state, points, past, future, selected: null, draft: null };
}

/** @param {State} state @param {number | null} at @returns {State} */
export const selected = (state, at) =>
  at !== null && !state.points[at] ? state : { ...state, selected: state.phase === 'drawing' ? at : null };

/** @param {State} state @param {Draft | null} draft @returns {State} */
export const drafted = (state, draft) => (state.phase === 'drawing' ? { ...state, draft } : state);

/** Puts the point that was on its way where it is. @param {State} state @returns {State} */
export function dropped(state) {
  if (!state.draft) return state;
  const { kind, at, point } = state.draft;
  return kind === 'move' ? moved(state, point, at) : placed(state, point, at);
}

/** The call is on its way to the core: a second press finds nothing to do. @param {State} state @returns {State} */
export const asked = (state) =>
  state.phase === 'drawing' && state.points.length > 0
    ? { ...state, phase: 'asking', draft: null, selected: null }
    : state;

/** @param {State} state @returns {State} */
export const refused = (state) => (state.phase === 'asking' ? { ...state, phase: 'drawing' } : state);

/** @param {State} state @param {Result} result @param {boolean} atOnce @returns {State} */
export const answered = (state, result, atOnce) =>
  state.phase === 'asking'
    ? { ...state, result, practised: true, phase: atOnce ? 'played' : 'playing', clock: atOnce ? result.duration : 0 }
    : state;

/** @param {State} state @param {number} clock @returns {State} */
export function ticked(state, clock) {
  if (state.phase !== 'playing' || !state.result) return state;
  const { duration } = state.result;
  return clock >= duration ? { ...state, phase: 'played', clock: duration } : { ...state, clock };
}

/** Shows the run again. @param {State} state @returns {State} */
export const rewound = (state) =>
  state.phase === 'played' ? { ...state, phase: 'playing', clock: 0, line: null } : state;

/** The points as they look with the one that is on its way. @param {State} state @returns {readonly Point[]} */
export function shownPoints({ points, draft }) {
  if (!draft || draft.grip === 'hover') return points;
  return draft.kind === 'move' ? points.with(draft.at, draft.point) : points.toSpliced(draft.at, 0, draft.point);
}

/**
 * The call that the points make. A last point on a rail is both: the touch, and the place where the
 * ball dies.
 * @param {readonly Point[]} points @returns {Call}
 */
export function callOf(points) {
  const bare = points.map(({ x, y, rail }) => (rail ? { x, y, rail } : { x, y }));
  const last = bare.at(-1);
  if (!last) throw new Error('a call has at least its stop');
  return { points: last.rail ? bare : bare.slice(0, -1), stop: { x: last.x, y: last.y } };
}

/** The line of a call from the ghost ball to its stop. @param {Call} call */
export function pathOf({ points, stop }) {
  const last = points.at(-1);
  return last && last.x === stop.x && last.y === stop.y ? points : [...points, stop];
}
