// Takes points before the core is there: each as it was placed, until the core has read it.

import { read, unread } from './state.js';

/** @import { ReadEngine } from '../engine/client.js' */
/** @import { PathModel } from './state.js' */
/** @import { Snap } from './snap.js' */

const WORDS = 'a place that is still to be read';

/** @param {ReadEngine} engine @param {PathModel} model @param {Snap} snap */
export function createEarly(engine, model, snap) {
  /** @type {Promise<void> | null} */
  let reading = null;

  async function readAll() {
    for (let one = unread(model.state); one; one = unread(model.state)) {
      const point = await snap(one.asked);
      // What went wrong is said; Play tries again.
      if (!point) break;
      model.change(read, one, point);
    }
    reading = null;
  }

  const settled = () => (reading ??= readAll());

  return {
    /** @type {Snap} */
    async snap(request) {
      if (engine.isReady()) return snap(request);
      // Once the point is where it was placed.
      setTimeout(settled);
      return /** @type {import('./state.js').Unread} */ ({ ...request.place, words: WORDS, asked: request });
    },

    /** Resolves when the core has read all points. */
    settled,
  };
}
