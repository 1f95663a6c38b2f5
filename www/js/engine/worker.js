// Owns the Rust core: one request in, one reply out, by id. Errors leave as data.
import init, * as core from '../../pkg/leaveline.js';

/** @import { ErrorData, FromWorker, ToWorker } from './protocol.js' */

/** @typedef {{ step(plays: number): { done: number }, free(): void }} Job */

/** Shots that a job plays before other requests are looked at (tuning choice: some ten milliseconds). */
const PLAYS = 256;

/** @type {Record<string, unknown>} */
const exported = core;

/** @param {FromWorker} message */
const send = (message) => self.postMessage(message);

/** @param {unknown} error @returns {ErrorData} */
function asData(error) {
  if (!(error instanceof Error)) return { name: 'Error', message: String(error) };
  const { name, message, field, rule } = /** @type {Error & { field?: string, rule?: string }} */ (error);
  return { name, message, field, rule };
}

/** @param {WebAssembly.Module | null} module */
async function start(module) {
  try {
    await init(module ? { module_or_path: module } : undefined);
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

/** Jobs under way; one that is given up is taken out. @type {Set<number>} */
const jobs = new Set();

/** Takes a job a step further, and lets other requests in between. @param {number} id @param {Job} job */
function step(id, job) {
  if (!jobs.has(id)) return job.free();
  try {
    const progress = job.step(PLAYS);
    if (progress.done >= 1) {
      jobs.delete(id);
      job.free();
      return send({ id, value: progress });
    }
    send({ id, progress });
    setTimeout(step, 0, id, job);
  } catch (error) {
    jobs.delete(id);
    refuse(id, error);
  }
}

self.onmessage = (/** @type {MessageEvent<ToWorker>} */ { data }) => {
  if ('start' in data) return void start(data.module);
  if ('cancel' in data) return void jobs.delete(data.cancel);
  const { id, request } = data;
  try {
    const name = 'job' in data ? data.job : data.method;
    const run = exported[name];
    if (typeof run !== 'function') throw new Error(`the core has no ${name}`);
    if ('method' in data) return send({ id, value: run(request) });
    jobs.add(id);
    step(id, Reflect.construct(run, [request]));
  } catch (error) {
    refuse(id, error);
  }
};
