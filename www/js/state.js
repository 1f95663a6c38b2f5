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
  /** Who draws, with the state that it drew last, and whether it is to draw anew. @type {{ draw: Listener<S>, drawn: S, due: boolean }[]} */
  const drawers = [];
  /** Whose turn it is: after a frame that was too short the rest comes first. */
  let turn = 0;
  /** @type {Listener<S>[]} */
  const watchers = [];

  /** Draws what is due until `end`, ms. @param {number} end */
  function draw(end) {
    cancelAnimationFrame(frame);
    frame = 0;
    for (let left = drawers.length; left > 0; left -= 1) {
      if (performance.now() > end) return void (frame ||= requestAnimationFrame(drawOn));
      const one = drawers[turn];
      turn = (turn + 1) % drawers.length;
      if (!one.due) continue;
      const before = one.drawn;
      Object.assign(one, { drawn: state, due: false });
      one.draw(state, before);
    }
    turn = 0;
  }

  const drawOn = () => draw(performance.now() + SHARE);

  /** What was drawn may look otherwise now, though the state is the same. */
  function renew() {
    for (const one of drawers) one.due = true;
  }

  function schedule() {
    renew();
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
      renew();
      draw(Infinity);
    },

    /** Calls `drawer` in the frame after a change. @param {Listener<S>} drawer */
    onDraw: (drawer) => void drawers.push({ draw: drawer, drawn: empty, due: true }),

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
