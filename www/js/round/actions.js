// The buttons that Read and Leave share, and the keys that do the same.

import { DOUBLE, button, hide, onClick, put } from '../dom.js';
import { listenToLetters } from '../panels/letters.js';
import { snapTurned } from '../path/state.js';
import { faster, rewound, ticked } from '../replay.js';
import { isPlayed } from './state.js';

/** @import { Name } from '../parts.js' */
/** @import { AnyRound, RoundModel } from './state.js' */

/**
 * What a part does on its buttons. `ready` says whether there is something to play, `removable` whether there is
 * something to take away; `keys` are letters beside those of all.
 * @template {AnyRound} S
 * @typedef {object} Does
 * @property {() => Promise<void>} play @property {() => Promise<void>} deal
 * @property {() => void} again
 * @property {() => void} undo @property {() => void} redo @property {() => void} remove
 * @property {() => void} share @property {() => void} type @property {() => void} why
 * @property {(state: S) => boolean} ready @property {(state: S) => boolean} removable
 * @property {() => void} quiet @property {() => boolean} isOpen
 * @property {Record<string, () => void>} [keys]
 */

/** @template {AnyRound} S @param {Name} name @param {RoundModel<S>} model @param {Does<S>} does */
export function createActions(name, model, does) {
  const id = (/** @type {string} */ one) => `${name}-${one}`;
  const [play, rate, again, deal, undo, redo, remove, snap, type] = ['play', 'rate', 'again', 'deal', 'undo', 'redo', 'remove', 'snap', 'type'].map((one) => button(id(one)));
  let turned = -DOUBLE;

  function pressPlay() {
    const { phase } = model.state;
    if (phase === 'drawing') void does.play();
    else if (performance.now() - turned < DOUBLE) return;
    else if (phase === 'playing') model.change(ticked, Infinity);
    else if (phase === 'played') model.change(rewound);
  }

  function pressDeal() {
    if (model.state.dealing || performance.now() - turned < DOUBLE) return;
    does.quiet();
    void does.deal();
  }

  function pressAgain() {
    does.quiet();
    does.again();
  }

  const turnSnap = () => model.change(snapTurned);
  const acts = { play: pressPlay, again: pressAgain, deal: pressDeal, rate: () => model.change(faster), snap: turnSnap };
  for (const [one, act] of Object.entries(acts)) onClick(id(one), act);
  for (const one of /** @type {const} */ (['share', 'type', 'undo', 'redo', 'remove'])) onClick(id(one), does[one]);
  const keys = { p: pressPlay, a: pressAgain, d: pressDeal, s: does.share, t: does.type, w: does.why, n: turnSnap, ...does.keys };
  listenToLetters(does.isOpen, keys, does);

  model.onChange((state, before) => {
    if (state.phase !== before.phase && isPlayed(state)) turned = performance.now();
  });

  model.onDraw((state) => {
    const { phase, question, past, future } = state;
    const drawing = phase === 'drawing';
    put(play, phase === 'playing' ? 'Skip' : phase === 'played' ? 'Replay' : 'Play');
    play.disabled = question === null || phase === 'asking' || (drawing && !does.ready(state));
    play.classList.toggle('primary', phase !== 'played');
    deal.classList.toggle('primary', phase === 'played');
    deal.setAttribute('aria-busy', String(state.dealing));
    hide(again, phase !== 'played');
    hide(rate, phase !== 'playing');
    put(rate, `${state.rate}×`);
    rate.setAttribute('aria-label', `Speed ${state.rate} times, press to change`);
    undo.disabled = !drawing || past.length === 0;
    redo.disabled = !drawing || future.length === 0;
    remove.disabled = !drawing || !does.removable(state);
    snap.disabled = type.disabled = !drawing;
    snap.setAttribute('aria-pressed', String(state.snap));
  });
}
