// Puts Read together.

import { byId } from '../dom.js';
import { createModel } from '../model.js';
import { runClock } from '../replay.js';
import { snapWith } from './snap.js';
import { createActions } from './panels/actions.js';
import { createGradePanel } from './panels/grade.js';
import { createItemPanel } from './panels/item.js';
import { createLevelChoice } from './panels/level.js';
import { narrate } from './panels/narrate.js';
import { createStrokePanel } from './panels/stroke.js';
import { createTypeDialog } from './panels/type.js';
import { createWhyPanel } from './panels/why.js';
import { listenToKeys } from './keys.js';
import { listenToPointer } from './pointer.js';
import { createSession } from './session.js';
import { EMPTY, ticked } from './state.js';
import { createView } from './view.js';

/** @import { Page } from '../main.js' */

const PROMISE = { with: 'Your call stays hidden until theirs was played.', without: 'The layout and the stroke, nothing else.' };

/** @param {Page} page */
export function createRead({ engine, parts, voice, still, share }) {
  const table = byId('table', SVGSVGElement);
  const model = createModel(EMPTY);
  const session = createSession(engine, model, voice.say, still, parts.showFor('read'));
  const view = createView(table, model);
  const snap = snapWith(engine, model, voice.say);
  const full = () => voice.say('A call has room for 33 points.');
  const isOpen = () => parts.isOpen('read');

  listenToPointer(table, model, view, snap, full);
  listenToKeys(table, model, view, snap, full);
  createStrokePanel(model);
  createGradePanel(model);
  createItemPanel(model);
  createLevelChoice(model, session);

  function shareItem() {
    const { question, points, phase } = model.state;
    if (!question) return;
    const played = phase === 'played' || phase === 'playing';
    share({ title: 'Leaveline: Read', task: question.task, link: session.linkTo, callable: points.length > 0, played, promise: PROMISE });
  }
  const why = createWhyPanel(model, engine, view, voice, table);
  const dialogs = { share: shareItem, type: createTypeDialog(model, engine), why: () => void why() };
  createActions(model, session, dialogs, voice.quiet, isOpen);
  narrate(model, (sentence) => isOpen() && voice.announce(sentence));
  runClock(model, ({ rate }) => rate, ticked);
  parts.add('read', { open: session.open });
}
