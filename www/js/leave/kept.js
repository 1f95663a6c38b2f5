// What Leave keeps on the device.

import { createStore } from '../store.js';

/** @import { CallPoint, LeaveItem, PocketName, Struck, Zone } from '../engine/protocol.js' */

/**
 * @typedef {{ link: string, item: LeaveItem, zone: Zone | null, stroke: Struck, pocket: PocketName | null, points: CallPoint[],
 *   hand: string, exact: boolean, seed: number, sealed: string | null, played: boolean }} Entry
 */

/** @param {any} of @param {string[]} names */
const areNumbers = (of, names) => names.every((name) => Number.isFinite(of?.[name]));

/** @param {any} entry */
const isEntry = ({ item, zone, stroke, points, hand, seed }) =>
  typeof item === 'object' &&
  (zone === null || areNumbers(zone, ['x', 'y', 'long', 'wide', 'turn'])) &&
  areNumbers(stroke, ['azimuth', 'elevation', 'speed', 'side', 'height']) &&
  Array.isArray(points) && points.length <= 33 &&
  typeof hand === 'string' && Number.isInteger(seed);

/** @type {ReturnType<typeof createStore<Entry>>} */
export const { read, write, find } = createStore('leave', isEntry);
