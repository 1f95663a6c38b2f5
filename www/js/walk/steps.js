// The steps of the walk-through: what each says, when it is done, and what it points at.

import { isBlank } from '../read/state.js';

/** @import { State } from '../read/state.js' */

/**
 * A step is done once `over` says so; with `next` the player may also go on by a button of that name. `keys` says how
 * it is done without a pointer.
 * @typedef {{ words: string, keys?: string, at?: string, next?: string, over(state: State): boolean }} Step
 */

/** @type {readonly Step[]} */
export const STEPS = [
  {
    words: 'The dash-dotted line is given, with tip and speed. Where does the cue ball go after the hit?',
    next: 'Next',
    over: (state) => !isBlank(state),
  },
  {
    words: 'Tap where you think it stops.',
    keys: 'By keys: Tab to the ghost ball, Enter, then the arrows.',
    over: ({ points }) => points.length > 0,
  },
  {
    words: 'A cushion first? Drag the dashed line there. The stop can be dragged, too.',
    keys: 'By keys: Enter on the ghost ball adds a point.',
    next: 'No cushion',
    over: ({ points, phase }) => points.length > 1 || phase !== 'drawing',
  },
  { words: 'Now play it.', at: 'read-play', over: ({ phase }) => phase === 'played' },
  {
    words: 'Dashed: your call. Solid: what happened. Tap a line of the grade to see it on the table; Why explains it.',
    at: 'read-grade',
    next: 'Done',
    over: ({ phase }) => phase !== 'played',
  },
];
