// What the Bench does: set up, try, undo, keep. It asks the core and changes the state.

import { latest } from '../newest-request.js';
import { set } from '../state.js';
import { sentenceFor } from '../sentences.js';
import { NOT_KEPT } from '../store.js';
import { committed, drafted, opened, redone, shownItem, tried, undone } from './state.js';

/** @import { Demand, LeaveItem, PocketName, Zone } from '../engine/protocol.js' */
/** @import { Heat, HeatMap } from '../table/chance-map.js' */
/** @import { Core } from './core.js' */
/** @import { Model, State } from './state.js' */

/** How an item becomes another; the core may have to be asked. @typedef {(item: LeaveItem) => LeaveItem | Promise<LeaveItem>} Edit */

const KEY = 'leaveline.bench';

/** @param {LeaveItem} item @param {Partial<Demand>} change @returns {LeaveItem} */
export const asking = (item, change) => ({ ...item, demand: { ...item.demand, ...change } });

/** @param {Partial<LeaveItem['shot']['stroke']>} change @returns {Edit} */
export const stroked = (change) => (item) => ({ ...item, shot: { ...item.shot, stroke: { ...item.shot.stroke, ...change } } });

/** @param {Zone | null} zone @returns {Edit} */
export const zoned = (zone) => (item) => asking(item, { zone });

/** @param {Core} core @param {Model} model @param {HeatMap} heatMap @param {(sentence: string) => void} say */
export function createSession(core, model, heatMap, say) {
  /** @type {Promise<void> | null} */
  let begun = null;
  let warned = false;
  /** Counts the steps of undo, so that a late reply replaces nothing. */
  let turn = 0;

  /** Tries what an edit makes of the item; `final` lets it stand. Of many edits during a drag only the newest waits. */
  const edits = latest(async (/** @type {{ edit: Edit, final: boolean, aim: boolean }} */ { edit, final, aim }) => {
    const { item } = model.state;
    const mine = turn;
    if (!item) return;
    try {
      const reply = edit(item);
      // The core is asked where balls move: what is being proved holds no longer then, and would hold the answer up.
      if (reply instanceof Promise) heatMap.pause();
      const edited = await reply;
      // The core lifts the cue as far as it must, and no further.
      const level = { ...edited, shot: { ...edited.shot, stroke: { ...edited.shot.stroke, elevation: 0 } } };
      const trial = await core.trial(level, aim);
      if (mine !== turn) return;
      model.change(tried, trial);
      model.change(final ? committed : drafted, trial.item);
    } catch (error) {
      if (final) {
        model.change(drafted, null);
        say(sentenceFor(error));
      }
      if (model.state.mapped && model.state.draft === null) heats.push(item);
    }
  });

  async function retry() {
    const item = shownItem(model.state);
    const mine = ++turn;
    if (!item) return;
    try {
      const trial = await core.trial(item, false);
      if (mine === turn) model.change(tried, trial);
    } catch (error) {
      say(sentenceFor(error));
    }
  }

  /** @param {LeaveItem} item */
  async function open(item) {
    const [trial, board, scale] = await Promise.all([core.trial(item, false), core.board(item), core.scale(item)]);
    turn++;
    model.change(set, { scale });
    model.change(tried, trial);
    model.change(opened, trial.item, board);
  }

  /** @returns {{ item: LeaveItem | null, hand: string | null }} */
  function kept() {
    try {
      const found = JSON.parse(localStorage.getItem(KEY) ?? 'null');
      if (found?.version === 1) return { item: found.item ?? null, hand: found.hand ?? null };
    } catch {
      // What cannot be read is left out.
    }
    return { item: null, hand: null };
  }

  /** The map of the next ball, anew whenever a ball has moved; only a rough one while something is on its way. */
  const heats = latest((/** @type {LeaveItem} */ item) =>
    heatMap.show({ item, ball: item.demand.next ?? item.demand.on, hand: model.state.hand, pocket: model.state.mapPocket || undefined }, model.state.draft === null));

  /** Learns what takes its time: not while something is dragged, only the newest, and after the map's first picture is seen. */
  const studies = latest(async (/** @type {{ item: LeaveItem, hand: string }} */ { item, hand }) => {
    try {
      await heats.settled();
      if (model.state.mapped) await heatMap.seen();
      const margins = await core.margins(item, hand);
      if (model.state.item === item && model.state.hand === hand) model.change(set, { margins });
    } catch (error) {
      if (model.state.item === item) say(sentenceFor(error));
    }
  });

  model.onChange((state, before) => {
    const [now, was] = [shownItem(state), shownItem(before)];
    if (before.mapped && !state.mapped) heatMap.stop();
    if (state.level !== before.level) heatMap.line(state.level);
    if (!state.mapped || !now) return;
    const same = before.mapped && state.hand === before.hand && state.mapPocket === before.mapPocket && (state.draft === null) === (before.draft === null);
    if (same && was && now.shot.balls === was.shot.balls && now.demand.next === was.demand.next) return;
    heats.push(now);
  });

  async function start() {
    const { item, hand } = kept();
    try {
      const hands = await core.hands();
      const known = hands.find(({ id }) => id === hand) ?? hands[1];
      model.change(set, { hands, hand: known.id });
    } catch (error) {
      begun = null;
      return say(sentenceFor(error));
    }
    try {
      if (item) return await open(item);
    } catch (error) {
      say(`What stood on the Bench cannot be read: ${sentenceFor(error)} Here is a fresh one.`);
    }
    try {
      const fresh = await core.fresh();
      const trial = await core.trial(fresh, true);
      await open(trial.item);
    } catch (error) {
      say(sentenceFor(error));
    }
  }

  model.onChange(({ item, hand }, before) => {
    if (!item || item === before.item && hand === before.hand) return;
    try {
      localStorage.setItem(KEY, JSON.stringify({ version: 1, item, hand }));
    } catch {
      if (!warned) say(NOT_KEPT);
      warned = true;
    }
    studies.push({ item, hand });
  });

  return {
    open: () => (begun ??= start()),

    /** @param {Heat} heat */
    warmed: (heat) => model.state.mapped && model.change(set, { heat }),

    /** @param {unknown} error */
    cooled(error) {
      model.change(set, { mapped: false, heat: null });
      say(sentenceFor(error));
    },

    /** Shows an edit while it goes on. @param {Edit} edit @param {boolean} [aim] Whether to aim anew at the pocket. */
    preview: (edit, aim = false) => edits.push({ edit, final: false, aim }),

    /** Lets an edit stand. @param {Edit} edit @param {boolean} [aim] */
    commit: (edit, aim = false) => {
      edits.push({ edit, final: true, aim });
      return edits.settled();
    },

    /** Takes back what is on its way. */
    cancel() {
      edits.clear();
      turn++;
      model.change(drafted, null);
      void retry();
    },

    /** Aims at a pocket; where that is done already, the next way into it. @param {PocketName} pocket */
    async aimAt(pocket) {
      const { item, way, aimed } = model.state;
      if (!item) return;
      if (item.demand.pocket !== pocket || (!aimed && way === '')) {
        model.change(set, { aimed: true });
        edits.push({ edit: (one) => asking(one, { pocket }), final: true, aim: true });
        return edits.settled();
      }
      try {
        const ways = await core.ways(item);
        const next = ways[(Math.max(0, ways.findIndex(({ name }) => name === way)) + 1) % ways.length];
        if (!next || model.state.item !== item) return;
        model.change(set, { aimed: false });
        edits.push({ edit: stroked({ azimuth: next.azimuth }), final: true, aim: false });
        await edits.settled();
        model.change(set, { way: next.name });
      } catch (error) {
        say(sentenceFor(error));
      }
    },

    /** @param {typeof undone | typeof redone} step */
    step(step) {
      edits.clear();
      model.change(step);
      void retry();
    },

    /** @param {Partial<State>} change */
    set: (change) => model.change(set, change),
  };
}

/** @typedef {ReturnType<typeof createSession>} Session */
