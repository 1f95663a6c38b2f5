// The Bench's state, headless: every transition takes a state and gives the next one.

import { back, forth, stepped } from '../state.js';

/** @import { Board, HandInfo, LeaveItem, Margins, Place, PocketName, Try } from '../engine/protocol.js' */
/** @import { ModelOf, Steps } from '../state.js' */
/** @import { Heat } from '../table/chance-map.js' */
/** @import { Trial } from './core.js' */

/** What is taken hold of: a ball by its id, the far end of the aim, or the zone. */
/** @typedef {`ball ${string}` | 'aim' | 'zone' | null} Chosen */

/**
 * @typedef {object} OfBench
 * @property {LeaveItem | null} item What is set up.
 * @property {LeaveItem | null} draft What it becomes while something is dragged.
 * @property {Trial | null} trial What comes of what is shown.
 * @property {Board | null} board The table that it lies on.
 * @property {Chosen} chosen
 * @property {boolean} aimed Whether the stroke is kept aimed at the pocket.
 * @property {readonly { speed: number, lengths: number }[]} scale Speeds of the table, in m/s and in lengths.
 * @property {string | null} lit The margin that is pointed at.
 * @property {string} way The name of the way into the pocket that was chosen, or ''.
 * @property {boolean} snap
 * @property {boolean} zoning Whether a drag on the cloth draws a zone.
 * @property {boolean} mapped Whether the map is shown.
 * @property {Heat | null} heat The map, once it is drawn.
 * @property {PocketName | ''} mapPocket The one pocket that it is for, or '' for the best.
 * @property {number} level The chance whose line is drawn on it.
 * @property {string} hand
 * @property {readonly HandInfo[]} hands
 * @property {Margins | null} margins Of the item, once they are known.
 * @property {readonly Try[]} ten What came of ten strokes of the hand.
 * @property {'set' | 'playing'} phase
 * @property {number} clock
 * @property {Place | null} held Where a finger holds something, to be shown beside it.
 */

/** @typedef {OfBench & Steps} State */
/** @typedef {ModelOf<State>} Model */

/** @type {State} */
export const EMPTY = Object.freeze({
  item: null,
  draft: null,
  trial: null,
  board: null,
  past: [],
  future: [],
  chosen: null,
  aimed: true,
  scale: [],
  lit: null,
  way: '',
  snap: true,
  zoning: false,
  mapped: false,
  heat: null,
  mapPocket: '',
  level: 0.5,
  hand: '',
  hands: [],
  margins: null,
  ten: [],
  phase: 'set',
  clock: 0,
  held: null,
});

/** The item as it looks with what is on its way. @param {State} state */
export const shownItem = ({ item, draft }) => draft ?? item;

/** What was known of the item before is not known of another. */
const UNKNOWN = /** @type {const} */ ({ draft: null, margins: null, ten: [], phase: 'set' });

/** @param {State} state @param {LeaveItem} item @param {Board} board @returns {State} */
export const opened = (state, item, board) => ({ ...state, ...UNKNOWN, item, board, past: [], future: [], chosen: null });

/** @param {State} state @param {LeaveItem | null} draft @returns {State} */
export const drafted = (state, draft) => ({ ...state, draft, phase: 'set' });

/** What was on its way stands. @param {State} state @param {LeaveItem} item @returns {State} */
export const committed = (state, item) => ({ ...stepped(state, { item }), ...UNKNOWN, way: '' });

/** @param {State} state @param {Trial} trial @returns {State} */
export const tried = (state, trial) => ({ ...state, trial });

/** A step back or forth: the stroke stays as it was then. @param {State} state @param {State} next @returns {State} */
const walked = (state, next) => (next === state ? state : { ...next, ...UNKNOWN, aimed: false, chosen: null });

/** @param {State} state */
export const undone = (state) => walked(state, back(state));

/** @param {State} state */
export const redone = (state) => walked(state, forth(state));

/** Starts the run of the shot. @param {State} state @returns {State} */
export const started = (state) => (state.trial && !state.draft ? { ...state, phase: 'playing', clock: 0 } : state);

/** @param {State} state @param {number} clock @returns {State} */
export function ticked(state, clock) {
  if (state.phase !== 'playing' || !state.trial) return state;
  return clock >= state.trial.duration ? { ...state, phase: 'set', clock: 0 } : { ...state, clock };
}
