// What the page begins with. Who is new here sees an item and can call on it before the rest of the page is asked for;
// who is not gets all at once.

import { createVoice } from './panels/say.js';
import { openSight } from './read/sight.js';
import { isNew } from './which-part.js';

/** @import { Sight } from './read/sight.js' */

/** The rest waits so long for the item to be seen, ms: a page in the background, or without room, draws nothing. */
const UNSEEN = 1000;

/** @param {(sentence: string) => void} say @returns {Promise<Sight>} once it is seen */
async function showSight(say) {
  const sight = openSight(say);
  await Promise.race([sight.view.drawn, new Promise((done) => setTimeout(done, UNSEEN))]);
  return sight;
}

/** Holds the presses of buttons that nothing answers yet. @returns {() => void} what lets them go */
function holdPresses() {
  /** @type {Set<HTMLButtonElement>} */
  const held = new Set();
  const hold = (/** @type {MouseEvent} */ event) => {
    const pressed = event.target instanceof Element && event.target.closest('button');
    if (!pressed) return;
    event.stopPropagation();
    held.add(pressed);
  };
  addEventListener('click', hold, true);
  return () => {
    removeEventListener('click', hold, true);
    for (const one of held) one.click();
  };
}

const voice = createVoice();
const letGo = holdPresses();
try {
  const sight = isNew() ? await showSight(voice.say) : null;
  // In a released page: what asks for all modules of the rest at once, not import after import.
  const ahead = document.getElementById('rest');
  if (ahead instanceof HTMLTemplateElement) document.head.append(ahead.content);
  const { startPage } = await import('./main.js');
  await startPage(voice, sight);
} catch (error) {
  voice.say('The page could not be loaded whole. Check the connection, then load it again.');
  throw error;
} finally {
  letGo();
}
