// What stands on the page for every part whose items are dealt and graded.

import { action, steps, tool } from '../panels/buttons.js';

/** @import { Name } from '../parts.js' */
/** @import { Block } from '../panels/block.js' */

/** What is graded can be explained: `why` says with what. @param {Name} name @param {string} why */
export const roundActions = (name, why) => [
  action(name, 'play', 'Play', { 'aria-keyshortcuts': 'P', disabled: '' }),
  action(name, 'rate', '1×', { hidden: '' }),
  action(name, 'why', 'Why', { 'aria-pressed': 'false', 'aria-keyshortcuts': 'W', title: `${why} (W)`, hidden: '' }),
  action(name, 'again', 'Again', { 'aria-keyshortcuts': 'A', title: 'The same shot once more, from your answer as it was (A)', hidden: '' }),
  action(name, 'share', 'Share', { 'aria-haspopup': 'dialog', 'aria-keyshortcuts': 'S' }),
  // At the end, where it stays before and after a shot: who presses it twice deals twice.
  action(name, 'deal', 'Deal', { 'aria-keyshortcuts': 'D' }),
];

/** The tools of a called path. @param {Name} name @param {string} remove What can be removed. @param {string} typed */
export const pathTools = (name, remove, typed) => [
  ...steps(name),
  tool(name, 'remove', { label: remove, title: 'Remove (Delete)' }),
  tool(name, 'snap', { label: 'Snap to cushions', title: 'Snap to cushions (N)', pressed: true }),
  tool(name, 'type', { label: typed, keys: 'T', popup: true }),
];

/** @type {Block['cells']} */
export const CELLS = [
  ['task', 'Item', 'wide'],
  ['level', 'Level', 'extra'],
  ['deal', 'Deal', ''],
  ['card', 'Table card', 'extra'],
  ['model', 'Model', 'extra'],
];
