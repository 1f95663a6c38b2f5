// The Bench's buttons, and the keys that do the same.

import { button, onClick, put } from '../../dom.js';
import { sentenceFor } from '../../sentences.js';
import { listenToLetters } from '../../panels/letters.js';
import { zoneAround } from '../../table/zone.js';
import { asking, zoned } from '../session.js';
import { redone, shownItem, started, undone } from '../state.js';

/** @import { Core } from '../core.js' */
/** @import { Session } from '../session.js' */
/** @import { Model } from '../state.js' */

/**
 * @param {Model} model @param {Session} session @param {Core} core
 * @param {{ balls: () => void, ask: () => void, type: () => void, share: () => void, practise: () => void }} does
 * @param {() => boolean} isOpen @param {() => boolean} still @param {(sentence: string) => void} announce @param {(sentence: string) => void} say
 */
export function createTools(model, session, core, does, isOpen, still, announce, say) {
  const id = (/** @type {string} */ name) => `bench-${name}`;
  const [play, ten, undo, redo, snap, zone, map] = ['play', 'ten', 'undo', 'redo', 'snap', 'zone', 'map'].map((name) => button(id(name)));

  function run() {
    if (model.state.phase === 'playing') session.set({ phase: 'set', clock: 0 });
    else if (still()) announce(model.state.trial?.words ?? '');
    else model.change(started);
  }

  /** A zone where there is none, around the stop; with one, the next drag on the cloth draws another. */
  function askZone() {
    const { item, trial, zoning, board } = model.state;
    if (!item || !board) return;
    if (item.demand.zone) return session.set({ zoning: !zoning });
    const place = trial && !trial.stop.pocket ? trial.stop : { x: board.table.length / 2, y: board.table.width / 2 };
    session.set({ chosen: 'zone' });
    void session.commit(zoned(zoneAround(place)));
  }

  async function throwTen() {
    const { item } = model.state;
    if (!item) return;
    try {
      const ten = await core.ten(item, model.state.hand);
      if (model.state.item !== item) return;
      session.set({ ten });
      announce(`Of ten strokes ${ten.filter(({ potted }) => potted).length} pot the ball, ${ten.filter(({ met }) => met).length} give all that is asked.`);
    } catch (error) {
      say(sentenceFor(error));
    }
  }

  const mirror = () => void session.commit((item) => core.mirror(item));
  onClick(id('play'), run);
  onClick(id('ten'), () => void throwTen());
  onClick(id('undo'), () => session.step(undone));
  onClick(id('redo'), () => session.step(redone));
  onClick(id('mirror'), mirror);
  onClick(id('zone'), askZone);
  onClick(id('balls'), does.balls);
  onClick(id('task'), does.ask);
  onClick(id('share'), does.share);
  onClick(id('practise'), does.practise);
  onClick(id('snap'), () => session.set({ snap: !model.state.snap }));
  const turnMap = () => session.set({ mapped: !model.state.mapped, heat: null });
  onClick(id('map'), turnMap);

  /** What letters do to the ball that is chosen. @param {'on' | 'next'} what */
  function name(what) {
    const ball = model.state.chosen?.startsWith('ball ') ? model.state.chosen.slice(5) : '';
    if (!ball || ball === 'cue') return;
    void session.commit((item) => {
      const { on, next } = item.demand;
      if (what === 'on') return asking(item, { on: ball, next: next === ball ? on : next });
      return ball === on ? item : asking(item, { next: next === ball ? null : ball });
    }, what === 'on' && model.state.aimed);
  }

  const keys = {
    p: run, b: does.balls, a: does.ask, s: does.share, z: askZone, m: mirror, x: () => void throwTen(),
    n: () => session.set({ snap: !model.state.snap }), o: () => name('on'), e: () => name('next'),
    h: turnMap, t: does.type,
  };
  listenToLetters(isOpen, keys, { undo: () => session.step(undone), redo: () => session.step(redone) });

  model.onDraw((state) => {
    const { phase, past, future, zoning, mapped } = state;
    put(play, phase === 'playing' ? 'Stop' : 'Play');
    play.disabled = ten.disabled = shownItem(state) === null;
    undo.disabled = past.length === 0;
    redo.disabled = future.length === 0;
    snap.setAttribute('aria-pressed', String(state.snap));
    zone.setAttribute('aria-pressed', String(zoning));
    map.setAttribute('aria-pressed', String(mapped));
  });
}
