// Puts Read together.

import { byId, html } from '../dom.js';
import { createLevelChoice } from '../panels/choices.js';
import { cellsOf, createTitle } from '../panels/title.js';
import { createWhyPanel } from '../panels/why.js';
import { snapWith } from '../path/snap.js';
import { redone, removed, undone } from '../path/state.js';
import { runClock, ticked } from '../replay.js';
import { createActions } from '../round/actions.js';
import { createGradePanel } from '../round/grade.js';
import { narrate } from '../round/narrate.js';
import { isPlayed } from '../round/state.js';
import { drawNotes, drawRun, shownGrade } from './outcome.js';
import { createSession } from './session.js';
import { createSight } from './sight.js';
import { isBlank } from './state.js';
import { hint, layout, verdict } from './words.js';

/** @import { WalkThrough } from '../walk/hook.js' */
/** @import { Around, Walk } from '../walk/part.js' */
/** @import { Page } from '../main.js' */
/** @import { Explain } from '../panels/why.js' */
/** @import { Part } from '../parts.js' */
/** @import { Sight } from './sight.js' */
/** @import { Model } from './state.js' */

const PROMISE = { with: 'Your call stays hidden until they have played theirs.', without: 'The layout and the stroke, nothing else.' };

/** What to mind with the stroke that is given. @param {Model} model */
function showAdvice(model) {
  const advice = byId('read-advice', HTMLElement);
  model.onDraw(({ question }, before) => {
    if (!question || question === before.question) return;
    advice.hidden = question.advice.length === 0;
    advice.replaceChildren(...question.advice.map((text) => html('li', {}, text)));
  });
}

/** Offers the walk-through to who is new here, and begins it for who asks. @param {WalkThrough} walkThrough @param {Around} around @param {(sentence: string) => void} say */
function offerWalk(walkThrough, around, say) {
  /** @type {Promise<Walk> | null} */
  let walk = null;
  const load = () => (walk ??= import('../walk/part.js').then(({ createWalk }) => createWalk(walkThrough, around)));
  walkThrough.listen(() => {
    load().then(({ begin }) => begin()).catch(() => {
      walk = null;
      say('The walk-through could not be loaded. Check the connection, then try again.');
    });
  });
  let offered = walkThrough.isOver();
  // It finds its room, so that nothing moves when it comes.
  byId('read-hint', HTMLElement).classList.toggle('roomy', !offered);
  around.model.onDraw(({ question, practised }) => {
    if (offered || !question) return;
    offered = true;
    // What is only offered may be missing.
    if (!practised) load().then(({ offer }) => offer()).catch(() => (walk = null));
  });
}

/** Who is new here has it already. @param {Page} page */
export const createBlock = ({ sight, voice }) => sight ?? createSight(voice.say);

/** @param {Page} page @param {Sight} sight @returns {Part} */
export function createPart({ first: engine, parts, voice, still, log, marks, walkThrough, share, type }, { model, view, early }) {
  const { board, outcome, notes, join } = view;
  const item = () => model.state.question?.item ?? null;
  early.connect(engine, snapWith(engine, item, voice.say));
  const session = createSession(model, { engine, say: voice.say, still, show: parts.showFor('read'), log, report: marks.report }, early.settled);
  const isOpen = () => parts.isOpen('read');

  join((state, frame, ran) => {
    if (ran) drawRun(outcome, state, frame);
    drawNotes(notes, state, frame);
  });
  showAdvice(model);
  createGradePanel('read', model, {
    own: 'Your call',
    sender: 'The sender’s call',
    marks: ({ result }) => result && { own: result.grade.mark, sender: result.sender?.grade.mark ?? null },
    lines: (state) => shownGrade(state)?.lines ?? [],
  });
  createTitle('read', model, { hint, asks: isBlank, cells: ({ question }) => cellsOf(question) });
  createLevelChoice('read-level', model, session);

  function shareItem() {
    const { question, points, result } = model.state;
    if (!question) return;
    const { item, task, table, balls, aim } = question;
    const played = isPlayed(model.state);
    const run = played && result ? { table, balls, ghost: aim.ghost, tracks: result.tracks, duration: result.duration } : null;
    share({ title: 'Leaveline: Read', task, item, run, link: session.linkTo, callable: points.length > 0, played, promise: PROMISE });
  }
  /** @type {Explain} */
  const explain = async (give) => {
    const { question } = model.state;
    if (question) give(await engine.ask('why', { item: question.item }));
  };
  const why = createWhyPanel('read', model, explain, board, voice);
  createActions('read', model, {
    ...session,
    undo: () => model.change(undone),
    redo: () => model.change(redone),
    remove: () => model.change(removed, model.state.selected ?? model.state.points.length - 1),
    share: shareItem,
    type: () => type({ model, item }),
    why: () => void why(),
    ready: ({ points }) => points.length > 0,
    removable: ({ points }) => points.length > 0,
    quiet: voice.quiet,
    isOpen,
  });
  narrate(model, (sentence) => isOpen() && voice.announce(sentence), { layout, verdict, none: 'The call is empty.' });
  runClock(model, ({ rate }) => rate, ticked);
  offerWalk(walkThrough, { model, isOpen, deal: session.deal }, voice.say);
  if (model.state.question) {
    voice.announce(layout(model.state));
    model.schedule();
  }
  return { open: session.open };
}
