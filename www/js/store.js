// What survives a reload: the latest items with their calls, by the link of each.

/** @import { CallPoint, Item } from './engine/protocol.js' */

/** @typedef {{ link: string, item: Item, points: CallPoint[], sealed: string | null, played: boolean }} Entry */
/** @typedef {{ version: 1, level: number, entries: Entry[] }} Kept */

const KEY = 'leaveline.read';
const MOST_ENTRIES = 20;

/** @type {Kept} */
const NOTHING = { version: 1, level: 1, entries: [] };

/** A point without its words, as the core takes it. @param {CallPoint} point @returns {CallPoint} */
export const bare = ({ x, y, rail }) => (rail ? { x, y, rail } : { x, y });

/** Whether `entry` has the shape of one; what it holds is for the core to judge. @param {any} entry */
const isEntry = (entry) =>
  typeof entry?.link === 'string' &&
  typeof entry.item === 'object' &&
  Array.isArray(entry.points) &&
  entry.points.length <= 33;

/**
 * Reads what was kept. `broken` says that there was something that cannot be read.
 * @param {Storage} [storage]
 * @returns {{ kept: Kept, broken: boolean }}
 */
export function read(storage) {
  try {
    const text = (storage ?? localStorage).getItem(KEY);
    if (text === null) return { kept: NOTHING, broken: false };
    const kept = JSON.parse(text);
    if (kept?.version !== 1 || !Array.isArray(kept.entries)) return { kept: NOTHING, broken: true };
    const entries = kept.entries.filter(isEntry);
    const level = Number.isInteger(kept.level) ? kept.level : 1;
    return { kept: { version: 1, level, entries }, broken: entries.length < kept.entries.length };
  } catch (error) {
    return { kept: NOTHING, broken: error instanceof SyntaxError };
  }
}

/**
 * Writes one entry as the latest. Reads first, so that a second tab loses nothing but the same item.
 * @param {Entry} entry @param {number} level @param {Storage} [storage]
 * @returns {boolean} whether it could be written
 */
export function write(entry, level, storage) {
  const others = read(storage).kept.entries.filter(({ link }) => link !== entry.link);
  let entries = [...others, entry].slice(-MOST_ENTRIES);
  // When the storage is full, older items make room.
  for (;;) {
    try {
      (storage ?? localStorage).setItem(KEY, JSON.stringify({ version: 1, level, entries }));
      return true;
    } catch {
      if (entries.length <= 1) return false;
      entries = entries.slice(Math.ceil(entries.length / 2));
    }
  }
}

/** @param {string} link @param {Storage} [storage] */
export const find = (link, storage) => read(storage).kept.entries.find((entry) => entry.link === link);
