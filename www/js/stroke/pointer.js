// Mouse, pen and finger on the zone: drag a new one, drag its grips, tap where it shall go, tap a pocket or a ball.

import { set } from '../state.js';
import { listenToPress } from '../table/press.js';
import { zoneAround, zoneAt, zoneBetween, zoneDragged } from '../table/zone.js';
import { zoneDrafted, zoneSet } from './state.js';

/** @import { Place, Table, Zone } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */
/** @import { Press } from '../table/press.js' */
/** @import { Board } from '../table/sheet.js' */
/** @import { Grip } from '../table/zone.js' */
/** @import { Striking } from './state.js' */

/** @typedef {{ kind: 'zone', grip: Grip } | { kind: 'spot', spot: Spot } | { kind: 'cloth' }} Hit */
/** What can be tapped beside the zone: a pocket, say. @typedef {Place & { id: string, r: number }} Spot */
/** A state with a zone on a table. @typedef {Striking & { mode: string, question: { table: Table } | null }} Zoned */

/**
 * @template {Zoned} S
 * @template {Spot} T
 * @param {SVGSVGElement} root @param {ModelOf<S>} model @param {Board} view
 * @param {(state: S) => readonly T[]} spotsOf @param {(spot: T) => void} touch What a tap on a spot does.
 */
export function listenToZonePointer(root, model, view, spotsOf, touch) {
  /** @param {Place} place @param {number} reach m @returns {{ hit: Hit, at: Place }} */
  function under(place, reach) {
    const { zone } = model.state;
    const grip = zone && view.frame ? zoneAt(zone, place, view.frame, reach) : null;
    if (zone && grip) return { hit: { kind: 'zone', grip }, at: zone };
    const far = (/** @type {Place} */ one) => Math.hypot(one.x - place.x, one.y - place.y);
    const spot = spotsOf(model.state).find((one) => far(one) <= Math.max(one.r, reach));
    return spot ? { hit: { kind: 'spot', spot }, at: spot } : { hit: { kind: 'cloth' }, at: place };
  }

  /** A zone has its middle on the table. @param {Zone} zone @returns {Zone} */
  function kept(zone) {
    const { length, width } = model.state.question?.table ?? { length: zone.x, width: zone.y };
    return { ...zone, x: Math.min(length, Math.max(0, zone.x)), y: Math.min(width, Math.max(0, zone.y)) };
  }

  /** What a drag makes. @param {Press<Hit>} press @param {Place} place @returns {Zone | null} */
  function meant({ hit, from, grab }, place) {
    const { zone } = model.state;
    if (hit.kind === 'zone' && zone) return kept(zoneDragged(zone, hit.grip, place, grab));
    return hit.kind === 'cloth' ? kept(zoneBetween(from, place)) : null;
  }

  listenToPress(root, view, {
    isLive: () => model.state.phase === 'drawing' && model.state.mode === 'zone',
    under,
    drag(press, place) {
      const zone = meant(press, place);
      model.change(zoneDrafted, zone);
      return zone !== null;
    },
    drop() {
      const { zoning } = model.state;
      if (zoning) model.change(zoneSet, zoning);
    },
    tap({ hit, from }) {
      const { zone } = model.state;
      if (hit.kind === 'spot') touch(/** @type {T} */ (hit.spot));
      else if (hit.kind === 'cloth') model.change(zoneSet, kept(zone ? { ...zone, x: from.x, y: from.y } : zoneAround(from)));
    },
    held: (held) => model.change(set, /** @type {Partial<S>} */ ({ held })),
    cancel: () => model.change(set, /** @type {Partial<S>} */ ({ zoning: null })),
  });
}
