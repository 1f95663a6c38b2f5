// What Read keeps on the device.

import { createStore } from '../store.js';

/** @import { CallPoint, Item } from '../engine/protocol.js' */

/** @typedef {{ link: string, item: Item, points: CallPoint[], sealed: string | null, played: boolean }} Entry */

/** @param {any} entry */
const isEntry = (entry) => typeof entry.item === 'object' && Array.isArray(entry.points) && entry.points.length <= 33;

/** @type {ReturnType<typeof createStore<Entry>>} */
export const { read, write, find } = createStore('read', isEntry);
