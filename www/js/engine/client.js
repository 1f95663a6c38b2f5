// Asks the worker that owns the core, and replaces it when it fails or hangs.

/** @import { Calls, Drawing, Drawn, ErrorData, FromWorker, Jobs, ReadCall, ToWorker } from './protocol.js' */

/** How long a request may take before its worker counts as hung, ms. */
const PATIENCE = 10_000;
/** It is waited for in so many parts: a page that was frozen, as on a phone put away, comes back to one part that is over. */
const PARTS = 10;

/** What the core refused, or what went wrong with it. */
export class EngineError extends Error {
  /** @param {ErrorData} data @param {'refused' | 'failed' | 'unavailable'} kind */
  constructor(data, kind) {
    super(data.message);
    this.name = data.name;
    this.field = data.field;
    this.rule = data.rule;
    this.kind = kind;
  }
}

/**
 * @typedef {object} Pending
 * @property {(value: any) => void} done
 * @property {(error: EngineError) => void} fail
 * @property {ToWorker} message
 * @property {ReturnType<typeof setTimeout> | undefined} timer
 * @property {((progress: any) => void) | undefined} [progress] Of a job.
 * @property {Transferable[]} [transfer] What goes over for good.
 */

/** @typedef {{ onmessage: any, onerror: any, postMessage(message: ToWorker, transfer?: Transferable[]): void, terminate(): void }} WorkerLike */

/** A promise with what settles it. */
function settling() {
  let settle = () => {};
  /** @type {Promise<void>} */
  const settled = new Promise((done) => (settle = done));
  return { settle, settled };
}

/**
 * @param {() => WorkerLike} makeWorker
 * @param {{ patience?: number, compiled?: { module: WebAssembly.Module | null } }} [options] `compiled` holds the compiled
 *   core, for the engines that share it.
 */
export function createEngine(makeWorker, { patience = PATIENCE, compiled = { module: null } } = {}) {
  /** @type {WorkerLike | null} */
  let worker = null;
  let ready = false;
  /** Settles once the worker is ready, or is given up. */
  let started = settling();
  let lastId = 0;
  /** @type {Map<number, Pending>} */
  const pending = new Map();

  function start() {
    worker = makeWorker();
    ready = false;
    started = settling();
    worker.onmessage = (/** @type {MessageEvent<FromWorker>} */ { data }) => receive(data);
    worker.onerror = (/** @type {ErrorEvent} */ event) => {
      event.preventDefault?.();
      const message = event.message || 'its program did not load';
      discard({ name: 'WorkerError', message }, ready ? 'failed' : 'unavailable');
    };
    worker.postMessage({ start: true, module: compiled.module });
  }

  /** Ends the worker and every request that it still owed; the next request starts a new one. */
  function discard(/** @type {ErrorData} */ data, /** @type {'failed' | 'unavailable'} */ kind) {
    worker?.terminate();
    worker = null;
    ready = false;
    started.settle();
    const owed = [...pending.values()];
    pending.clear();
    for (const { fail, timer } of owed) {
      clearTimeout(timer);
      fail(new EngineError(data, kind));
    }
  }

  /** The clock runs only once the core is there: a slow network is not a hang. */
  function post(/** @type {Pending} */ one) {
    worker?.postMessage(one.message, one.transfer ?? []);
    watch(one);
  }

  function watch(/** @type {Pending} */ one) {
    clearTimeout(one.timer);
    let left = PARTS;
    const wait = () => (one.timer = setTimeout(() => {
      left -= 1;
      if (left > 0) wait();
      else discard({ name: 'Timeout', message: 'no answer in time' }, 'failed');
    }, patience / PARTS));
    wait();
  }

  function receive(/** @type {FromWorker} */ data) {
    if ('ready' in data) {
      if (!data.ready) return discard(data.error, 'unavailable');
      ready = true;
      started.settle();
      compiled.module = data.module;
      for (const one of pending.values()) post(one);
      return;
    }
    const one = pending.get(data.id);
    if (!one) return;
    if ('progress' in data) {
      watch(one);
      return one.progress?.(data.progress);
    }
    pending.delete(data.id);
    clearTimeout(one.timer);
    if (!('error' in data)) return one.done(data.value);
    one.fail(new EngineError(data.error, data.fatal ? 'failed' : 'refused'));
    if (data.fatal) discard(data.error, 'failed');
  }

  /** @param {Pick<Pending, 'done' | 'fail' | 'progress' | 'transfer'>} to @param {(id: number) => ToWorker} message */
  function owe(to, message) {
    if (!worker) start();
    const id = ++lastId;
    /** @type {Pending} */
    const one = { ...to, message: message(id), timer: undefined };
    pending.set(id, one);
    if (ready) post(one);
    return id;
  }

  /**
   * @template {keyof Calls} K
   * @param {K} method
   * @param {Parameters<Calls[K]>} request
   * @returns {Promise<ReturnType<Calls[K]>>}
   */
  const ask = (method, ...request) =>
    new Promise((done, fail) => owe({ done, fail }, (id) => ({ id, method, request: request[0] })));

  /**
   * Runs a long job step by step: `onProgress` gets what is known after each, the promise what is known at the end. When
   * `signal` gives it up, its promise is refused and the worker goes on with what else it owes.
   * @template {keyof Jobs} J
   * @param {J} job @param {Jobs[J]['request']} request
   * @param {(progress: Jobs[J]['progress']) => void} onProgress @param {AbortSignal} [signal]
   * @param {(MessagePort | null)[]} [peers] Ways to the other workers of a shared job, by their numbers.
   * @returns {Promise<Jobs[J]['progress']>}
   */
  const run = (job, request, onProgress, signal, peers = []) =>
    new Promise((done, fail) => {
      const transfer = peers.filter((port) => port !== null);
      const id = owe({ done, fail, progress: onProgress, transfer }, (id) => ({ id, job, request, peers }));
      signal?.addEventListener('abort', () => {
        const one = pending.get(id);
        if (!one) return;
        pending.delete(id);
        clearTimeout(one.timer);
        worker?.postMessage({ cancel: id });
        fail(new EngineError({ name: 'AbortError', message: 'given up' }, 'failed'));
      });
    });

  /** Lets the worker draw. @param {Drawing} drawing @returns {Promise<Drawn>} */
  const draw = (drawing) => new Promise((done, fail) => owe({ done, fail }, (id) => ({ id, drawing })));

  /** Starts ahead of the first request. @returns {Promise<void>} once it is ready, or given up */
  function wake() {
    if (!worker) start();
    return started.settled;
  }

  /** Whether the core is there. */
  const isReady = () => ready;

  /** Gives up whatever is being computed. */
  const abort = () => discard({ name: 'AbortError', message: 'given up' }, 'failed');

  return { ask, run, draw, wake, isReady, abort, compiled };
}

/** @typedef {ReturnType<typeof createEngine>} Engine */
/** An engine of which no more is asked than the small package has. @typedef {Pick<Engine, 'wake' | 'isReady'> & { ask: <K extends ReadCall>(method: K, ...request: Parameters<Calls[K]>) => Promise<ReturnType<Calls[K]>> }} ReadEngine */

/** A worker has the package that its name says. @param {'read' | 'whole'} name */
const workerWith = (name) => () => new Worker(new URL('./worker.js', import.meta.url), { type: 'module', name });

/** A worker with the small package, which has what Read asks for. */
export const readWorker = workerWith('read');

/** A worker with the whole package. */
export const wholeWorker = workerWith('whole');
