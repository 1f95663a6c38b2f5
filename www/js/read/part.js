// Puts Read together.

import { byId } from '../dom.js';
import { createModel } from '../model.js';
import { listenToPathKeys } from '../path/keys.js';
import { listenToPathPointer } from '../path/pointer.js';
import { snapWith } from '../path/snap.js';
import { createActions } from './panels/actions.js';
import { createGradePanel } from './panels/grade.js';
import { createItemPanel } from './panels/item.js';
import { createLevelChoice } from '../panels/level.js';
import { narrate } from './panels/narrate.js';
import { createStrokePanel } from './panels/stroke.js';
import { createWhyPanel } from '../panels/why.js';
import { runClock, ticked } from '../replay.js';
import { createSession } from './session.js';
import { EMPTY } from './state.js';
import { createView } from './view.js';

/** @import { Page } from '../main.js' */
/** @import { Explain } from '../panels/why.js' */

const PROMISE = { with: 'Your call stays hidden until theirs was played.', without: 'The layout and the stroke, nothing else.' };

/** @param {Page} page */
export function createRead({ engine, parts, voice, still, share, type }) {
  const table = byId('table', SVGSVGElement);
  const model = createModel(EMPTY);
  const session = createSession(engine, model, voice.say, still, parts.showFor('read'));
  const view = createView(table, model);
  const item = () => model.state.question?.item ?? null;
  const snap = snapWith(engine, item, voice.say);
  const typePoint = () => type({ model, item });
  const full = () => voice.say('A call has room for 33 points.');
  const isOpen = () => parts.isOpen('read');

  const asked = () => (model.state.phase === 'drawing' ? model.state.question : null);
  const start = () => {
    const question = asked();
    return question && { ghost: question.aim.ghost, from: question.aim.path[0], table: question.table };
  };
  listenToPathPointer(table, model, view, snap, () => asked()?.aim.ghost ?? null, full);
  listenToPathKeys(table, model, view, snap, start, full);
  createStrokePanel(model);
  createGradePanel(model);
  createItemPanel(model);
  createLevelChoice('level', model, session);

  function shareItem() {
    const { question, points, phase } = model.state;
    if (!question) return;
    const played = phase === 'played' || phase === 'playing';
    share({ title: 'Leaveline: Read', task: question.task, link: session.linkTo, callable: points.length > 0, played, promise: PROMISE });
  }
  /** @type {Explain} */
  const explain = async (give) => {
    const { question } = model.state;
    if (question) give(await engine.ask('why', { item: question.item }));
  };
  const why = createWhyPanel('', model, explain, view, voice, table);
  createActions(model, session, { share: shareItem, type: typePoint, why: () => void why() }, voice.quiet, isOpen);
  narrate(model, (sentence) => isOpen() && voice.announce(sentence));
  runClock(model, ({ rate }) => rate, ticked);
  parts.add('read', { open: session.open });
}
