// Mouse, pen and finger on the Bench: drag balls, the aim's end and the zone; tap a pocket to aim at it.

import { listenToPress } from '../table/press.js';
import { zoneAt, zoneBetween, zoneDragged } from '../table/zone.js';
import { stroked, zoned } from './session.js';
import { shownItem } from './state.js';

/** @import { Place, PocketName } from '../engine/protocol.js' */
/** @import { Press } from '../table/press.js' */
/** @import { Grip } from '../table/zone.js' */
/** @import { Core } from './core.js' */
/** @import { Edit, Session } from './session.js' */
/** @import { Model } from './state.js' */
/** @import { View } from './view.js' */

/** @typedef {{ kind: 'ball', id: string } | { kind: 'aim' } | { kind: 'zone', grip: Grip } | { kind: 'pocket', id: PocketName } | { kind: 'cloth' }} Hit */

/** The direction from one place to another, degrees from +x. @param {Place} from @param {Place} to */
export const direction = (from, to) => Math.round((Math.atan2(to.y - from.y, to.x - from.x) * 180e3) / Math.PI) / 1000;

/** @param {SVGSVGElement} root @param {Model} model @param {View} view @param {Session} session @param {Core} core */
export function listenToPointer(root, model, view, session, core) {
  /** @param {Place} place @param {number} reach m @returns {{ hit: Hit, at: Place }} */
  function under(place, reach) {
    const { board, trial } = model.state;
    const item = shownItem(model.state);
    const nothing = { hit: /** @type {Hit} */ ({ kind: 'cloth' }), at: place };
    if (!board || !item || !trial || !view.frame) return nothing;
    const far = (/** @type {Place} */ one) => Math.hypot(one.x - place.x, one.y - place.y);
    const { ballRadius } = board.table;
    const ball = trial.balls.filter((one) => far(one) <= Math.max(ballRadius, reach)).sort((a, b) => far(a) - far(b))[0];
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

  /** What the drag makes of the item. @param {Press<Hit>} press @param {Place} place @param {boolean} free @returns {{ edit: Edit, aim: boolean } | null} */
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

  listenToPress(root, view, {
    isLive: () => model.state.item !== null,
    under,
    drag(press, place, event) {
      const wish = meant(press, place, event.altKey);
      if (!wish) return false;
      if (press.hit.kind === 'aim' && model.state.aimed) session.set({ aimed: false });
      session.preview(wish.edit, wish.aim);
      return true;
    },
    drop(press, place, event) {
      const wish = place && meant(press, place, event.altKey);
      if (press.hit.kind === 'cloth') session.set({ zoning: false });
      if (wish) void session.commit(wish.edit, wish.aim);
      else session.cancel();
    },
    tap({ hit }) {
      if (model.state.phase === 'playing') session.set({ phase: 'set', clock: 0 });
      if (hit.kind === 'pocket') return void session.aimAt(hit.id);
      const chosen = hit.kind === 'ball' ? /** @type {const} */ (`ball ${hit.id}`) : hit.kind === 'zone' ? 'zone' : null;
      session.set({ chosen: chosen === model.state.chosen ? null : chosen });
    },
    held: (held) => session.set({ held }),
    cancel: session.cancel,
  });
}
