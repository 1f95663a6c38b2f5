// Where the model ends, and the keys; single letters can be switched off.

import { byId, onClick } from '../dom.js';

const KEY = 'leaveline.letters';

export function createAboutDialog() {
  const dialog = byId('about-dialog', HTMLDialogElement);
  const letters = byId('letters', HTMLInputElement);
  try {
    letters.checked = localStorage.getItem(KEY) !== 'off';
  } catch {
    // Without storage they are on, as they are at first.
  }
  letters.addEventListener('change', () => {
    try {
      localStorage.setItem(KEY, letters.checked ? 'on' : 'off');
    } catch {
      // Then it holds until the page is closed.
    }
  });
  onClick('about', () => dialog.showModal());
  onClick('about-close', () => dialog.close());
}
