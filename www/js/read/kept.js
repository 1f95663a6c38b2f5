// What Read keeps on the device.

import { createStore } from '../store.js';

/** @import { CallPoint, Item } from '../engine/protocol.js' */

/** @typedef {{ link: string, item: Item, points: CallPoint[], sealed: string | null, played: boolean }} Entry */

/** A point without its words, as the core takes it. @param {CallPoint} point @returns {CallPoint} */
export const bare = ({ x, y, rail }) => (rail ? { x, y, rail } : { x, y });

/** @param {any} entry */
const isEntry = (entry) => typeof entry.item === 'object' && Array.isArray(entry.points) && entry.points.length <= 33;

/** @type {ReturnType<typeof createStore<Entry>>} */
export const { read, write, find } = createStore('read', isEntry);
