// The zone and the stroke that a player sets, headless: every transition takes a state and gives the next one.

import { stepped } from '../state.js';

/** @import { Place, PocketName, Struck, Trial, Zone } from '../engine/protocol.js' */
/** @import { Steps } from '../state.js' */
/** @import { Phase } from '../round/state.js' */

/**
 * What these transitions change of a part's state.
 * @typedef {object} OfStroke
 * @property {Phase} phase
 * @property {Zone | null} zone
 * @property {Zone | null} zoning The zone while it is dragged.
 * @property {Struck | null} stroke
 * @property {PocketName | null} pocket At which the stroke is aimed.
 * @property {Trial | null} trial The stroke as it is shown: aimed, and said in words.
 * @property {readonly { speed: number, lengths: number }[]} scale Speeds of the table, in m/s and in lengths.
 * @property {Place | null} held Where a finger holds something, to be shown beside it.
 */

/** @typedef {OfStroke & Steps} Striking */

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

/** The zone as it looks. @param {Striking} state */
export const shownZone = ({ zone, zoning }) => zoning ?? zone;
