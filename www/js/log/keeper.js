// Keeps calls on this device, whatever happens to its storage: what cannot be written is held until the page is closed.

import { openDatabase } from './database.js';
import { MOST_ON_PAGE, blank, isSound, together, withCall, without } from './pages.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { Kept, LogRequest } from '../engine/protocol.js' */
/** @import { Database, Row } from './database.js' */
/** @import { Page } from './pages.js' */

/**
 * Where calls are kept: `persistent`, `evictable` if the browser may clear them, `none` if it keeps nothing.
 * @typedef {'persistent' | 'evictable' | 'none'} Storage
 */

const SAID = {
  full: 'The storage of this browser is full: your latest calls are held until the page is closed. Export them in the Log, or make room.',
  none: 'This browser keeps nothing for the Log (a private window, or blocked): calls are held until the page is closed.',
  blocked: 'Another tab has an older version of this page open: close it, then calls are kept again.',
  newer: 'A newer version of this page is open in another tab: load this one again to go on keeping calls.',
  broken: 'Some calls of the Log cannot be read. They are kept aside, and the rest is as it was.',
};

/** Records that are read at once (tuning choice). */
const BATCH = 400;

/** @param {unknown} error */
const isFull = (error) => error instanceof DOMException && error.name === 'QuotaExceededError';

/** @param {Engine} engine @param {(sentence: string) => void} say */
export function createKeeper(engine, say) {
  /** @type {Promise<Database> | null} */
  let opening = null;
  /** Calls that could not be written. @type {Map<string, Kept>} */
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
    let page = blank(1);
    for (;;) {
      const rows = await db.getAll('records', IDBKeyRange.lowerBound(from, true), BATCH);
      if (rows.length === 0) break;
      from = rows[rows.length - 1].id;
      const kept = await sound(db, rows);
      const tx = db.transaction(['records', 'pages'], 'readwrite');
      for (const { record, digest } of kept) {
        if (page.ids.length >= MOST_ON_PAGE) {
          await tx.objectStore('pages').put(page);
          page = blank(page.page + 1);
        }
        page = withCall(page, record.id, digest);
        await tx.objectStore('records').put({ id: record.id, at: record.at, page: page.page, record });
      }
      await tx.objectStore('pages').put(page);
      await tx.done;
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
    let n = 0;
    try {
      /** @type {Map<number, Page>} */
      const changed = new Map();
      const end = (await pages.openCursor(null, 'prev'))?.value;
      let latest = end && isSound(end) ? end : blank((end?.page ?? 0) + 1);
      for (const { record, digest } of calls) {
        const there = await records.get(record.id);
        if (there ? (there.record?.errors?.length ?? 0) >= record.errors.length : amend) continue;
        if (!there && latest.ids.length >= MOST_ON_PAGE) latest = blank(latest.page + 1);
        const of = there ? there.page : latest.page;
        const page = withCall(changed.get(of) ?? (of === latest.page ? latest : ((await pages.get(of)) ?? blank(of))), record.id, digest);
        changed.set(of, page);
        if (of === latest.page) latest = page;
        await records.put({ id: record.id, at: record.at, page: of, record });
        await aside.delete(record.id);
        n += 1;
      }
      for (const page of changed.values()) await pages.put(page);
      await tx.done;
    } catch (error) {
      const why = tx.error ?? error;
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
    await write([...held.values()]);
    held.clear();
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

  return {
    /** @param {() => void} listener */
    onChange: (listener) => void listeners.push(listener),

    /** How many calls could not be written. */
    held: () => held.size,

    /** @param {LogRequest} request @param {boolean} amend Whether this tells more of a call that is kept. */
    keep: (request, amend) => inTurn(async () => {
      const kept = await engine.ask('logRecord', request);
      const { id } = kept.record;
      try {
        await settle();
        await write([kept], amend);
      } catch (error) {
        if (!amend || held.has(id)) held.set(id, kept);
        once(isFull(error) ? 'full' : 'none');
      }
      changed();
    }),

    /** All calls as numbers, with their ids, also those that are held. */
    all: () => inTurn(async () => {
      const here = { ids: [...held.keys()], numbers: Float64Array.from([...held.values()].flatMap(({ digest }) => digest)) };
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
      const here = [...held.values()].reverse();
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
      for (const id of ids) held.delete(id);
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
      if (held.size > 0) take(lines([...held.values()]));
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
        for (const call of fresh) held.set(call.record.id, call);
        once(isFull(error) ? 'full' : 'none');
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
