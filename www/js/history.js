// Steps that can be taken back: each one keeps what it replaced.

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
