// What stands on the page for Read.

import { CELLS, gradeSection, makeBlock, strokeSection } from '../panels/block.js';
import { pathTools, roundActions, toolRow } from '../panels/buttons.js';

const WHY = 'The shot with one thing changed';

export const createBlock = () =>
  makeBlock('read', {
    choice: { id: 'level', caption: 'Level' },
    side: [
      strokeSection('read', 'Stroke', null),
      gradeSection('read', {
        title: 'Your call',
        legend: [['real', 'the real path'], ['call', 'your call'], ['sender', 'the sender’s']],
        whose: 'Whose call is measured',
        why: WHY,
        facts: 'What the cue ball did',
      }),
      toolRow('Edit the call', pathTools('read', 'Remove the chosen point, or the last', 'Type a point')),
    ],
    actions: roundActions('read', WHY),
    cells: CELLS,
    keys: [
      ['`P`', 'play'],
      ['`A`', 'the same shot again'],
      ['`D`', 'deal'],
      ['`S`', 'share'],
      ['`T`', 'type a point'],
      ['`N`', 'snap on or off'],
      ['`W`', 'why'],
      ['`Tab`', 'to a point on the table'],
      ['`Enter`', 'adds a point behind it'],
      ['`←` `↑` `→` `↓`', 'move it by 1 cm, with `Shift` by 1 mm, held down faster'],
      ['`Delete`', 'removes it'],
      ['`Ctrl` `Z`', 'undoes, with `Shift` does again'],
      ['`Alt`', 'held with the mouse: no snapping'],
    ],
  });
