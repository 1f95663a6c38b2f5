// The sets that are kept on this device, and the one that is being taken.

import { TAKING } from '../mark-listeners.js';

/** @import { ItemSet, SetMark } from '../engine/protocol.js' */

/** A set of the player's own. @typedef {{ id: string, set: ItemSet }} OwnSet */

/** What a set came to at best. @typedef {{ score: number, words: string }} Best */

/**
 * A set that is being taken: what its items are, where the player is, and what came of them. `claimed` is the score to
 * beat that a sender claims.
 * @typedef {object} Taking
 * @property {string} id Of the set.
 * @property {ItemSet} set As it was when it was begun.
 * @property {readonly string[]} links
 * @property {readonly SetMark[]} marks
 * @property {number} at
 * @property {number | null} claimed
 */

/** @typedef {{ version: 1, own: OwnSet[], best: Record<string, Best>, open: string | null }} Kept */

const KEY = 'leaveline.sets';

/** @type {Kept} */
const NOTHING = { version: 1, own: [], best: {}, open: null };

/** Whether something has the shape of a set; what it holds is for the core to judge. @param {any} set */
const isSet = (set) => typeof set?.title === 'string' && typeof set.note === 'string' && typeof set.pass === 'object' && Array.isArray(set.entries);

/** What is kept under a key, or null. @param {string} key */
function read(key) {
  try {
    return JSON.parse(localStorage.getItem(key) ?? 'null');
  } catch {
    return null;
  }
}

/** @param {string} key @param {object | null} what @returns {boolean} whether it could be written */
function write(key, what) {
  try {
    if (what === null) localStorage.removeItem(key);
    else localStorage.setItem(key, JSON.stringify(what));
    return true;
  } catch {
    return false;
  }
}

/** @returns {Kept} */
export function readKept() {
  const kept = read(KEY);
  if (kept?.version !== 1 || !Array.isArray(kept.own)) return NOTHING;
  const own = kept.own.filter((/** @type {any} */ one) => typeof one?.id === 'string' && isSet(one.set));
  return { version: 1, own, best: kept.best ?? {}, open: typeof kept.open === 'string' ? kept.open : null };
}

/** Changes what is kept, as it is now: another tab may have changed it. @param {(kept: Kept) => Kept} change */
export const changeKept = (change) => write(KEY, change(readKept()));

/** @returns {Taking | null} */
export function readTaking() {
  const taking = read(TAKING);
  const lists = [taking?.links, taking?.marks];
  const whole = isSet(taking?.set) && lists.every((list) => Array.isArray(list) && list.length === taking.set.entries.length);
  return whole && Number.isInteger(taking.at) ? taking : null;
}

/** @param {Taking | null} taking */
export const writeTaking = (taking) => write(TAKING, taking);

/** A name for a new set that no other has. @param {readonly OwnSet[]} own */
export function freshId(own) {
  const numbers = own.map(({ id }) => Number(id.replace('own-', ''))).filter(Number.isFinite);
  return `own-${Math.max(0, ...numbers) + 1}`;
}
