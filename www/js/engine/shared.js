// One job done by several workers: what each of them finds the others are told, so that all come to the same.

/** @import { Engine, Peer } from './client.js' */
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
  /** @type {Peer[]} */
  const peers = engines.map((_, number) => ({
    told: (numbers) => peers.forEach(({ hear }, other) => other !== number && hear?.(number, numbers)),
  }));
  const share = (/** @type {Engine} */ engine, /** @type {number} */ worker) =>
    engine.run('BestSearch', { ...request, worker, workers: engines.length }, worker ? () => {} : onProgress, end.signal, peers[worker]);
  try {
    const [found] = await Promise.all(engines.map(share));
    return /** @type {BestProgress} */ (found);
  } finally {
    signal.removeEventListener('abort', stop);
    stop();
  }
}
