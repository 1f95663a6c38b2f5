// Puts Leave together.

import { byId } from '../dom.js';
import { createEngine, wholeWorker } from '../engine/client.js';
import { createModel, set } from '../state.js';
import { createHandChoice, createLevelChoice } from '../panels/choices.js';
import { createControls } from '../panels/controls.js';
import { cellsOf, createTitle } from '../panels/title.js';
import { createWhyPanel } from '../panels/why.js';
import { createZoneDialog } from '../panels/zone.js';
import { listenToPathKeys } from '../path/keys.js';
import { listenToPathPointer } from '../path/pointer.js';
import { snapWith } from '../path/snap.js';
import { FULL, removed } from '../path/state.js';
import { runClock, ticked } from '../replay.js';
import { createActions } from '../round/actions.js';
import { createGradePanel } from '../round/grade.js';
import { narrate } from '../round/narrate.js';
import { isPlayed } from '../round/state.js';
import { approach } from '../stroke/drawing.js';
import { listenToZoneKeys } from '../stroke/keys.js';
import { listenToZonePointer } from '../stroke/pointer.js';
import { zoneSet } from '../stroke/state.js';
import { explainWith } from './explain.js';
import { createMap, MAP } from './map.js';
import { createMargins } from './margins.js';
import { createSession } from './session.js';
import { EMPTY, isBlank, isReady } from './state.js';
import { createTools } from './tools.js';
import { createView } from './view.js';
import { change, hint, layout, linesOf, verdict } from './words.js';

export { createBlock } from './block.js';

/** @import { PocketName } from '../engine/protocol.js' */
/** @import { Page } from '../main.js' */
/** @import { Part } from '../parts.js' */
/** @import { State } from './state.js' */

const PROMISE = { with: 'Your zone, stroke and path stay hidden until they have played theirs.', without: 'The layout and what is asked, nothing else.' };

/** @param {Page} page @returns {Part} */
export function createPart({ engine, slow, parts, voice, still, log, marks, share, type }) {
  const table = byId('leave-table', SVGSVGElement);
  const model = createModel(EMPTY);
  const session = createSession(model, { engine, say: voice.say, still, show: parts.showFor('leave'), log, report: marks.report });
  const map = createMap(table, model, [createEngine(wholeWorker, { compiled: slow.compiled }), slow], voice.say);
  const view = createView(table, model, map);
  const isOpen = () => parts.isOpen('leave');
  const isLive = (/** @type {State} */ { phase }) => phase === 'drawing';
  const announce = (/** @type {string} */ sentence) => isOpen() && voice.announce(sentence);

  /** @param {PocketName} pocket */
  async function aim(pocket) {
    await session.commit({}, pocket);
    announce(model.state.trial?.refusal ?? `Aimed at the ${pocket.replace('-', ' ')} pocket.`);
  }
  const pockets = (/** @type {State} */ { question }) => (question && !question.item.demand.pocket ? question.table.pockets : []);
  listenToZonePointer(table, model, view, pockets, ({ id }) => void aim(id));
  listenToZoneKeys(table, model, view, (pocket) => void aim(pocket));

  const item = () => model.state.question?.item ?? null;
  const full = () => voice.say(FULL);
  const snap = snapWith(engine, item, voice.say);
  const ghost = () => (isLive(model.state) && model.state.mode === 'path' ? (model.state.trial?.ghost ?? null) : null);
  const start = () => {
    const { trial, question } = model.state;
    const at = ghost();
    return at && trial && question && { ghost: at, from: approach(trial)[0] ?? [at.x, at.y], table: question.table };
  };
  listenToPathPointer(table, model, view, snap, ghost, full);
  listenToPathKeys(table, model, view, snap, start, full);

  createControls('leave', model, {
    ...session,
    isLive,
    words: ({ stroke }) => stroke.words,
    advice: ({ refusal, reach }) => refusal ?? (reach.needsRest ? reach.words : ''),
  }, announce);
  createHandChoice('leave-hand', model, { hands: session.hands, choose: (hand) => model.change(set, { hand }), isLive });
  createGradePanel('leave', model, {
    own: 'Mark for your zone',
    sender: 'Mark for the sender’s zone',
    marks: ({ result }) => result && { own: result.zone.mark, sender: result.sender?.zone.mark ?? null },
    lines: linesOf,
  });
  createTitle('leave', model, { hint, asks: isBlank, cells: ({ question }) => cellsOf(question) });
  createLevelChoice('leave-level', model, session);

  function shareItem() {
    const { question, zone, result, trial } = model.state;
    if (!question) return;
    const { item, task, table, balls } = question;
    const played = isPlayed(model.state);
    const run = played && result ? { table, balls, ghost: trial?.ghost ?? null, tracks: result.tracks, duration: result.duration } : null;
    share({ title: 'Leaveline: Leave', task, item, run, link: session.linkTo, callable: zone !== null, played, promise: PROMISE });
  }
  const showMargins = createMargins(model);
  const typeZone = createZoneDialog('leave', engine);
  const why = createWhyPanel('leave', model, explainWith(engine, slow, model), view, voice, (reasons, chosen) => {
    map.show(reasons !== null && chosen === MAP);
    if (reasons) showMargins(reasons);
  });
  createActions('leave', model, {
    ...session,
    remove() {
      const { mode, selected, points } = model.state;
      if (mode === 'zone') model.change(zoneSet, null);
      else model.change(removed, selected ?? points.length - 1);
    },
    share: shareItem,
    type() {
      const { question, zone, mode, phase } = model.state;
      if (mode === 'path') type({ model, item });
      else if (question && phase === 'drawing') typeZone({ item: question.item, table: question.table, zone, put: (typed) => model.change(zoneSet, typed) });
    },
    why: () => void why(),
    ready: isReady,
    removable: ({ mode, zone, points }) => (mode === 'zone' ? zone !== null : points.length > 0),
    quiet: voice.quiet,
    isOpen,
    keys: createTools(model, view),
  });
  narrate(model, announce, { layout, verdict, none: 'No path is called.', more: change });
  runClock(model, ({ rate }) => rate, ticked);
  return { open: session.open };
}
