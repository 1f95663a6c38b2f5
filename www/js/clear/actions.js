// Clear's buttons, and the keys that do the same.

import { DOUBLE, button, byId, hide, onClick, put } from '../dom.js';
import { set } from '../state.js';
import { listenToLetters } from '../panels/letters.js';
import { faster, ticked } from '../replay.js';
import { zoneSet } from '../stroke/state.js';
import { zoneAround } from '../table/zone.js';
import { isOver, isReady, turned } from './state.js';

/** @import { Session } from './session.js' */
/** @import { Model } from './state.js' */
/** @import { View } from './view.js' */

/**
 * @param {Model} model @param {Session} session @param {View} view
 * @param {{ share(): void, type(): void, quiet(): void, say(words: string): void, isOpen(): boolean }} does
 */
export function createActions(model, session, view, does) {
  const names = /** @type {const} */ (['play', 'rate', 'show', 'ways-on', 'deal', 'undo', 'redo', 'zone', 'remove', 'type', 'exact', 'back', 'replay', 'again', 'task']);
  const [play, rate, show, ways, deal, undo, redo, zone, remove, type, exact, back, replay, again, task] = names.map((name) => button(`clear-${name}`));
  const wish = byId('clear-wish', HTMLSelectElement);
  let rested = -DOUBLE;

  function pressPlay() {
    const { phase } = model.state;
    if (phase === 'playing') model.change(ticked, Infinity);
    else if (performance.now() - rested < DOUBLE) return;
    else if (phase === 'drawing') void session.play();
    else if (isOver(model.state)) session.restart();
  }

  function pressDeal() {
    if (model.state.dealing) return;
    does.quiet();
    void session.deal();
  }

  /** By keyboard a zone begins in the middle of the table. */
  function keyZone() {
    const { question, phase, panel } = model.state;
    if (!question || phase !== 'drawing') return;
    if (panel !== 'shot') model.change(turned, panel);
    if (!model.state.zone) model.change(zoneSet, zoneAround({ x: question.table.length / 2, y: question.table.width / 2 }));
    view.focus('zone');
  }

  function turnExact() {
    if (model.state.phase === 'drawing') model.change(set, { exact: !model.state.exact });
  }

  // A run that has begun is not taken away.
  function turnTasks() {
    const demands = !session.wish().demands;
    session.setWish({ demands });
    if (model.state.shots.length === 0) return void session.deal();
    does.say(demands ? 'From the next deal on some shots have a task: rails to go off, a side to come to.' : 'From the next deal on without tasks.');
  }

  const turn = (/** @type {'plan' | 'now'} */ panel) => () => model.change(turned, panel);
  const acts = {
    play: pressPlay, rate: () => model.change(faster), show: turn('plan'), 'ways-on': turn('now'), deal: pressDeal, share: does.share, type: does.type,
    remove: () => model.change(zoneSet, null), undo: session.undo, redo: session.redo, zone: keyZone, exact: turnExact, task: turnTasks,
    back: () => void session.takeBack(), replay: () => void session.replay(), again: session.restart,
  };
  for (const [name, act] of Object.entries(acts)) onClick(`clear-${name}`, act);
  const keys = {
    p: acts.play, l: acts.show, w: acts['ways-on'], d: acts.deal, s: acts.share, t: acts.type, z: keyZone, x: turnExact, b: acts.back, r: acts.replay, a: acts.again,
    q: turnTasks,
  };
  listenToLetters(does.isOpen, keys, session);
  wish.addEventListener('change', () => {
    const [game, balls] = wish.value.split(' ');
    session.setWish({ game: game === 'group' ? 'group' : 'rotation', balls: Number(balls) });
    void session.deal();
  });

  model.onChange((state, before) => {
    if (before.phase === 'playing' && state.phase !== 'playing') rested = performance.now();
  });

  model.onDraw((state) => {
    const { phase, panel, past, future, shots, question } = state;
    const [drawing, over] = [phase === 'drawing', isOver(state) && phase === 'played'];
    put(play, phase === 'playing' ? 'Skip' : over ? 'Again' : 'Play');
    play.disabled = question === null || phase === 'asking' || (drawing && !isReady(state));
    play.classList.toggle('primary', !over);
    deal.classList.toggle('primary', over);
    deal.setAttribute('aria-busy', String(state.dealing));
    hide(rate, phase !== 'playing');
    put(rate, `${state.rate}×`);
    rate.setAttribute('aria-label', `Speed ${state.rate} times, press to change`);
    hide(show, ways.hidden = phase === 'playing' || over);
    show.disabled = ways.disabled = !drawing;
    show.setAttribute('aria-pressed', String(drawing && panel === 'plan'));
    ways.setAttribute('aria-pressed', String(drawing && panel === 'now'));
    undo.disabled = !drawing || past.length === 0;
    redo.disabled = !drawing || future.length === 0;
    remove.disabled = !drawing || state.zone === null;
    zone.disabled = type.disabled = exact.disabled = !drawing;
    exact.setAttribute('aria-pressed', String(state.exact));
    back.disabled = replay.disabled = again.disabled = shots.length === 0 || !(drawing || over);
    const { game, balls, demands } = session.wish();
    task.setAttribute('aria-pressed', String(demands));
    if (document.activeElement !== wish) wish.value = `${game} ${balls}`;
  });
}
