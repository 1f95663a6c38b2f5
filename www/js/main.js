// Wires the page, nothing else.

import { createEngine, wholeWorker } from './engine/client.js';
import { first } from './first.js';
import { createGuide } from './guide/hook.js';
import { later } from './later.js';
import { createLog } from './log/hook.js';
import { restoreHand } from './panels/hand.js';
import { createHelpDialog } from './panels/help.js';
import { createVoice } from './panels/say.js';
import { createMarks, isTaking } from './marks.js';
import { createParts } from './parts.js';

/** @import { Engine, ReadEngine } from './engine/client.js' */
/** @import { Guide } from './guide/hook.js' */
/** @import { Log } from './log/hook.js' */
/** @import { Voice } from './panels/say.js' */
/** @import { ShareDialog } from './panels/share.js' */
/** @import { TypeDialog } from './panels/type.js' */
/** @import { Marks } from './marks.js' */
/** @import { Parts } from './parts.js' */

/**
 * What the parts share: the small core that Read begins with, the whole one for what must come at once, a second one for
 * what takes its time, the address, the page's voice, whether motion is to be avoided, what keeps calls, who hears of marks,
 * the walk-through, and the dialogs that serve them all.
 * @typedef {{ first: ReadEngine, engine: Engine, slow: Engine, parts: Parts, voice: Voice, still: () => boolean, log: Log, marks: Marks, guide: Guide, share: ShareDialog, type: TypeDialog }} Page
 */

restoreHand();
const reduced = matchMedia('(prefers-reduced-motion: reduce)');
const compiled = { module: null };
const engine = createEngine(wholeWorker, { compiled });
const voice = createVoice();
const parts = createParts(voice.say);
/** @type {Page} */
const page = {
  first,
  engine,
  slow: createEngine(wholeWorker, { compiled }),
  parts,
  voice,
  still: () => reduced.matches,
  log: createLog(engine, voice.say),
  marks: createMarks(),
  guide: createGuide(() => parts.visit('read')),
  share: later('Share', async () => {
    const { createShareDialog } = await import('./panels/share.js');
    return createShareDialog(engine, (link, task) => void import('./sets/add.js').then(({ addToSet }) => addToSet(page, link, task)));
  }, voice.say),
  type: later('Type', async () => (await import('./panels/type.js')).createTypeDialog(engine), voice.say),
};
createHelpDialog(page);
if (isTaking()) void import('./sets/strip.js').then(({ openStrip }) => openStrip(page));
const loaded = page.parts.start(page);
// Only a released page says its version; no other is kept.
const version = document.querySelector('meta[name="version"]')?.getAttribute('content');
// Without the worker all works as long as there is a network.
if (version && 'serviceWorker' in navigator) import('./offline.js').then(({ startOffline }) => startOffline(version, loaded)).catch(() => {});
