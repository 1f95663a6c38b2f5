// Wires the page, nothing else.

import { createBench } from './bench/part.js';
import { byId } from './dom.js';
import { createEngine, workerOfPage } from './engine/client.js';
import { createAboutDialog } from './panels/about.js';
import { createVoice } from './panels/say.js';
import { createShareDialog } from './panels/share.js';
import { createParts } from './parts.js';
import { createRead } from './read/part.js';

/** @import { Engine } from './engine/client.js' */
/** @import { Voice } from './panels/say.js' */
/** @import { ShareDialog } from './panels/share.js' */
/** @import { Parts } from './parts.js' */

/**
 * What the parts share: the core for what must come at once, a second one for what takes its time, the address, the
 * page's voice, whether motion is to be avoided, and the dialog with a link.
 * @typedef {{ engine: Engine, slow: Engine, parts: Parts, voice: Voice, still: () => boolean, share: ShareDialog }} Page
 */

byId('closed', HTMLElement).hidden = true;
byId('sheet', HTMLElement).hidden = false;

const reduced = matchMedia('(prefers-reduced-motion: reduce)');
const compiled = { module: null };
/** @type {Page} */
const page = {
  engine: createEngine(workerOfPage, { compiled }),
  slow: createEngine(workerOfPage, { compiled }),
  parts: createParts(),
  voice: createVoice(),
  still: () => reduced.matches,
  share: createShareDialog(),
};
createAboutDialog();
createRead(page);
createBench(page);
page.parts.start();
