// Help: the words of the trade, the keys, what can be set, and where the model ends; each on a page of its own.

import { byId, html, onClick } from '../dom.js';
import { style } from '../styles.js';
import { hand, setHand } from './hand.js';

/** @import { Page } from '../main.js' */

const KEY = 'leaveline.letters';

/** Single letters can be switched off. */
function createLettersChoice() {
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
}

/** The hand that holds the phone's tools: they stand on its side. */
function createHandsChoice() {
  for (const one of /** @type {const} */ (['right', 'left'])) {
    const choice = byId(`hand-${one}`, HTMLInputElement);
    choice.checked = hand() === one;
    choice.addEventListener('change', () => setHand(one));
  }
}

/** The tabs, as a keyboard expects them: one stop, arrows from one to the next. @param {(id: string) => void} shown */
function createTabs(shown) {
  const tabs = [...byId('help-tabs', HTMLElement).querySelectorAll('button')];

  /** @param {HTMLButtonElement} chosen */
  function choose(chosen) {
    for (const tab of tabs) {
      tab.setAttribute('aria-selected', String(tab === chosen));
      tab.tabIndex = tab === chosen ? 0 : -1;
      byId(tab.getAttribute('aria-controls') ?? '', HTMLElement).hidden = tab !== chosen;
    }
    shown(chosen.id);
  }

  tabs.forEach((tab, k) => {
    tab.addEventListener('click', () => choose(tab));
    tab.addEventListener('keydown', ({ key }) => {
      const by = { ArrowLeft: -1, ArrowRight: 1 }[key];
      const next = by ? tabs[(k + by + tabs.length) % tabs.length] : null;
      if (!next) return;
      choose(next);
      next.focus();
    });
  });
  return () => choose(tabs.find((tab) => tab.getAttribute('aria-selected') === 'true') ?? tabs[0]);
}

/** @param {Pick<Page, 'walkThrough'>} page */
export function createHelpDialog({ walkThrough }) {
  const dialog = byId('help-dialog', HTMLDialogElement);
  const words = byId('help-words', HTMLElement);
  let asked = false;

  const load = () => Promise.all([import('../words/panel.js'), import('../words/glossary.js').then(({ fetchGlossary }) => fetchGlossary()), style('css/zone.css'), style('css/words.css')]);

  async function loadWords() {
    if (asked) return;
    asked = true;
    const loaded = await load().catch(() => null);
    asked = loaded !== null;
    words.replaceChildren(loaded ? loaded[0].createWords(loaded[1]) : html('p', { role: 'alert' }, 'The words could not be loaded. Check the connection, then open Help again.'));
  }

  createLettersChoice();
  createHandsChoice();
  const show = createTabs((id) => void (id === 'help-tab-words' && dialog.open && loadWords()));
  onClick('help', () => {
    dialog.showModal();
    show();
  });
  onClick('help-close', () => dialog.close());
  onClick('help-walk', () => {
    dialog.close();
    walkThrough.ask();
  });
}
