// Brings a place on the table to where a call can have a point: the core decides.

import { sentenceFor } from '../sentences.js';

/** @import { ReadEngine } from '../engine/client.js' */
/** @import { Item, LeaveItem, Place, Point } from '../engine/protocol.js' */

/** @typedef {{ place: Place, snap: boolean, reach: number }} SnapRequest */
/** @typedef {(request: SnapRequest) => Promise<Point | null>} Snap Null if the item changed meanwhile. */

/**
 * @param {ReadEngine} engine @param {() => Item | LeaveItem | null} itemOf The item that is open: its table counts.
 * @param {(sentence: string) => void} say @returns {Snap}
 */
export const snapWith = (engine, itemOf, say) => async ({ place, snap, reach }) => {
  const item = itemOf();
  if (!item) return null;
  try {
    const point = await engine.ask('snap', { item, ...place, reach, snap });
    return itemOf() === item ? point : null;
  } catch (error) {
    say(sentenceFor(error));
    return null;
  }
};
