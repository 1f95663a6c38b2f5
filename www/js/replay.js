// Lets the clock of a played shot run in real time, or a stated number of times as fast.

/** @import { ModelOf } from './state.js' */

/**
 * What a part's state holds of a shot that was played.
 * @typedef {object} Running
 * @property {string} phase
 * @property {{ duration: number } | null} result
 * @property {number} clock Seconds of the shot shown so far.
 * @property {number} rate
 * @property {string | null} line The line of the grade that is pointed at.
 */

const RATES = [1, 2, 4];

/** A page that slept does not make the balls jump, s. */
const LONGEST_STEP = 0.1;

/** @template {Running} S @param {S} state @param {number} clock @returns {S} */
export function ticked(state, clock) {
  if (state.phase !== 'playing' || !state.result) return state;
  const { duration } = state.result;
  return clock >= duration ? { ...state, phase: 'played', clock: duration } : { ...state, clock };
}

/** Shows the run again. @template {Running} S @param {S} state @returns {S} */
export const rewound = (state) =>
  state.phase === 'played' ? { ...state, phase: 'playing', clock: 0, line: null } : state;

/** The next speed of the run. @template {Running} S @param {S} state @returns {S} */
export const faster = (state) => ({ ...state, rate: RATES[(RATES.indexOf(state.rate) + 1) % RATES.length] });

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
