// Lets the clock of a played shot run in real time, or a stated number of times as fast.

import { ticked } from './state.js';

/** @import { Model } from './model.js' */

/** A page that slept does not make the balls jump, s. */
const LONGEST_STEP = 0.1;

/** @param {Model} model */
export function runClock(model) {
  let last = 0;
  let frame = 0;

  /** @param {number} now */
  function step(now) {
    frame = 0;
    const { phase, clock, rate } = model.state;
    if (phase !== 'playing') return;
    const passed = last ? Math.min((now - last) / 1000, LONGEST_STEP) : 0;
    last = now;
    model.change(ticked, clock + passed * rate);
    frame = requestAnimationFrame(step);
  }

  model.onChange(({ phase }) => {
    if (phase !== 'playing' || frame) return;
    last = 0;
    frame = requestAnimationFrame(step);
  });
}
