// The keyboard on the Bench's drawing: arrows move a ball, turn the aim, move the zone; Enter chooses.

import { ARROWS, onTable, stepOf } from '../table/frame.js';
import { zoneInWords, zoneKeyed } from '../table/zone.js';
import { stroked, zoned } from './session.js';

/** @import { PocketName } from '../engine/protocol.js' */
/** @import { Core } from './core.js' */
/** @import { Session } from './session.js' */
/** @import { Model } from './state.js' */
/** @import { View } from './view.js' */

/** Step of an arrow key that turns the aim, degrees. */
const TURN = 0.1;

/** @param {SVGSVGElement} root @param {Model} model @param {View} view @param {Session} session @param {Core} core @param {(sentence: string) => void} announce */
export function listenToKeys(root, model, view, session, core, announce) {
  root.addEventListener('keydown', async (event) => {
    const handle = event.target instanceof Element ? (event.target.getAttribute('data-handle') ?? '') : '';
    const { item, aimed, board } = model.state;
    if (!handle || !item || !board || !view.frame || event.ctrlKey || event.metaKey || event.altKey) return;
    const [kind, name] = handle.split(' ');
    const arrow = ARROWS[event.key];
    const press = event.key === 'Enter' || event.key === ' ';
    if (kind === 'ball' && arrow) {
      event.preventDefault();
      const step = stepOf(event);
      const way = onTable(view.frame, ...arrow);
      const ball = item.shot.balls.find(({ id }) => id === name);
      if (!ball) return;
      await session.commit((one) => core.place(one, name, { x: ball.x + step * way.x, y: ball.y + step * way.y }, false), aimed);
      announce(model.state.trial?.balls.find(({ id }) => id === name)?.words ?? '');
    } else if (kind === 'ball' && press) {
      event.preventDefault();
      const chosen = /** @type {const} */ (`ball ${name}`);
      session.set({ chosen: model.state.chosen === chosen ? null : chosen });
    } else if (kind === 'ball' && (event.key === 'Delete' || event.key === 'Backspace')) {
      event.preventDefault();
      await session.commit((one) => core.remove(one, name));
    } else if (kind === 'aim' && arrow) {
      event.preventDefault();
      const turn = (event.key === 'ArrowLeft' || event.key === 'ArrowUp' ? 1 : -1) * (event.shiftKey ? TURN / 10 : event.repeat ? 5 * TURN : TURN);
      session.set({ aimed: false });
      await session.commit(stroked({ azimuth: Math.round(1000 * (item.shot.stroke.azimuth + turn)) / 1000 }));
    } else if (kind === 'pocket' && press) {
      event.preventDefault();
      await session.aimAt(/** @type {PocketName} */ (name));
      announce([model.state.way && `At ${model.state.way}.`, model.state.trial?.words].filter(Boolean).join(' '));
    } else if (kind === 'zone' && item.demand.zone) {
      if (event.key === 'Delete' || event.key === 'Backspace') {
        event.preventDefault();
        await session.commit(zoned(null));
        return;
      }
      const zone = zoneKeyed(item.demand.zone, event, view.frame);
      if (!zone) return;
      event.preventDefault();
      await session.commit(zoned(zone));
      announce(zoneInWords(zone, board.table));
    }
  });
}
