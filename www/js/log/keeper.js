// Keeps calls on this device, whatever happens to its storage: what cannot be written is held until it can be.

import { openDatabase } from './database.js';
import { lift, liftAll } from './pending.js';
import { together } from './pages.js';
import { createRecords, lines } from './records.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { Kept } from '../engine/protocol.js' */
/** @import { Database } from './database.js' */
/** @import { Pending } from './pending.js' */

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

  const records = createRecords(engine, () => once('broken'));

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
      await records.ready(db);
      return db;
    }).catch((error) => {
      opening = null;
      throw error;
    }));
  }

  /** Writes calls as `records.js` does. @param {readonly Kept[]} calls @param {boolean} [amend] */
  async function write(calls, amend = false) {
    const n = await records.write(await open(), calls, amend);
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

  /** @template T @param {(db: Database) => Promise<T>} act @param {T} none Where there is no database. */
  async function ifOpen(act, none) {
    const db = await open().catch(() => null);
    return db ? act(db) : none;
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
      const there = await ifOpen(records.numbers, { ids: [], numbers: new Float64Array() });
      return together([{ page: 0, ...there }, { page: 0, ...here }]);
    }),

    /** Some calls, the latest first, after the first `skip`. @param {number} skip @param {number} count */
    list: (skip, count) => inTurn(async () => {
      const here = [...held.values()].map(({ kept }) => kept).reverse();
      const first = here.slice(skip, skip + count);
      const over = Math.max(0, skip - here.length);
      const there = await ifOpen((db) => records.latest(db, over, count - first.length), []);
      return [...first, ...there];
    }),

    /** Deletes calls for good. @param {readonly string[]} ids */
    remove: (ids) => inTurn(async () => {
      for (const id of ids) {
        held.get(id)?.keys.forEach(lift);
        held.delete(id);
      }
      await ifOpen((db) => records.remove(db, ids), undefined);
      channel.postMessage(ids.length);
      changed();
    }),

    /** Deletes everything, also what was put aside. */
    clear: () => inTurn(async () => {
      held.clear();
      liftAll();
      await ifOpen(records.clear, undefined);
      channel.postMessage(0);
      changed();
    }),

    /** All calls as the lines of a file; `take` gets some at a time. @param {(lines: string) => void} take */
    export: (take) => inTurn(async () => {
      await ifOpen((db) => records.each(db, (kept) => {
        if (kept.length > 0) take(lines(kept));
      }), undefined);
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
    aside: () => ifOpen(records.aside, /** @type {string[]} */ ([])),

    /** Where calls are kept. @returns {Promise<Storage>} */
    storage: () => ifOpen(async () => ((await navigator.storage?.persisted?.()) ? 'persistent' : 'evictable'), /** @type {Storage} */ ('none')),

    /** Asks the browser not to clear what is kept. */
    persist: async () => (await navigator.storage?.persist?.()) ?? false,
  };
}

/** @typedef {ReturnType<typeof createKeeper>} Keeper */
