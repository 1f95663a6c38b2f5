// Wires the page, nothing else.

import { createBench } from './bench/part.js';
import { byId } from './dom.js';
import { createEngine, workerOfPage } from './engine/client.js';
import { createAboutDialog } from './panels/about.js';
import { createVoice } from './panels/say.js';
import { createShareDialog } from './panels/share.js';
import { createTypeDialog } from './panels/type.js';
import { createLeave } from './leave/part.js';
import { createParts } from './parts.js';
import { createRead } from './read/part.js';

/** @import { Engine } from './engine/client.js' */
/** @import { Voice } from './panels/say.js' */
/** @import { ShareDialog } from './panels/share.js' */
/** @import { TypeDialog } from './panels/type.js' */
/** @import { Parts } from './parts.js' */

/**
 * What the parts share: the core for what must come at once, a second one for what takes its time, the address, the
 * page's voice, whether motion is to be avoided, and the dialogs that serve them all.
 * @typedef {{ engine: Engine, slow: Engine, parts: Parts, voice: Voice, still: () => boolean, share: ShareDialog, type: TypeDialog }} Page
 */

byId('closed', HTMLElement).hidden = true;
byId('sheet', HTMLElement).hidden = false;

const reduced = matchMedia('(prefers-reduced-motion: reduce)');
const compiled = { module: null };
const engine = createEngine(workerOfPage, { compiled });
/** @type {Page} */
const page = {
  engine,
  slow: createEngine(workerOfPage, { compiled }),
  parts: createParts(),
  voice: createVoice(),
  still: () => reduced.matches,
  share: createShareDialog(),
  type: createTypeDialog(engine),
};
createAboutDialog();
createRead(page);
createLeave(page);
createBench(page);
page.parts.start();
