// What stands on the page for Sets.

import { html } from '../dom.js';
import { makeBlock } from '../panels/block.js';
import { action, steps, tool, toolRow } from '../panels/buttons.js';

const LIST = 'The items of the set';

export const createBlock = () =>
  makeBlock('sets', {
    choice: { id: 'set', caption: 'Set' },
    side: [
      html('section', { class: 'items', id: 'sets-items', 'aria-labelledby': 'sets-name' },
        html('h2', { id: 'sets-name', class: 'set-name' }),
        html('p', { id: 'sets-pass', class: 'set-pass' }),
        html('ol', { class: 'lines set-list', id: 'sets-list', role: 'listbox', tabindex: 0, 'aria-label': LIST })),
      html('section', { class: 'set-note', 'aria-label': 'Note', id: 'sets-note', tabindex: 0 }),
      toolRow('Edit the set', [
        ...steps('sets'),
        tool('sets', 'up', { label: 'Move the item up', title: 'Move the item up (Alt and ↑)' }),
        tool('sets', 'down', { label: 'Move the item down', title: 'Move the item down (Alt and ↓)' }),
        tool('sets', 'remove', { label: 'Remove the item', title: 'Remove the item (Delete)' }),
        tool('sets', 'type', { label: 'Type title and note of the item', keys: 'T', popup: true }),
        tool('sets', 'task', { label: 'The task: what is asked to pass, and the title of the set', keys: 'Q', popup: true }),
        tool('sets', 'reveal', { label: 'Reveal note and path of the item', keys: 'R', pressed: false }),
      ]),
    ],
    actions: [
      action('sets', 'take', 'Start', { class: 'action primary', 'aria-keyshortcuts': 'P' }),
      action('sets', 'daily', 'Today', { title: 'Today’s set: ten items, the same for everyone' }),
      action('sets', 'item', 'Try it', { title: 'Open the chosen item in its part (Enter)' }),
      action('sets', 'class', 'Present', { 'aria-haspopup': 'dialog', 'aria-keyshortcuts': 'F', title: 'Item by item on the whole screen, for a class (F)' }),
      action('sets', 'file', 'File…', { 'aria-haspopup': 'dialog', 'aria-keyshortcuts': 'O', title: 'Open a set from a file, or drop one here (O)' }),
      action('sets', 'share', 'Share', { 'aria-haspopup': 'dialog', 'aria-keyshortcuts': 'S' }),
    ],
    cells: [
      ['task', 'Set', 'wide'],
      ['items', 'Items', 'extra'],
      ['pass', 'To pass', 'extra'],
      ['best', 'Best score', ''],
      ['kind', 'Kind', 'extra'],
    ],
    keys: [
      ['`P`', 'start the set'],
      ['`F`', 'present it'],
      ['`R`', 'note and path'],
      ['`O`', 'open a file'],
      ['`S`', 'share or save'],
      ['`T`', 'words of the item'],
      ['`Q`', 'words of the set'],
      ['`↑` `↓`', 'choose an item, with `Alt` move it; `Enter` opens it in its part'],
      ['`Delete`', 'removes it; `Ctrl` `Z` undoes'],
      ['`←`', 'presenting: back'],
      ['`→`', 'presenting: next'],
      ['`Space`', 'presenting: reveal'],
      ['`Esc`', 'presenting: leave'],
    ],
  });
