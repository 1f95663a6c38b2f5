// The state of an item that is dealt, answered, played and graded, headless: what Read, Leave and Clear have in common.

/** @import { ModelOf } from '../state.js' */
/** @import { Path } from '../path/state.js' */
/** @import { Running } from '../replay.js' */

/** How far an item is. @typedef {'empty' | 'stuck' | 'drawing' | 'asking' | 'playing' | 'played'} Phase */

/**
 * @template Q
 * @template R
 * @typedef {object} OfRound
 * @property {Phase} phase
 * @property {Q | null} question
 * @property {string | null} sealed The sender's answer, as it came with a link.
 * @property {R | null} result
 * @property {'own' | 'sender'} shown Whose answer is measured.
 * @property {boolean} dealing Whether a deal takes so long that it has to be said.
 * @property {boolean} loading Whether the shot is to be played as soon as the core is there.
 * @property {boolean} practised Whether an answer was ever played here: then nobody need be told how to start.
 */

/** @template Q @template R @typedef {Path & Running & OfRound<Q, R>} Round */
/** @typedef {Round<any, any>} AnyRound */
/** @template {AnyRound} S @typedef {ModelOf<S>} RoundModel */

/** @type {Round<never, never>} */
export const BEGIN = Object.freeze({
  phase: 'empty',
  question: null,
  sealed: null,
  points: [],
  selected: null,
  draft: null,
  snap: true,
  past: [],
  future: [],
  result: null,
  clock: 0,
  rate: 1,
  shown: 'own',
  line: null,
  dealing: false,
  loading: false,
  practised: false,
});

/**
 * Opens an item: of the one before nothing stays but how the player works.
 * @template {AnyRound} S @param {S} state @param {S} empty @param {Partial<S>} change @returns {S}
 */
export const begun = ({ snap, rate, practised }, empty, change) => ({ ...empty, snap, rate, practised, phase: 'drawing', ...change });

/** Answers were played here before. @template {AnyRound} S @param {S} state @returns {S} */
export const returned = (state) => ({ ...state, practised: true });

/** A deal is still on its way. @template {AnyRound} S @param {S} state @returns {S} */
export const awaited = (state) => (state.dealing ? state : { ...state, dealing: true });

/** The core that is to play the shot is still on its way, or there. @template {AnyRound} S @param {S} state @param {boolean} loading @returns {S} */
export const loads = (state, loading) => (state.loading === loading ? state : { ...state, loading });

/** Nothing could be opened, and nothing is on its way any more. @template {AnyRound} S @param {S} state @returns {S} */
export const stuck = (state) => ({ ...state, dealing: false, phase: state.phase === 'empty' ? 'stuck' : state.phase });

/** @template {AnyRound} S @param {S} state @returns {S} */
export const refused = (state) => (state.phase === 'asking' ? { ...state, phase: 'drawing' } : state);

/** @template {AnyRound} S @param {S} state @param {S['result'] & { duration: number }} result @param {boolean} atOnce @returns {S} */
export const answered = (state, result, atOnce) =>
  state.phase === 'asking'
    ? { ...state, result, practised: true, phase: atOnce ? 'played' : 'playing', clock: atOnce ? result.duration : 0 }
    : state;

/** Takes the shot back: the answer stands as it was, to be changed. @template {AnyRound} S @param {S} state @returns {S} */
export const takenBack = (state) => (state.phase === 'played' ? { ...state, phase: 'drawing', result: null, clock: 0, shown: 'own', line: null } : state);

/** Measures the player's own answer, or the sender's. @template {AnyRound} S @param {S} state @param {'own' | 'sender'} shown @returns {S} */
export const compared = (state, shown) => (state.phase === 'played' ? { ...state, shown, line: null } : state);

/** Whether the shot was played, or runs. @param {AnyRound} state */
export const isPlayed = ({ phase }) => phase === 'playing' || phase === 'played';
