// Puts Clear together.

import { byId } from '../dom.js';
import { createEngine, wholeWorker } from '../engine/client.js';
import { createModel } from '../state.js';
import { createHandChoice, createLevelChoice } from '../panels/choices.js';
import { createControls } from '../panels/controls.js';
import { cellsOf, createTitle } from '../panels/title.js';
import { createZoneDialog } from '../panels/zone.js';
import { runClock, ticked } from '../replay.js';
import { narrate } from '../round/narrate.js';
import { sentenceFor } from '../sentences.js';
import { listenToZoneKeys } from '../stroke/keys.js';
import { listenToZonePointer } from '../stroke/pointer.js';
import { zoneSet } from '../stroke/state.js';
import { createActions } from './actions.js';
import { createGuide } from './guide.js';
import { createLists } from './lists.js';
import { createSession, shotAsLeave } from './session.js';
import { EMPTY, ballOn, handed, isOrderable, landed, tapped } from './state.js';
import { createStudy } from './study.js';
import { createView } from './view.js';
import { change, hint, layout, verdict } from './words.js';

export { createBlock } from './block.js';

/** @import { PocketName } from '../engine/protocol.js' */
/** @import { Page } from '../main.js' */
/** @import { Part } from '../parts.js' */
/** @import { State } from './state.js' */

/** So long may a deal take: it plans layouts until one is of its level, ms. */
const DEALING = 180_000;

const PROMISE = { with: 'What is left of it now, for another to clear.', without: 'The layout and what is asked, nothing of your run.' };
const WAYS = { with: 'as it lies now', without: 'as it was dealt' };

/** @param {Page} page @returns {Part} */
export function createPart({ engine, parts, voice, still, log, marks, share }) {
  const table = byId('clear-table', SVGSVGElement);
  const model = createModel(EMPTY);
  const isOpen = () => parts.isOpen('clear');
  const announce = (/** @type {string} */ sentence) => isOpen() && voice.announce(sentence);
  // Workers of its own: one that another part has replaced would have forgotten its guide.
  const workers = [0, 1].map(() => createEngine(wholeWorker, { compiled: engine.compiled, patience: DEALING }));
  const study = createStudy(model, engine, createGuide(workers), (error) => voice.say(sentenceFor(error)));
  const session = createSession(model, { engine, say: voice.say, still, show: parts.showFor('clear'), log, report: marks.report }, workers[1], study.stop);
  const view = createView(table, model);
  const isLive = (/** @type {State} */ { phase }) => phase === 'drawing';

  model.onChange((state, before) => {
    if (state.phase === 'played' && before.phase !== 'played') model.change(landed);
  });

  /** @param {string} id */
  async function aim(id) {
    if (ballOn(model.state) === null) return announce('Tap first which ball is played.');
    await session.commit({}, /** @type {PocketName} */ (id));
    announce(model.state.trial?.refusal ?? `Aimed at the ${id.replace('-', ' ')} pocket.`);
  }
  /** @param {string} id */
  function tap(id) {
    if (isOrderable(model.state, id)) model.change(tapped, id);
  }
  /** Balls come first: they are small. @param {State} state */
  const spots = (state) => {
    const { question, now } = state;
    if (!question || !now) return [];
    const balls = now.balls.filter(({ id }) => isOrderable(state, id)).map(({ id, x, y }) => ({ id, x, y, r: question.table.ballRadius, ball: true }));
    return [...balls, ...question.table.pockets.map((pocket) => ({ ...pocket, ball: false }))];
  };
  listenToZonePointer(table, model, view, spots, ({ id, ball }) => (ball ? tap(id) : void aim(id)));
  listenToZoneKeys(table, model, view, (pocket) => void aim(pocket));
  table.addEventListener('keydown', (event) => {
    const handle = event.target instanceof Element ? (event.target.getAttribute('data-handle') ?? '') : '';
    if (!handle.startsWith('ball ') || (event.key !== 'Enter' && event.key !== ' ')) return;
    event.preventDefault();
    tap(handle.slice(5));
  });

  createControls('clear', model, {
    ...session,
    isLive: (state) => isLive(state) && ballOn(state) !== null,
    words: ({ stroke }) => stroke.words,
    advice: ({ refusal, reach }) => refusal ?? (reach.needsRest ? reach.words : ''),
  }, announce);
  createHandChoice('clear-hand', model, { hands: session.hands, choose: (hand) => model.change(handed, hand), isLive });
  createTitle('clear', model, {
    hint,
    asks: (state) => isLive(state) && ballOn(state) === null,
    cells: ({ question, now }) => question && now && { ...cellsOf(question), task: now.task },
  });
  createLevelChoice('clear-level', model, session);
  createLists(model);

  const typeZone = createZoneDialog('clear', engine);
  createActions(model, session, view, {
    share() {
      const { question, now, shots, trail, phase } = model.state;
      if (!question || !now) return;
      const { item, task, table } = question;
      // The shot that was played last, from the balls as they lay before it.
      const balls = shots.at(-1)?.item.shot.balls.map((ball) => ({ ...ball, words: ball.id }));
      const duration = Math.max(0, ...trail.map(({ samples }) => samples[samples.length - 3]));
      const run = balls && duration > 0 && phase !== 'playing' ? { table, balls, ghost: null, tracks: trail, duration } : null;
      const plain = shots.length === 0 || now.left.length === 0;
      const link = (/** @type {boolean} */ left) => (left ? engine.ask('makeLink', { item: now.item }) : session.linkTo(false));
      share({ title: 'Leaveline: Clear', task, item, run, link, callable: !plain, played: false, promise: PROMISE, ways: WAYS, plain });
    },
    type() {
      const { question, zone, phase, stroke } = model.state;
      const item = stroke && shotAsLeave(model.state, stroke, null);
      if (question && item && phase === 'drawing') typeZone({ item, table: question.table, zone, put: (typed) => model.change(zoneSet, typed) });
    },
    quiet: voice.quiet,
    say: voice.say,
    isOpen,
  });
  narrate(model, announce, { layout, verdict, none: '', more: change });
  runClock(model, ({ rate }) => rate, ticked);
  return { open: session.open };
}
