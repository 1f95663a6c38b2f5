// Clear's state, headless: every transition takes a state and gives the next one.

import { BEGIN, begun } from '../round/state.js';

/** @import { Ball, Called, ClearItem, ClearPlan, ClearPlayed, ClearQuestion, ClearStep, GuideProgress, PocketName, Runs, Struck, Track, Zone } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */
/** @import { Round } from '../round/state.js' */
/** @import { OfStroke } from '../stroke/state.js' */

/** What is seen beside the table: the shot at hand, the plan, or the ways on from here. @typedef {'shot' | 'plan' | 'now'} Panel */

/**
 * A shot of the run: what was called and from where, and the chances to clear what was left: with the best shot that was
 * found, with the one that was called, and after it; null as long as they are not known.
 * @typedef {object} Shot
 * @property {ClearItem} item What was left before it, with its stroke.
 * @property {Called} called
 * @property {readonly string[]} order
 * @property {Zone | null} zone
 * @property {string} hand @property {boolean} exact @property {number} index
 * @property {number} [at] When it was kept in the Log, ms.
 * @property {string} words
 * @property {ClearPlayed['over']} over
 * @property {boolean | null} held Whether the cue ball stopped in the zone; null if none was called.
 * @property {number | null} best @property {number | null} own @property {number | null} after
 * @property {boolean} fine Whether `best` is final.
 * @property {Better | null} better What the plan would have played.
 */

/** A shot of the plan, as far as the run keeps it. @typedef {Pick<ClearStep, 'words' | 'path' | 'zone'>} Better */

/** A shot that was played, and what it asks of the zone; when the Log kept it. @typedef {ClearPlayed & { held: boolean | null, at?: number }} Played */

/**
 * @typedef {object} OfClear
 * @property {ClearQuestion | null} now What is left.
 * @property {readonly Shot[]} shots Played so far.
 * @property {readonly string[]} order The balls in the order in which they are to be potted, as far as it is called.
 * @property {'zone' | 'none'} mode What a drag on the table makes: nothing while the plan is on it.
 * @property {string} hand @property {boolean} exact
 * @property {number} seed @property {number} tries Draw the errors of the next stroke.
 * @property {ClearPlan | null} plan For what is left, once it is known.
 * @property {boolean} fine Whether the plan is final.
 * @property {number | null} way By which way the plan plays, once the ways have raced.
 * @property {string | null} race What the race has shown, in words; null where no way was surely better.
 * @property {number} found How much of the plan under way is known, 0 to 1.
 * @property {number | null} own The chance with the shot at hand, as far as it was asked for.
 * @property {Runs | null} runs What runs by the plan came to.
 * @property {Panel} panel
 * @property {boolean} again Whether the last shot is seen once more.
 * @property {readonly Ball[] | null} seen The balls as they lay before it.
 * @property {readonly Track[]} trail How the balls ran that were played last.
 * @property {string | null} decided Where the run was decided, in words.
 */

/** @typedef {Round<ClearQuestion, Played> & OfStroke & OfClear} State */
/** @typedef {ModelOf<State>} Model */

/** The shot at hand is seen, and can be changed. */
const AT_HAND = /** @type {const} */ ({ panel: 'shot', mode: 'zone', line: null });

/** What is not known any more of another position. */
const UNKNOWN = /** @type {const} */ ({ plan: null, fine: false, way: null, race: null, found: 0, own: null, runs: null });

/** @type {State} */
export const EMPTY = Object.freeze({
  ...BEGIN,
  ...UNKNOWN,
  ...AT_HAND,
  now: null,
  shots: [],
  order: [],
  pocket: null,
  stroke: null,
  trial: null,
  zone: null,
  zoning: null,
  hand: '',
  exact: false,
  seed: 0,
  tries: 0,
  scale: [],
  held: null,
  again: false,
  seen: null,
  trail: [],
  decided: null,
});

/** The last ball of a group. @param {ClearItem} item */
const lastOf = ({ game }) => (game.kind === 'group' ? game.last : null);

/**
 * An order of what is left: in rotation it is given, and the ball that remains goes to the end.
 * @param {ClearQuestion} now @param {readonly string[]} order @returns {readonly string[]}
 */
export function ordered({ item, left, open }, order) {
  if (item.game.kind === 'rotation') return left;
  const kept = order.filter((ball) => left.includes(ball));
  const rest = left.filter((ball) => !kept.includes(ball));
  if (rest.length === 1) return [...kept, ...rest];
  return kept.length === 0 && open.length === 1 ? open : kept;
}

/** Whether a ball was tapped that has its place in an order of the player's own. @param {State} state @param {string} ball */
export const isOrderable = ({ phase, mode, now }, ball) =>
  phase === 'drawing' && mode === 'zone' && now !== null && now.item.game.kind === 'group' && now.left.includes(ball) && now.left.length > 1;

/** The ball that is to be played, if it is said. @param {State} state */
export const ballOn = ({ order }) => order[0] ?? null;

/** Gives a ball its place in the order, or takes it out. The last ball comes last. @param {State} state @param {string} ball @returns {State} */
export function tapped(state, ball) {
  const { now, order } = state;
  if (!now || !isOrderable(state, ball)) return state;
  const last = lastOf(now.item);
  const own = order.filter((one) => one !== last);
  if (ball === last) return state;
  return reordered(state, own.includes(ball) ? own.filter((one) => one !== ball) : [...own, ball]);
}

/** Another order; with another ball to play nothing of the shot stays but tip and speed. @param {State} state @param {readonly string[]} wanted @returns {State} */
function reordered(state, wanted) {
  if (!state.now) return state;
  const order = ordered(state.now, wanted);
  const on = order[0] === state.order[0];
  return { ...state, order, ...(on ? {} : { pocket: null, trial: null, zone: null, zoning: null, past: [], future: [] }) };
}

/**
 * Takes a shot over that the guide knows: its ball comes first, its zone, if it has one, is marked.
 * @param {State} state @param {Called & { stroke: Struck, zone?: Zone | null }} choice @returns {State}
 */
export function taken(state, { ball, pocket, stroke, zone = null }) {
  if (state.phase !== 'drawing') return state;
  const next = reordered(state, [ball, ...state.order.filter((one) => one !== ball)]);
  return { ...next, pocket, stroke, zone, zoning: null, trial: null, ...AT_HAND, past: [], future: [] };
}

/** @typedef {Pick<State, 'now' | 'shots' | 'hand' | 'exact' | 'seed' | 'tries'> & Partial<Pick<State, 'order' | 'pocket' | 'stroke' | 'zone'>>} Begin */

/** Opens an item, with what had been done before. @param {State} state @param {ClearQuestion} question @param {Begin} begin @returns {State} */
export function opened(state, question, { order, ...begin }) {
  const over = begin.shots.at(-1)?.over ?? null;
  const fresh = begun(state, EMPTY, { scale: state.scale, question, ...begin, stroke: begin.stroke ?? begin.now?.item.shot.stroke ?? null });
  return { ...fresh, order: begin.now ? ordered(begin.now, order ?? []) : [], phase: over ? 'played' : 'drawing' };
}

/** Whether the run is over. @param {Pick<State, 'shots'>} state */
export const isOver = ({ shots }) => (shots.at(-1)?.over ?? null) !== null;

/** Whether there is a shot to play. @param {State} state */
export const isReady = ({ phase, order, pocket, stroke, trial }) =>
  phase === 'drawing' && order.length > 0 && pocket !== null && stroke !== null && trial !== null;

/** @param {State} state @returns {State} */
export const asked = (state) =>
  isReady(state) ? { ...state, phase: 'asking', ...AT_HAND, zoning: null, held: null } : state;

/** The first shot of a plan, as the run keeps it. @param {ClearPlan | null} plan @returns {Better | null} */
export function betterOf(plan) {
  const step = plan?.shots[0];
  return step ? { words: step.words, path: step.path, zone: step.zone } : null;
}

/** The shot at hand, as the run keeps it. @param {State} state @param {Played} result @returns {Shot | null} */
export function shotOf({ now, order, pocket, stroke, zone, hand, exact, tries, plan, fine }, { words, over, cleared, held, at }) {
  if (!now || !pocket || !stroke || !order[0]) return null;
  return {
    item: { ...now.item, shot: { ...now.item.shot, stroke } },
    called: { ball: order[0], pocket }, order, zone, hand, exact, index: tries, at, words, over, held, fine,
    best: plan?.shots[0]?.chance ?? null, better: betterOf(plan), own: null, after: cleared ? 1 : over ? 0 : null,
  };
}

/** The balls have come to rest: the run goes on from there, or is over. @param {State} state @returns {State} */
export function landed(state) {
  const { phase, result, again, now } = state;
  if (phase !== 'played' || !result || !now) return state;
  const { tracks: trail } = result;
  if (again) return { ...state, again: false, seen: null, trail, ...(isOver(state) ? {} : { phase: 'drawing', result: null }) };
  const shot = isOver(state) ? null : shotOf(state, result);
  if (!shot) return state;
  const shots = [...state.shots, shot];
  const next = { ...state, ...UNKNOWN, shots, trail, tries: state.tries + 1, zone: null, trial: null, past: [], future: [], line: null };
  // At the end the balls stay as they came to rest.
  if (!result.next) return next;
  return { ...next, result: null, phase: 'drawing', now: result.next, order: ordered(result.next, state.order), pocket: null };
}

/** Takes the last shot back, to what was left before it. @param {State} state @param {ClearQuestion} now @returns {State} */
export function takenBack(state, now) {
  const shot = state.shots.at(-1);
  if (!shot || (state.phase !== 'drawing' && state.phase !== 'played')) return state;
  const { order, called, zone, item } = shot;
  return {
    ...state, ...UNKNOWN, phase: 'drawing', shots: state.shots.slice(0, -1), now, order, pocket: called.pocket, zone, zoning: null,
    stroke: item.shot.stroke, trial: null, result: null, trail: [], decided: null, ...AT_HAND, past: [], future: [],
  };
}

/** Begins the run anew. @param {State} state @returns {State} */
export function restarted(state) {
  const { question, shots } = state;
  if (!question || shots.length === 0 || (state.phase !== 'drawing' && state.phase !== 'played')) return state;
  const [{ order }] = shots;
  return {
    ...state, ...UNKNOWN, phase: 'drawing', shots: [], now: question, order: ordered(question, order), pocket: null, zone: null, zoning: null,
    stroke: question.item.shot.stroke, trial: null, result: null, trail: [], decided: null, ...AT_HAND, past: [], future: [],
  };
}

/** Shows the last shot once more. @param {State} state @param {ClearPlayed} result @param {readonly Ball[]} seen @param {boolean} atOnce @returns {State} */
export const replayed = (state, result, seen, atOnce) =>
  state.shots.length > 0 && (state.phase === 'drawing' || state.phase === 'played')
    ? { ...state, again: true, seen, result: { ...result, held: null }, phase: atOnce ? 'played' : 'playing', clock: atOnce ? result.duration : 0, line: null }
    : state;

/** What is known of a shot of the run. @param {State} state @param {number} at @param {Partial<Pick<Shot, 'best' | 'own' | 'after' | 'better'>>} known @returns {State} */
export const told = (state, at, known) =>
  state.shots[at] ? { ...state, shots: state.shots.map((shot, k) => (k === at ? { ...shot, ...known } : shot)) } : state;

/** A plan for what is left, with which the shot before is told, too. @param {State} state @param {ClearPlan} plan @param {boolean} fine @returns {State} */
export function planned(state, plan, fine) {
  const chance = plan.shots[0]?.chance ?? 0;
  const next = { ...state, plan, fine, way: null, race: null, found: 1, own: null, runs: null };
  const last = state.shots.length - 1;
  return last < 0 || isOver(state) ? next : told(next, last, { after: chance });
}

/** The first ways look least far ahead; that one of them is taken shows nothing a player can use. */
const PLAIN = 1;

/** The plan by the way that has won the race. @param {State} state @param {ClearPlan} plan @param {NonNullable<GuideProgress['race']>} race @returns {State} */
export const raced = (state, plan, { taken: way, words }) => ({ ...planned(state, plan, true), own: state.own, way, race: way > PLAIN ? words : null });

/** Another hand: what was known was of the one before. @param {State} state @param {string} hand @returns {State} */
export const handed = (state, hand) => (state.phase === 'drawing' ? { ...state, ...UNKNOWN, hand } : state);

/** Shows another panel, or the shot again. @param {State} state @param {Panel} wanted @returns {State} */
export function turned(state, wanted) {
  if (state.phase !== 'drawing' && state.phase !== 'played') return state;
  const panel = state.panel === wanted ? 'shot' : wanted;
  return { ...state, ...AT_HAND, panel, mode: panel === 'plan' ? 'none' : 'zone', own: null };
}
