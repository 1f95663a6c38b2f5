// The state of a part: who draws it is told once per frame and only after a change, and its steps can be taken back.

/**
 * @template S
 * @typedef {(state: S, before: S) => void} Listener
 */

/** What a first drawing may take of a frame before it leaves the rest to the next, ms (tuning choice). */
const SHARE = 4;

/**
 * @template S
 * @param {S} empty The state to begin with.
 * @param {(state: S) => boolean} [begun] Whether there is something to draw. The first time, when all that draws is new to
 *   the browser, too, it is spread over some frames, for a slow phone.
 */
export function createModel(empty, begun = () => false) {
  let state = empty;
  let frame = 0;
  /** How many drawers have drawn for the first time. */
  let begunBy = 0;
  /** Each with the state that it drew last. @type {{ draw: Listener<S>, drawn: S }[]} */
  const drawers = [];
  /** @type {Listener<S>[]} */
  const watchers = [];

  /** @param {{ draw: Listener<S>, drawn: S }} one */
  function tell(one) {
    const before = one.drawn;
    one.drawn = state;
    one.draw(state, before);
  }

  function draw() {
    frame = 0;
    if (begunBy === drawers.length || !begun(state)) return drawers.forEach(tell);
    const end = performance.now() + SHARE;
    while (begunBy < drawers.length && performance.now() < end) tell(drawers[begunBy++]);
    schedule();
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

    /** Draws what has changed without waiting for a frame. */
    now() {
      cancelAnimationFrame(frame);
      draw();
    },

    /** Draws all now, for who is about to focus what was added. */
    flush() {
      cancelAnimationFrame(frame);
      frame = 0;
      drawers.forEach(tell);
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
