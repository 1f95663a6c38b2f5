// Who hears what mark an item got: the set that is being taken, if there is one.

/** @import { SetMark } from './engine/protocol.js' */

/** Under which the set that is being taken is kept. */
export const TAKING = 'leaveline.taking';

/** Whether a set is being taken on this device. */
export function isTaking() {
  try {
    return localStorage.getItem(TAKING) !== null;
  } catch {
    return false;
  }
}

/** @typedef {(link: string, mark: SetMark) => void} Hears */

export function createMarks() {
  /** @type {Hears | null} */
  let hears = null;
  return {
    /** The item of a link was played; null if nothing of it counts yet. @type {Hears} */
    report: (link, mark) => mark !== null && hears?.(link, mark),
    /** @param {Hears} listener */
    listen: (listener) => void (hears = listener),
  };
}

/** @typedef {ReturnType<typeof createMarks>} Marks */
