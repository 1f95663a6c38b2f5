// The page's state, headless: every transition takes a state and gives the next one.

/** @import { Point, Question, Result } from '../engine/protocol.js' */
/** @import { ModelOf } from '../model.js' */
/** @import { Path } from '../path/state.js' */
/** @import { Running } from '../replay.js' */

/**
 * @typedef {object} OfRead
 * @property {'empty' | 'stuck' | 'drawing' | 'asking' | 'playing' | 'played'} phase
 * @property {Question | null} question
 * @property {string | null} sealed The sender's call, as it came with a link.
 * @property {Result | null} result
 * @property {'own' | 'sender'} shown Whose grade is shown.
 * @property {boolean} dealing Whether a deal takes so long that it has to be said.
 * @property {boolean} practised Whether a call was ever played here: then nobody need be told where to start.
 */

/** @typedef {Path & Running & OfRead} State */

/** @typedef {ModelOf<State>} Model */

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
