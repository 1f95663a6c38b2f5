// Leave's buttons, and the keys that do the same.

import { button, byId, html, onClick } from '../../dom.js';
import { listenToLetters } from '../../panels/letters.js';
import { removed, snapTurned } from '../../path/state.js';
import { faster, rewound, ticked } from '../../replay.js';
import { zoneAround } from '../../table/zone.js';
import { isReady, set, turned, zoneSet } from '../state.js';

/** @import { Session } from '../session.js' */
/** @import { Mode, Model } from '../state.js' */
/** @import { View } from '../view.js' */

/** A second press this soon was meant for what the button did before, ms. */
const DOUBLE = 600;

/**
 * @param {Model} model @param {Session} session @param {View} view
 * @param {{ type: () => void, share: () => void, why: () => void }} dialogs @param {() => void} quiet @param {() => boolean} isOpen
 */
export function createActions(model, session, view, dialogs, quiet, isOpen) {
  const id = (/** @type {string} */ name) => `leave-${name}`;
  const [play, rate, deal, exact] = ['play', 'rate', 'deal', 'exact'].map((name) => button(id(name)));
  const [undo, redo, zone, path, remove, snap, type] = ['undo', 'redo', 'zone', 'path', 'remove', 'snap', 'type'].map((name) => button(id(name)));
  const hand = byId(id('hand'), HTMLSelectElement);
  let turnedAt = -DOUBLE;

  function pressPlay() {
    const { phase } = model.state;
    if (phase === 'drawing') void session.play();
    else if (performance.now() - turnedAt < DOUBLE) return;
    else if (phase === 'playing') model.change(ticked, Infinity);
    else if (phase === 'played') model.change(rewound);
  }

  function pressDeal() {
    if (model.state.dealing || performance.now() - turnedAt < DOUBLE) return;
    quiet();
    void session.deal();
  }

  function pressRemove() {
    if (model.state.mode === 'zone') model.change(zoneSet, null);
    else model.change(removed, model.state.selected ?? model.state.points.length - 1);
  }

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

  const typePoint = () => {
    turn('path');
    dialogs.type();
  };

  onClick(id('play'), pressPlay);
  onClick(id('deal'), pressDeal);
  onClick(id('share'), dialogs.share);
  onClick(id('rate'), () => model.change(faster));
  onClick(id('undo'), session.undo);
  onClick(id('redo'), session.redo);
  onClick(id('zone'), () => turn('zone'));
  onClick(id('path'), () => turn('path'));
  onClick(id('remove'), pressRemove);
  onClick(id('snap'), () => model.change(snapTurned));
  onClick(id('type'), typePoint);
  onClick(id('exact'), turnExact);
  hand.addEventListener('change', () => model.change(set, { hand: hand.value }));

  const keys = {
    p: pressPlay, d: pressDeal, s: dialogs.share, t: typePoint, n: () => model.change(snapTurned),
    z: keyZone, c: keyPath, x: turnExact, w: dialogs.why,
  };
  listenToLetters(isOpen, keys, session);

  model.onChange((state, before) => {
    if (state.phase !== before.phase && (state.phase === 'playing' || state.phase === 'played')) turnedAt = performance.now();
  });

  model.onDraw((state) => {
    const { phase, question, points, past, future, mode } = state;
    const drawing = phase === 'drawing';
    play.textContent = phase === 'playing' ? 'Skip' : phase === 'played' ? 'Replay' : 'Play';
    play.disabled = question === null || (drawing && !isReady(state)) || phase === 'asking';
    play.classList.toggle('primary', phase !== 'played');
    deal.classList.toggle('primary', phase === 'played');
    deal.setAttribute('aria-busy', String(state.dealing));
    rate.hidden = phase !== 'playing';
    rate.textContent = `${state.rate}×`;
    rate.setAttribute('aria-label', `Speed ${state.rate} times, press to change`);
    undo.disabled = !drawing || past.length === 0;
    redo.disabled = !drawing || future.length === 0;
    remove.disabled = !drawing || (mode === 'zone' ? state.zone === null : points.length === 0);
    for (const one of [zone, path, snap, type, exact]) one.disabled = !drawing;
    zone.setAttribute('aria-pressed', String(mode === 'zone'));
    path.setAttribute('aria-pressed', String(mode === 'path'));
    snap.setAttribute('aria-pressed', String(state.snap));
    exact.setAttribute('aria-pressed', String(state.exact));
    hand.disabled = !drawing;
    if (hand.options.length === 0) {
      hand.append(...session.hands.map(({ id: value, name, words }) => Object.assign(html('option', '', name), { value, title: words })));
    }
    if (hand.value !== state.hand) hand.value = state.hand;
  });
}
