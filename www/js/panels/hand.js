// On which side of a phone the tools stand: on that of the hand that holds it.

const KEY = 'leaveline.hand';

/** @typedef {'right' | 'left'} Side */

/** @returns {Side} */
export const hand = () => (document.documentElement.classList.contains('left-handed') ? 'left' : 'right');

/** @param {Side} side */
export function setHand(side) {
  document.documentElement.classList.toggle('left-handed', side === 'left');
  try {
    localStorage.setItem(KEY, side);
  } catch {
    // Then it holds until the page is closed.
  }
}

/** As it was set before. */
export function restoreHand() {
  try {
    document.documentElement.classList.toggle('left-handed', localStorage.getItem(KEY) === 'left');
  } catch {
    // Without storage the tools stand at the right.
  }
}
