// Mouse, pen and finger on the table: tap to go on, drag a point or the line, tap a point to choose it.

import { latest } from '../latest.js';
import { drafted, dropped, isFull, nextIndex, placed, selected } from './state.js';
import { hit } from './hit.js';

/** @import { Place } from '../engine/protocol.js' */
/** @import { Draft, PathModel } from './state.js' */
/** @import { Hit } from './hit.js' */
/** @import { Snap, SnapRequest } from './snap.js' */
/** @import { Board } from '../table/sheet.js' */

/** How near counts, and how far is still no drag, CSS pixels; how long is no longer a tap, ms. */
const FINGER = { handle: 24, line: 13, slop: 8, snap: 15 };
const MOUSE = { handle: 11, line: 7, slop: 3, snap: 14 };
const HOLD = 180;

/** @typedef {{ id: number, touch: boolean, at: Hit, from: Place, grab: Place, start: { x: number, y: number }, dragging: boolean, hold: number }} Press */

/**
 * @param {SVGSVGElement} root @param {PathModel} model @param {Board} view @param {Snap} snap
 * @param {() => Place | null} startOf The ghost ball, where the path starts; null while no path is drawn.
 * @param {() => void} full Says that there is no room for another point.
 */
export function listenToPathPointer(root, model, view, snap, startOf, full) {
  /** @type {Press | null} */
  let press = null;

  const toMetres = (/** @type {number} */ px) => (px * (view.frame?.px ?? 1)) / 1000;
  const hand = (/** @type {PointerEvent} */ { pointerType }) => (pointerType === 'mouse' ? MOUSE : FINGER);

  /** @param {PointerEvent} event @param {Place} place @returns {Hit} */
  function under(event, place) {
    const start = startOf();
    if (!start) return { kind: 'cloth' };
    const { handle, line } = hand(event);
    return hit(place, start, model.state.points, { handle: toMetres(handle), line: toMetres(line) });
  }

  /** @param {PointerEvent} event @param {Place} place @returns {SnapRequest} */
  const request = (event, place) => ({
    place,
    snap: model.state.snap && !event.altKey,
    reach: toMetres(hand(event).snap),
  });

  const drafts = latest(async (/** @type {{ ask: SnapRequest, draft: Omit<Draft, 'point'> }} */ { ask, draft }) => {
    const point = await snap(ask);
    if (point && (press?.dragging || draft.grip === 'hover')) model.change(drafted, { ...draft, point });
  });

  /** What a drag from here places. @param {Press} one @returns {Omit<Draft, 'point'>} */
  function intent({ at, touch }) {
    const grip = touch ? 'touch' : 'mouse';
    if (at.kind === 'handle') return { kind: 'move', at: at.at, grip };
    const before = at.kind === 'line' ? at.at : at.kind === 'ghost' ? 0 : nextIndex(model.state);
    return { kind: 'insert', at: before, grip };
  }

  /** @param {PointerEvent} event @param {Press} one */
  function drag(event, one) {
    const place = view.placeOf(event);
    if (!place) return;
    const draft = intent(one);
    if (draft.kind === 'insert' && isFull(model.state)) return full();
    // A handle keeps its distance from the finger that took it.
    const ask = request(event, { x: place.x + one.grab.x, y: place.y + one.grab.y });
    drafts.push({ ask, draft });
  }

  function hover(/** @type {PointerEvent} */ event) {
    const place = view.placeOf(event);
    if (!place || event.pointerType !== 'mouse') return;
    const at = under(event, place);
    root.classList.toggle('over-handle', at.kind !== 'cloth');
    if (at.kind === 'handle' || at.kind === 'ghost' || isFull(model.state)) return unhover();
    drafts.push({ ask: request(event, place), draft: { kind: 'insert', at: nextIndex(model.state), grip: 'hover' } });
  }

  function unhover() {
    drafts.clear();
    if (model.state.draft?.grip === 'hover') model.change(drafted, null);
  }

  function cancel() {
    if (!press) return;
    clearTimeout(press.hold);
    press = null;
    drafts.clear();
    model.change(drafted, null);
  }

  root.addEventListener('pointerdown', (event) => {
    // A second finger zooms: it places nothing.
    if (press) return cancel();
    const place = view.placeOf(event);
    if (!startOf() || event.button !== 0 || !place) return;
    const at = under(event, place);
    const from = at.kind === 'handle' ? model.state.points[at.at] : place;
    /** @type {Press} */
    const one = {
      id: event.pointerId,
      touch: event.pointerType !== 'mouse',
      at,
      from: place,
      grab: { x: from.x - place.x, y: from.y - place.y },
      start: { x: event.clientX, y: event.clientY },
      dragging: false,
      hold: 0,
    };
    press = one;
    if (one.touch) {
      one.hold = window.setTimeout(() => {
        if (press !== one) return;
        one.dragging = true;
        drag(event, one);
      }, HOLD);
    }
  });

  root.addEventListener('pointermove', (event) => {
    if (!startOf()) return;
    if (!press) return hover(event);
    if (event.pointerId !== press.id) return;
    const far = Math.hypot(event.clientX - press.start.x, event.clientY - press.start.y);
    if (!press.dragging && far <= hand(event).slop) return;
    if (!press.dragging) {
      press.dragging = true;
      root.setPointerCapture(event.pointerId);
    }
    drag(event, press);
  });

  root.addEventListener('pointerup', async (event) => {
    if (!press || event.pointerId !== press.id) return;
    const one = press;
    clearTimeout(one.hold);
    if (one.dragging) {
      drag(event, one);
      await drafts.settled();
      press = null;
      model.change(dropped);
      return;
    }
    press = null;
    unhover();
    if (one.at.kind === 'handle') {
      const { at } = one.at;
      model.change(selected, model.state.selected === at ? null : at);
    } else if (isFull(model.state)) {
      full();
    } else {
      const point = await snap(request(event, one.from));
      if (point) model.change(placed, point, nextIndex(model.state));
    }
  });

  root.addEventListener('pointercancel', cancel);
  root.addEventListener('pointerleave', () => press || unhover());
}
