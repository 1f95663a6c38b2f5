// The buttons, and the keys that do the same.

import { button, onClick } from '../../dom.js';
import { listenToLetters } from '../../panels/letters.js';
import { redone, removed, snapTurned, undone } from '../../path/state.js';
import { faster, rewound, ticked } from '../../replay.js';

/** @import { Model } from '../state.js' */
/** @import { Session } from '../session.js' */

/** A second press this soon was meant for what the button did before, ms. */
const DOUBLE = 600;
/** @param {Model} model @param {Session} session @param {{ type: () => void, share: () => void, why: () => void }} dialogs @param {() => void} quiet @param {() => boolean} isOpen */
export function createActions(model, session, dialogs, quiet, isOpen) {
  const [play, rate, deal] = [button('play'), button('rate'), button('deal')];
  const [undo, redo, remove, snap, type] = ['undo', 'redo', 'remove', 'snap', 'type'].map(button);
  let turned = -DOUBLE;

  function pressPlay() {
    const { phase } = model.state;
    if (phase === 'drawing') void session.play();
    else if (performance.now() - turned < DOUBLE) return;
    else if (phase === 'playing') model.change(ticked, Infinity);
    else if (phase === 'played') model.change(rewound);
  }

  function pressDeal() {
    if (model.state.dealing || performance.now() - turned < DOUBLE) return;
    quiet();
    void session.deal();
  }

  const pressRemove = () => model.change(removed, model.state.selected ?? model.state.points.length - 1);

  onClick('play', pressPlay);
  onClick('deal', pressDeal);
  onClick('share', dialogs.share);
  onClick('type', dialogs.type);
  onClick('rate', () => model.change(faster));
  onClick('undo', () => model.change(undone));
  onClick('redo', () => model.change(redone));
  onClick('remove', pressRemove);
  onClick('snap', () => model.change(snapTurned));

  const keys = { p: pressPlay, d: pressDeal, s: dialogs.share, t: dialogs.type, w: dialogs.why, n: () => model.change(snapTurned) };
  listenToLetters(isOpen, keys, { undo: () => model.change(undone), redo: () => model.change(redone) });

  model.onChange((state, before) => {
    if (state.phase !== before.phase && (state.phase === 'playing' || state.phase === 'played')) turned = performance.now();
  });

  model.onDraw((state) => {
    const { phase, question, points, past, future } = state;
    const drawing = phase === 'drawing';
    play.textContent = phase === 'playing' ? 'Skip' : phase === 'played' ? 'Replay' : 'Play';
    play.disabled = question === null || (drawing && points.length === 0);
    play.classList.toggle('primary', phase !== 'played');
    deal.classList.toggle('primary', phase === 'played');
    deal.setAttribute('aria-busy', String(state.dealing));
    rate.hidden = phase !== 'playing';
    rate.textContent = `${state.rate}×`;
    rate.setAttribute('aria-label', `Speed ${state.rate} times, press to change`);
    undo.disabled = !drawing || past.length === 0;
    redo.disabled = !drawing || future.length === 0;
    remove.disabled = !drawing || points.length === 0;
    snap.disabled = type.disabled = !drawing;
    snap.setAttribute('aria-pressed', String(state.snap));
  });
}
