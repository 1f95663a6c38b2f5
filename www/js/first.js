// The small core, which Read begins with, starts before the rest of the page is there: it is most of what a visit loads. Who
// is new here has an item without it, and gets that first.

import { createEngine, readWorker } from './engine/client.js';
import { isNew, named, wished } from './parts.js';

/** @import { ReadEngine } from './engine/client.js' */

/** @type {ReadEngine} */
export const first = createEngine(readWorker);
if (!isNew() && named(wished()).name === 'read') void first.wake();
