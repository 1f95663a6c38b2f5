// Mouse, pen and finger on the Bench: drag balls, the aim's end and the zone; tap a pocket to aim at it.

import { zoneAt, zoneBetween, zoneDragged } from '../table/zone.js';
import { stroked, zoned } from './session.js';
import { shownItem } from './state.js';

/** @import { Place } from '../engine/protocol.js' */
/** @import { Grip } from '../table/zone.js' */
/** @import { Core } from './core.js' */
/** @import { Edit, Session } from './session.js' */
/** @import { Model } from './state.js' */
/** @import { View } from './view.js' */

/** How near counts, and how far is still no drag, CSS pixels. */
const FINGER = { reach: 22, slop: 8 };
const MOUSE = { reach: 10, slop: 3 };

/** @typedef {{ kind: 'ball', id: string } | { kind: 'aim' } | { kind: 'zone', grip: Grip } | { kind: 'pocket', id: any } | { kind: 'cloth' }} Hit */
/** @typedef {{ id: number, touch: boolean, hit: Hit, from: Place, grab: Place, start: { x: number, y: number }, dragging: boolean }} Press */

/** The direction from one place to another, degrees from +x. @param {Place} from @param {Place} to */
export const direction = (from, to) => Math.round((Math.atan2(to.y - from.y, to.x - from.x) * 180e3) / Math.PI) / 1000;

/** @param {SVGSVGElement} root @param {Model} model @param {View} view @param {Session} session @param {Core} core */
export function listenToPointer(root, model, view, session, core) {
  /** @type {Press | null} */
  let press = null;

  const hand = (/** @type {PointerEvent} */ { pointerType }) => (pointerType === 'mouse' ? MOUSE : FINGER);
  const toMetres = (/** @type {number} */ px) => (px * (view.frame?.px ?? 1)) / 1000;

  /** @param {Place} place @param {number} reach m @returns {{ hit: Hit, at: Place }} */
  function under(place, reach) {
    const { board, trial } = model.state;
    const item = shownItem(model.state);
    const nothing = { hit: /** @type {Hit} */ ({ kind: 'cloth' }), at: place };
    if (!board || !item || !trial || !view.frame) return nothing;
    const far = (/** @type {Place} */ one) => Math.hypot(one.x - place.x, one.y - place.y);
    const { ballRadius } = board.table;
    const ball = board.balls.filter((one) => far(one) <= Math.max(ballRadius, reach)).sort((a, b) => far(a) - far(b))[0];
    // The end of the aim touches a ball: what is nearer is meant.
    const end = trial.ghost ?? { x: trial.aim.at(-1)?.[0] ?? -1, y: trial.aim.at(-1)?.[1] ?? -1 };
    const nearest = ball && far(ball) < far(end);
    if (far(end) <= reach && !nearest) return { hit: { kind: 'aim' }, at: end };
    const { zone } = item.demand;
    const grip = zone ? zoneAt(zone, place, view.frame, reach) : null;
    if (zone && grip && grip !== 'middle') return { hit: { kind: 'zone', grip }, at: place };
    if (ball) return { hit: { kind: 'ball', id: ball.id }, at: ball };
    const pocket = board.table.pockets.find((one) => far(one) <= Math.max(one.r, reach));
    if (pocket) return { hit: { kind: 'pocket', id: pocket.id }, at: pocket };
    if (zone && grip) return { hit: { kind: 'zone', grip }, at: zone };
    return nothing;
  }

  /** What the drag makes of the item. @param {Press} one @param {Place} place @param {boolean} free @returns {{ edit: Edit, aim: boolean } | null} */
  function meant({ hit, grab, from }, place, free) {
    const { item, aimed, snap, zoning } = model.state;
    if (!item) return null;
    const at = { x: place.x + grab.x, y: place.y + grab.y };
    if (hit.kind === 'ball') return { edit: (one) => core.place(one, hit.id, at, snap && !free), aim: aimed };
    if (hit.kind === 'aim') {
      const cue = item.shot.balls.find(({ id }) => id === 'cue');
      return cue ? { edit: stroked({ azimuth: direction(cue, at) }), aim: false } : null;
    }
    if (hit.kind === 'zone' && item.demand.zone) return { edit: zoned(zoneDragged(item.demand.zone, hit.grip, place, grab)), aim: false };
    if (hit.kind === 'cloth' && zoning) return { edit: zoned(zoneBetween(from, place)), aim: false };
    return null;
  }

  function cancel() {
    if (!press) return;
    press = null;
    session.set({ held: null });
    session.cancel();
  }

  root.addEventListener('pointerdown', (event) => {
    // A second finger zooms: it moves nothing.
    if (press) return cancel();
    const place = view.placeOf(event);
    if (event.button !== 0 || !place || !model.state.item) return;
    if (model.state.phase === 'playing') session.set({ phase: 'set', clock: 0 });
    const { hit, at } = under(place, toMetres(hand(event).reach));
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
    if (!place) return;
    if (!press) {
      if (event.pointerType === 'mouse') root.classList.toggle('over-handle', under(place, toMetres(MOUSE.reach)).hit.kind !== 'cloth');
      return;
    }
    if (event.pointerId !== press.id) return;
    const far = Math.hypot(event.clientX - press.start.x, event.clientY - press.start.y);
    if (!press.dragging && far <= hand(event).slop) return;
    const wish = meant(press, place, event.altKey);
    if (!wish) return;
    if (!press.dragging) {
      press.dragging = true;
      root.setPointerCapture(event.pointerId);
      if (press.hit.kind === 'aim') session.set({ aimed: false });
    }
    session.preview(wish.edit, wish.aim);
    if (press.touch) session.set({ held: { x: place.x + press.grab.x, y: place.y + press.grab.y } });
  });

  root.addEventListener('pointerup', (event) => {
    if (!press || event.pointerId !== press.id) return;
    const one = press;
    press = null;
    session.set({ held: null });
    const place = view.placeOf(event);
    if (one.dragging) {
      const wish = place && meant(one, place, event.altKey);
      if (one.hit.kind === 'cloth') session.set({ zoning: false });
      if (wish) void session.commit(wish.edit, wish.aim);
      else session.cancel();
    } else if (one.hit.kind === 'pocket') {
      void session.aimAt(one.hit.id);
    } else {
      const chosen = one.hit.kind === 'ball' ? /** @type {const} */ (`ball ${one.hit.id}`) : one.hit.kind === 'zone' ? 'zone' : null;
      session.set({ chosen: chosen === model.state.chosen ? null : chosen });
    }
  });

  root.addEventListener('pointercancel', cancel);
}
