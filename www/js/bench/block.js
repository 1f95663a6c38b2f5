// What stands on the page for the Bench.

import { html } from '../dom.js';
import { makeBlock, strokeSection } from '../panels/block.js';
import { action, steps, tool, toolRow } from '../panels/buttons.js';
import { scaleBlock } from '../panels/map-legend.js';
import { marginsSection } from './panels/margins.js';

/** The ruler's end, in lengths. */
const MOST = 15;

const level = () =>
  html('label', { class: 'scale-level' },
    html('span', { class: 'spoken' }, 'Chance whose line is drawn'),
    html('input', { type: 'range', id: 'bench-level', min: 5, max: 95, step: 5, value: 50 }),
    html('output', { id: 'bench-level-said', for: 'bench-level' }, 'Line at 50 %'));

export const createBlock = () =>
  makeBlock('bench', {
    choice: { id: 'hand', caption: 'Hand' },
    side: [
      strokeSection('bench', 'Stroke', MOST),
      marginsSection(scaleBlock('bench', level())),
      toolRow('Set up', [
        ...steps('bench'),
        tool('bench', 'balls', { label: 'Balls', title: 'Balls on and off the table (B)', keys: 'B', popup: true }),
        tool('bench', 'task', { label: 'The task: what is called', title: 'The task: balls, pocket and rails that are called (A)', keys: 'A', popup: true }),
        tool('bench', 'zone', { label: 'Zone', title: 'A zone for the stop; then drag another on the cloth (Z)', keys: 'Z', pressed: false }),
        tool('bench', 'map', { label: 'Map', title: 'Map of the chances on the next ball (H)', keys: 'H', pressed: false }),
        tool('bench', 'mirror', { label: 'Mirror left to right', keys: 'M' }),
        tool('bench', 'snap', { label: 'Snap to diamonds', title: 'Snap to diamonds and halves (N)', keys: 'N', pressed: true }),
      ]),
    ],
    actions: [
      action('bench', 'play', 'Play', { class: 'action primary', 'aria-keyshortcuts': 'P' }),
      action('bench', 'ten', 'Play ten', { title: 'The same stroke ten times under the hand (X)', 'aria-keyshortcuts': 'X' }),
      action('bench', 'practise', 'Practise'),
      action('bench', 'share', 'Share', { 'aria-haspopup': 'dialog', 'aria-keyshortcuts': 'S' }),
    ],
    cells: [['task', 'Bench', 'wide'], ['card', 'Table', 'extra'], ['model', 'Physics', 'extra']],
    keys: [
      ['`P`', 'play'],
      ['`X`', 'play ten'],
      ['`B`', 'balls'],
      ['`A`', 'what is called'],
      ['`S`', 'share'],
      ['`Z`', 'zone'],
      ['`T`', 'type it'],
      ['`H`', 'map'],
      ['`M`', 'mirror'],
      ['`N`', 'snap on or off'],
      ['`Tab`', 'to a pocket, the zone, the aim, a ball, the tip, the speed'],
      ['`←` `↑` `→` `↓`', 'move what the keyboard is on, with `Shift` finely'],
      ['`Enter`', 'aims at a pocket (again: at its sides, or a rail first), chooses a ball; then `O` makes it the ball on, `E` the next'],
      ['`+` `−` `[` `]`', 'size the zone (with `Shift` its width), turn it'],
      ['`Delete`', 'takes the ball or the zone away'],
      ['`Alt`', 'held with the mouse: no snapping'],
    ],
  });
