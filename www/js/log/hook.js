// Keeps every graded call, beside the play. What keeps it is loaded with the first one.

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

  return {
    load,

    /**
     * Keeps a call and tells when it was made. One that was kept at `at` before is told of anew, with what became known
     * since.
     * @param {LogRequest['item']} item @param {LogRequest['call']} call @param {number} [at]
     */
    keep(item, call, at) {
      const when = at ?? Date.now();
      load().then((to) => to.keep(/** @type {LogRequest} */ ({ at: when, item, call }), at !== undefined)).catch((error) => {
        console.error(error);
        say(NOT_KEPT);
      });
      return when;
    },
  };
}

/** @typedef {ReturnType<typeof createLog>} Log */
