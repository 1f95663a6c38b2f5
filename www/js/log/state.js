// The Log's state, headless: every transition takes a state and gives the next one.

/** @import { Kept, LogNext, LogPlots, LogSummary } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */
/** @import { Storage } from './keeper.js' */

/** What is seen: calls against outcomes, the bias over time, stops around the call, or the calls one by one. @typedef {'places' | 'time' | 'stops' | 'list'} View */

/**
 * @typedef {object} State
 * @property {LogSummary | null} summary
 * @property {string | null} skill The one that is looked at.
 * @property {LogPlots | null} plots Of that skill.
 * @property {View} view
 * @property {readonly Kept[]} calls Those of the list, the latest first.
 * @property {boolean} more Whether there are earlier ones.
 * @property {LogNext | null} next
 * @property {boolean} dealing Whether a layout for that is on its way.
 * @property {Storage | null} storage
 * @property {readonly string[]} aside Why calls were put aside.
 * @property {number} held Calls that could not be written.
 * @property {boolean} lasting Whether they outlast the page.
 */
/** @typedef {ModelOf<State>} Model */

/** @type {State} */
export const EMPTY = Object.freeze({
  summary: null,
  skill: null,
  plots: null,
  view: 'places',
  calls: [],
  more: false,
  next: null,
  dealing: false,
  storage: null,
  aside: [],
  held: 0,
  lasting: true,
});

/** What the calls come to; the skill that is looked at stays if it is still told of, else it is the one with most calls. @param {State} state @param {LogSummary} summary @returns {State} */
export function summed(state, summary) {
  const { skills } = summary;
  const most = skills.reduce((/** @type {typeof skills[number] | null} */ best, one) => (best && best.n >= one.n ? best : one), null);
  const skill = skills.some(({ id }) => id === state.skill) ? state.skill : (most?.id ?? null);
  return { ...state, summary, skill, plots: skill === state.skill ? state.plots : null };
}

/** Looks at a skill. @param {State} state @param {string} skill @returns {State} */
export const chosen = (state, skill) =>
  skill === state.skill ? state : { ...state, skill, plots: null, view: state.view === 'list' ? 'places' : state.view };

/** What is drawn, unless another skill is looked at by now. @param {State} state @param {string} skill @param {LogPlots} plots @returns {State} */
export const drawn = (state, skill, plots) => (skill === state.skill ? { ...state, plots } : state);

/** The view that is seen: what a skill has no plot of gives way to what it has. @param {State} state @returns {View} */
export function shownView({ view, plots }) {
  if (view === 'places' && plots && plots.places.x.length === 0) return plots.stops.x.length > 0 ? 'stops' : 'time';
  if (view === 'stops' && plots && plots.stops.x.length === 0) return 'places';
  return view;
}

/** @param {State} state @param {readonly Kept[]} calls @param {boolean} more @returns {State} */
export const listed = (state, calls, more) => ({ ...state, calls, more });
