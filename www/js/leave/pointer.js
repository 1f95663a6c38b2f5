// Mouse, pen and finger on Leave's zone: drag a new one, drag its grips, tap where it shall go, tap a pocket.

import { zoneAround, zoneAt, zoneBetween, zoneDragged } from '../table/zone.js';
import { set, zoneDrafted, zoneSet } from './state.js';

/** @import { Place, PocketName, Zone } from '../engine/protocol.js' */
/** @import { Board } from '../table/sheet.js' */
/** @import { Grip } from '../table/zone.js' */
/** @import { Model } from './state.js' */

/** How near counts, and how far is still no drag, CSS pixels. */
const FINGER = { reach: 22, slop: 8 };
const MOUSE = { reach: 10, slop: 3 };

/** @typedef {{ kind: 'zone', grip: Grip } | { kind: 'pocket', id: PocketName } | { kind: 'cloth' }} Hit */
/** @typedef {{ id: number, touch: boolean, hit: Hit, from: Place, grab: Place, start: { x: number, y: number }, dragging: boolean }} Press */

/**
 * @param {SVGSVGElement} root @param {Model} model @param {Board} view
 * @param {(pocket: PocketName) => void} aim Aims at a pocket.
 */
export function listenToZonePointer(root, model, view, aim) {
  /** @type {Press | null} */
  let press = null;

  const isLive = () => model.state.phase === 'drawing' && model.state.mode === 'zone';
  const hand = (/** @type {PointerEvent} */ { pointerType }) => (pointerType === 'mouse' ? MOUSE : FINGER);

  /** @param {Place} place @param {number} px How near counts. @returns {Hit} */
  function under(place, px) {
    const { zone, question } = model.state;
    if (!view.frame || !question) return { kind: 'cloth' };
    const reach = (px * view.frame.px) / 1000;
    const grip = zone ? zoneAt(zone, place, view.frame, reach) : null;
    if (grip) return { kind: 'zone', grip };
    const far = (/** @type {Place} */ one) => Math.hypot(one.x - place.x, one.y - place.y);
    const pocket = question.item.demand.pocket ? null : question.table.pockets.find((one) => far(one) <= Math.max(one.r, reach));
    return pocket ? { kind: 'pocket', id: pocket.id } : { kind: 'cloth' };
  }

  /** A zone has its middle on the table. @param {Zone} zone @returns {Zone} */
  function kept(zone) {
    const { length, width } = model.state.question?.table ?? { length: zone.x, width: zone.y };
    return { ...zone, x: Math.min(length, Math.max(0, zone.x)), y: Math.min(width, Math.max(0, zone.y)) };
  }

  /** What a drag makes. @param {Press} one @param {Place} place @returns {Zone | null} */
  function meant({ hit, from, grab }, place) {
    const { zone } = model.state;
    if (hit.kind === 'zone' && zone) return kept(zoneDragged(zone, hit.grip, place, grab));
    return hit.kind === 'cloth' ? kept(zoneBetween(from, place)) : null;
  }

  function cancel() {
    if (!press) return;
    press = null;
    model.change(set, { held: null, zoning: null });
  }

  root.addEventListener('pointerdown', (event) => {
    // A second finger zooms: it marks nothing.
    if (press) return cancel();
    const place = view.placeOf(event);
    if (!isLive() || event.button !== 0 || !place) return;
    const hit = under(place, hand(event).reach);
    const { zone } = model.state;
    press = {
      id: event.pointerId,
      touch: event.pointerType !== 'mouse',
      hit,
      from: place,
      grab: hit.kind === 'zone' && zone ? { x: zone.x - place.x, y: zone.y - place.y } : { x: 0, y: 0 },
      start: { x: event.clientX, y: event.clientY },
      dragging: false,
    };
  });

  root.addEventListener('pointermove', (event) => {
    const place = view.placeOf(event);
    if (!place || !isLive()) return;
    if (!press) {
      if (event.pointerType === 'mouse') root.classList.toggle('over-handle', under(place, MOUSE.reach).kind !== 'cloth');
      return;
    }
    if (event.pointerId !== press.id) return;
    const far = Math.hypot(event.clientX - press.start.x, event.clientY - press.start.y);
    if (!press.dragging && far <= hand(event).slop) return;
    if (!press.dragging) {
      press.dragging = true;
      root.setPointerCapture(event.pointerId);
    }
    model.change(zoneDrafted, meant(press, place));
    if (press.touch) model.change(set, { held: place });
  });

  root.addEventListener('pointerup', (event) => {
    if (!press || event.pointerId !== press.id) return;
    const one = press;
    press = null;
    if (!isLive()) return;
    model.change(set, { held: null });
    const { zone, zoning } = model.state;
    if (one.dragging) {
      if (zoning) model.change(zoneSet, zoning);
    } else if (one.hit.kind === 'pocket') {
      aim(one.hit.id);
    } else if (one.hit.kind === 'cloth') {
      model.change(zoneSet, kept(zone ? { ...zone, x: one.from.x, y: one.from.y } : zoneAround(one.from)));
    }
  });

  root.addEventListener('pointercancel', cancel);
}
