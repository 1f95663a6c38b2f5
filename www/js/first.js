// The small core, which Read begins with, starts before the rest of the page is there: it is most of what a visit loads.

import { createEngine, readWorker } from './engine/client.js';
import { named, wished } from './parts.js';

/** @import { ReadEngine } from './engine/client.js' */

/** @type {ReadEngine} */
export const first = createEngine(readWorker);
if (named(wished()).name === 'read') first.wake();
