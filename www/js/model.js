// Holds a part's state and tells who draws it, once per frame and only after a change.

/**
 * @template S
 * @typedef {(state: S, before: S) => void} Listener
 */

/** @template S @param {S} empty The state to begin with. */
export function createModel(empty) {
  let state = empty;
  let drawn = empty;
  let frame = 0;
  /** @type {Listener<S>[]} */
  const drawers = [];
  /** @type {Listener<S>[]} */
  const watchers = [];

  function draw() {
    frame = 0;
    const [now, before] = [state, drawn];
    drawn = now;
    for (const drawer of drawers) drawer(now, before);
  }

  const schedule = () => (frame ||= requestAnimationFrame(draw));

  return {
    get state() {
      return state;
    },

    /**
     * @template {unknown[]} A
     * @param {(state: S, ...rest: A) => S} transition @param {A} rest
     */
    change(transition, ...rest) {
      const before = state;
      state = transition(before, ...rest);
      if (state === before) return;
      for (const watcher of watchers) watcher(state, before);
      schedule();
    },

    schedule,

    /** Draws now, for who is about to focus what was added. */
    flush() {
      cancelAnimationFrame(frame);
      draw();
    },

    /** Calls `drawer` in the frame after a change. @param {Listener<S>} drawer */
    onDraw: (drawer) => void drawers.push(drawer),

    /** Calls `watcher` right after every change. @param {Listener<S>} watcher */
    onChange: (watcher) => void watchers.push(watcher),
  };
}

/**
 * @template S
 * @typedef {ReturnType<typeof createModel<S>>} ModelOf
 */
