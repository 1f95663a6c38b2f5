// Reads the samples of a moving ball; between two of them it is drawn on the straight chord.

/** @import { Track } from '../engine/protocol.js' */

/** The last sample not after `time`. @param {Float64Array} samples */
function sampleBefore(samples, /** @type {number} */ time) {
  let [low, high] = [0, samples.length / 3 - 1];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (samples[3 * middle] <= time) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** @param {Float64Array} samples @param {number} time @returns {[number, number]} */
export function placeAt(samples, time) {
  const k = 3 * sampleBefore(samples, time);
  const [t, x, y] = samples.subarray(k, k + 3);
  if (k + 3 >= samples.length || time <= t) return [x, y];
  const [next, toX, toY] = samples.subarray(k + 3, k + 6);
  const share = next > t ? (time - t) / (next - t) : 1;
  return [x + share * (toX - x), y + share * (toY - y)];
}

/** Where a ball is drawn, or null once it has fallen. @param {Track} track @param {number} time */
export const shownAt = ({ samples, pocketedAt }, time) =>
  pocketedAt !== null && time >= pocketedAt ? null : placeAt(samples, time);

/**
 * A ball's path from one time to a later one; nothing if it does not move.
 * @param {readonly Track[]} tracks @param {string} id @param {number} [since] @param {number} [until] @returns {[number, number][]}
 */
export function pathOf(tracks, id, since = 0, until = Infinity) {
  const track = tracks.find((one) => one.id === id);
  if (!track || until <= since) return [];
  const { samples } = track;
  const [from, to] = [sampleBefore(samples, since), sampleBefore(samples, until)];
  /** @type {[number, number][]} */
  const path = [placeAt(samples, since)];
  for (let k = from + 1; k <= to; k++) path.push([samples[3 * k + 1], samples[3 * k + 2]]);
  path.push(placeAt(samples, until));
  return path;
}
