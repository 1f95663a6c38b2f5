// What stands on the page for Leave.

import { html } from '../dom.js';
import { CELLS, gradeSection, makeBlock, strokeSection } from '../panels/block.js';
import { pathTools, roundActions, tool, toolRow } from '../panels/buttons.js';
import { marginsBlock } from './margins.js';

const WHY = 'The best stroke; one thing changed';
/** The ruler's end, in lengths. */
const MOST = 12;

export const createBlock = () =>
  makeBlock('leave', {
    choice: { id: 'level', caption: 'Level' },
    side: [
      strokeSection('leave', 'Your stroke', MOST,
        html('div', { class: 'played-by' },
          html('label', {}, html('span', { class: 'caption' }, 'Hand'),
            html('select', { id: 'leave-hand', title: 'Grades the zone; plays the shot unless it is played exactly' })),
          tool('leave', 'exact', { label: 'Play the exact stroke', title: 'Play the exact stroke, without the hand’s errors (X)', keys: 'X', pressed: true }))),
      gradeSection('leave', {
        title: 'Mark for your zone',
        legend: [['real', 'the real path'], ['call', 'your path'], ['stops', '256 stops'], ['best', 'best zone for this stroke'], ['sender', 'the sender’s']],
        whose: 'Whose answer is measured',
        why: WHY,
        facts: 'What the cue ball did',
        more: marginsBlock(),
      }),
      toolRow('Edit the answer', [
        tool('leave', 'zone', { label: 'Mark the zone', keys: 'Z', pressed: true, kind: 'mode' }),
        tool('leave', 'path', { label: 'Call the path', keys: 'C', pressed: false, kind: 'mode' }),
        ...pathTools('leave', 'Remove the zone, or the chosen point', 'Type the zone, or a point'),
      ]),
    ],
    actions: roundActions('leave', WHY),
    cells: CELLS,
    keys: [
      ['`P`', 'play'],
      ['`A`', 'the same shot again'],
      ['`D`', 'deal'],
      ['`S`', 'share'],
      ['`W`', 'why'],
      ['`Z`', 'the zone'],
      ['`C`', 'the called path'],
      ['`X`', 'the exact stroke or the hand’s'],
      ['`T`', 'type the zone or a point of the path'],
      ['`N`', 'snap on or off'],
      ['`←` `↑` `→` `↓`', 'move zone or point by 1 cm, set tip and speed; with `Shift` finely'],
      ['`+` `−` `[` `]`', 'size the zone (with `Shift` its width), turn it'],
      ['`Enter`', 'adds a point behind one, or aims at a pocket'],
      ['`Delete`', 'takes the zone or the point away'],
      ['`Ctrl` `Z`', 'undoes, with `Shift` does again'],
    ],
  });
