// Mouse, pen and finger on a called path: tap to go on, drag a point or the line, tap a point to choose it.

import { latest } from '../newest-request.js';
import { listenToPress } from '../table/press.js';
import { drafted, dropped, isFull, nextIndex, placed, selected } from './state.js';

/** @import { Place } from '../engine/protocol.js' */
/** @import { Press } from '../table/press.js' */
/** @import { Draft, PathModel } from './state.js' */
/** @import { Snap, SnapRequest } from './snap.js' */
/** @import { Board } from '../table/sheet.js' */

/** How near counts, CSS pixels; how long is no longer a tap, ms. */
const FINGER = { handle: 24, line: 13, snap: 15 };
const MOUSE = { handle: 11, line: 7, snap: 14 };
const HOLD = 180;

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
 * What of the call lies under a pointer.
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

/**
 * @param {SVGSVGElement} root @param {PathModel} model @param {Board} view @param {Snap} snap
 * @param {() => Place | null} startOf The ghost ball, where the path starts; null while no path is drawn.
 * @param {() => void} full Says that there is no room for another point.
 */
export function listenToPathPointer(root, model, view, snap, startOf, full) {
  let dragging = false;

  const toMetres = (/** @type {number} */ px) => (px * (view.frame?.px ?? 1)) / 1000;

  /** @param {PointerEvent} event @param {Place} place @returns {SnapRequest} */
  const request = (event, place) => ({
    place,
    snap: model.state.snap && !event.altKey,
    reach: toMetres((event.pointerType === 'mouse' ? MOUSE : FINGER).snap),
  });

  const drafts = latest(async (/** @type {{ ask: SnapRequest, draft: Omit<Draft, 'point'> }} */ { ask, draft }) => {
    const point = await snap(ask);
    if (point && (dragging || draft.grip === 'hover')) model.change(drafted, { ...draft, point });
  });

  /** What a drag from here places. @param {Press<Hit>} press @returns {Omit<Draft, 'point'>} */
  function intent({ hit: at, touch }) {
    const grip = touch ? 'touch' : 'mouse';
    if (at.kind === 'handle') return { kind: 'move', at: at.at, grip };
    const before = at.kind === 'line' ? at.at : at.kind === 'ghost' ? 0 : nextIndex(model.state);
    return { kind: 'insert', at: before, grip };
  }

  /** @param {Press<Hit>} press @param {Place} place @param {PointerEvent} event */
  function drag(press, place, event) {
    const draft = intent(press);
    if (draft.kind === 'insert' && isFull(model.state)) {
      full();
      return false;
    }
    dragging = true;
    drafts.push({ ask: request(event, { x: place.x + press.grab.x, y: place.y + press.grab.y }), draft });
    return true;
  }

  function unhover() {
    drafts.clear();
    if (model.state.draft?.grip === 'hover') model.change(drafted, null);
  }

  listenToPress(root, view, {
    isLive: () => startOf() !== null,
    under(place, _, touch) {
      const start = startOf();
      const { handle, line } = touch ? FINGER : MOUSE;
      /** @type {Hit} */
      const found = start ? hit(place, start, model.state.points, { handle: toMetres(handle), line: toMetres(line) }) : { kind: 'cloth' };
      return { hit: found, at: found.kind === 'handle' ? model.state.points[found.at] : place };
    },
    hold: HOLD,
    drag,
    async drop(press, place, event) {
      if (place) drag(press, place, event);
      await drafts.settled();
      dragging = false;
      model.change(dropped);
    },
    async tap({ hit: at, from }, event) {
      unhover();
      if (at.kind === 'handle') return model.change(selected, model.state.selected === at.at ? null : at.at);
      if (isFull(model.state)) return full();
      const point = await snap(request(event, from));
      if (point) model.change(placed, point, nextIndex(model.state));
    },
    cancel() {
      dragging = false;
      drafts.clear();
      model.change(drafted, null);
    },
    hover(at, place, event) {
      if (at.kind === 'handle' || at.kind === 'ghost' || isFull(model.state)) return unhover();
      drafts.push({ ask: request(event, place), draft: { kind: 'insert', at: nextIndex(model.state), grip: 'hover' } });
    },
    left: unhover,
  });
}
