// Keeps every graded call, beside the play. What keeps it is loaded with the first one.

import { putDown, waiting } from './pending.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { LogRequest } from '../engine/protocol.js' */
/** @import { Keeper } from './keeper.js' */

const NOT_KEPT = 'This call could not be kept in the Log.';

/** @param {Engine} engine @param {(sentence: string) => void} say */
export function createLog(engine, say) {
  /** @type {Promise<Keeper> | null} */
  let keeper = null;

  function load() {
    keeper ??= import('./keeper.js').then(({ createKeeper }) => createKeeper(engine, say), (error) => {
      // The next call tries again.
      keeper = null;
      throw error;
    });
    return keeper;
  }

  // What was made last time and not written then, or is being written in another tab: to keep it twice does no harm.
  const left = waiting();
  if (left.length > 0) load().then((to) => to.recover(left)).catch(console.error);

  return {
    load,

    /**
     * Keeps a call and tells when it was made. One that was kept at `at` before is told of anew, with what became known
     * since.
     * @param {LogRequest['item']} item @param {LogRequest['call']} call @param {number} [at]
     */
    keep(item, call, at) {
      const when = at ?? Date.now();
      const pending = { request: /** @type {LogRequest} */ ({ at: when, item, call }), amend: at !== undefined };
      const key = putDown(pending);
      load().then((to) => to.keep(pending, key)).catch((error) => {
        console.error(error);
        say(NOT_KEPT);
      });
      return when;
    },
  };
}

/** @typedef {ReturnType<typeof createLog>} Log */
