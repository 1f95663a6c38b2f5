// Owns the Rust core: one request in, one reply out, by id. Errors leave as data.

/** @import { Drawing, ErrorData, FromWorker, ToWorker } from './protocol.js' */

/**
 * A job that can `turn` to another request is kept for it. One that workers share says what the others are to be told, hears
 * them, and `waits` for them.
 * @typedef {{ step(plays: number): { done: number, waits?: boolean }, turn?(request: unknown): void,
 *   tell?(): Float64Array | undefined, hear?(from: number, numbers: Float64Array): void, free(): void }} Job
 */
/** @typedef {{ draw(context: OffscreenCanvasRenderingContext2D, chances: Float64Array, level: number): string }} Drawer */

/** Shots that a job plays before other requests are looked at (tuning choice: some ten milliseconds). */
const PLAYS = 256;
/** The same of a map: what comes next for it is waited for by a hand on the table. */
const FEW = 64;

/** @param {FromWorker} message */
const send = (message) => self.postMessage(message);

/** @param {unknown} error @returns {ErrorData} */
function asData(error) {
  if (!(error instanceof Error)) return { name: 'Error', message: String(error) };
  const { name, message, field, rule } = /** @type {Error & { field?: string, rule?: string }} */ (error);
  return { name, message, field, rule };
}

/**
 * The packages of the core: the small one that Read begins with, and the whole one. Nothing is imported before it runs, so
 * that a package and the code around it come side by side.
 * @type {Record<string, { glue(): Promise<{ default: Function }>, wasm: URL }>}
 */
const PACKAGES = {
  read: { glue: () => import('../../pkg/read.js'), wasm: new URL('../../pkg/read_bg.wasm', import.meta.url) },
  whole: { glue: () => import('../../pkg/leaveline.js'), wasm: new URL('../../pkg/leaveline_bg.wasm', import.meta.url) },
};

/** What the package exports, once it has started. @type {Record<string, unknown>} */
let core = {};

/** Starts the package that the worker is named for. @param {WebAssembly.Module | null} module */
async function start(module) {
  try {
    const { glue, wasm } = PACKAGES[self.name];
    const [{ default: init, ...exported }, source] = await Promise.all([glue(), module ?? fetch(wasm)]);
    await init({ module_or_path: source });
    core = exported;
    // The glue keeps what it compiled; a worker that replaces this one need not compile it again.
    const kept = /** @type {{ __wbindgen_wasm_module?: WebAssembly.Module }} */ (init).__wbindgen_wasm_module;
    send({ ready: true, module: kept ?? module });
  } catch (error) {
    send({ ready: false, error: asData(error) });
  }
}

/** @param {number} id @param {unknown} error */
function refuse(id, error) {
  const refusal = asData(error);
  // Only a refusal leaves the core whole; after a trap its memory may hold anything.
  send({ id, error: refusal, fatal: refusal.name !== 'LeavelineError' });
}

/** Jobs under way; one that is given up is taken out. @type {Map<number, Job>} */
const jobs = new Map();

/** Ways to the other workers of a shared job. @type {Map<number, (MessagePort | null)[]>} */
const peers = new Map();

/** Jobs that wait for other workers. @type {Set<number>} */
const waiting = new Set();

/** Jobs that are kept, by their class. @type {Map<string, Job>} */
const kept = new Map();

/** The job of this class for a request: the one that is kept, turned to it, or a new one. @param {string} name @param {Function} make @param {unknown} request @returns {Job} */
function jobFor(name, make, request) {
  const before = kept.get(name);
  before?.turn?.(request);
  /** @type {Job} */
  const job = before ?? Reflect.construct(make, [request]);
  if (job.turn) kept.set(name, job);
  return job;
}

/** Steps come by message, for a timer would wait some milliseconds before each. */
const { port1: next, port2: queue } = new MessageChannel();
next.onmessage = ({ data }) => step(data);

/** Takes a job a step further, and lets other requests in between. @param {number} id */
function step(id) {
  const job = jobs.get(id);
  if (!job) return;
  try {
    const progress = job.step(job === kept.get('ChanceMap') ? FEW : PLAYS);
    for (let told = job.tell?.(); told; told = job.tell?.()) for (const port of peers.get(id) ?? []) port?.postMessage(told);
    if (progress.done < 1) {
      send({ id, progress });
      if (progress.waits) return void waiting.add(id);
      return void queue.postMessage(id);
    }
    end(id);
    send({ id, value: progress });
  } catch (error) {
    forget(id);
    refuse(id, error);
  }
}

/** Lets a job hear what another worker found. @param {number} id @param {number} from @param {Float64Array} numbers */
function hear(id, from, numbers) {
  try {
    jobs.get(id)?.hear?.(from, numbers);
    if (waiting.delete(id)) step(id);
  } catch (error) {
    forget(id);
    refuse(id, error);
  }
}

/** Listens to the other workers of a job; what they told before has waited. @param {number} id @param {(MessagePort | null)[]} ports */
function meet(id, ports) {
  peers.set(id, ports);
  ports.forEach((port, from) => port && (port.onmessage = ({ data }) => hear(id, from, data)));
}

/** @param {number} id */
function forget(id) {
  jobs.delete(id);
  waiting.delete(id);
  for (const port of peers.get(id) ?? []) port?.close();
  peers.delete(id);
}

/** @param {number} id */
function end(id) {
  const job = jobs.get(id);
  forget(id);
  if (job && !job.turn) job.free();
}

/** Draws what a kept job has found, and sends the picture. @param {number} id @param {Drawing} drawing */
function draw(id, { job, chances, level }) {
  const drawer = /** @type {(Job & Drawer) | undefined} */ (kept.get(job));
  // As large as what is drawn makes it.
  const canvas = new OffscreenCanvas(1, 1);
  const context = canvas.getContext('2d');
  if (!drawer || !context) throw new Error('there is nothing to draw, or nothing to draw on');
  const line = drawer.draw(context, chances, level);
  const picture = canvas.transferToImageBitmap();
  self.postMessage({ id, value: { picture, line } }, { transfer: [picture] });
}

self.onmessage = (/** @type {MessageEvent<ToWorker>} */ { data }) => {
  if ('start' in data) return void start(data.module);
  if ('cancel' in data) return end(data.cancel);
  const { id } = data;
  try {
    if ('drawing' in data) return draw(id, data.drawing);
    const name = 'job' in data ? data.job : data.method;
    const run = core[name];
    if (typeof run !== 'function') throw new Error(`the core has no ${name}`);
    if ('method' in data) return send({ id, value: run(data.request) });
    jobs.set(id, jobFor(name, run, data.request));
    meet(id, data.peers);
    step(id);
  } catch (error) {
    refuse(id, error);
  }
};
