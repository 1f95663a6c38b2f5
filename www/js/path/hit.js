// What of the call lies under a pointer.

/** @import { Place } from '../engine/protocol.js' */

/** @typedef {{ kind: 'handle', at: number } | { kind: 'ghost' } | { kind: 'line', at: number } | { kind: 'cloth' }} Hit */

/** @param {Place} a @param {Place} b */
const distance = (a, b) => Math.hypot(a.x - b.x, a.y - b.y);

/** @param {Place} p @param {Place} a @param {Place} b */
function distanceToSegment(p, a, b) {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const square = dx * dx + dy * dy;
  const share = square > 0 ? Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square)) : 0;
  return distance(p, { x: a.x + share * dx, y: a.y + share * dy });
}

/**
 * @param {Place} place @param {Place} ghost @param {readonly Place[]} points
 * @param {{ handle: number, line: number }} reach m
 * @returns {Hit}
 */
export function hit(place, ghost, points, reach) {
  /** @type {Hit} */
  let best = { kind: 'cloth' };
  let least = reach.handle;
  points.forEach((point, at) => {
    const far = distance(place, point);
    // Of handles on top of one another, the later one is the one that is seen.
    if (far <= least) [best, least] = [{ kind: 'handle', at }, far];
  });
  if (distance(place, ghost) < least) best = { kind: 'ghost' };
  if (best.kind !== 'cloth') return best;
  least = reach.line;
  points.forEach((point, at) => {
    const far = distanceToSegment(place, points[at - 1] ?? ghost, point);
    if (far < least) [best, least] = [{ kind: 'line', at }, far];
  });
  return best;
}
