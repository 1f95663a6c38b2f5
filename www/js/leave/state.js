// Leave's state, headless: every transition takes a state and gives the next one.

import { stepped } from '../history.js';

/** @import { LeaveQuestion, LeaveResult, Place, Point, PocketName, Struck, Trial, Zone } from '../engine/protocol.js' */
/** @import { Path } from '../path/state.js' */
/** @import { Running } from '../replay.js' */
/** @import { ModelOf } from '../model.js' */

/** What a drag on the table makes. @typedef {'zone' | 'path'} Mode */

/**
 * @typedef {object} OfLeave
 * @property {'empty' | 'stuck' | 'drawing' | 'asking' | 'playing' | 'played'} phase
 * @property {LeaveQuestion | null} question
 * @property {string | null} sealed The sender's answer, as it came with a link.
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
 * @property {LeaveResult | null} result
 * @property {'own' | 'sender'} shown Whose answer is measured.
 * @property {boolean} dealing Whether a deal takes so long that it has to be said.
 * @property {boolean} practised Whether a zone was ever played here.
 * @property {Place | null} held Where a finger holds something, to be shown beside it.
 */

/** @typedef {Path & Running & OfLeave} State */
/** @typedef {ModelOf<State>} Model */

/** What a player answers, and keeps. @typedef {{ zone: Zone | null, stroke: Struck | null, pocket: PocketName | null, points: readonly Point[], hand: string, exact: boolean, seed: number }} Answer */

/** @type {State} */
export const EMPTY = Object.freeze({
  phase: 'empty',
  question: null,
  sealed: null,
  zone: null,
  stroke: null,
  pocket: null,
  zoning: null,
  trial: null,
  points: [],
  selected: null,
  draft: null,
  snap: true,
  mode: 'zone',
  hand: '',
  exact: true,
  seed: 0,
  scale: [],
  past: [],
  future: [],
  result: null,
  clock: 0,
  rate: 1,
  shown: 'own',
  line: null,
  dealing: false,
  practised: false,
  held: null,
});

/**
 * Opens an item, with what had been answered before; `trial` is of its stroke.
 * @param {State} state @param {LeaveQuestion} question @param {Trial} trial @param {Answer} answer @param {string | null} sealed
 * @returns {State}
 */
export const opened = (state, question, trial, answer, sealed) => ({
  ...EMPTY,
  snap: state.snap,
  rate: state.rate,
  scale: state.scale,
  practised: state.practised,
  phase: 'drawing',
  question,
  sealed,
  trial,
  ...answer,
});

/** @param {State} state @param {Partial<State>} change @returns {State} */
export const set = (state, change) => ({ ...state, ...change });

/** Answers were played here before. @param {State} state @returns {State} */
export const returned = (state) => ({ ...state, practised: true });

/** A deal is still on its way. @param {State} state @returns {State} */
export const awaited = (state) => (state.dealing ? state : { ...state, dealing: true });

/** Nothing could be opened, and nothing is on its way any more. @param {State} state @returns {State} */
export const stuck = (state) => ({ ...state, dealing: false, phase: state.phase === 'empty' ? 'stuck' : state.phase });

/** A zone on its way. @param {State} state @param {Zone | null} zoning @returns {State} */
export const zoneDrafted = (state, zoning) => (state.phase === 'drawing' ? { ...state, zoning } : state);

/** @param {State} state @param {Zone | null} zone @returns {State} */
export function zoneSet(state, zone) {
  if (state.phase !== 'drawing' || (zone === null && state.zone === null)) return { ...state, zoning: null };
  return { ...stepped(state, { zone }), zoning: null };
}

/** Shows a stroke while it is changed. @param {State} state @param {Trial} trial @returns {State} */
export const tried = (state, trial) => (state.phase === 'drawing' ? { ...state, trial } : state);

/** A stroke stands. @param {State} state @param {Trial} trial @param {PocketName | null} pocket @returns {State} */
export function struck(state, trial, pocket) {
  if (state.phase !== 'drawing') return state;
  return { ...stepped(state, { stroke: trial.item.shot.stroke, pocket }), trial };
}

/** @param {State} state @param {Mode} mode @returns {State} */
export const turned = (state, mode) =>
  state.phase === 'drawing' && state.mode !== mode ? { ...state, mode, selected: null, draft: null, zoning: null } : state;

/** Nothing is marked yet. @param {State} state */
export const isBlank = ({ phase, zone, zoning }) => phase === 'drawing' && zone === null && zoning === null;

/** The zone as it looks. @param {State} state */
export const shownZone = ({ zone, zoning }) => zoning ?? zone;

/** Whether all that is needed was answered. @param {State} state */
export const isReady = ({ phase, zone, stroke }) => phase === 'drawing' && zone !== null && stroke !== null;

/** The answer is on its way to the core: a second press finds nothing to do. @param {State} state @returns {State} */
export const asked = (state) =>
  isReady(state) ? { ...state, phase: 'asking', draft: null, selected: null, zoning: null, held: null } : state;

/** @param {State} state @returns {State} */
export const refused = (state) => (state.phase === 'asking' ? { ...state, phase: 'drawing' } : state);

/** @param {State} state @param {LeaveResult} result @param {boolean} atOnce @returns {State} */
export const answered = (state, result, atOnce) =>
  state.phase === 'asking'
    ? { ...state, result, practised: true, phase: atOnce ? 'played' : 'playing', clock: atOnce ? result.duration : 0 }
    : state;
