// Puts the Bench together.

import { byId } from '../dom.js';
import { createEngine, wholeWorker } from '../engine/client.js';
import { createModel } from '../state.js';
import { createHandChoice } from '../panels/choices.js';
import { createControls } from '../panels/controls.js';
import { createMarginsPanel } from './panels/margins.js';
import { createTitle } from '../panels/title.js';
import { createZoneDialog } from '../panels/zone.js';
import { runClock } from '../replay.js';
import { sentenceFor } from '../sentences.js';
import { createHeat } from '../table/chance-map.js';
import { createAskDialog } from './panels/ask.js';
import { createBallsDialog } from './panels/balls.js';
import { createScale } from './panels/map-legend.js';
import { createTools } from './panels/tools.js';
import { createCore } from './core.js';
import { listenToKeys } from './keys.js';
import { listenToPointer } from './pointer.js';
import { createSession, stroked, zoned } from './session.js';
import { EMPTY, ticked } from './state.js';
import { createView } from './view.js';
import { announceLayout, hint } from './words.js';

export { createBlock } from './block.js';

/** @import { Struck } from '../engine/protocol.js' */
/** @import { Page } from '../main.js' */
/** @import { Part } from '../parts.js' */

const PROMISE = 'The layout, the stroke and what is called: it opens in Leave.';

/** @param {Page} page @returns {Part} */
export function createPart({ engine, slow, parts, voice, still, share }) {
  const table = byId('bench-table', SVGSVGElement);
  const model = createModel(EMPTY);
  const core = createCore(engine, slow);
  const heat = createHeat(table, [createEngine(wholeWorker, { compiled: slow.compiled }), slow], (heat) => session.warmed(heat), (error) => session.cooled(error));
  const session = createSession(core, model, heat, voice.say);
  const view = createView(table, model, heat);
  const isOpen = () => parts.isOpen('bench');
  const announce = (/** @type {string} */ sentence) => isOpen() && voice.announce(sentence);

  listenToPointer(table, model, view, session, core);
  listenToKeys(table, model, view, session, core, announce);
  createControls('bench', model, {
    isLive: ({ item }) => item !== null,
    preview: (/** @type {Partial<Struck>} */ change) => session.preview(stroked(change), model.state.aimed),
    commit: (/** @type {Partial<Struck>} */ change) => session.commit(stroked(change), model.state.aimed),
    words: ({ stroke, reach }) => {
      // A cue that is raised has been told of.
      const level = stroke.words.includes('Cue raised') ? '' : `, cue at ${Math.round(stroke.elevation)}°`;
      return `${stroke.words} ${stroke.speed.toFixed(2)} m/s${level}.${reach.needsRest ? ` ${reach.words}` : ''}`;
    },
  }, announce);
  createHandChoice('bench-hand', model, {
    hands: () => model.state.hands,
    choose: (hand) => session.set({ hand, margins: null, ten: [] }),
    isLive: ({ item }) => item !== null,
  });
  createMarginsPanel(model);
  createScale(model, session, core);
  createTitle('bench', model, {
    hint,
    asks: () => false,
    cells: ({ trial, board }) => board && trial && { task: trial.task, card: board.card, model: String(trial.item.model) },
  });
  announceLayout(model, announce);

  function shareItem() {
    const { item, trial, board } = model.state;
    if (!item) return;
    const promise = { with: PROMISE, without: PROMISE };
    const run = trial && board && { table: board.table, balls: trial.balls, ghost: trial.ghost, tracks: trial.tracks, duration: trial.duration };
    share({ title: 'Leaveline: Leave', task: trial?.task ?? '', item, run, link: () => core.link(item), callable: false, played: false, promise, plain: true });
  }
  /** Hands the item to Leave, by its link. */
  async function practise() {
    const { item } = model.state;
    try {
      if (item) parts.visit(await core.link(item));
    } catch (error) {
      voice.say(sentenceFor(error));
    }
  }
  const zoneDialog = createZoneDialog('bench', engine);
  function typeZone() {
    const { item, board } = model.state;
    if (item && board) zoneDialog({ item, table: board.table, zone: item.demand.zone ?? null, put: (zone) => void session.commit(zoned(zone)) });
  }
  const does = {
    balls: createBallsDialog(model, session, core),
    ask: createAskDialog(model, session, typeZone),
    type: typeZone,
    share: shareItem,
    practise: () => void practise(),
  };
  createTools(model, session, core, does, isOpen, still, announce, voice.say);
  runClock(model, () => 1, ticked);
  return { open: session.open };
}
