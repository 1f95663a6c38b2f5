// What stands on the page for Eye.

import { html } from '../dom.js';
import { makeBlock, strokeSection } from '../panels/block.js';
import { action } from '../panels/buttons.js';

export const createBlock = () =>
  makeBlock('eye', {
    choice: { id: 'size', caption: 'Table' },
    side: [
      strokeSection('eye', 'Stroke', null),
      html('section', { class: 'grade', id: 'eye-grade', 'aria-labelledby': 'eye-grade-title', hidden: '' },
        html('h2', { class: 'heading', id: 'eye-grade-title' }, 'This round'),
        html('div', { class: 'verdict' },
          html('p', { class: 'mark' }, html('span', { id: 'eye-mark' }), ' ', html('small', { id: 'eye-of' })),
          html('p', { class: 'progress', id: 'eye-progress' })),
        html('ul', { class: 'lines', id: 'eye-lines', tabindex: 0, 'aria-label': 'Your eye, kind by kind' })),
    ],
    actions: [
      action('eye', 'play', 'Answer', { 'aria-keyshortcuts': 'P' }),
      action('eye', 'deal', 'New round', { 'aria-keyshortcuts': 'D' }),
    ],
    cells: [
      ['task', 'Estimate', 'wide'],
      ['number', 'Number', ''],
      ['deal', 'Round', ''],
      ['card', 'Table', 'extra'],
      ['model', 'Physics', 'extra'],
    ],
    keys: [
      ['`P`', 'answers, then goes on to the next'],
      ['`D`', 'deals a new round'],
      ['`Tab`', 'to the handle'],
      ['`←` `↓`', 'less, with `Shift` finely'],
      ['`→` `↑`', 'more, with `Shift` finely'],
      ['`Enter`', 'on the handle: answers'],
    ],
  });
