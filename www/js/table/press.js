// A press of mouse, pen or finger on the table, from down to up: a tap, or a drag once it goes far enough.

/** @import { Place } from '../engine/protocol.js' */
/** @import { Board } from './sheet.js' */

/** How near counts, and how far is still no drag, CSS pixels. */
const FINGER = { reach: 22, slop: 8 };
const MOUSE = { reach: 10, slop: 3 };

/**
 * `grab` leads from where it was taken hold of to the place of what was, so that this keeps its distance from the finger.
 * @template H
 * @typedef {{ id: number, touch: boolean, hit: H, from: Place, grab: Place, start: { x: number, y: number }, dragging: boolean, hold: number }} Press
 */

/**
 * What a part makes of a press. `under` finds what lies at a place, within so many metres by mouse or by touch, and the
 * place of that; `drag` says whether there is something to drag; `drop` ends a drag, off the table with null; `held`
 * hears where a finger holds something, to be shown beside it. A finger that rests for `hold` ms drags; `hover` hears
 * where the mouse is, and `left` that it is no longer there.
 * @template {{ kind: string }} H
 * @typedef {object} Pressed
 * @property {() => boolean} isLive
 * @property {(place: Place, reach: number, touch: boolean) => { hit: H, at: Place }} under
 * @property {(press: Press<H>, place: Place, event: PointerEvent) => boolean} drag
 * @property {(press: Press<H>, place: Place | null, event: PointerEvent) => void} drop
 * @property {(press: Press<H>, event: PointerEvent) => void} tap
 * @property {() => void} cancel
 * @property {(place: Place | null) => void} [held]
 * @property {number} [hold]
 * @property {(hit: H, place: Place, event: PointerEvent) => void} [hover]
 * @property {() => void} [left]
 */

/** @template {{ kind: string }} H @param {SVGSVGElement} root @param {Board} view @param {Pressed<H>} does What is 'cloth' is nothing to take hold of. */
export function listenToPress(root, view, { isLive, under, drag, drop, tap, cancel, held, hold, hover, left }) {
  /** @type {Press<H> | null} */
  let press = null;

  const isTouch = (/** @type {PointerEvent} */ { pointerType }) => pointerType !== 'mouse';

  /** @param {PointerEvent} event @param {Place} place */
  function find(event, place) {
    const touch = isTouch(event);
    return under(place, ((touch ? FINGER : MOUSE).reach * (view.frame?.px ?? 1)) / 1000, touch);
  }

  /** Ends the press, whatever becomes of it. */
  function release() {
    clearTimeout(press?.hold);
    press = null;
    held?.(null);
  }

  function giveUp() {
    if (!press) return;
    release();
    cancel();
  }

  root.addEventListener('pointerdown', (event) => {
    // A second finger zooms: it moves nothing.
    if (press) return giveUp();
    const place = view.placeOf(event);
    if (!isLive() || event.button !== 0 || !place) return;
    const { hit, at } = find(event, place);
    /** @type {Press<H>} */
    const one = {
      id: event.pointerId,
      touch: isTouch(event),
      hit,
      from: place,
      grab: { x: at.x - place.x, y: at.y - place.y },
      start: { x: event.clientX, y: event.clientY },
      dragging: false,
      hold: 0,
    };
    press = one;
    if (hold === undefined || !one.touch) return;
    one.hold = window.setTimeout(() => {
      if (press === one) one.dragging = drag(one, place, event);
    }, hold);
  });

  root.addEventListener('pointermove', (event) => {
    const place = view.placeOf(event);
    if (!place || !isLive()) return;
    if (!press) {
      if (isTouch(event)) return;
      const { hit } = find(event, place);
      root.classList.toggle('over-handle', hit.kind !== 'cloth');
      return hover?.(hit, place, event);
    }
    if (event.pointerId !== press.id) return;
    const far = Math.hypot(event.clientX - press.start.x, event.clientY - press.start.y);
    if ((!press.dragging && far <= (press.touch ? FINGER : MOUSE).slop) || !drag(press, place, event)) return;
    if (!press.dragging) {
      press.dragging = true;
      root.setPointerCapture(event.pointerId);
    }
    if (press.touch) held?.({ x: place.x + press.grab.x, y: place.y + press.grab.y });
  });

  root.addEventListener('pointerup', (event) => {
    if (!press || event.pointerId !== press.id) return;
    const one = press;
    release();
    if (!isLive()) return;
    if (one.dragging) drop(one, view.placeOf(event), event);
    else tap(one, event);
  });

  root.addEventListener('pointercancel', giveUp);
  root.addEventListener('pointerleave', () => press || left?.());
}
