// Read's state, headless: every transition takes a state and gives the next one.

import { BEGIN, begun } from '../round/state.js';

/** @import { Point, Question, Result } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */
/** @import { Round } from '../round/state.js' */

/** @typedef {Round<Question, Result>} State */
/** @typedef {ModelOf<State>} Model */

/** @type {State} */
export const EMPTY = BEGIN;

/**
 * Opens an item, with what had been called on it before.
 * @param {State} state @param {Question} question
 * @param {{ sealed?: string | null, points?: readonly Point[] }} [kept]
 * @returns {State}
 */
export const opened = (state, question, { sealed = null, points = [] } = {}) => begun(state, EMPTY, { question, sealed, points });

/** Nothing is called yet: what hovers is no point. @param {State} state */
export const isBlank = ({ phase, points, draft }) =>
  phase === 'drawing' && points.length === 0 && (draft === null || draft.grip === 'hover');

/** The call is on its way to the core: a second press finds nothing to do. @param {State} state @returns {State} */
export const asked = (state) =>
  state.phase === 'drawing' && state.points.length > 0
    ? { ...state, phase: 'asking', draft: null, selected: null }
    : state;
