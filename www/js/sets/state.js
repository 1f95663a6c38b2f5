// The Sets screen's state, headless: every transition takes a state and gives the next one.

import { back, forth, stepped } from '../state.js';

/** @import { AnyItem, DailyResult, FoundSet, ItemSet, SetEntry, SetMark, ShownItem, Tally } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */
/** @import { Best, OwnSet, Taking } from './kept.js' */
/** @import { Ready } from './ready.js' */

/** What the core says of an item. @typedef {FoundSet['entries'][number]} Told */

/**
 * The set of a day: its link, the marks that count, and what they come to once all are there.
 * @typedef {{ day: string, link: string, marks: readonly SetMark[] | null, result: DailyResult | null }} Daily
 */

/**
 * @typedef {object} State
 * @property {'empty' | 'open' | 'stuck'} phase
 * @property {readonly OwnSet[]} own
 * @property {readonly Ready[]} ready
 * @property {string | null} open The id of the set that is seen.
 * @property {ItemSet | null} lent It, if it is none of the player's own.
 * @property {number | null} claimed The score that the sender of a link claims.
 * @property {ReadonlyMap<AnyItem, Told>} told
 * @property {number} chosen
 * @property {ShownItem | null} shown The chosen item.
 * @property {boolean} revealed Whether its note and its path are seen.
 * @property {Taking | null} taking The set that is being taken, or was taken last.
 * @property {Tally | null} tally How it stands, if it is the open one.
 * @property {Record<string, Best>} best
 * @property {Daily | null} daily What is known of the open set, if it is that of a day.
 * @property {readonly object[]} past @property {readonly object[]} future
 */

/** @typedef {ModelOf<State>} Model */

/** @type {State} */
export const EMPTY = Object.freeze({
  phase: 'empty', own: [], ready: [], open: null, lent: null, claimed: null, told: new Map(), chosen: 0, shown: null, revealed: false,
  taking: null, tally: null, best: {}, daily: null, past: [], future: [],
});

/** The set that is seen. @param {State} state @returns {ItemSet | null} */
export const openSet = ({ own, open, lent }) => own.find(({ id }) => id === open)?.set ?? lent;

/** Whether it is the player's own, and can be changed. @param {State} state */
export const isOwn = ({ own, open }) => own.some(({ id }) => id === open);

/** @param {State} state @returns {readonly SetEntry[]} */
export const entriesOf = (state) => openSet(state)?.entries ?? [];

/** What is said of an item of the open set, once it is known. @param {State} state @param {number} at */
export function toldOf(state, at) {
  const entry = entriesOf(state)[at];
  return entry && state.told.get(entry.item);
}

/** The taking of the open set. @param {State} state */
export const takingOf = ({ taking, open }) => (taking && taking.id === open ? taking : null);

/** The marks of the open set: as it is taken, else those that count for its day. @param {State} state */
export const marksOf = (state) => takingOf(state)?.marks ?? state.daily?.marks ?? null;

/** Sees another set, from its first item on. @param {State} state @param {string} open @param {{ lent?: ItemSet | null, claimed?: number | null, daily?: Daily | null }} [of] @returns {State} */
export const opened = (state, open, { lent = null, claimed = null, daily = null } = {}) =>
  ({ ...state, phase: 'open', open, lent, claimed, daily, chosen: 0, shown: null, revealed: false, tally: null });

/** Chooses an item, covered. @param {State} state @param {number} at @returns {State} */
export function chose(state, at) {
  const last = entriesOf(state).length - 1;
  const chosen = Math.max(0, Math.min(at, last));
  return chosen === state.chosen ? state : { ...state, chosen, shown: null, revealed: false };
}

/** @param {State} state @returns {State} */
export const turned = (state) => ({ ...state, revealed: !state.revealed });

/** A step that can be taken back: the open set becomes another. @param {State} state @param {(set: ItemSet) => ItemSet} change @param {number} [chosen] @returns {State} */
export function changed(state, change, chosen = state.chosen) {
  if (!isOwn(state)) return state;
  const own = state.own.map((one) => (one.id === state.open ? { ...one, set: change(one.set) } : one));
  return { ...stepped(state, { own, chosen }), shown: null, revealed: false };
}

/** Moves an item to another place. @param {State} state @param {number} from @param {number} to @returns {State} */
export function moved(state, from, to) {
  const n = entriesOf(state).length;
  if (from === to || from < 0 || to < 0 || from >= n || to >= n) return state;
  return changed(state, (one) => {
    const entries = [...one.entries];
    entries.splice(to, 0, ...entries.splice(from, 1));
    return { ...one, entries };
  }, to);
}

/** @param {State} state @returns {State} */
export function removed(state) {
  const n = entriesOf(state).length;
  if (n === 0) return state;
  const { chosen } = state;
  return changed(state, (one) => ({ ...one, entries: one.entries.filter((_, k) => k !== chosen) }), Math.max(0, Math.min(chosen, n - 2)));
}

/** A set of the player's own more, which is seen at once. @param {State} state @param {OwnSet} fresh @returns {State} */
export const added = (state, fresh) =>
  opened(stepped(state, { own: [...state.own, fresh], open: fresh.id }), fresh.id);

/** The open set goes; another is seen. @param {State} state @param {string | null} next @returns {State} */
export const dropped = (state, next) =>
  isOwn(state) ? { ...stepped(state, { own: state.own.filter(({ id }) => id !== state.open), open: next, chosen: 0 }), shown: null, revealed: false } : state;

/** @param {State} state @returns {State} */
export const undone = (state) => seen(back(state), state);
/** @param {State} state @returns {State} */
export const redone = (state) => seen(forth(state), state);

/** What is seen after a step was taken back. @param {State} state @param {State} before @returns {State} */
function seen(state, before) {
  return state === before ? state : { ...state, shown: null, revealed: false, lent: isOwn(state) ? null : state.lent };
}
