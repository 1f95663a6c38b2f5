// Keeps calls on this device, whatever happens to its storage: what cannot be written is held until it can be.

import { openDatabase } from './database.js';
import { lift, liftAll } from './pending.js';
import { MOST_ON_PAGE, blank, isSound, together, withCalls, without } from './pages.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { Kept } from '../engine/protocol.js' */
/** @import { Database, Row } from './database.js' */
/** @import { Pending } from './pending.js' */
/** @import { Page } from './pages.js' */

/**
 * Where calls are kept: `persistent`, `evictable` if the browser may clear them, `none` if it keeps nothing.
 * @typedef {'persistent' | 'evictable' | 'none'} Storage
 */

const SAID = {
  full: 'The storage of this browser is full: your latest calls are held. Export them in the Log, or make room.',
  none: 'This browser keeps nothing for the Log (a private window, or blocked): calls are held, and may be gone when it is closed.',
  blocked: 'Another tab has an older version of this page open: close it, then calls are kept again.',
  newer: 'A newer version of this page is open in another tab: load this one again to go on keeping calls.',
  broken: 'Some calls of the Log cannot be read. They are kept aside, and the rest is as it was.',
};

/** Records that are read at once (tuning choice: what a page of their numbers holds). */
const BATCH = MOST_ON_PAGE;

/** Why nothing could be written. @param {unknown} error @returns {keyof typeof SAID} */
function faultOf(error) {
  const name = error instanceof DOMException ? error.name : '';
  return name === 'QuotaExceededError' ? 'full' : name === 'VersionError' ? 'newer' : 'none';
}

/** @param {Engine} engine @param {(sentence: string) => void} say */
export function createKeeper(engine, say) {
  /** @type {Promise<Database> | null} */
  let opening = null;
  /** Calls that could not be written, and where each waits. @type {Map<string, { kept: Kept, keys: (string | null)[] }>} */
  const held = new Map();
  /** @type {Set<keyof typeof SAID>} */
  const said = new Set();
  /** @type {(() => void)[]} */
  const listeners = [];
  const channel = new BroadcastChannel('leaveline.log');
  /** One thing after the other. @type {Promise<unknown>} */
  let last = Promise.resolve();

  const changed = () => listeners.forEach((listener) => listener());
  channel.onmessage = changed;

  /** @param {keyof typeof SAID} what */
  function once(what) {
    if (said.has(what)) return;
    said.add(what);
    say(SAID[what]);
  }

  /** @template T @param {() => Promise<T>} act @returns {Promise<T>} */
  function inTurn(act) {
    const mine = last.then(act);
    last = mine.catch(() => {});
    return mine;
  }

  function open() {
    return (opening ??= openDatabase({
      blocked: () => once('blocked'),
      lost(newer) {
        opening = null;
        if (newer) once('newer');
      },
    }).then(async (db) => {
      if ((await db.count('pages')) === 0 && (await db.count('records')) > 0) await rebuild(db);
      return db;
    }).catch((error) => {
      opening = null;
      throw error;
    }));
  }

  /** The records as lines, as the core reads them. @param {readonly Pick<Row, 'record'>[]} rows */
  const lines = (rows) => rows.map(({ record }) => JSON.stringify(record) ?? 'nothing').join('\n');

  /**
   * Lets the core read rows again; what it refuses is put aside.
   * @param {Database} db @param {readonly Row[]} rows @returns {Promise<Kept[]>}
   */
  async function sound(db, rows) {
    if (rows.length === 0) return [];
    // A record that is no object any more would make no line of its own.
    const { kept, refused } = await engine.ask('logRead', lines(rows));
    if (refused.length > 0) {
      const bad = refused.map(({ line, words }) => ({ row: rows[line - 1], why: words }));
      const tx = db.transaction(['records', 'pages', 'aside'], 'readwrite');
      for (const { row, why } of bad) {
        await tx.objectStore('aside').put({ id: row.id, why, row });
        await tx.objectStore('records').delete(row.id);
      }
      await strike(tx.objectStore('pages'), new Set(bad.map(({ row }) => row.id)));
      await tx.done;
      once('broken');
    }
    return kept;
  }

  /** Takes calls off the pages. @param {any} pages @param {ReadonlySet<string>} ids */
  async function strike(pages, ids) {
    for (let cursor = await pages.openCursor(); cursor; cursor = await cursor.continue()) {
      /** @type {Page} */
      const page = cursor.value;
      if (!isSound(page)) continue;
      if (page.ids.some((id) => ids.has(id))) await cursor.update(without(page, ids));
    }
  }

  /** Makes all pages anew from the records. @param {Database} db */
  async function rebuild(db) {
    await db.clear('pages');
    let from = '';
    for (let page = 1; ; page += 1) {
      const rows = await db.getAll('records', IDBKeyRange.lowerBound(from, true), BATCH);
      if (rows.length === 0) break;
      from = rows[rows.length - 1].id;
      const kept = await sound(db, rows);
      const tx = db.transaction(['records', 'pages'], 'readwrite');
      const puts = kept.map(({ record }) => tx.objectStore('records').put({ id: record.id, at: record.at, page, record }));
      const calls = kept.map(({ record: { id }, digest }) => ({ id, digest }));
      await Promise.all([...puts, tx.objectStore('pages').put(withCalls(blank(page), calls)), tx.done]);
    }
  }

  /**
   * Writes calls in one go, all or none. Of two with one id the one that tells of more stays; `amend` writes only what is
   * there already.
   * @param {readonly Kept[]} calls @param {boolean} [amend] @returns {Promise<number>} How many are new or tell of more.
   */
  async function write(calls, amend = false) {
    const db = await open();
    const tx = db.transaction(['records', 'pages', 'aside'], 'readwrite');
    const [records, pages, aside] = [tx.objectStore('records'), tx.objectStore('pages'), tx.objectStore('aside')];
    /** What is under way at once: to wait for each would take most of the time. @type {Promise<unknown>[]} */
    const puts = [];
    let n = 0;
    try {
      /** What is there of each call, also by this very list. @type {Map<string, Row | undefined>} */
      const there = new Map();
      await Promise.all(calls.map(async ({ record: { id } }) => there.set(id, await records.get(id))));
      const end = (await pages.openCursor(null, 'prev'))?.value;
      let [latest, room] = end && isSound(end) ? [end.page, MOST_ON_PAGE - end.ids.length] : [(end?.page ?? 0) + 1, MOST_ON_PAGE];
      /** What comes onto each page. @type {Map<number, Map<string, readonly number[]>>} */
      const changed = new Map();
      for (const { record, digest } of calls) {
        const { id, at, errors } = record;
        const before = there.get(id);
        if (before ? (before.record?.errors?.length ?? 0) >= errors.length : amend) continue;
        if (!before && room <= 0) [latest, room] = [latest + 1, MOST_ON_PAGE];
        if (!before) room -= 1;
        const row = { id, at, page: before?.page ?? latest, record };
        there.set(id, row);
        changed.set(row.page, (changed.get(row.page) ?? new Map()).set(id, digest));
        puts.push(records.put(row), aside.delete(id));
        n += 1;
      }
      await Promise.all([...changed].map(async ([page, more]) => {
        const now = await pages.get(page);
        const fresh = [...more].map(([id, digest]) => ({ id, digest }));
        // A spoilt one is made anew of all its records when it is next looked at.
        if (!now || isSound(now)) await pages.put(withCalls(now ?? blank(page), fresh));
      }));
      await Promise.all([...puts, tx.done]);
    } catch (error) {
      const why = tx.error ?? error;
      await Promise.allSettled(puts);
      try {
        tx.abort();
      } catch {
        // It has broken off by itself.
      }
      await tx.done.catch(() => {});
      throw why;
    }
    if (n > 0) channel.postMessage(n);
    return n;
  }

  /** Tries again to write what is held. */
  async function settle() {
    if (held.size === 0) return;
    const all = [...held.values()];
    await write(all.map(({ kept }) => kept));
    held.clear();
    for (const { keys } of all) keys.forEach(lift);
  }

  /** @template T @param {() => Promise<T>} act @param {T} none Where there is no database. */
  async function ifOpen(act, none) {
    try {
      await open();
    } catch {
      return none;
    }
    return act();
  }

  /** Keeps one call, which waits under `key`. @param {Pending} pending @param {string | null} key */
  async function keep({ request, amend }, key) {
    /** @type {Kept} */
    let kept;
    try {
      kept = await engine.ask('logRecord', request);
    } catch (error) {
      // What the core refuses it would refuse again.
      lift(key);
      throw error;
    }
    const { id } = kept.record;
    try {
      await settle();
      await write([kept], amend);
      lift(key);
    } catch (error) {
      if (!amend || held.has(id)) held.set(id, { kept, keys: [...(held.get(id)?.keys ?? []), key] });
      once(faultOf(error));
    }
    changed();
  }

  return {
    /** @param {() => void} listener */
    onChange: (listener) => void listeners.push(listener),

    /** How many calls could not be written. */
    held: () => held.size,

    /** Whether all of them wait where they outlast the page. */
    isLasting: () => [...held.values()].every(({ keys }) => keys.every((key) => key !== null)),

    /** @param {Pending} pending @param {string | null} key Under which it waits. */
    keep: (pending, key) => inTurn(() => keep(pending, key)),

    /** Keeps what an earlier page left waiting. @param {readonly ({ key: string } & Pending)[]} left */
    recover: (left) => inTurn(async () => {
      for (const { key, ...pending } of left) await keep(pending, key).catch(console.error);
    }),

    /** All calls as numbers, with their ids, also those that are held. */
    all: () => inTurn(async () => {
      const here = { ids: [...held.keys()], numbers: Float64Array.from([...held.values()].flatMap(({ kept }) => kept.digest)) };
      const there = await ifOpen(async () => {
        const db = await open();
        let pages = await db.getAll('pages');
        if (!pages.every(isSound)) {
          await rebuild(db);
          pages = await db.getAll('pages');
        }
        return together(pages);
      }, { ids: [], numbers: new Float64Array() });
      return together([{ page: 0, ...there }, { page: 0, ...here }]);
    }),

    /** Some calls, the latest first, after the first `skip`. @param {number} skip @param {number} count */
    list: (skip, count) => inTurn(async () => {
      const here = [...held.values()].map(({ kept }) => kept).reverse();
      const first = here.slice(skip, skip + count);
      const there = await ifOpen(async () => {
        const db = await open();
        /** @type {Row[]} */
        const rows = [];
        let cursor = await db.transaction('records').store.index('at').openCursor(null, 'prev');
        const over = Math.max(0, skip - here.length);
        if (cursor && over > 0) cursor = await cursor.advance(over);
        for (; cursor && rows.length < count - first.length; cursor = await cursor.continue()) rows.push(cursor.value);
        return sound(db, rows);
      }, []);
      return [...first, ...there];
    }),

    /** Deletes calls for good. @param {readonly string[]} ids */
    remove: (ids) => inTurn(async () => {
      for (const id of ids) {
        held.get(id)?.keys.forEach(lift);
        held.delete(id);
      }
      await ifOpen(async () => {
        const db = await open();
        const tx = db.transaction(['records', 'pages'], 'readwrite');
        for (const id of ids) await tx.objectStore('records').delete(id);
        await strike(tx.objectStore('pages'), new Set(ids));
        await tx.done;
      }, undefined);
      channel.postMessage(ids.length);
      changed();
    }),

    /** Deletes everything, also what was put aside. */
    clear: () => inTurn(async () => {
      held.clear();
      liftAll();
      await ifOpen(async () => {
        const db = await open();
        const tx = db.transaction(['records', 'pages', 'aside'], 'readwrite');
        for (const name of /** @type {const} */ (['records', 'pages', 'aside'])) await tx.objectStore(name).clear();
        await tx.done;
      }, undefined);
      channel.postMessage(0);
      changed();
    }),

    /** All calls as the lines of a file; `take` gets some at a time. @param {(lines: string) => void} take */
    export: (take) => inTurn(async () => {
      await ifOpen(async () => {
        const db = await open();
        for (let from = ''; ;) {
          const rows = await db.getAll('records', IDBKeyRange.lowerBound(from, true), BATCH);
          if (rows.length === 0) return;
          from = rows[rows.length - 1].id;
          const kept = await sound(db, rows);
          if (kept.length > 0) take(lines(kept));
        }
      }, undefined);
      if (held.size > 0) take(lines([...held.values()].map(({ kept }) => kept)));
    }),

    /**
     * Takes in calls that the core has read, and tells how many were not here.
     * @param {readonly Kept[]} calls
     */
    take: (calls) => inTurn(async () => {
      try {
        await settle();
        return await write(calls);
      } catch (error) {
        const fresh = calls.filter(({ record }) => !held.has(record.id));
        for (const kept of fresh) held.set(kept.record.id, { kept, keys: [null] });
        once(faultOf(error));
        return fresh.length;
      } finally {
        changed();
      }
    }),

    /** How many calls were put aside, and why. */
    aside: () => ifOpen(async () => (await (await open()).getAll('aside')).map(({ why }) => why), /** @type {string[]} */ ([])),

    /** Where calls are kept. @returns {Promise<Storage>} */
    storage: () => ifOpen(async () => ((await navigator.storage?.persisted?.()) ? 'persistent' : 'evictable'), /** @type {Storage} */ ('none')),

    /** Asks the browser not to clear what is kept. */
    persist: async () => (await navigator.storage?.persist?.()) ?? false,
  };
}

/** @typedef {ReturnType<typeof createKeeper>} Keeper */
