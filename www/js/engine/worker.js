// Owns the Rust core: one request in, one reply out, by id. Errors leave as data.
import init, * as core from '../../pkg/leaveline.js';

/** @import { ErrorData, FromWorker, ToWorker } from './protocol.js' */

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

self.onmessage = (/** @type {MessageEvent<ToWorker>} */ { data }) => {
  if ('start' in data) {
    void start(data.module);
    return;
  }
  const { id, method, request } = data;
  try {
    const run = exported[method];
    if (typeof run !== 'function') throw new Error(`the core has no ${method}`);
    send({ id, value: run(request) });
  } catch (error) {
    const refusal = asData(error);
    // Only a refusal leaves the core whole; after a trap its memory may hold anything.
    send({ id, error: refusal, fatal: refusal.name !== 'LeavelineError' });
  }
};
