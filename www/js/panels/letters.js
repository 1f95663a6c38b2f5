// Single letters as keys, and undo and redo: for the part that is open.

import { byId } from '../dom.js';

/**
 * @param {() => boolean} isOpen Whether the part whose keys these are is seen.
 * @param {Record<string, () => void>} keys
 * @param {{ undo: () => void, redo: () => void }} steps
 */
export function listenToLetters(isOpen, keys, { undo, redo }) {
  const letters = byId('letters', HTMLInputElement);
  document.addEventListener('keydown', (event) => {
    const { target, key } = event;
    const field = target instanceof Element && target.closest('input, select, textarea, dialog');
    if (!isOpen() || field || event.altKey || event.repeat) return;
    const letter = key.toLowerCase();
    if (event.ctrlKey || event.metaKey) {
      const back = letter === 'z' && !event.shiftKey;
      if (!back && letter !== 'y' && letter !== 'z') return;
      event.preventDefault();
      if (back) undo();
      else redo();
    } else if (letters.checked && Object.hasOwn(keys, letter)) {
      event.preventDefault();
      keys[letter]();
    }
  });
}
