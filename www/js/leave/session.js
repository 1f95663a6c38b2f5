// What Leave does: deal, open, aim, keep, play. It asks the core and changes the state.

import { latest } from '../latest.js';
import { bare, callOf, redone, undone } from '../path/state.js';
import { isNewer, sentenceFor } from '../sentences.js';
import { find, read, write } from './kept.js';
import { answered, asked, awaited, opened, refused, returned, set, struck, stuck, tried } from './state.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { CallPoint, HandInfo, LeaveItem, LeaveQuestion, LevelInfo, Point, PocketName, Struck } from '../engine/protocol.js' */
/** @import { Show } from '../links.js' */
/** @import { Entry } from './kept.js' */
/** @import { Answer, Model } from './state.js' */

/** Kept rail points lie on the line of touch; this only forgives rounding, m. */
const ROUNDING = 0.002;
/** A deal that takes longer is announced, ms. */
const LONG = 150;
/** What the core takes where it asks for an item only to know its table. @param {LeaveItem} item @returns {any} */
const asRead = ({ model, level, shot }) => ({ version: 1, kind: 'read', model, level, shot });

/** An item with another stroke and pocket. @param {LeaveItem} item @param {Struck} stroke @param {PocketName | null} pocket @returns {LeaveItem} */
const withStroke = (item, stroke, pocket) => ({ ...item, shot: { ...item.shot, stroke }, demand: { ...item.demand, pocket } });

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
  /** @type {HandInfo[]} */
  let hands = [];
  /** Counts what was opened, so that a late reply does not replace a later wish. */
  let turn = 0;
  let warned = false;
  /** Whether the open item was dealt here and nothing was done with it yet. */
  let idle = true;

  async function learn() {
    if (levels.length === 0) [levels, hands] = await Promise.all([engine.ask('levels'), engine.ask('hands')]);
    if (!levels.some((one) => one.level === level)) level = levels[0].level;
  }

  /** Learns how far the table's cloth lets each speed go. @param {LeaveItem} item */
  async function measure(item) {
    const { table } = item.shot;
    if (model.state.scale.length > 0 && JSON.stringify(model.state.question?.item.shot.table) === JSON.stringify(table)) return;
    const scale = await engine.ask('speedScale', { item });
    model.change(set, { scale });
  }

  /** Lets the core read each kept point again. @param {LeaveItem} item @param {CallPoint[]} points */
  async function reread(item, points) {
    /** @type {Point[]} */
    const sound = [];
    for (const { x, y, rail } of points) {
      sound.push(await engine.ask('snap', { item: asRead(item), x, y, reach: ROUNDING, snap: rail != null }));
    }
    return sound;
  }

  /**
   * @param {number} mine @param {LeaveQuestion} question @param {string} fresh @param {string | null} sealed
   * @param {Entry | null} [kept]
   */
  async function open(mine, question, fresh, sealed, kept = null) {
    const { item } = question;
    const pocket = kept?.pocket ?? item.demand.pocket ?? null;
    const trial = await engine.ask('trial', { item: withStroke(item, kept?.stroke ?? item.shot.stroke, pocket), aim: kept === null });
    const seed = kept?.seed ?? (await engine.ask('freshSeed'));
    /** @type {Point[]} */
    let points = [];
    try {
      points = await reread(item, kept?.points ?? []);
    } catch (error) {
      say(`The path that was kept cannot be read and is left out: ${sentenceFor(error)}`);
    }
    await measure(item);
    if (mine !== turn) return;
    link = fresh;
    idle = false;
    // The next deal is like what is on the table, also after a friend's link.
    level = question.level.level;
    /** @type {Answer} */
    const answer = {
      // Where a zone is asked for, it is marked to begin with.
      zone: kept ? kept.zone : (item.demand.zone ?? null),
      stroke: trial.item.shot.stroke,
      pocket: pocket ?? trial.pocket,
      points,
      hand: hands.some(({ id }) => id === kept?.hand) && kept ? kept.hand : question.hand,
      exact: kept?.exact ?? model.state.exact,
      seed,
    };
    model.change(opened, question, trial, answer, sealed);
    if (question.notice !== null) say(question.notice);
  }

  async function deal(/** @type {'push' | 'replace' | 'leave'} */ how = 'push') {
    const mine = ++turn;
    const waiting = setTimeout(() => mine === turn && model.change(awaited), LONG);
    try {
      await learn();
      const seed = await engine.ask('freshSeed');
      const question = await engine.ask('dealLeave', { level, seed });
      const fresh = await engine.ask('makeLeaveLink', { item: question.item });
      if (mine !== turn) return;
      // A deal that nobody touched leaves no step for the back button.
      const step = idle ? 'replace' : how;
      await open(mine, question, fresh, null);
      if (mine !== turn) return;
      if (how !== 'leave') show(fresh, step === 'leave' ? 'replace' : step);
      idle = how !== 'leave';
    } catch (error) {
      if (mine !== turn) return;
      model.change(stuck);
      say(sentenceFor(error));
    } finally {
      clearTimeout(waiting);
    }
  }

  /** @param {Entry} entry */
  async function restore(entry) {
    const mine = ++turn;
    await open(mine, await engine.ask('openLeave', { item: entry.item }), entry.link, entry.sealed, entry);
    if (mine === turn && entry.played && model.state.zone) await play(true);
  }

  /** @param {string} text */
  async function openLink(text) {
    const mine = ++turn;
    const found = await engine.ask('openLink', text);
    if (mine === turn && found.kind === 'leave') await open(mine, found.question, text, found.sealed);
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
      await learn();
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

  /**
   * Aims the stroke with a change, and shows it; `final` lets it stand. During a drag only the newest wish waits.
   */
  const strokes = latest(async (/** @type {{ change: Partial<Struck>, pocket: PocketName | null, final: boolean }} */ { change, pocket, final }) => {
    const { question, stroke } = model.state;
    if (!question || !stroke) return;
    try {
      // The core lifts the cue as far as it must, and no further.
      const item = withStroke(question.item, { ...stroke, ...change, elevation: 0 }, pocket);
      const trial = await engine.ask('trial', { item, aim: true });
      if (model.state.question !== question) return;
      if (final) model.change(struck, trial, pocket);
      else model.change(tried, trial);
    } catch (error) {
      if (final) say(sentenceFor(error));
    }
  });

  /** After a step back the stroke is shown as it was. */
  async function retry() {
    const { question, stroke, pocket } = model.state;
    if (!question || !stroke) return;
    const trial = await engine.ask('trial', { item: withStroke(question.item, stroke, pocket), aim: false });
    if (model.state.question === question && model.state.stroke === stroke) model.change(tried, trial);
  }

  /** What is answered, as the core takes it. */
  function answerOf() {
    const { zone, stroke, points } = model.state;
    if (!zone || !stroke) return null;
    return points.length > 0 ? { zone, stroke, call: callOf(points) } : { zone, stroke };
  }

  async function play(/** @type {boolean} */ atOnce = still()) {
    await strokes.settled();
    const { question, sealed, phase, hand, exact, seed } = model.state;
    const answer = answerOf();
    model.change(asked);
    if (!question || !answer || phase !== 'drawing' || model.state.phase !== 'asking') return;
    try {
      const drawn = exact ? {} : { seed, index: 0 };
      const request = { item: question.item, ...answer, hand, exact, ...drawn, ...(sealed === null ? {} : { sealed }) };
      const result = await engine.ask('gradeLeave', request);
      if (model.state.question === question) model.change(answered, result, atOnce);
    } catch (error) {
      if (model.state.question !== question) return;
      model.change(refused);
      say(sentenceFor(error));
    }
  }

  function keep() {
    const { question, zone, stroke, pocket, points, hand, exact, seed, sealed, phase } = model.state;
    if (!question || !stroke) return;
    const played = phase === 'playing' || phase === 'played';
    const entry = { link, item: question.item, zone, stroke, pocket, points: points.map(bare), hand, exact, seed, sealed, played };
    if (write(entry, level) || warned) return;
    warned = true;
    say('This browser keeps nothing for this page (its storage is full or blocked). All works until the page is closed; Share keeps the item.');
  }

  model.onChange((state, before) => {
    const names = /** @type {const} */ (['question', 'phase', 'zone', 'stroke', 'points', 'hand', 'exact']);
    if (state.question === before.question && names.some((name) => state[name] !== before[name])) idle = false;
    if (names.some((name) => state[name] !== before[name])) keep();
    if (state.stroke !== before.stroke && state.question === before.question && state.trial === before.trial) void retry();
  });

  return {
    deal: () => deal(),
    play: () => play(),
    undo: () => model.change(undone),
    redo: () => model.change(redone),

    /** Shows a stroke while it is changed. @param {Partial<Struck>} change */
    preview: (change) => strokes.push({ change, pocket: model.state.pocket, final: false }),

    /** Lets a changed stroke stand, aimed at a pocket. @param {Partial<Struck>} change @param {PocketName | null} [pocket] */
    commit(change, pocket = model.state.pocket) {
      strokes.push({ change, pocket, final: true });
      return strokes.settled();
    },

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
    get hands() {
      return hands;
    },
    /** @param {number} wanted */
    setLevel(wanted) {
      level = wanted;
      return deal();
    },
    /** The fragment of a link to the open item. @param {boolean} withAnswer */
    async linkTo(withAnswer) {
      const { question } = model.state;
      const answer = answerOf();
      if (!question) return link;
      return engine.ask('makeLeaveLink', withAnswer && answer ? { item: question.item, answer } : { item: question.item });
    },
    /** The item in the form of Read, for what only asks for its table. */
    readItem: () => tableItem(model.state.question?.item ?? null),
  };
}

/** One form for each item, so that it can be told whether the item is still the same. @type {WeakMap<LeaveItem, any>} */
const forms = new WeakMap();

/** @param {LeaveItem | null} item */
function tableItem(item) {
  if (item === null) return null;
  if (!forms.has(item)) forms.set(item, asRead(item));
  return forms.get(item);
}

/** @typedef {ReturnType<typeof createSession>} Session */
