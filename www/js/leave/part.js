// Puts Leave together.

import { byId } from '../dom.js';
import { createModel } from '../model.js';
import { createLevelChoice } from '../panels/level.js';
import { listenToPathKeys } from '../path/keys.js';
import { listenToPathPointer } from '../path/pointer.js';
import { snapWith } from '../path/snap.js';
import { createWhyPanel } from '../panels/why.js';
import { runClock, ticked } from '../replay.js';
import { explainWith } from './explain.js';
import { listenToZoneKeys } from './keys.js';
import { createActions } from './panels/actions.js';
import { createControls } from './panels/controls.js';
import { createGradePanel } from './panels/grade.js';
import { createItemPanel } from './panels/item.js';
import { narrate } from './panels/narrate.js';
import { listenToZonePointer } from './pointer.js';
import { createSession } from './session.js';
import { EMPTY } from './state.js';
import { approach, createView } from './view.js';

/** @import { PocketName } from '../engine/protocol.js' */
/** @import { Page } from '../main.js' */

const PROMISE = { with: 'Your zone, stroke and path stay hidden until theirs were played.', without: 'The layout and what is asked, nothing else.' };

/** @param {Page} page */
export function createLeave({ engine, slow, parts, voice, still, share, type }) {
  const table = byId('leave-table', SVGSVGElement);
  const model = createModel(EMPTY);
  const session = createSession(engine, model, voice.say, still, parts.showFor('leave'));
  const view = createView(table, model);
  const isOpen = () => parts.isOpen('leave');
  const announce = (/** @type {string} */ sentence) => isOpen() && voice.announce(sentence);

  /** @param {PocketName} pocket */
  async function aim(pocket) {
    await session.commit({}, pocket);
    announce(model.state.trial?.refusal ?? `Aimed at the ${pocket.replace('-', ' ')} pocket.`);
  }
  listenToZonePointer(table, model, view, (pocket) => void aim(pocket));
  listenToZoneKeys(table, model, view, (pocket) => void aim(pocket));

  const full = () => voice.say('A call has room for 33 points.');
  const snap = snapWith(engine, session.readItem, voice.say);
  const ghost = () => (model.state.phase === 'drawing' && model.state.mode === 'path' ? (model.state.trial?.ghost ?? null) : null);
  const start = () => {
    const { trial, question } = model.state;
    const at = ghost();
    return at && trial && question && { ghost: at, from: approach(trial)[0] ?? [at.x, at.y], table: question.table };
  };
  listenToPathPointer(table, model, view, snap, ghost, full);
  listenToPathKeys(table, model, view, snap, start, full);

  createControls(model, session, announce);
  createGradePanel(model);
  createItemPanel(model);
  createLevelChoice('leave-level', model, session);

  function shareItem() {
    const { question, zone, phase } = model.state;
    if (!question) return;
    const played = phase === 'played' || phase === 'playing';
    share({ title: 'Leaveline: Leave', task: question.task, link: session.linkTo, callable: zone !== null, played, promise: PROMISE });
  }
  const why = createWhyPanel('leave-', model, explainWith(engine, slow, model), view, voice, table);
  const dialogs = { share: shareItem, type: () => type({ model, item: session.readItem }), why: () => void why() };
  createActions(model, session, view, dialogs, voice.quiet, isOpen);
  narrate(model, announce);
  runClock(model, ({ rate }) => rate, ticked);
  parts.add('leave', { open: session.open });
}
