// What the Sets screen asks of the core, keeps, takes in and gives out.

import { EngineError } from '../engine/client.js';
import { TODAY, urlOf } from '../links.js';
import { set } from '../state.js';
import { sentenceFor } from '../sentences.js';
import { NOT_KEPT } from '../store.js';
import { dayOf, idOfDay, marksOf as countedOf } from './daily-scores.js';
import { changeKept, freshId, readKept } from './kept.js';
import { readySets, readyText } from './ready.js';
import { added, dropped, entriesOf, isOwn, marksOf, openSet, opened, takingOf } from './state.js';
import { openStrip } from './strip.js';
import { begin, taking } from './taking.js';

/** @import { FoundSet, ItemSet } from '../engine/protocol.js' */
/** @import { Page } from '../main.js' */
/** @import { Model } from './state.js' */

/** What a new set is. @type {ItemSet} */
export const EMPTY_SET = { version: 1, kind: 'set', title: '', note: '', pass: { mark: 50, need: 7 }, entries: [] };
const NEW = 'New set';
/** The id of a set that came by link: links differ in their check. @param {string} link */
const idOfLink = (link) => `link-${link.slice(-6)}`;

/** @param {Model} model @param {Page} page */
export function createSession(model, page) {
  const { engine, voice, parts } = page;
  let begun = false;
  let warned = false;
  /** Counts what was asked, so that a late reply does not replace a later one. */
  let asked = 0;
  let turn = 0;

  const say = (/** @type {unknown} */ error) => voice.say(error instanceof EngineError ? sentenceFor(error) : 'The set could not be loaded. Check the connection.');

  /** Asks what is to be said of the open set. */
  async function tell() {
    const open = openSet(model.state);
    if (!open) return;
    const found = await engine.ask('openSet', JSON.stringify(open));
    // Items keep their place in memory while they are moved about.
    const told = found.entries.map((one) => /** @type {const} */ ([open.entries[one.place].item, one]));
    model.change(set, { told: new Map([...model.state.told, ...told]) });
  }

  async function show() {
    const mine = ++asked;
    const entry = entriesOf(model.state)[model.state.chosen];
    if (!entry) return;
    try {
      const shown = await engine.ask('showItem', { item: entry.item, stroke: entry.stroke });
      if (mine === asked) model.change(set, { shown });
    } catch (error) {
      say(error);
    }
  }

  async function tally() {
    const now = takingOf(model.state);
    const marks = marksOf(model.state);
    const pass = (now?.set ?? openSet(model.state))?.pass;
    if (!marks || !pass) return;
    const result = await engine.ask('tallySet', { pass, marks: [...marks], claimed: now?.claimed ?? null });
    if (marksOf(model.state) !== marks) return;
    model.change(set, { tally: result });
    // What counts for a day is its first marks.
    if (!now || model.state.daily) return;
    const before = model.state.best[now.id];
    if (!result.isOver || (before && before.score >= result.score)) return;
    const best = { ...model.state.best, [now.id]: { score: result.score, words: result.words } };
    model.change(set, { best });
    changeKept((kept) => ({ ...kept, best }));
  }

  /** What the open set of a day came to, once all of it counts. */
  async function count() {
    const { daily } = model.state;
    if (!daily || daily.result || !daily.marks || daily.marks.includes(null)) return;
    const { day, marks, link } = daily;
    const result = await engine.ask('dailyResult', { day, marks: [...marks], address: urlOf(link) });
    if (model.state.daily === daily) model.change(set, { daily: { ...daily, result } });
  }

  model.onChange((state, before) => {
    if (openSet(state) !== openSet(before)) void tell().catch(say);
    if (state.shown === null && entriesOf(state).length > 0 && (before.shown !== null || state.chosen !== before.chosen || openSet(state) !== openSet(before))) void show();
    const untold = state.tally === null && before.tally !== null;
    if (untold || state.taking !== before.taking || state.open !== before.open) void tally().catch(say);
    if (state.daily !== before.daily) void count().catch(say);
    if (state.own === before.own && state.open === before.open) return;
    const open = state.open?.startsWith('link-') || state.daily ? null : state.open;
    if (changeKept((kept) => ({ ...kept, own: [...state.own], open })) || warned) return;
    warned = true;
    voice.say(NOT_KEPT);
  });
  taking.onChange(() => {
    const { daily } = model.state;
    model.change(set, { taking: taking.now, daily: daily && { ...daily, marks: countedOf(daily.day) } });
  });

  /** Sees the set of a day. @param {{ link: string } | { day: string }} which */
  async function seeDay(which) {
    const mine = ++turn;
    const { day, set: found, link, notice } = await engine.ask('dailySet', { now: Date.now(), ...which });
    if (mine !== turn) return;
    model.change(opened, idOfDay(day), { lent: found, daily: { day, link, marks: countedOf(day), result: null } });
    parts.showFor('sets')(link, 'replace');
    if (notice) voice.say(notice);
  }

  /** Sees the set of this id. @param {string} id */
  async function see(id) {
    const day = dayOf(id);
    if (day !== null) return seeDay({ day }).catch(say);
    const mine = ++turn;
    const { now } = taking;
    if (model.state.own.some((one) => one.id === id)) return model.change(opened, id);
    // One that came by link, or was deleted since, is still known while it is taken.
    if (id === now?.id && !id.startsWith('ready-')) return model.change(opened, id, { lent: now.set, claimed: now.claimed });
    try {
      const found = await engine.ask('openSet', await readyText(id));
      if (mine === turn && found.set) model.change(opened, id, { lent: found.set });
    } catch (error) {
      say(error);
    }
  }

  /** What is seen where nothing is asked for. */
  const first = () => model.state.own.at(-1)?.id ?? model.state.ready[0]?.id ?? null;

  async function start() {
    const { own, best, open } = readKept();
    model.change(set, { own, best, taking: taking.now });
    const ready = await readySets();
    model.change(set, { ready });
    const known = [...own, ...ready].some(({ id }) => id === open);
    return taking.now?.id ?? (known ? open : first());
  }

  /** @param {string} link */
  async function openLink(link) {
    if (link.startsWith(TODAY)) return seeDay({ link });
    const { set: found, claimed } = await engine.ask('openSetLink', link);
    if (found.set) model.change(opened, idOfLink(link), { lent: found.set, claimed });
    if (found.faults.length > 0) voice.say(found.words);
  }

  /** A set of the player's own more. @param {ItemSet} fresh */
  const own = (fresh) => model.change(added, { id: freshId([...model.state.own, ...readKept().own]), set: fresh });

  return {
    see,
    /** @param {string} link */
    async open(link) {
      if (!link) parts.showFor('sets')('sets', 'replace');
      try {
        const wanted = begun ? null : await start();
        begun = true;
        // Another part may have added an item meanwhile.
        const kept = readKept();
        if (wanted === null && JSON.stringify(kept.own) !== JSON.stringify(model.state.own)) {
          model.change(set, { own: kept.own, past: [], future: [], shown: null });
          if (kept.open && kept.open !== model.state.open) await see(kept.open);
        }
        if (link) return await openLink(link);
        if (wanted) return await see(wanted);
        if (!openSet(model.state)) {
          if (model.state.own.length + model.state.ready.length === 0) own({ ...EMPTY_SET, title: NEW });
          else await see(/** @type {string} */ (first()));
        }
      } catch (error) {
        voice.say(`This set cannot be opened: ${sentenceFor(error)}`);
        const id = first();
        if (id && !openSet(model.state)) await see(id);
      }
    },

    today: () => seeDay({ link: TODAY }).catch(say),

    /** The open set as one of the player's own. */
    copy() {
      const open = openSet(model.state);
      if (open) own(open);
    },

    /** Takes a set in that was found. @param {ItemSet} found */
    take: (found) => own(found),

    /** What is in a text. @param {string} text @returns {Promise<FoundSet>} */
    look: (text) => engine.ask('openSet', text),

    drop() {
      const { own: all, open, ready } = model.state;
      if (isOwn(model.state)) model.change(dropped, all.filter(({ id }) => id !== open).at(-1)?.id ?? null);
      if (!openSet(model.state)) void see(ready[0]?.id ?? '');
    },

    /** The text of the open set's file. */
    text: () => engine.ask('setText', JSON.stringify(openSet(model.state))),

    /** A link to it, with the score that is to be beaten or without. @param {boolean} withScore */
    async link(withScore) {
      const { tally: stands, daily } = model.state;
      if (daily) return daily.link;
      const claimed = withScore && stands ? stands.score : null;
      return engine.ask('makeSetLink', { text: JSON.stringify(openSet(model.state)), claimed });
    },

    /** Begins the open set, or goes on with it. */
    async begin() {
      const { open, claimed } = model.state;
      const what = openSet(model.state);
      if (!what || open === null || what.entries.length === 0) return;
      try {
        const under = takingOf(model.state);
        const next = under && !model.state.tally?.isOver ? under : await begin(engine, open, what, claimed ?? under?.claimed ?? null);
        if (!taking.put(next)) voice.say(NOT_KEPT);
        await openStrip(page);
        const left = next.marks.indexOf(null);
        taking.visit(page, left < 0 ? 0 : left);
      } catch (error) {
        say(error);
      }
    },

    /** Opens the chosen item in its part. */
    async practise() {
      const entry = entriesOf(model.state)[model.state.chosen];
      if (!entry) return;
      try {
        parts.visit(await engine.ask('makeLink', { item: entry.item }));
      } catch (error) {
        say(error);
      }
    },
  };
}

/** @typedef {ReturnType<typeof createSession>} Session */
