// Lets the clock of a played shot run in real time, or a stated number of times as fast.

import { ticked } from './state.js';

/** @import { Model } from './state.js' */

/** A page that slept does not make the balls jump, s. */
const LONGEST_STEP = 0.1;

/** @param {Model} model */
export function runClock(model) {
  let running = false;
  let last = 0;

  /** @param {number} now */
  function step(now) {
    const { phase, clock, rate } = model.state;
    running = phase === 'playing';
    if (!running) return;
    const passed = last ? Math.min((now - last) / 1000, LONGEST_STEP) : 0;
    last = now;
    model.change(ticked, clock + passed * rate);
    requestAnimationFrame(step);
  }

  model.onChange(({ phase }) => {
    if (phase !== 'playing' || running) return;
    running = true;
    last = 0;
    requestAnimationFrame(step);
  });
}
