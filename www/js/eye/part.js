// Puts Eye together.

import { LIMITS } from '../../pkg/limits.js';
import { button, byId, hide, onClick, option, put } from '../dom.js';
import { createModel } from '../state.js';
import { showGiven } from '../panels/gauges.js';
import { listenToLetters } from '../panels/letters.js';
import { createTitle } from '../panels/title.js';
import { listenToPress } from '../table/press.js';
import { createSession } from './session.js';
import { EMPTY, holding } from './state.js';
import { createSummary } from './summary.js';
import { createView } from './view.js';
import { FROM_LOG, hint, layout, verdict } from './words.js';

export { createBlock } from './block.js';

/** @import { Page } from '../main.js' */
/** @import { Part } from '../parts.js' */
/** @import { Model } from './state.js' */

/** A second press this soon was meant for what came before, ms: sooner than elsewhere, for estimates are quick. */
const DOUBLE = 400;
/** What an arrow key does to the value. @type {Record<string, number>} */
const STEPS = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 };

/** @param {Page} page @returns {Part} */
export function createPart({ engine, parts, voice, log }) {
  const table = byId('eye-table', SVGSVGElement);
  const [play, deal] = [button('eye-play'), button('eye-deal')];
  const size = byId('eye-size', HTMLSelectElement);
  const model = createModel(EMPTY);
  const session = createSession(model, { engine, say: voice.say, show: parts.showFor('eye'), log });
  const view = createView(table, model);
  const isOpen = () => parts.isOpen('eye');
  let turned = -DOUBLE;

  /** Answers, or goes on. */
  function press() {
    const { phase } = model.state;
    if (phase === 'drawing') return void session.answer();
    if (performance.now() - turned < DOUBLE) return;
    if (phase === 'answered') void session.next();
    else if (phase === 'over' || phase === 'stuck') void session.deal();
  }
  const pressDeal = () => {
    voice.quiet();
    void session.deal();
  };

  listenToPress(table, view, {
    isLive: () => model.state.phase === 'drawing' || model.state.phase === 'answered',
    under: (place) => ({ hit: { kind: 'cloth' }, at: place }),
    drag({ touch }, place) {
      if (model.state.phase !== 'drawing') return false;
      if (touch) model.change(holding, true);
      session.drag(place);
      return true;
    },
    // What counts is answered on purpose: a finger that slips costs nothing.
    drop(_, place) {
      if (place) session.drag(place);
      model.change(holding, false);
    },
    tap({ from }) {
      if (performance.now() - turned < DOUBLE) return;
      if (model.state.phase === 'answered') return void session.next();
      session.drag(from);
    },
    cancel: session.giveUp,
  });
  table.addEventListener('keydown', (event) => {
    const steps = STEPS[event.key];
    if (event.key === 'Enter' || event.key === ' ') press();
    else if (steps) session.step(steps, event.shiftKey);
    else if (event.key === 'Escape') session.giveUp();
    else return;
    event.preventDefault();
  });
  onClick('eye-play', press);
  onClick('eye-deal', pressDeal);
  const nothing = () => {};
  listenToLetters(isOpen, { p: press, d: pressDeal }, { undo: nothing, redo: nothing });
  size.append(...LIMITS.tables.map((id) => option(id, id[0].toUpperCase() + id.slice(1))));
  size.addEventListener('change', () => void session.deal(size.value));

  showGiven('eye', model);
  createSummary(model);
  createTitle('eye', model, {
    hint,
    asks: ({ phase, moved }) => phase === 'drawing' && !moved,
    cells: ({ question, number, again }) => question && {
      task: question.title, number: again ? FROM_LOG : `${number + 1} of ${question.round}`, deal: question.deal ?? '', card: question.card, model: String(question.model),
    },
  });
  model.onDraw(({ phase, number, moved, again, size: now }, before) => {
    put(play, phase === 'answered' ? (again ? 'To the round' : 'Next') : phase === 'over' ? 'New round' : 'Answer');
    play.disabled = phase === 'waiting' || phase === 'asking' || (phase === 'drawing' && !moved);
    play.classList.toggle('primary', true);
    hide(deal, phase === 'over');
    if (size.value !== now) size.value = now;
    // The keyboard goes on with what comes next: what it was on takes no keys any more.
    const { activeElement } = document;
    const lost = activeElement === document.body || activeElement === play || table.contains(activeElement);
    if (!isOpen() || !lost || phase === before.phase) return;
    if (phase === 'answered') play.focus();
    else if (phase === 'drawing' && number > 0) view.focus('answer');
  });
  model.onChange((state, before) => {
    if (state.phase !== before.phase && state.phase !== 'asking') turned = performance.now();
    if (!isOpen()) return;
    if (state.phase === 'over' && before.phase !== 'over') voice.announce(verdict(state));
    else if (state.question !== before.question) voice.announce(layout(state));
    else if (state.result && state.result !== before.result) voice.announce(state.result.words);
    else if (state.moved && state.handle && state.handle !== before.handle) voice.announce(state.handle.words);
  });
  return { open: (link) => session.open(link) };
}
