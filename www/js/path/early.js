// Takes points before the core is there: each as it was placed, until the core has read it.

import { read, unread } from './state.js';

/** @import { ReadEngine } from '../engine/client.js' */
/** @import { PathModel } from './state.js' */
/** @import { Snap } from './snap.js' */

const WORDS = 'a place that is still to be read';

/** @param {PathModel} model */
export function createEarly(model) {
  /** What reads points, and whether it is ready to. @type {{ engine: Pick<ReadEngine, 'isReady'>, snap: Snap } | null} */
  let core = null;
  let arrive = () => {};
  /** @type {Promise<void>} */
  const arrived = new Promise((done) => (arrive = done));
  /** @type {Promise<void> | null} */
  let reading = null;

  async function readAll() {
    await arrived;
    for (let one = unread(model.state); one; one = unread(model.state)) {
      const point = await core?.snap(one.asked);
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
      if (core?.engine.isReady()) return core.snap(request);
      // Once the point is where it was placed.
      setTimeout(settled);
      return /** @type {import('./state.js').Unread} */ ({ ...request.place, words: WORDS, asked: request });
    },

    /** Says who reads the points. @param {Pick<ReadEngine, 'isReady'>} engine @param {Snap} snap */
    connect(engine, snap) {
      core = { engine, snap };
      arrive();
    },

    /** Resolves when the core has read all points. */
    settled,
  };
}
