// The guide to a layout, worked out by several workers: each fills some of its shelves and hands them to the others.

/** @import { Engine } from '../engine/client.js' */
/** @import { ClearItem, GuideProgress, GuideRequest } from '../engine/protocol.js' */

/** Shelves that a worker fills at a time, and runs that it plays out. */
const SHELVES = 64;
const RUNS = 32;
/** Runs of a race that a worker plays at a time, by each way. */
const LAPS = 8;
/** Rounds in which the hand tries what a fine plan rests on; a first one rests on what is foreseen. */
const ROUNDS = 3;

/** To what a guide is: a layout, a hand, and whether it is tried out in full. @typedef {{ item: ClearItem, hand: string, fine: boolean }} Base */
/** @typedef {GuideRequest['request']['ask']} Ask */

/** Whether all object balls of `now` lie where they lie in `item`. @param {ClearItem} item @param {ClearItem} now */
export function stands(item, now) {
  const places = new Map(item.shot.balls.map(({ id, x, y }) => [id, `${x} ${y}`]));
  return now.shot.balls.every(({ id, x, y }) => id === 'cue' || places.get(id) === `${x} ${y}`);
}

/** Chunks of so many from `from` to `to`. @param {number} from @param {number} to @param {number} size @returns {[number, number][]} */
export const chunks = (from, to, size) =>
  Array.from({ length: Math.ceil((to - from) / size) }, (_, k) => [from + k * size, Math.min(to, from + (k + 1) * size)]);

/** One after the other. @param {readonly Uint8Array[]} parts */
function joined(parts) {
  const all = new Uint8Array(parts.reduce((size, part) => size + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/** @param {readonly Engine[]} engines */
export function createGuide(engines) {
  /** What the workers know in full. @type {Base | null} */
  let known = null;
  const done = () => {};

  /** @param {Engine} engine @param {Base} base @param {Ask} ask @param {AbortSignal} signal @param {Uint8Array} [bytes] @param {(progress: GuideProgress) => void} [told] */
  const run = async (engine, { item, hand, fine }, ask, signal, bytes, told = done) => {
    signal.throwIfAborted();
    return engine.run('ClearGuide', { request: { item, hand, fine, ask }, ...(bytes ? { bytes } : {}) }, told, signal);
  };

  /**
   * Lets all workers take from one list of work, until it is empty.
   * @template W @param {readonly W[]} all @param {(engine: Engine, work: W, at: number) => Promise<unknown>} act
   */
  async function share(all, act) {
    const rest = [...all];
    await Promise.all(engines.map(async (engine, at) => {
      for (let work = rest.shift(); work !== undefined; work = rest.shift()) await act(engine, work, at);
    }));
  }

  /**
   * Lets the hand try what the plan rests on, at some of the places in each worker; all learn what came of it.
   * @param {Base} base @param {number} cells @param {AbortSignal} signal
   */
  async function tryOut(base, cells, signal) {
    const parts = chunks(0, cells, Math.ceil(cells / engines.length));
    for (let round = 0; round < ROUNDS; round++) {
      const tried = await Promise.all(parts.map(([from, to], at) => run(engines[at], base, { kind: 'try', from, to }, signal)));
      if (tried.every(({ bytes }) => bytes.length === 0)) return;
      await Promise.all(engines.map(async (engine, at) => {
        for (const [by, { bytes }] of tried.entries()) if (by !== at) await run(engine, base, { kind: 'learn' }, signal, bytes);
      }));
    }
  }

  /** Each worker fills some of the shelves `from` to `to` (excluded), and takes those of the others. @param {Base} base @param {number} from @param {number} to @param {AbortSignal} signal @param {(filled: number) => void} told */
  async function fillShelves(base, from, to, signal, told) {
    /** @type {{ from: number, by: number, bytes: Uint8Array }[]} */
    const filled = [];
    await share(chunks(from, to, SHELVES), async (engine, [begin, end], by) => {
      const { bytes } = await run(engine, base, { kind: 'fill', from: begin, to: end }, signal);
      filled.push({ from: begin, by, bytes });
      told(Math.min(to, from + filled.length * SHELVES));
    });
    await Promise.all(engines.map(async (engine, at) => {
      for (const { from, by, bytes } of filled) if (by !== at) await run(engine, base, { kind: 'take', from }, signal, bytes);
    }));
  }

  return {
    /** Whether the workers know this guide. @param {Base} base */
    knows: (base) => known !== null && known.hand === base.hand && known.fine === base.fine && known.item === base.item,

    /** What the workers knew is gone: one of them was replaced. */
    forget: () => void (known = null),

    /** Fills a guide, unless it is known: as far as a first plan needs it, or in full and tried out. @param {Base} base @param {AbortSignal} signal @param {(part: number) => void} told */
    async fill(base, signal, told) {
      if (this.knows(base)) return;
      const begun = base.fine && this.knows({ ...base, fine: false });
      known = null;
      // All begin at once with what each must find out for itself.
      const [{ shelves, first, cells }] = await Promise.all(engines.map((engine) => run(engine, base, { kind: 'fill', from: 0, to: 0 }, signal)));
      const end = base.fine ? shelves : first;
      await fillShelves(base, begun ? first : 0, end, signal, (filled) => told(filled / end));
      if (base.fine) await tryOut(base, cells, signal);
      known = base;
    },

    /** Asks the first worker. @param {Base} base @param {Ask} ask @param {AbortSignal} signal */
    ask: (base, ask, signal) => run(engines[0], base, ask, signal),

    /**
     * Lets the ways to play `now` race, some of the runs in each worker; which is taken hangs on no worker.
     * @param {Base} base @param {ClearItem} now @param {AbortSignal} signal
     */
    async race(base, now, signal) {
      let { race } = await run(engines[0], base, { kind: 'race', now }, signal);
      while (race && !race.over) {
        const { ways, from: first, to: end } = race;
        /** @type {Map<number, Uint8Array>} */
        const laps = new Map();
        const parts = chunks(first, end, LAPS);
        await share(parts, async (engine, [from, to]) => {
          const { bytes } = await run(engine, base, { kind: 'lap', now, ways, from, to }, signal);
          laps.set(from, bytes);
        });
        const all = joined(parts.map(([from]) => laps.get(from) ?? new Uint8Array()));
        ({ race } = await run(engines[0], base, { kind: 'pass', now }, signal, all));
      }
      return race;
    },

    /**
     * Plays runs out, some by each worker.
     * @param {Base} base @param {{ now: ClearItem, seed: number, n: number, way: number | null }} of @param {AbortSignal} signal
     * @param {(sum: { runs: number, cleared: number }) => void} told
     */
    async runs(base, { now, seed, n, way }, signal, told) {
      let [all, cleared] = [0, 0];
      await share(chunks(0, n, RUNS), async (engine, [from, to]) => {
        const { runs } = await run(engine, base, { kind: 'runs', now, seed, from, to, way }, signal);
        if (!runs) return;
        [all, cleared] = [all + runs.runs, cleared + runs.cleared];
        told({ runs: all, cleared });
      });
    },
  };
}

/** @typedef {ReturnType<typeof createGuide>} Guide */
