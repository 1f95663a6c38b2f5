// Shows a kept call again in its part, which makes it what was kept of its item.

/** @import { Engine } from './engine/client.js' */
/** @import { LogRecord } from './engine/protocol.js' */

/** What of each part knows how it keeps an item. @type {Record<LogRecord['item']['kind'], () => Promise<{ putBack(record: any, engine: Engine): Promise<string> }>>} */
const KEEPERS = {
  read: () => import('./read/session.js'),
  leave: () => import('./leave/session.js'),
  clear: () => import('./clear/session.js'),
  eye: () => import('./eye/session.js'),
};

/** @param {LogRecord} record @param {Engine} engine @returns {Promise<string>} The link that opens it. */
export async function putBack(record, engine) {
  const keeper = await KEEPERS[record.item.kind]();
  return keeper.putBack(record, engine);
}
