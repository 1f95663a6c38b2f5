// What the page says: aloud to a screen reader, or on a note that stays until it is closed.

import { byId, onClick } from '../dom.js';

export function createVoice() {
  const live = byId('live', HTMLElement);
  const notice = byId('notice', HTMLElement);
  const text = byId('notice-text', HTMLElement);

  const quiet = () => {
    notice.hidden = true;
    text.textContent = '';
  };
  onClick('notice-close', quiet);

  return {
    /** Speaks only. @param {string} sentence */
    announce(sentence) {
      live.textContent = sentence;
    },
    /** Shows and speaks; several sentences stand after one another. @param {string} sentence */
    say(sentence) {
      text.textContent = notice.hidden ? sentence : `${text.textContent} ${sentence}`;
      notice.hidden = false;
    },
    quiet,
  };
}

/** @typedef {ReturnType<typeof createVoice>} Voice */
