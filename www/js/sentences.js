// Says in a sentence what the core refused or what became of it.

import { EngineError } from './engine/client.js';

/** Whether a link was refused because a newer version of this page made it. @param {unknown} error */
export const isNewer = (error) => error instanceof EngineError && error.field === 'link version';

/** @param {unknown} error */
export function sentenceFor(error) {
  // Anything else is a mistake of this page and belongs on the console.
  if (!(error instanceof EngineError)) throw error;
  if (error.kind === 'unavailable') return 'What computes the shots could not be loaded. Check the connection, then press Deal.';
  if (error.kind === 'failed') return 'The computation failed and was started afresh. Your call is kept: try again.';
  // Who opened a link need not be told which part of what the page asked was the link.
  if ((error.field === 'link' || isNewer(error)) && error.rule) return `${error.rule}.`;
  return error.message.endsWith('.') ? error.message : `${error.message}.`;
}
