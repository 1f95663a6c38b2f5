// Calls in the database: each as the core recorded it, all of them as pages of numbers, and aside what cannot be read.

import { MOST_ON_PAGE, blank, isSound, together, withCalls, without } from './pages.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { Kept } from '../engine/protocol.js' */
/** @import { Database, Row } from './database.js' */
/** @import { Page } from './pages.js' */

/** Records that are read at once (tuning choice: what a page of their numbers holds). */
const BATCH = MOST_ON_PAGE;

/** The records as lines, as the core reads them. @param {readonly Pick<Row, 'record'>[]} rows */
// A record that is no object any more would make no line of its own.
export const lines = (rows) => rows.map(({ record }) => JSON.stringify(record) ?? 'nothing').join('\n');

/** @param {Engine} engine @param {() => void} onBroken What cannot be read was put aside. */
export function createRecords(engine, onBroken) {
  /**
   * Lets the core read rows again; what it refuses is put aside.
   * @param {Database} db @param {readonly Row[]} rows @returns {Promise<Kept[]>}
   */
  async function sound(db, rows) {
    if (rows.length === 0) return [];
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
      onBroken();
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

  /**
   * All rows in the order of their ids, some at a time, as the core reads them.
   * @param {Database} db @param {(kept: Kept[]) => Promise<void> | void} take
   */
  async function each(db, take) {
    for (let from = ''; ;) {
      const rows = await db.getAll('records', IDBKeyRange.lowerBound(from, true), BATCH);
      if (rows.length === 0) return;
      from = rows[rows.length - 1].id;
      await take(await sound(db, rows));
    }
  }

  /** Makes all pages anew from the records. @param {Database} db */
  async function rebuild(db) {
    await db.clear('pages');
    let page = 0;
    await each(db, async (kept) => {
      page += 1;
      const tx = db.transaction(['records', 'pages'], 'readwrite');
      const puts = kept.map(({ record }) => tx.objectStore('records').put({ id: record.id, at: record.at, page, record }));
      const calls = kept.map(({ record: { id }, digest }) => ({ id, digest }));
      await Promise.all([...puts, tx.objectStore('pages').put(withCalls(blank(page), calls)), tx.done]);
    });
  }

  /**
   * Writes calls in one go, all or none. Of two with one id the one that tells of more stays; `amend` writes only what is
   * there already.
   * @param {Database} db @param {readonly Kept[]} calls @param {boolean} amend
   * @returns {Promise<number>} How many are new or tell of more.
   */
  async function write(db, calls, amend) {
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
    return n;
  }

  return {
    write,

    each,

    /** Makes the pages where there are records but none of their numbers. @param {Database} db */
    async ready(db) {
      if ((await db.count('pages')) === 0 && (await db.count('records')) > 0) await rebuild(db);
    },

    /** All calls as numbers, with their ids. @param {Database} db */
    async numbers(db) {
      let pages = await db.getAll('pages');
      if (!pages.every(isSound)) {
        await rebuild(db);
        pages = await db.getAll('pages');
      }
      return together(pages);
    },

    /** Some calls, the latest first, after the first `skip`. @param {Database} db @param {number} skip @param {number} count */
    async latest(db, skip, count) {
      /** @type {Row[]} */
      const rows = [];
      let cursor = await db.transaction('records').store.index('at').openCursor(null, 'prev');
      if (cursor && skip > 0) cursor = await cursor.advance(skip);
      for (; cursor && rows.length < count; cursor = await cursor.continue()) rows.push(cursor.value);
      return sound(db, rows);
    },

    /** Deletes calls for good. @param {Database} db @param {readonly string[]} ids */
    async remove(db, ids) {
      const tx = db.transaction(['records', 'pages'], 'readwrite');
      for (const id of ids) await tx.objectStore('records').delete(id);
      await strike(tx.objectStore('pages'), new Set(ids));
      await tx.done;
    },

    /** Deletes everything, also what was put aside. @param {Database} db */
    async clear(db) {
      const tx = db.transaction(['records', 'pages', 'aside'], 'readwrite');
      for (const name of /** @type {const} */ (['records', 'pages', 'aside'])) await tx.objectStore(name).clear();
      await tx.done;
    },

    /** Why calls were put aside, each. @param {Database} db */
    aside: async (db) => (await db.getAll('aside')).map(({ why }) => why),
  };
}
