// What the page does: deal, open, keep, play. It asks the core and changes the state.

import { isNewer, sentenceFor } from '../sentences.js';
import { bare, callOf } from '../path/state.js';
import { answered, asked, awaited, opened, refused, returned, stuck } from './state.js';
import { find, read, write } from './kept.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { CallPoint, LevelInfo, Point, Question } from '../engine/protocol.js' */
/** @import { Model } from './state.js' */
/** @import { Entry } from './kept.js' */
/** @import { Show } from '../links.js' */

/** Kept rail points lie on the line of touch; this only forgives rounding, m. */
const ROUNDING = 0.002;
/** A deal that takes longer is announced, ms. */
const LONG = 150;

/**
 * @param {Engine} engine @param {Model} model
 * @param {(sentence: string) => void} say Shows and speaks a sentence.
 * @param {() => boolean} still Whether motion is to be avoided.
 * @param {Show} show Puts an item into the address.
 */
export function createSession(engine, model, say, still, show) {
  let begun = false;
  let link = '';
  let level = 1;
  /** @type {LevelInfo[]} */
  let levels = [];
  /** Counts what was opened, so that a late reply does not replace a later wish. */
  let turn = 0;
  let warned = false;
  /** Whether the open item was dealt here and nothing was done with it yet. */
  let idle = true;

  /**
   * @param {Question} question @param {string} fresh
   * @param {{ sealed?: string | null, points?: Point[] }} [kept]
   */
  function open(question, fresh, kept) {
    link = fresh;
    idle = false;
    // The next deal is like what is on the table, also after a friend's link.
    level = question.level.level;
    model.change(opened, question, kept);
    if (question.notice !== null) say(question.notice);
  }

  async function learnLevels() {
    if (levels.length === 0) levels = await engine.ask('levels');
    if (!levels.some((one) => one.level === level)) level = levels[0].level;
  }

  async function deal(/** @type {'push' | 'replace' | 'leave'} */ how = 'push') {
    const mine = ++turn;
    const waiting = setTimeout(() => mine === turn && model.change(awaited), LONG);
    try {
      await learnLevels();
      const seed = await engine.ask('freshSeed');
      const question = await engine.ask('deal', { level, seed });
      const fresh = await engine.ask('makeLink', { item: question.item });
      if (mine !== turn) return;
      // A deal that nobody touched leaves no step for the back button.
      if (how !== 'leave') show(fresh, idle ? 'replace' : how);
      open(question, fresh);
      idle = how !== 'leave';
    } catch (error) {
      if (mine !== turn) return;
      model.change(stuck);
      say(sentenceFor(error));
    } finally {
      clearTimeout(waiting);
    }
  }

  /** Lets the core read each kept point again. @param {Question} question @param {CallPoint[]} points */
  async function reread({ item }, points) {
    /** @type {Point[]} */
    const sound = [];
    for (const { x, y, rail } of points) {
      sound.push(await engine.ask('snap', { item, x, y, reach: ROUNDING, snap: rail != null }));
    }
    return sound;
  }

  /** @param {Entry} entry */
  async function restore({ item, points, sealed, played, link: fresh }) {
    const mine = ++turn;
    const question = await engine.ask('openItem', item);
    /** @type {Point[]} */
    let sound = [];
    try {
      sound = await reread(question, points);
    } catch (error) {
      say(`The call that was kept cannot be read and is left out: ${sentenceFor(error)}`);
    }
    if (mine !== turn) return;
    open(question, fresh, { sealed, points: sound });
    if (played && sound.length > 0) await play(true);
  }

  /** @param {string} text */
  async function openLink(text) {
    const mine = ++turn;
    const found = await engine.ask('openLink', text);
    // A link of Leave never comes here: its name takes it there.
    if (mine === turn && !found.kind) open(found.question, text, { sealed: found.sealed });
  }

  /** Opens what the address names. @param {string} text */
  async function openAddress(text) {
    if (text === link) return;
    const kept = find(text);
    try {
      if (kept) return await restore(kept);
    } catch {
      // What was kept is spoilt, but the link itself may still be whole.
    }
    try {
      await openLink(text);
    } catch (error) {
      say(`This link cannot be opened: ${sentenceFor(error)} Here is a fresh deal.`);
      // A link that a newer page made stays in the address, so that it opens once that page is here.
      await deal(isNewer(error) ? 'leave' : 'replace');
    }
  }

  /** Opens the item of a link, else the latest that was kept, else a deal. @param {string} text */
  async function start(text) {
    const { kept, broken } = read();
    if (broken) say('Some of what this browser had kept cannot be read and was left out.');
    level = kept.level;
    if (kept.entries.some(({ played }) => played)) model.change(returned);
    try {
      await learnLevels();
    } catch (error) {
      model.change(stuck);
      return say(sentenceFor(error));
    }
    if (text) return openAddress(text);
    const last = kept.entries.at(-1);
    try {
      if (!last) return await deal('replace');
      await restore(last);
      show(link, 'replace');
    } catch (error) {
      say(`The item that was kept cannot be opened: ${sentenceFor(error)} Here is a fresh deal.`);
      await deal('replace');
    }
  }

  async function play(/** @type {boolean} */ atOnce = still()) {
    const { question, sealed, points, phase } = model.state;
    model.change(asked);
    if (!question || phase !== 'drawing' || model.state.phase !== 'asking') return;
    try {
      const request = { item: question.item, call: callOf(points) };
      const result = await engine.ask('grade', sealed === null ? request : { ...request, sealed });
      if (model.state.question === question) model.change(answered, result, atOnce);
    } catch (error) {
      if (model.state.question !== question) return;
      model.change(refused);
      say(sentenceFor(error));
    }
  }

  function keep() {
    const { question, points, sealed, phase } = model.state;
    if (!question) return;
    const played = phase === 'playing' || phase === 'played';
    if (write({ link, item: question.item, points: points.map(bare), sealed, played }, level) || warned) return;
    warned = true;
    say('This browser keeps nothing for this page (its storage is full or blocked). All works until the page is closed; Share keeps the item.');
  }

  model.onChange((state, before) => {
    const settled = state.points !== before.points || state.question !== before.question || state.phase !== before.phase;
    if (state.points !== before.points) idle = false;
    if (settled) keep();
  });

  return {
    deal: () => deal(),
    play: () => play(),

    /** Opens the item of a link, or what is or was open. @param {string} text */
    open(text) {
      if (!begun) {
        begun = true;
        return start(text);
      }
      if (text) return openAddress(text);
      if (link) show(link, 'replace');
    },

    get level() {
      return level;
    },
    get levels() {
      return levels;
    },
    /** @param {number} wanted */
    setLevel(wanted) {
      level = wanted;
      return deal();
    },
    /** The fragment of a link to the open item. @param {boolean} withCall */
    async linkTo(withCall) {
      const { question, points } = model.state;
      if (!question) return link;
      if (!withCall || points.length === 0) return engine.ask('makeLink', { item: question.item });
      return engine.ask('makeLink', { item: question.item, call: callOf(points) });
    },
  };
}

/** @typedef {ReturnType<typeof createSession>} Session */
