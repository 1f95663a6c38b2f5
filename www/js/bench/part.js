// Puts the Bench together.

import { byId } from '../dom.js';
import { createEngine, workerOfPage } from '../engine/client.js';
import { createModel } from '../model.js';
import { runClock } from '../replay.js';
import { sentenceFor } from '../sentences.js';
import { createAskDialog } from './panels/ask.js';
import { createBallsDialog } from './panels/balls.js';
import { createControls } from './panels/controls.js';
import { asked, createItemPanel } from './panels/item.js';
import { createMarginsPanel } from './panels/margins.js';
import { createScale } from './panels/scale.js';
import { createTools } from './panels/tools.js';
import { createCore } from './core.js';
import { listenToKeys } from './keys.js';
import { listenToPointer } from './pointer.js';
import { createSession } from './session.js';
import { EMPTY, ticked } from './state.js';
import { createView } from './view.js';
import { createHeat } from '../table/heat.js';

/** @import { Page } from '../main.js' */

const PROMISE = 'The layout, the stroke and what is asked: it opens in Leave.';

/** @param {Page} page */
export function createBench({ engine, slow, parts, voice, still, share }) {
  const table = byId('bench-table', SVGSVGElement);
  const model = createModel(EMPTY);
  const core = createCore(engine, slow);
  const heat = createHeat(table, [createEngine(workerOfPage, { compiled: slow.compiled }), slow], (heat) => session.warmed(heat), (error) => session.cooled(error));
  const session = createSession(core, model, heat, voice.say);
  const view = createView(table, model, heat);
  const isOpen = () => parts.isOpen('bench');
  const announce = (/** @type {string} */ sentence) => isOpen() && voice.announce(sentence);

  listenToPointer(table, model, view, session, core);
  listenToKeys(table, model, view, session, core, announce);
  createControls(model, session, announce);
  createMarginsPanel(model);
  createScale(model, session, core);
  createItemPanel(model, announce);

  function shareItem() {
    const { item } = model.state;
    if (!item) return;
    const promise = { with: PROMISE, without: PROMISE };
    share({ title: 'Leaveline: Leave', task: asked(item.demand), link: () => core.link(item), callable: false, played: false, promise, plain: true });
  }
  /** Hands the item to Leave, by its link. */
  async function toLeave() {
    const { item } = model.state;
    try {
      if (item) parts.visit(await core.link(item));
    } catch (error) {
      voice.say(sentenceFor(error));
    }
  }
  const practise = parts.has('leave') ? () => void toLeave() : null;
  const does = { balls: createBallsDialog(model, session, core), ask: createAskDialog(model, session), share: shareItem, practise };
  createTools(model, session, core, does, isOpen, still, announce, voice.say);
  runClock(model, () => 1, ticked);
  parts.add('bench', { open: session.open });
}
