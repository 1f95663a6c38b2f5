// Finds room for the short texts of the drawing, so that none covers another.

/** @import { Place } from '../engine/protocol.js' */

/** @typedef {{ x: number, y: number, anchor: 'start' | 'middle' | 'end' }} Spot In the view box. */
/** @typedef {{ left: number, right: number, top: number, bottom: number }} Box */

/** Width of a character of the drawing's text, as a share of its size. */
const CHARACTER = 0.58;

/** @param {Spot} spot @param {string} text @param {number} size @returns {Box} */
function boxOf({ x, y, anchor }, text, size) {
  const width = text.length * size * CHARACTER;
  const left = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2;
  return { left, right: left + width, top: y - 0.6 * size, bottom: y + 0.6 * size };
}

/** @param {Box} one @param {Box} other */
const overlap = (one, other) =>
  Math.max(0, Math.min(one.right, other.right) - Math.max(one.left, other.left)) *
  Math.max(0, Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top));

/** @param {Box} box @param {Box} within */
const outside = (box, within) => (box.right - box.left) * (box.bottom - box.top) - overlap(box, within);

/** @param {readonly [number, number, number, number]} viewBox @param {number} size of the text, mm */
export function createPlacer([x, y, width, height], size) {
  const within = { left: x, right: x + width, top: y, bottom: y + height };
  /** @type {Box[]} */
  const taken = [];
  /** @type {Place[]} */
  const lines = [];
  /** What it costs to stand over a spot of a line: less than over a text. */
  const strike = 0.12 * size * size;

  /** @param {Box} box */
  const struck = ({ left, right, top, bottom }) =>
    lines.filter((spot) => spot.x > left && spot.x < right && spot.y > top && spot.y < bottom).length;

  /** @param {Box} box */
  const costOf = (box) => taken.reduce((sum, other) => sum + overlap(box, other), 3 * outside(box, within)) + strike * struck(box);

  return {
    /** Keeps texts off a line where there is room elsewhere. @param {Place[]} path */
    avoidLine(path) {
      path.forEach((end, k) => {
        const start = path[k - 1] ?? end;
        const steps = Math.ceil(Math.hypot(end.x - start.x, end.y - start.y) / (0.5 * size)) || 1;
        for (let n = 1; n <= steps; n++) {
          lines.push({ x: start.x + ((end.x - start.x) * n) / steps, y: start.y + ((end.y - start.y) * n) / steps });
        }
      });
    },

    /** Keeps a round thing free of text. @param {Place} centre @param {number} r */
    avoid: ({ x: cx, y: cy }, r) => void taken.push({ left: cx - r, right: cx + r, top: cy - r, bottom: cy + r }),

    /** Takes the first of `spots` that is free, or null. @param {string} text @param {Spot[]} spots */
    free(text, spots) {
      const spot = spots.find((one) => costOf(boxOf(one, text, size)) === 0);
      if (spot) taken.push(boxOf(spot, text, size));
      return spot ?? null;
    },

    /** Takes the first of `spots` that is free, or the one that is least covered. @param {string} text @param {Spot[]} spots */
    place(text, spots) {
      let best = spots[0];
      let least = Infinity;
      for (const spot of spots) {
        const cost = costOf(boxOf(spot, text, size));
        if (cost < least) [best, least] = [spot, cost];
        if (cost === 0) break;
      }
      taken.push(boxOf(best, text, size));
      return best;
    },
  };
}

/** @typedef {ReturnType<typeof createPlacer>} Placer */
