// The database of calls on this device: its stores, how older ones become this one, and what other tabs do to it.

import { openDB } from '../../pkg/vendor/idb.js';

/** @import { DBSchema, IDBPDatabase } from '../../pkg/vendor/idb.js' */
/** @import { LogRecord } from '../engine/protocol.js' */
/** @import { Page } from './pages.js' */

/** A call as it lies here, and the page that has its numbers. @typedef {{ id: string, at: number, page: number, record: LogRecord }} Row */
/** What could not be read. @typedef {{ id: string, why: string, row: unknown }} Aside */

/**
 * @typedef {DBSchema & {
 *   records: { key: string, value: Row, indexes: { at: number } },
 *   pages: { key: number, value: Page },
 *   aside: { key: string, value: Aside } }} Stores
 */
/** @typedef {IDBPDatabase<Stores>} Database */

export const NAME = 'leaveline-log';

/** What each version added to the one before. @type {((db: Database, tx: any) => void)[]} */
const STEPS = [
  (db) => void db.createObjectStore('records', { keyPath: 'id' }),
  (db, tx) => {
    tx.objectStore('records').createIndex('at', 'at');
    db.createObjectStore('pages', { keyPath: 'page' });
    db.createObjectStore('aside', { keyPath: 'id' });
  },
  // Calls of Eye came, whose numbers an older page would refuse with all the others: it must not open this one.
  () => {},
];

/** The version of the database. */
export const VERSION = STEPS.length;

/**
 * Opens the database. `blocked`: another tab holds an older one open; `lost`: a newer tab wants it, or the browser took it.
 * @param {{ blocked(): void, lost(newer: boolean): void }} told
 */
export async function openDatabase({ blocked, lost }) {
  /** @type {Database} */
  const db = await openDB(NAME, VERSION, {
    upgrade(db, from, _, tx) {
      for (const step of STEPS.slice(from)) step(db, tx);
    },
    blocked,
    blocking() {
      // Whoever waits for this one has a newer page, or is about to delete everything.
      db.close();
      lost(true);
    },
    terminated: () => lost(false),
  });
  return db;
}
