// How Clear deals, opens, aims, plays, takes back and keeps.

import { set } from '../state.js';
import { redone, undone } from '../path/state.js';
import { asLeave } from '../round/as-leave.js';
import { createRound } from '../round/session.js';
import { sentenceFor } from '../sentences.js';
import { createStore } from '../store.js';
import { createStrokes } from '../stroke/trial.js';
import { asked, ballOn, isReady, opened, replayed, restarted, takenBack } from './state.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { ClearItem, HandInfo, LeaveItem, LogRecord, PocketName, Struck, Zone } from '../engine/protocol.js' */
/** @import { Kept, WholeAround } from '../round/session.js' */
/** @import { Model, Played, Shot, State } from './state.js' */

/** What is dealt: by which rule, and how many balls. @typedef {{ game: 'rotation' | 'group', balls: number, demands: boolean }} Wish */

/**
 * @typedef {Kept & { shots: Shot[], now: ClearItem, order: string[], pocket: PocketName | null, zone: Zone | null, hand: string, exact: boolean, seed: number,
 *   tries: number, wish: Wish }} Entry
 */

const GAMES = ['rotation', 'group'];

/** @param {any} wish */
const isWish = (wish) => GAMES.includes(wish?.game) && Number.isInteger(wish.balls) && typeof wish.demands === 'boolean';

/** @param {any} entry */
export const isEntryOf = ({ item, now, shots, order, hand, seed, tries, wish }) =>
  typeof item === 'object' && typeof now === 'object' && Array.isArray(order) && typeof hand === 'string' &&
  Array.isArray(shots) && shots.every((/** @type {any} */ shot) => typeof shot?.item === 'object' && typeof shot.called === 'object' && typeof shot.words === 'string') &&
  Number.isInteger(seed) && Number.isInteger(tries) && isWish(wish);

/** What Clear keeps on the device. @type {ReturnType<typeof createStore<Entry>>} */
export const store = createStore('clear', isEntryOf);

/** Makes a call of the Log what was kept of its item. @param {Extract<LogRecord, { item: ClearItem }>} record @param {Engine} engine */
export async function putBack({ item, call }, engine) {
  const link = await engine.ask('makeLink', { item });
  const { ball, pocket, zone = null, hand, seed, index } = call;
  const { game } = item;
  const balls = game.kind === 'group' ? game.group.length : item.shot.balls.length - 1;
  const wish = { game: game.kind, balls, demands: false };
  const play = { hand, exact: seed == null, seed: seed ?? 0, tries: index ?? 0 };
  store.write({ link, item, now: item, points: [], sealed: null, played: false, shots: [], order: [ball], pocket, zone, ...play, wish }, item.level);
  return link;
}

/** With how many balls the first deal comes. @type {Wish} */
const FIRST = { game: 'rotation', balls: 4, demands: false };

/**
 * The shot at hand as an item of Leave, so that it is aimed, tried and graded as those are; null as long as it is not
 * said which ball is played.
 * @param {State} state @param {Struck} stroke @param {PocketName | null} pocket @returns {LeaveItem | null}
 */
export function shotAsLeave({ now, order }, stroke, pocket) {
  if (!now || !order[0]) return null;
  const { item } = now;
  return asLeave({ ...item, shot: { ...item.shot, stroke } }, { on: order[0], pocket, next: order[1] ?? null });
}

/** What the core plays. @param {Pick<Shot, 'item' | 'called' | 'hand' | 'exact' | 'index'>} shot @param {number} seed */
const playing = ({ item, called, hand, exact, index }, seed) => ({ item, called, ...(exact ? {} : { hand, seed, index }) });

/**
 * What the Log keeps of a shot's call, with what it was worth once that is known.
 * @param {Pick<Shot, 'called' | 'zone' | 'hand' | 'exact' | 'index'>} shot @param {number} seed @param {{ best?: number, own?: number }} [worth]
 */
const callOf = ({ called, zone, hand, exact, index }, seed, worth = {}) => ({
  ...called, ...(zone ? { zone } : {}), hand, ...(exact ? {} : { seed, index }), ...worth,
});

/**
 * @param {Model} model @param {WholeAround} around @param {Engine} dealer Deals, which takes its time.
 * @param {() => void} stop Gives up what the dealer does beside it.
 */
export function createSession(model, around, dealer, stop) {
  const { engine, say, still, log } = around;
  /** @type {readonly HandInfo[]} */
  let hands = [];
  let deals = 0;
  let wish = store.read().kept.entries.at(-1)?.wish ?? FIRST;

  const strokes = createStrokes(model, around, {
    itemOf: shotAsLeave,
    isSame: (state, before) => state.now === before.now && ballOn(state) === ballOn(before),
  });

  /** Aims the shot at hand, at the pocket that is best unless one is called. */
  async function aim() {
    const before = model.state;
    const { stroke, pocket, phase } = before;
    const item = stroke && phase === 'drawing' && shotAsLeave(before, { ...stroke, elevation: 0 }, pocket);
    if (!item) return;
    try {
      const trial = await engine.ask('trial', { item, aim: true });
      const { now, trial: other, stroke: stands } = model.state;
      if (now !== before.now || ballOn(model.state) !== ballOn(before) || other) return;
      // What was called meanwhile is aimed anew.
      if (stands !== stroke || model.state.pocket !== pocket) return void aim();
      model.change(set, { trial, stroke: trial.item.shot.stroke, pocket: pocket ?? trial.pocket });
    } catch (error) {
      say(sentenceFor(error));
    }
  }

  model.onChange((state, before) => {
    const names = /** @type {const} */ (['now', 'order', 'phase', 'stroke', 'trial']);
    if (state.phase === 'drawing' && state.trial === null && names.some((name) => state[name] !== before[name])) void aim();
  });

  model.onChange(({ shots, seed }, { shots: before }) => {
    shots.forEach((shot, k) => {
      const { at, item, best, own } = shot;
      if (at !== undefined && best !== null && own !== null && before[k]?.at === at && before[k].own === null) log.keep(item, callOf(shot, seed, { best, own }), at);
    });
  });

  /** A shot that was on its way is played anew: its errors are drawn by its number. @param {State} state */
  function kept({ now, shots, order, pocket, zone, stroke, hand, exact, seed, tries }) {
    if (!now || !stroke) return null;
    const item = { ...now.item, shot: { ...now.item.shot, stroke } };
    return { now: item, shots: [...shots], order: [...order], pocket, zone, hand, exact, seed, tries, wish, played: false };
  }

  /** A deal that is not wanted any more is given up, for the next would wait for it. @param {{ level: number, seed: number }} by */
  async function deal({ level, seed }) {
    stop();
    if (deals > 0) dealer.abort();
    deals += 1;
    try {
      return await dealer.ask('dealClear', { level, seed, ...wish });
    } finally {
      deals -= 1;
    }
  }

  const round = createRound(model, around, {
    name: 'clear',
    store,
    learn: async () => (hands = await engine.ask('hands')),
    deal,
    show: (item) => engine.ask('openClear', { item }),
    link: (item) => engine.ask('makeLink', { item }),
    async prepare(question, sealed, entry) {
      const now = entry ? await engine.ask('openClear', { item: entry.now }) : question;
      const seed = entry?.seed ?? (await engine.ask('freshSeed'));
      const { stroke } = now.item.shot;
      await strokes.measure(asLeave(now.item, { on: now.left[0] }));
      const hand = hands.find(({ id }) => id === (entry?.hand ?? model.state.hand)) ?? hands[1];
      const { game } = question.item;
      wish = { ...wish, game: game.kind, balls: game.kind === 'group' ? game.group.length : question.left.length };
      const { order = [], pocket = null, zone = null, shots = [], tries = 0 } = entry ?? {};
      const exact = entry?.exact ?? model.state.exact;
      return (/** @type {State} */ state) => opened(state, question, { now, order, pocket, zone, shots, tries, stroke, seed, exact, hand: hand.id });
    },
    settled: strokes.settled,
    asked,
    answer(state) {
      const { now, order, pocket, stroke, zone, hand, exact, tries, seed } = state;
      if (!now || !pocket || !stroke || !order[0]) return null;
      const item = { ...now.item, shot: { ...now.item.shot, stroke } };
      return { ...playing({ item, called: { ball: order[0], pocket }, hand, exact, index: tries }, seed), zone, leave: shotAsLeave(state, stroke, pocket) };
    },
    /** @returns {Promise<Played>} */
    async grade({ zone, leave, ...request }) {
      const { hand: by, exact, tries, seed: drawn } = model.state;
      const played = await engine.ask('playClear', request);
      const at = log.keep(request.item, callOf({ called: request.called, zone, hand: by, exact, index: tries }, drawn));
      if (!zone) return { ...played, held: null, at };
      const { hand = null, seed = null, index = null } = request;
      const { inZone } = await engine.ask('gradeLeave', { item: leave, zone, stroke: leave.shot.stroke, hand, exact: hand === null, seed, index });
      return { ...played, held: inZone, at };
    },
    // Only a run without a shot taken back counts as cleared.
    mark: ({ result, again, tries, shots }) => (result?.over && !again ? result.cleared && tries === shots.length : null),
    keeps: ['now', 'shots', 'order', 'pocket', 'zone', 'stroke', 'hand', 'exact'],
    kept,
  });

  return {
    ...round,
    undo: () => model.change(undone),
    redo: () => model.change(redone),
    preview: strokes.preview,
    commit: strokes.commit,
    hands: () => hands,
    wish: () => wish,

    /** What the next deals are to be. @param {Partial<Wish>} change */
    setWish(change) {
      wish = { ...wish, ...change };
      model.schedule();
    },

    /** Takes the last shot back. */
    async takeBack() {
      const { shots } = model.state;
      const shot = shots.at(-1);
      if (!shot) return;
      const now = await engine.ask('openClear', { item: shot.item });
      if (model.state.shots === shots) model.change(takenBack, now);
    },

    restart: () => model.change(restarted),

    /** Shows the last shot once more. */
    async replay() {
      const { shots, seed } = model.state;
      const shot = shots.at(-1);
      if (!shot) return;
      const [result, { balls }] = await Promise.all([engine.ask('playClear', playing(shot, seed)), engine.ask('openClear', { item: shot.item })]);
      if (model.state.shots === shots) model.change(replayed, result, balls, still());
    },

    play: () => (isReady(model.state) ? round.play() : Promise.resolve()),
  };
}

/** @typedef {ReturnType<typeof createSession>} Session */
