// Lets the clock of a played shot run in real time, or a stated number of times as fast.

/** @import { ModelOf } from './model.js' */

/** A page that slept does not make the balls jump, s. */
const LONGEST_STEP = 0.1;

/**
 * @template {{ phase: string, clock: number }} S
 * @param {ModelOf<S>} model @param {(state: S) => number} rateOf @param {(state: S, clock: number) => S} ticked
 */
export function runClock(model, rateOf, ticked) {
  let running = false;
  let last = 0;

  /** @param {number} now */
  function step(now) {
    const { phase, clock } = model.state;
    running = phase === 'playing';
    if (!running) return;
    const passed = last ? Math.min((now - last) / 1000, LONGEST_STEP) : 0;
    last = now;
    model.change(ticked, clock + passed * rateOf(model.state));
    requestAnimationFrame(step);
  }

  model.onChange(({ phase }) => {
    if (phase !== 'playing' || running) return;
    running = true;
    last = 0;
    requestAnimationFrame(step);
  });
}
