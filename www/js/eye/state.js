// Eye's state, headless: every transition takes a state and gives the next one.

/** @import { EyeAnswered, EyeHandle, EyeQuestion, EyeResult, EyeRound } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */

/** An answer with its mark. @typedef {EyeAnswered & { mark: number }} Answer */

/**
 * A round. `handle` is where the player has it, `held` while a finger is on it; `summary` is there once all are answered.
 * @typedef {object} State
 * @property {'waiting' | 'drawing' | 'asking' | 'answered' | 'over' | 'stuck'} phase
 * @property {number} seed @property {number} number @property {string} size
 * @property {EyeQuestion | null} question
 * @property {EyeHandle | null} handle @property {boolean} moved @property {boolean} held
 * @property {EyeResult | null} result
 * @property {readonly Answer[]} answers
 * @property {EyeRound | null} summary
 * @property {boolean} again Whether the estimate is one of the Log's, which is shown again beside the round.
 */
/** @typedef {ModelOf<State>} Model */

/** @type {State} */
export const EMPTY = {
  phase: 'waiting', seed: 0, number: 0, size: 'nine-foot', question: null, handle: null, moved: false, held: false, result: null, answers: [], summary: null,
  again: false,
};

/** Begins a round, or goes on with one that was kept. @param {State} state @param {Pick<State, 'seed' | 'size'> & { answers?: readonly Answer[] }} round @returns {State} */
export const begun = (state, { seed, size, answers = [] }) => ({ ...EMPTY, seed, size, answers, question: state.question });

/** Shows an estimate. @param {State} state @param {number} number @param {EyeQuestion} question @returns {State} */
export const asked = (state, number, question) => ({
  ...state, phase: 'drawing', number, question, handle: question.handle, moved: false, held: false, result: null, again: false,
});

/** Shows an estimate of the Log again, with its answer. @param {State} state @param {EyeQuestion} question @param {EyeHandle} handle @param {EyeResult} result @returns {State} */
export const reshown = (state, question, handle, result) => ({
  ...state, phase: 'answered', question, handle, moved: true, held: false, result, summary: null, again: true,
});

/** @param {State} state @param {EyeHandle} handle @returns {State} */
export const moved = (state, handle) => (state.phase === 'drawing' ? { ...state, handle, moved: true } : state);

/** A finger takes hold of the handle, or lets go. @param {State} state @param {boolean} held @returns {State} */
export const holding = (state, held) => (state.held === held ? state : { ...state, held });

/** The drag is given up. @param {State} state @returns {State} */
export const letGo = (state) =>
  state.phase === 'drawing' && state.question ? { ...state, handle: state.question.handle, moved: false, held: false } : state;

/** The answer is on its way to the core. @param {State} state @returns {State} */
export const answering = (state) => (state.phase === 'drawing' && state.moved ? { ...state, phase: 'asking', held: false } : state);

/** @param {State} state @param {EyeResult} result @returns {State} */
export const answered = (state, result) => ({
  ...state, phase: 'answered', result, answers: [...state.answers, { estimate: result.estimate, error: result.error, mark: result.mark }],
});

/** What was answered could not be judged. @param {State} state @returns {State} */
export const returned = (state) => ({ ...state, phase: 'drawing' });

/** @param {State} state @param {EyeRound} summary @returns {State} */
export const summed = (state, summary) => ({ ...state, phase: 'over', summary });

/** Nothing can be asked. @param {State} state @returns {State} */
export const stuck = (state) => ({ ...state, phase: 'stuck' });
