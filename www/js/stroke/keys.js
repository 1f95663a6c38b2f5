// The keyboard on the drawing: the zone is moved, sized and turned; a pocket is chosen.

import { zoneKeyed } from '../table/zone.js';
import { zoneSet } from './state.js';

/** @import { PocketName } from '../engine/protocol.js' */
/** @import { ModelOf } from '../state.js' */
/** @import { Board } from '../table/sheet.js' */
/** @import { Zoned } from './pointer.js' */

/**
 * @template {Zoned} S
 * @param {SVGSVGElement} root @param {ModelOf<S>} model @param {Board} view
 * @param {(pocket: PocketName) => void} aim Aims at a pocket.
 */
export function listenToZoneKeys(root, model, view, aim) {
  root.addEventListener('keydown', (event) => {
    const handle = event.target instanceof Element ? (event.target.getAttribute('data-handle') ?? '') : '';
    const { zone, phase, mode } = model.state;
    if (phase !== 'drawing' || event.ctrlKey || event.metaKey || event.altKey) return;
    if (handle.startsWith('pocket ') && (event.key === 'Enter' || event.key === ' ')) {
      event.preventDefault();
      aim(/** @type {PocketName} */ (handle.slice(7)));
    } else if (handle === 'zone' && mode === 'zone' && zone && view.frame) {
      const gone = event.key === 'Delete' || event.key === 'Backspace';
      const next = gone ? null : zoneKeyed(zone, event, view.frame);
      if (!gone && !next) return;
      event.preventDefault();
      model.change(zoneSet, next);
    }
  });
}
