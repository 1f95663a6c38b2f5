// How the Log adds up what is kept, lists it, and finds what to practise next.

import { set } from '../state.js';
import { sentenceFor } from '../sentences.js';
import { drawn, listed, shownView, summed } from './state.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { Keeper } from './keeper.js' */
/** @import { Model } from './state.js' */

/** Calls listed at once. */
const LISTED = 50;

/** From so many calls on the browser is asked not to clear them (tuning choice: then there is something to lose). */
const WORTH_KEEPING = 10;

/**
 * @param {Model} model @param {Keeper} keeper
 * @param {Engine} engine Of what is drawn: it waits for nothing else.
 * @param {Engine} slow Of what takes longer.
 * @param {(sentence: string) => void} say
 */
export function createSession(model, keeper, engine, slow, say) {
  let numbers = new Float64Array();
  /** @type {readonly string[]} */
  let ids = [];
  /** Counts what was asked, so that a late reply does not replace a later one. */
  let turn = 0;
  let asked = false;

  /** @param {unknown} error */
  const failed = (error) => say(sentenceFor(error));

  /** The skill whose plots are on their way. @type {string | null} */
  let plotting = null;

  async function plot() {
    const { skill, plots } = model.state;
    if (!skill || plots || plotting === skill) return;
    plotting = skill;
    try {
      const found = await engine.ask('logPlots', { calls: numbers, skill });
      if (plotting === skill) plotting = null;
      model.change(drawn, skill, found);
    } catch (error) {
      plotting = null;
      failed(error);
    }
  }

  async function list(/** @type {number} */ skip) {
    const found = await keeper.list(skip, LISTED + 1);
    const before = skip > 0 ? model.state.calls : [];
    model.change(listed, [...before, ...found.slice(0, LISTED)], found.length > LISTED);
  }

  /** @param {string} [topic] What the player would rather practise. */
  async function choose(topic) {
    const mine = turn;
    const seed = await slow.ask('freshSeed');
    const next = await slow.ask('logNext', { calls: numbers, now: Date.now(), seed, topic: topic ?? null });
    if (mine === turn) model.change(set, { next });
    return next;
  }

  async function persist() {
    asked = true;
    const persistent = await keeper.persist();
    model.change(set, { storage: await keeper.storage() });
    return persistent;
  }

  /** Reads everything anew. */
  async function refresh() {
    const mine = ++turn;
    try {
      const all = await keeper.all();
      if (mine !== turn) return;
      ({ ids, numbers } = all);
      plotting = null;
      const [summary, storage, aside] = await Promise.all([slow.ask('logSummary', numbers), keeper.storage(), keeper.aside()]);
      if (mine !== turn) return;
      model.change(set, { plots: null, storage, aside, held: keeper.held(), lasting: keeper.isLasting() });
      model.change(summed, summary);
      await plot();
      if (shownView(model.state) === 'list') await list(0);
      await choose();
      if (!asked && storage === 'evictable' && summary.n >= WORTH_KEEPING) await persist();
    } catch (error) {
      failed(error);
    }
  }

  model.onChange((state, before) => {
    if (state.skill !== before.skill && state.skill) void plot();
    if (state.view === 'list' && before.view !== 'list') void list(0).catch(failed);
  });

  return {
    refresh,
    choose,
    persist,
    more: () => list(model.state.calls.length),
    /** The calls that tell of the skill that is looked at. */
    ofSkill: () => Array.from(model.state.plots?.of ?? [], (place) => ids[place]),
  };
}

/** @typedef {ReturnType<typeof createSession>} Session */
