// Leave's state, headless: every transition takes a state and gives the next one.

import { BEGIN, begun } from '../round/state.js';

/** @import { LeaveQuestion, LeaveResult, Point, PocketName, Struck, Trial, Zone } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */
/** @import { Heat } from '../table/chance-map.js' */
/** @import { Round } from '../round/state.js' */
/** @import { OfStroke } from '../stroke/state.js' */

/** What a drag on the table makes. @typedef {'zone' | 'path'} Mode */

/**
 * @typedef {object} OfLeave
 * @property {Mode} mode
 * @property {string} hand The id of the hand that grades the zone.
 * @property {boolean} exact Whether the shot itself is played without the hand's errors.
 * @property {number} seed Draws the errors of the stroke that is shown.
 * @property {Heat | null} heat The map of the chances on the next ball, while it is shown.
 */

/** @typedef {Round<LeaveQuestion, LeaveResult> & OfStroke & OfLeave} State */
/** @typedef {ModelOf<State>} Model */

/** What a player answers, and keeps. @typedef {{ zone: Zone | null, stroke: Struck | null, pocket: PocketName | null, points: readonly Point[], hand: string, exact: boolean, seed: number }} Answer */

/** @type {State} */
export const EMPTY = Object.freeze({
  ...BEGIN,
  zone: null,
  stroke: null,
  pocket: null,
  zoning: null,
  trial: null,
  mode: 'zone',
  hand: '',
  exact: true,
  seed: 0,
  scale: [],
  held: null,
  heat: null,
});

/**
 * Opens an item, with what had been answered before; `trial` is of its stroke.
 * @param {State} state @param {LeaveQuestion} question @param {Trial} trial @param {Answer} answer @param {string | null} sealed
 * @returns {State}
 */
export const opened = (state, question, trial, answer, sealed) =>
  begun(state, EMPTY, { scale: state.scale, question, sealed, trial, ...answer });

/** @param {State} state @param {Mode} mode @returns {State} */
export const turned = (state, mode) =>
  state.phase === 'drawing' && state.mode !== mode ? { ...state, mode, selected: null, draft: null, zoning: null } : state;

/** Nothing is marked yet. @param {State} state */
export const isBlank = ({ phase, zone, zoning }) => phase === 'drawing' && zone === null && zoning === null;

/** Whether all that is needed was answered. @param {State} state */
export const isReady = ({ phase, zone, stroke }) => phase === 'drawing' && zone !== null && stroke !== null;

/** The answer is on its way to the core: a second press finds nothing to do. @param {State} state @returns {State} */
export const asked = (state) =>
  isReady(state) ? { ...state, phase: 'asking', draft: null, selected: null, zoning: null, held: null } : state;
