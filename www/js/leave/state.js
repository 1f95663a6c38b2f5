// Leave's state, headless: every transition takes a state and gives the next one.

import { stepped } from '../history.js';
import { BEGIN, begun } from '../round/state.js';

/** @import { LeaveQuestion, LeaveResult, Place, Point, PocketName, Struck, Trial, Zone } from '../engine/protocol.js' */
/** @import { ModelOf } from '../model.js' */
/** @import { Heat } from '../table/heat.js' */
/** @import { Round } from '../round/state.js' */

/** What a drag on the table makes. @typedef {'zone' | 'path'} Mode */

/**
 * @typedef {object} OfLeave
 * @property {Zone | null} zone
 * @property {Struck | null} stroke
 * @property {PocketName | null} pocket At which the stroke is aimed.
 * @property {Zone | null} zoning The zone while it is dragged.
 * @property {Trial | null} trial The stroke as it is shown: aimed, and said in words.
 * @property {Mode} mode
 * @property {string} hand The id of the hand that grades the zone.
 * @property {boolean} exact Whether the shot itself is played without the hand's errors.
 * @property {number} seed Draws the errors of the stroke that is shown.
 * @property {readonly { speed: number, lengths: number }[]} scale Speeds of the table, in m/s and in lengths.
 * @property {Place | null} held Where a finger holds something, to be shown beside it.
 * @property {Heat | null} heat The map of the chances on the next ball, while it is shown.
 */

/** @typedef {Round<LeaveQuestion, LeaveResult> & OfLeave} State */
/** @typedef {ModelOf<State>} Model */

/** What a player answers, and keeps. @typedef {{ zone: Zone | null, stroke: Struck | null, pocket: PocketName | null, points: readonly Point[], hand: string, exact: boolean, seed: number }} Answer */

/** What of a state these transitions change, also where it is another part's. @typedef {Pick<State, 'phase' | 'zone' | 'zoning' | 'stroke' | 'pocket' | 'trial' | 'scale' | 'held' | 'past' | 'future'>} Striking */

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

/** @template S @param {S} state @param {Partial<S>} change @returns {S} */
export const set = (state, change) => ({ ...state, ...change });

/** A zone on its way. @template {Striking} S @param {S} state @param {Zone | null} zoning @returns {S} */
export const zoneDrafted = (state, zoning) => (state.phase === 'drawing' ? { ...state, zoning } : state);

/** @template {Striking} S @param {S} state @param {Zone | null} zone @returns {S} */
export function zoneSet(state, zone) {
  if (state.phase !== 'drawing' || (zone === null && state.zone === null)) return { ...state, zoning: null };
  return { ...stepped(state, /** @type {Partial<S>} */ ({ zone })), zoning: null };
}

/** Shows a stroke while it is changed. @template {Striking} S @param {S} state @param {Trial} trial @returns {S} */
export const tried = (state, trial) => (state.phase === 'drawing' ? { ...state, trial } : state);

/** A stroke stands. @template {Striking} S @param {S} state @param {Trial} trial @param {PocketName | null} pocket @returns {S} */
export function struck(state, trial, pocket) {
  if (state.phase !== 'drawing') return state;
  return { ...stepped(state, /** @type {Partial<S>} */ ({ stroke: trial.item.shot.stroke, pocket })), trial };
}

/** @param {State} state @param {Mode} mode @returns {State} */
export const turned = (state, mode) =>
  state.phase === 'drawing' && state.mode !== mode ? { ...state, mode, selected: null, draft: null, zoning: null } : state;

/** Nothing is marked yet. @param {State} state */
export const isBlank = ({ phase, zone, zoning }) => phase === 'drawing' && zone === null && zoning === null;

/** The zone as it looks. @param {Striking} state */
export const shownZone = ({ zone, zoning }) => zoning ?? zone;

/** Whether all that is needed was answered. @param {State} state */
export const isReady = ({ phase, zone, stroke }) => phase === 'drawing' && zone !== null && stroke !== null;

/** The answer is on its way to the core: a second press finds nothing to do. @param {State} state @returns {State} */
export const asked = (state) =>
  isReady(state) ? { ...state, phase: 'asking', draft: null, selected: null, zoning: null, held: null } : state;
