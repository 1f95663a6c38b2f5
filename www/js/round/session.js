// What Read, Leave and Clear do alike: deal, open, keep, play. They ask the core and change the state.

import { LEVELS } from '../../pkg/first.js';
import { bare } from '../path/state.js';
import { isNewer, sentenceFor } from '../sentences.js';
import { NOT_KEPT } from '../store.js';
import { answered, awaited, isPlayed, refused, returned, stuck, takenBack } from './state.js';

/** @import { Engine, ReadEngine } from '../engine/client.js' */
/** @import { CallPoint, Item, LeaveItem, Point, SetMark } from '../engine/protocol.js' */
/** @import { Show } from '../links.js' */
/** @import { Log } from '../log/hook.js' */
/** @import { How, Name } from '../parts.js' */
/** @import { Store } from '../store.js' */
/** @import { AnyRound, RoundModel } from './state.js' */

/** What is kept of an item. @typedef {{ link: string, item: any, points: CallPoint[], sealed: string | null, played: boolean }} Kept */

/**
 * What a part does in its own way. `prepare` makes an item ready, with what had been kept of it, and gives the
 * transition that opens it; `answer` is what the core grades, null as long as something is missing; `called` is what the
 * Log keeps of that, where the part does not keep it itself; `first` is opened where nothing is kept, without the core; `keeps` names what of the state is kept, and `kept` gives it;
 * `mark` is what came of the answer, null if nothing that counts did.
 * @template {AnyRound} S
 * @template {Kept} E
 * @typedef {object} Own
 * @property {Name} name
 * @property {Store<E>} store
 * @property {() => Promise<unknown>} [learn]
 * @property {{ question: NonNullable<S['question']>, link: string }} [first]
 * @property {(wish: { level: number, seed: number }) => Promise<S['question']>} deal
 * @property {(item: any) => Promise<S['question']>} show
 * @property {(item: any, withAnswer: boolean) => Promise<string>} link
 * @property {(question: any, sealed: string | null, entry: E | null) => Promise<(state: S) => S>} prepare
 * @property {() => Promise<unknown>} [settled]
 * @property {(state: S) => S} asked
 * @property {(state: S) => object | null} answer
 * @property {(request: any) => Promise<any>} grade
 * @property {(state: S) => SetMark} mark
 * @property {(answer: any) => any} [called]
 * @property {readonly (keyof S)[]} keeps
 * @property {(state: S) => Omit<E, keyof Kept> | null} kept
 */

/**
 * The page as a session needs it: `say` shows and speaks a sentence, `still` tells whether motion is to be avoided,
 * `show` puts an item into the address, `log` keeps graded calls, `report` tells what mark the item of a link got.
 * @typedef {{ engine: ReadEngine, say(sentence: string): void, still(): boolean, show: Show, log: Pick<Log, 'keep'>, report(link: string, mark: SetMark): void }} Around
 */
/** The page as the sessions of the other parts need it. @typedef {Around & { engine: Engine }} WholeAround */

/** Kept rail points lie on the line of touch; this only forgives rounding, m. */
const ROUNDING = 0.002;
/** A deal that takes longer is announced, ms. */
const LONG = 150;

/** Lets the core read each kept point again. @param {Around} around @param {Item | LeaveItem} item @param {readonly CallPoint[]} points */
export async function reread({ engine, say }, item, points) {
  /** @type {Point[]} */
  const sound = [];
  try {
    for (const { x, y, rail } of points) sound.push(await engine.ask('snap', { item, x, y, reach: ROUNDING, snap: rail != null }));
    return sound;
  } catch (error) {
    say(`The path that was kept cannot be read and is left out: ${sentenceFor(error)}`);
    return [];
  }
}

/**
 * @template {AnyRound} S
 * @template {Kept} E
 * @param {RoundModel<S>} model @param {Around} around @param {Own<S, E>} own
 */
export function createRound(model, { engine, say, still, show, log, report }, own) {
  let begun = false;
  let link = '';
  let level = 1;
  let learned = false;
  /** Counts what was opened, so that a late reply does not replace a later wish. */
  let turn = 0;
  let warned = false;
  /** Whether the shot was taken back: who has seen it tells nothing new by a second answer. */
  let seen = false;
  /** Whether the open item was dealt here and nothing was done with it yet. */
  let idle = true;

  async function learn() {
    if (!learned) await own.learn?.();
    learned = true;
    if (!LEVELS.some((one) => one.level === level)) level = LEVELS[0].level;
  }

  /** @param {number} mine @param {S['question']} question @param {string} fresh @param {string | null} sealed @param {E | null} [entry] */
  async function open(mine, question, fresh, sealed, entry = null) {
    const opened = await own.prepare(question, sealed, entry);
    if (mine !== turn) return;
    link = fresh;
    [idle, seen] = [false, false];
    // The next deal is like what is on the table, also after a friend's link.
    level = question.level.level;
    model.change(opened);
    if (question.notice !== null) say(question.notice);
  }

  async function deal(/** @type {'push' | 'replace' | 'leave'} */ how = 'push') {
    const mine = ++turn;
    const waiting = setTimeout(() => mine === turn && model.change(awaited), LONG);
    try {
      await learn();
      const question = await own.deal({ level, seed: await engine.ask('freshSeed') });
      const fresh = await own.link(question.item, false);
      // A deal that nobody touched leaves no step for the back button.
      const step = idle && how === 'push' ? 'replace' : how;
      await open(mine, question, fresh, null);
      if (mine !== turn) return;
      if (step !== 'leave') show(fresh, step);
      idle = how !== 'leave';
    } catch (error) {
      if (mine !== turn) return;
      model.change(stuck);
      say(sentenceFor(error));
    } finally {
      clearTimeout(waiting);
    }
  }

  /** Opens what needs no core, else deals. */
  async function begin() {
    const { first } = own;
    if (level !== first?.question.level.level) return deal('replace');
    if (model.state.question === first.question) {
      // It was there before the session, and may have points by now.
      link = first.link;
      keep(model.state);
    } else {
      const mine = ++turn;
      await open(mine, first.question, first.link, null);
      if (mine !== turn) return;
    }
    show(first.link, 'replace');
    idle = model.state.points.length === 0;
    // Drawn first: what the core is loaded with is to take nothing from that.
    requestAnimationFrame(() => setTimeout(engine.wake));
  }

  /** @param {E} entry */
  async function restore(entry) {
    const mine = ++turn;
    await open(mine, await own.show(entry.item), entry.link, entry.sealed, entry);
    if (mine === turn && entry.played) await play(true, true);
  }

  /** @param {string} text */
  async function openLink(text) {
    const mine = ++turn;
    const found = await engine.ask('openLink', text);
    // A link of another part never comes here: its name takes it there.
    if (mine === turn && (found.kind ?? 'read') === own.name) await open(mine, found.question, text, 'sealed' in found ? found.sealed : null);
  }

  /** Opens what the address names. @param {string} text @param {How} [how] */
  async function openAddress(text, how) {
    if (text === link && !how) return;
    const kept = how === 'fresh' ? null : own.store.find(text);
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

  /** Opens the item of a link, else the latest that was kept, else a deal. @param {string} text @param {How} [how] */
  async function start(text, how) {
    const { kept, broken } = own.store.read();
    if (broken) say('Some of what this browser had kept cannot be read and was left out.');
    level = kept.level;
    if (kept.entries.some(({ played }) => played)) model.change(returned);
    try {
      await learn();
    } catch (error) {
      model.change(stuck);
      return say(sentenceFor(error));
    }
    if (text) return openAddress(text, how);
    const last = kept.entries.at(-1);
    try {
      if (!last) return await begin();
      await restore(last);
      show(link, 'replace');
    } catch (error) {
      say(`The item that was kept cannot be opened: ${sentenceFor(error)} Here is a fresh deal.`);
      await deal('replace');
    }
  }

  /** `kept` says that this call was graded before. @param {boolean} atOnce @param {boolean} [kept] */
  async function play(atOnce, kept = false) {
    await own.settled?.();
    const { question, sealed, phase } = model.state;
    const answer = own.answer(model.state);
    model.change(own.asked);
    if (!question || !answer || phase !== 'drawing' || model.state.phase !== 'asking') return;
    try {
      const result = await own.grade({ item: question.item, ...answer, ...(sealed === null ? {} : { sealed }) });
      if (own.called && !kept && !seen) log.keep(question.item, own.called(answer));
      if (model.state.question === question) model.change(answered, result, atOnce);
    } catch (error) {
      if (model.state.question !== question) return;
      model.change(refused);
      say(sentenceFor(error));
    }
  }

  /** @param {S} state */
  function keep(state) {
    const { question, points, sealed } = state;
    const rest = question && own.kept(state);
    if (!rest) return;
    const entry = /** @type {E} */ ({ link, item: question.item, points: points.map(bare), sealed, played: seen || isPlayed(state), ...rest });
    if (own.store.write(entry, level) || warned) return;
    warned = true;
    say(NOT_KEPT);
  }

  model.onChange((state, before) => {
    /** @type {readonly (keyof S)[]} */
    const names = ['question', 'phase', 'points', ...own.keeps];
    if (!names.some((name) => state[name] !== before[name])) return;
    if (state.question === before.question) idle = false;
    keep(state);
    if (state.phase === 'played' && before.phase !== 'played' && !seen) report(link, own.mark(state));
  });

  return {
    deal: () => deal(),
    play: () => play(still()),

    /** The same shot once more, from the answer as it was: it is graded, but neither kept in the Log nor for a set. */
    again() {
      if (model.state.phase !== 'played') return;
      seen = true;
      model.change(takenBack);
    },

    /** Opens the item of a link, or what is or was open. @param {string} text @param {How} [how] */
    open(text, how) {
      if (!begun) {
        begun = true;
        return start(text, how);
      }
      if (text) return openAddress(text, how);
      if (link) show(link, 'replace');
    },

    level: () => level,
    levels: () => LEVELS,
    /** @param {number} wanted */
    setLevel(wanted) {
      level = wanted;
      return deal();
    },

    /** The fragment of a link to the open item. @param {boolean} withAnswer */
    linkTo: async (withAnswer) => (model.state.question ? own.link(model.state.question.item, withAnswer) : link),
  };
}

/** @typedef {ReturnType<typeof createRound>} RoundSession */
