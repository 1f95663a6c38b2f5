// Wires the page.

import { createEngine, readWorker, wholeWorker } from './engine/client.js';
import { createWalkThrough } from './walk/hook.js';
import { later } from './load-when-used.js';
import { createLog } from './log/hook.js';
import { restoreHand } from './panels/hand.js';
import { createHelpDialog } from './panels/help.js';
import { createMarks, isTaking } from './mark-listeners.js';
import { createParts, loadAhead } from './parts.js';
import { style } from './styles.js';
import { named, wished } from './which-part.js';

/** @import { Engine, ReadEngine } from './engine/client.js' */
/** @import { WalkThrough } from './walk/hook.js' */
/** @import { Log } from './log/hook.js' */
/** @import { Voice } from './panels/say.js' */
/** @import { ShareDialog } from './panels/share.js' */
/** @import { TypeDialog } from './panels/type.js' */
/** @import { Marks } from './mark-listeners.js' */
/** @import { Parts } from './parts.js' */
/** @import { Sight } from './read/sight.js' */

/**
 * What the parts share: what of Read is seen already, the small core that Read begins with, the whole one for what must come at once, a second one for
 * what takes its time, the address, the page's voice, whether motion is to be avoided, what keeps calls, who hears of marks,
 * the walk-through, and the dialogs that serve them all.
 * @typedef {{ sight: Sight | null, first: ReadEngine, engine: Engine, slow: Engine, parts: Parts, voice: Voice, still: () => boolean, log: Log, marks: Marks, walkThrough: WalkThrough, share: ShareDialog, type: TypeDialog }} Page
 */

/**
 * Starts all that is not there yet.
 * @param {Voice} voice @param {Sight | null} sight What of Read is seen already.
 * @returns {Promise<void>} once the part that the page was asked for answers
 */
export async function startPage(voice, sight) {
  const first = createEngine(readWorker);
  // It is most of what a visit loads, and starts before the rest. Who is new here has an item without it, and gets that first.
  if (!sight && named(wished()).name === 'read') void first.wake();
  // Before those of any part, which say what differs there.
  const dressed = ['css/grade.css', 'css/dialogs.css'].map(style);
  restoreHand();
  const reduced = matchMedia('(prefers-reduced-motion: reduce)');
  const compiled = { module: null };
  const engine = createEngine(wholeWorker, { compiled });
  const parts = createParts(voice.say);
  /** @type {Page} */
  const page = {
    sight,
    first,
    engine,
    slow: createEngine(wholeWorker, { compiled }),
    parts,
    voice,
    still: () => reduced.matches,
    log: createLog(engine, voice.say),
    marks: createMarks(),
    walkThrough: createWalkThrough(() => parts.visit('read')),
    share: later('Share', async () => {
      const { createShareDialog } = await import('./panels/share.js');
      return createShareDialog(engine, (link, task) => void import('./sets/add.js').then(({ addToSet }) => addToSet(page, link, task)));
    }, voice.say),
    type: later('Type', async () => (await import('./panels/type.js')).createTypeDialog(engine), voice.say),
  };
  createHelpDialog(page);
  if (isTaking()) void import('./sets/strip.js').then(({ openStrip }) => openStrip(page));
  const loaded = parts.start(page).then(() => loadAhead(page));
  // Only a released page says its version; no other is kept.
  const version = document.querySelector('meta[name="version"]')?.getAttribute('content');
  // Without the worker all works as long as there is a network.
  if (version && 'serviceWorker' in navigator) import('./offline.js').then(({ startOffline }) => startOffline(version, loaded)).catch(() => {});
  await Promise.all([parts.standing, ...dressed]);
}
