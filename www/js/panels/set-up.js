// How the balls are set up on a real table: a list to be read while it is done.

import { html } from '../dom.js';
import { makeDialog, press, row } from './dialog.js';

/** @import { SetUpSpot } from '../engine/protocol.js' */

/** A ball, where it is found, and the same in numbers. @param {SetUpSpot} spot */
function entry({ ball, diamonds, centimetres, words }) {
  const name = ball === 'cue' ? 'Cue ball:' : `The ${ball}:`;
  const numbers = `${diamonds.map((one) => one.toFixed(2)).join(', ')} diamonds · ${centimetres.map((one) => one.toFixed(1)).join(', ')} cm`;
  return html('li', {}, html('strong', {}, name), ` ${words}.`, html('span', { class: 'numbers' }, numbers));
}

/** Gives what shows the list. */
export function createSetUpDialog() {
  const list = html('ol', { class: 'spots', tabindex: 0, 'aria-labelledby': 'set-up-heading' });
  const dialog = makeDialog('set-up', 'Set up on a table',
    html('p', { class: 'small' }, 'Counted from the head rail and, as seen from there, from the right. Diamonds are read along both rails; the centimetres are those of a ball’s centre from the noses.'),
    list,
    row(press('Done', () => dialog.close())));

  /** @param {readonly SetUpSpot[]} spots */
  return (spots) => {
    list.replaceChildren(...spots.map(entry));
    if (!dialog.open) dialog.showModal();
    dialog.scrollTop = 0;
  };
}
