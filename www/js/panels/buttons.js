// The buttons of a part: tools with a drawn sign, and actions in words.

import { html } from '../dom.js';
import { svg } from '../table/svg.js';

/** @import { Name } from '../parts.js' */

/** Signs in a box of 24. */
const SIGNS = {
  undo: 'M9 5 4 10l5 5M4 10h10a5.5 5.5 0 0 1 0 11h-3',
  redo: 'm15 5 5 5-5 5m5-5H10a5.5 5.5 0 0 0 0 11h3',
  remove: 'm6 6 12 12M18 6 6 18',
  snap: 'M3 20h18M3 7a3 3 0 1 0 6 0a3 3 0 1 0-6 0M10 11l1 1m2 2 1 1M15 17a3 3 0 1 0 6 0a3 3 0 1 0-6 0',
  type: 'M3 6h18v12H3zM7 10h.01M12 10h.01M17 10h.01M8 14.5h8',
  zone: 'M12 12m-9 0a9 5.5 0 1 0 18 0a9 5.5 0 1 0-18 0M8 15l5-7M12 16l5-7',
  path: 'm4 18 5-12 2 2.2m2 2.2 2 2.2m2 2.2.6.7M17 17.5a2 2 0 1 0 4 0a2 2 0 1 0-4 0',
  exact: 'M7 12a5 5 0 1 0 10 0a5 5 0 1 0-10 0M12 3v5M12 16v5M3 12h5M16 12h5',
  map: 'M4 5h16v14H4zM4 10c4-3 6 3 10 0s4-1 6-2M4 15c4-3 6 3 10 0s4-1 6-2',
  balls: 'M8 8m-4 0a4 4 0 1 0 8 0a4 4 0 1 0-8 0M16 16m-4 0a4 4 0 1 0 8 0a4 4 0 1 0-8 0M17 4v6M14 7h6',
  task: 'M5 4h14v16H5zM8.5 9h7M8.5 13h7M8.5 17h4',
  back: 'M19 6v12L9 12zM6 6v12',
  replay: 'M5 12a7 7 0 1 0 2.2-5M5 4v4h4M11 9.5v5l4-2.5z',
  again: 'M4 12a8 8 0 1 0 2.5-5.8M4 4v5h5',
  up: 'm6 13 6-7 6 7M12 6v13',
  down: 'm6 11 6 7 6-7M12 18V5',
  reveal: 'M3 12c4.5-7 13.5-7 18 0-4.5 7-13.5 7-18 0zM9.5 12a2.5 2.5 0 1 0 5 0a2.5 2.5 0 1 0-5 0',
  mirror: 'M12 3v18M9 7 4 17h5zM15 7l5 10h-5z',
};

/**
 * A tool, named after its sign; `title` says more than `label` and ends with the key. What is given for `pressed` or
 * `popup` makes it a switch or the opener of a dialog.
 * @typedef {{ label: string, title?: string, keys?: string, pressed?: boolean, popup?: boolean, kind?: string }} Tool
 */

/** @param {string} part @param {keyof typeof SIGNS} sign @param {Tool} tool */
export const tool = (part, sign, { label, title, keys, pressed, popup, kind = '' }) =>
  html('button', {
    type: 'button',
    class: `tool ${kind}`.trim(),
    id: `${part}-${sign}`,
    'aria-label': label,
    title: title ?? (keys ? `${label} (${keys.replace('Control', 'Ctrl')})` : label),
    'aria-pressed': pressed === undefined ? null : String(pressed),
    'aria-haspopup': popup ? 'dialog' : null,
    'aria-keyshortcuts': keys,
  }, svg('svg', { viewBox: '0 0 24 24', 'aria-hidden': 'true' }, svg('path', { d: SIGNS[sign] })), html('span', { 'aria-hidden': 'true' }, sign));

/** The two that every part has. @param {string} part */
export const steps = (part) => [
  tool(part, 'undo', { label: 'Undo', keys: 'Control+Z' }),
  tool(part, 'redo', { label: 'Redo', keys: 'Control+Shift+Z' }),
];

/** The row of tools. @param {string} label @param {Element[]} tools */
export const toolRow = (label, tools) => html('div', { class: 'tools', role: 'group', 'aria-label': label }, ...tools);

/** @param {string} part @param {string} id @param {string} text @param {import('../table/svg.js').Attributes} [more] */
export const action = (part, id, text, more) => html('button', { type: 'button', class: 'action', id: `${part}-${id}`, ...more }, text);

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
