// Wires the page, nothing else.

import { createEngine, readWorker, wholeWorker } from './engine/client.js';
import { createLog } from './log/hook.js';
import { createAboutDialog } from './panels/about.js';
import { createVoice } from './panels/say.js';
import { createShareDialog } from './panels/share.js';
import { createTypeDialog } from './panels/type.js';
import { createMarks, isTaking } from './marks.js';
import { createParts } from './parts.js';

/** @import { Engine, ReadEngine } from './engine/client.js' */
/** @import { Log } from './log/hook.js' */
/** @import { Voice } from './panels/say.js' */
/** @import { ShareDialog } from './panels/share.js' */
/** @import { TypeDialog } from './panels/type.js' */
/** @import { Marks } from './marks.js' */
/** @import { Parts } from './parts.js' */

/**
 * What the parts share: the small core that Read begins with, the whole one for what must come at once, a second one for
 * what takes its time, the address, the page's voice, whether motion is to be avoided, what keeps calls, who hears of marks,
 * and the dialogs that serve them all.
 * @typedef {{ first: ReadEngine, engine: Engine, slow: Engine, parts: Parts, voice: Voice, still: () => boolean, log: Log, marks: Marks, share: ShareDialog, type: TypeDialog }} Page
 */

const reduced = matchMedia('(prefers-reduced-motion: reduce)');
const compiled = { module: null };
const engine = createEngine(wholeWorker, { compiled });
const voice = createVoice();
/** @type {Page} */
const page = {
  first: createEngine(readWorker),
  engine,
  slow: createEngine(wholeWorker, { compiled }),
  parts: createParts(voice.say),
  voice,
  still: () => reduced.matches,
  log: createLog(engine, voice.say),
  marks: createMarks(),
  share: createShareDialog(engine, (link, task) => void import('./sets/add.js').then(({ addToSet }) => addToSet(page, link, task))),
  type: createTypeDialog(engine),
};
createAboutDialog();
if (isTaking()) void import('./sets/strip.js').then(({ openStrip }) => openStrip(page));
page.parts.start(page);
// Only a released page says its version; no other is kept.
const version = document.querySelector('meta[name="version"]')?.getAttribute('content');
// Without the worker all works as long as there is a network.
if (version && 'serviceWorker' in navigator) import('./offline.js').then(({ startOffline }) => startOffline(version)).catch(() => {});
