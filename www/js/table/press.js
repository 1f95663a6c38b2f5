// A press of mouse, pen or finger on the table, from down to up: a tap, or a drag once it goes far enough.

/** @import { Place } from '../engine/protocol.js' */
/** @import { Board } from './sheet.js' */

/** How near counts, and how far is still no drag, CSS pixels. */
const FINGER = { reach: 22, slop: 8 };
const MOUSE = { reach: 10, slop: 3 };

/**
 * `grab` leads from where it was taken hold of to the place of what was, so that this keeps its distance from the finger.
 * @template H
 * @typedef {{ id: number, touch: boolean, hit: H, from: Place, grab: Place, start: { x: number, y: number }, dragging: boolean }} Press
 */

/**
 * What a part makes of a press. `under` finds what lies at a place, within so many metres, and the place of that; `drag`
 * says whether there is something to drag; `drop` ends a drag, off the table with null.
 * @template H
 * @typedef {object} Pressed
 * @property {() => boolean} isLive
 * @property {(place: Place, reach: number) => { hit: H, at: Place }} under
 * @property {(hit: H) => boolean} isCloth
 * @property {(press: Press<H>, place: Place, event: PointerEvent) => boolean} drag
 * @property {(press: Press<H>, place: Place | null, event: PointerEvent) => void} drop
 * @property {(press: Press<H>) => void} tap
 * @property {(place: Place | null) => void} held Where a finger holds something, to be shown beside it.
 * @property {() => void} cancel
 */

/** @template H @param {SVGSVGElement} root @param {Board} view @param {Pressed<H>} does */
export function listenToPress(root, view, { isLive, under, isCloth, drag, drop, tap, held, cancel }) {
  /** @type {Press<H> | null} */
  let press = null;

  const hand = (/** @type {PointerEvent} */ { pointerType }) => (pointerType === 'mouse' ? MOUSE : FINGER);
  const find = (/** @type {PointerEvent} */ event, /** @type {Place} */ place) => under(place, (hand(event).reach * (view.frame?.px ?? 1)) / 1000);

  function giveUp() {
    if (!press) return;
    press = null;
    held(null);
    cancel();
  }

  root.addEventListener('pointerdown', (event) => {
    // A second finger zooms: it moves nothing.
    if (press) return giveUp();
    const place = view.placeOf(event);
    if (!isLive() || event.button !== 0 || !place) return;
    const { hit, at } = find(event, place);
    press = {
      id: event.pointerId,
      touch: event.pointerType !== 'mouse',
      hit,
      from: place,
      grab: { x: at.x - place.x, y: at.y - place.y },
      start: { x: event.clientX, y: event.clientY },
      dragging: false,
    };
  });

  root.addEventListener('pointermove', (event) => {
    const place = view.placeOf(event);
    if (!place || !isLive()) return;
    if (!press) {
      if (event.pointerType === 'mouse') root.classList.toggle('over-handle', !isCloth(find(event, place).hit));
      return;
    }
    if (event.pointerId !== press.id) return;
    const far = Math.hypot(event.clientX - press.start.x, event.clientY - press.start.y);
    if ((!press.dragging && far <= hand(event).slop) || !drag(press, place, event)) return;
    if (!press.dragging) {
      press.dragging = true;
      root.setPointerCapture(event.pointerId);
    }
    if (press.touch) held({ x: place.x + press.grab.x, y: place.y + press.grab.y });
  });

  root.addEventListener('pointerup', (event) => {
    if (!press || event.pointerId !== press.id) return;
    const one = press;
    press = null;
    held(null);
    if (!isLive()) return;
    if (one.dragging) drop(one, view.placeOf(event), event);
    else tap(one);
  });

  root.addEventListener('pointercancel', giveUp);
}
