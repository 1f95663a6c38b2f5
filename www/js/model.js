// Holds the state and tells who draws it, once per frame and only after a change.

import { EMPTY } from './state.js';

/** @import { State } from './state.js' */
/** @typedef {(state: State, before: State) => void} Listener */

export function createModel() {
  let state = EMPTY;
  let drawn = EMPTY;
  let frame = 0;
  /** @type {Listener[]} */
  const drawers = [];
  /** @type {Listener[]} */
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
     * @param {(state: State, ...rest: A) => State} transition @param {A} rest
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

    /** Calls `drawer` in the frame after a change. @param {Listener} drawer */
    onDraw: (drawer) => void drawers.push(drawer),

    /** Calls `watcher` right after every change. @param {Listener} watcher */
    onChange: (watcher) => void watchers.push(watcher),
  };
}

/** @typedef {ReturnType<typeof createModel>} Model */
