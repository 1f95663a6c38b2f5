// The state of a part: who draws it is told once per frame and only after a change, and its steps can be taken back.

/**
 * @template S
 * @typedef {(state: S, before: S) => void} Listener
 */

/** What drawing may take of a frame before it leaves the rest to the next, for a slow phone, ms (tuning choice). */
const SHARE = 4;

/** @template S @param {S} empty The state to begin with. */
export function createModel(empty) {
  let state = empty;
  let frame = 0;
  /** Each with the state that it drew last. @type {{ draw: Listener<S>, drawn: S }[]} */
  const drawers = [];
  /** Whose turn it is: a frame that was too short leaves the rest to the next, in their order, for the last to write is right. */
  let turn = 0;
  /** Whether something changed meanwhile. */
  let again = false;
  /** @type {Listener<S>[]} */
  const watchers = [];

  /** Has all draw whose turn is still to come, until `end`, ms. @param {number} end */
  function draw(end) {
    cancelAnimationFrame(frame);
    frame = 0;
    for (; turn < drawers.length; turn += 1) {
      if (performance.now() > end) return void (frame ||= requestAnimationFrame(drawOn));
      const one = drawers[turn];
      const before = one.drawn;
      one.drawn = state;
      one.draw(state, before);
    }
    turn = 0;
    if (again) schedule();
  }

  const drawOn = () => draw(performance.now() + SHARE);

  function schedule() {
    again = turn > 0;
    frame ||= requestAnimationFrame(drawOn);
  }

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

    /** Draws all without waiting for a frame: for what is first seen in this one, and for who is about to focus what was added. */
    flush() {
      turn = 0;
      draw(Infinity);
    },

    /** Calls `drawer` in the frame after a change. @param {Listener<S>} drawer */
    onDraw: (drawer) => void drawers.push({ draw: drawer, drawn: empty }),

    /** Calls `watcher` right after every change. @param {Listener<S>} watcher */
    onChange: (watcher) => void watchers.push(watcher),
  };
}

/** The state with other values. @template S @param {S} state @param {Partial<S>} change @returns {S} */
export const set = (state, change) => ({ ...state, ...change });

/**
 * @template S
 * @typedef {ReturnType<typeof createModel<S>>} ModelOf
 */

/**
 * A step holds the values that it replaced, by their names in the state.
 * @typedef {{ past: readonly object[], future: readonly object[] }} Steps
 */

const MOST_UNDO = 200;

/** @template {Steps} S @param {S} state @param {object} change */
const replaced = (state, change) =>
  Object.fromEntries(Object.keys(change).map((name) => [name, state[/** @type {keyof S} */ (name)]]));

/** The state after a step that can be taken back. @template {Steps} S @param {S} state @param {Partial<S>} change @returns {S} */
export const stepped = (state, change) => ({
  ...state,
  ...change,
  past: [...state.past, replaced(state, change)].slice(-MOST_UNDO),
  future: [],
});

/** Takes the latest step back, if there is one. @template {Steps} S @param {S} state @returns {S} */
export function back(state) {
  const step = state.past.at(-1);
  if (!step) return state;
  return { ...state, ...step, past: state.past.slice(0, -1), future: [...state.future, replaced(state, step)] };
}

/** Takes again the step that was taken back last. @template {Steps} S @param {S} state @returns {S} */
export function forth(state) {
  const step = state.future.at(-1);
  if (!step) return state;
  return { ...state, ...step, past: [...state.past, replaced(state, step)], future: state.future.slice(0, -1) };
}
