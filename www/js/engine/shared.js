// One job done by several workers: what each of them finds the others are told, so that all come to the same.

/** @import { Engine } from './client.js' */
/** @import { BestProgress, BestRequest } from './protocol.js' */

/**
 * Runs a search on all these engines at once, as the run of one engine does it alone.
 * @param {Engine[]} engines @param {BestRequest} request
 * @param {(progress: BestProgress) => void} onProgress @param {AbortSignal} signal
 * @returns {Promise<BestProgress>}
 */
export async function searchShared(engines, request, onProgress, signal) {
  // Where one fails the others are given up, too.
  const end = new AbortController();
  const stop = () => end.abort();
  signal.addEventListener('abort', stop);
  /** A way from each worker to each other, past the page, which may be busy. @type {(MessagePort | null)[][]} */
  const ports = engines.map(() => engines.map(() => null));
  for (let one = 0; one < engines.length; one += 1) {
    for (let other = 0; other < one; other += 1) {
      const { port1, port2 } = new MessageChannel();
      [ports[one][other], ports[other][one]] = [port1, port2];
    }
  }
  const share = (/** @type {Engine} */ engine, /** @type {number} */ worker) =>
    engine.run('BestSearch', { ...request, worker, workers: engines.length }, worker ? () => {} : onProgress, end.signal, ports[worker]);
  try {
    const [found] = await Promise.all(engines.map(share));
    return /** @type {BestProgress} */ (found);
  } finally {
    signal.removeEventListener('abort', stop);
    stop();
  }
}
