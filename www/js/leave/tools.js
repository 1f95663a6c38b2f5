// Leave's own buttons beside those of every round: zone or path, exactly or by the hand.

import { button, onClick } from '../dom.js';
import { set } from '../state.js';
import { zoneSet } from '../stroke/state.js';
import { zoneAround } from '../table/zone.js';
import { turned } from './state.js';

/** @import { Board } from '../table/sheet.js' */
/** @import { Mode, Model } from './state.js' */

/** @param {Model} model @param {Board} view @returns {Record<string, () => void>} the keys that do the same */
export function createTools(model, view) {
  const [zone, path, exact] = ['zone', 'path', 'exact'].map((name) => button(`leave-${name}`));

  /** @param {Mode} mode */
  const turn = (mode) => model.change(turned, mode);

  /** By keyboard a zone begins in the middle of the table. */
  function keyZone() {
    turn('zone');
    const { question, phase } = model.state;
    if (!question || phase !== 'drawing') return;
    if (!model.state.zone) model.change(zoneSet, zoneAround({ x: question.table.length / 2, y: question.table.width / 2 }));
    view.focus('zone');
  }

  function keyPath() {
    turn('path');
    if (model.state.phase === 'drawing') view.focus(model.state.points.length ? model.state.points.length - 1 : 'ghost');
  }

  function turnExact() {
    if (model.state.phase === 'drawing') model.change(set, { exact: !model.state.exact });
  }

  // A press without a pointer counts no clicks: it came from the keyboard, which cannot draw on the cloth.
  onClick(zone.id, ({ detail }) => (detail === 0 ? keyZone() : turn('zone')));
  onClick(path.id, ({ detail }) => (detail === 0 ? keyPath() : turn('path')));
  onClick(exact.id, turnExact);

  model.onDraw(({ phase, mode, exact: exactly }) => {
    for (const one of [zone, path, exact]) one.disabled = phase !== 'drawing';
    zone.setAttribute('aria-pressed', String(mode === 'zone'));
    path.setAttribute('aria-pressed', String(mode === 'path'));
    exact.setAttribute('aria-pressed', String(exactly));
  });

  return { z: keyZone, c: keyPath, x: turnExact };
}
