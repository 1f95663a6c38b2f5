// The walk-through, as the page knows it before anybody asks for it: offered once, and again only when it is asked for.

const KEY = 'leaveline.guide';

/** Whether it was taken, or put away. */
function isOver() {
  try {
    return localStorage.getItem(KEY) !== null;
  } catch {
    return true;
  }
}

/** @param {() => void} visitRead Opens the part in which it walks. */
export function createWalkThrough(visitRead) {
  /** @type {(() => void) | null} */
  let begin = null;
  let asked = false;

  return {
    isOver,

    /** It is not to be offered again. */
    end() {
      try {
        localStorage.setItem(KEY, 'over');
      } catch {
        // Without storage it was not offered.
      }
    },

    /** Somebody wants it. */
    ask() {
      asked = true;
      visitRead();
      begin?.();
    },

    /** Read is there: `start` begins, at once if it was asked for before. @param {() => void} start */
    listen(start) {
      begin = start;
      if (asked) start();
    },
  };
}

/** @typedef {ReturnType<typeof createWalkThrough>} WalkThrough */
