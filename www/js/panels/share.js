// The link to the open item: copied at once, with what the player called or without; and how it is set up on a table.

import { button, byId, onClick } from '../dom.js';
import { urlOf } from '../links.js';
import { sentenceFor } from '../sentences.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { AnyItem, SetUpSpot } from '../engine/protocol.js' */
/** @import { Run } from '../paper/moving.js' */

/**
 * What a part hands to the dialog: `link` makes the fragment, with the call or without;
 * `callable` says that there is a call, and `played` that it was played; a part whose items have none says what `ways` there are.
 * @typedef {object} Shared
 * @property {string} title @property {string} task
 * @property {(withCall: boolean) => Promise<string>} link
 * @property {boolean} callable @property {boolean} played
 * @property {{ with: string, without: string }} promise What the link carries.
 * @property {{ with: string, without: string }} [ways] What is chosen between, if not a call.
 * @property {boolean} [plain] There is nothing to choose.
 * @property {AnyItem} item
 * @property {Run | null} [run] The shot, where it may be seen.
 */

/** With the player's call, or without it. */
const CALLS = { with: 'with my call', without: 'without a call' };

/** @param {Engine} engine @param {(link: string, task: string) => void} addToSet */
export function createShareDialog(engine, addToSet) {
  const dialog = byId('share-dialog', HTMLDialogElement);
  const field = byId('share-link', HTMLInputElement);
  const [said, promise, choice] = ['share-said', 'share-promise', 'share-choice'].map((id) => byId(id, HTMLElement));
  const [carried, bare] = ['share-with', 'share-without'].map((id) => byId(id, HTMLInputElement));
  const send = button('share-send');
  const more = byId('share-more', HTMLElement);
  /** @type {Shared | null} */
  let shared = null;
  /** @type {((spots: readonly SetUpSpot[]) => void) | null} */
  let list = null;

  async function copy() {
    try {
      await navigator.clipboard.writeText(field.value);
      said.textContent = 'Copied.';
    } catch {
      // Only here: it takes the keyboard from whoever has gone on meanwhile.
      field.select();
      said.textContent = 'This browser does not let the page copy: the link is selected, copy it by hand.';
    }
  }

  async function refresh() {
    if (!shared) return;
    said.textContent = '';
    promise.textContent = carried.checked ? shared.promise.with : shared.promise.without;
    try {
      field.value = urlOf(await shared.link(carried.checked));
      await copy();
    } catch (error) {
      said.textContent = sentenceFor(error);
    }
  }

  /** Paper and pictures come when they are first wanted. @param {Shared} wanted */
  async function offer(wanted) {
    more.replaceChildren();
    try {
      const { offersFor } = await import('../paper/offers.js');
      if (shared === wanted) more.replaceChildren(...offersFor(wanted, (sentence) => void (said.textContent = sentence)));
    } catch {
      more.textContent = 'Sheets and pictures could not be loaded; the link is whole without them.';
    }
  }

  async function setUp() {
    if (!shared) return;
    try {
      const [{ createSetUpDialog }, spots] = await Promise.all([import('./set-up.js'), engine.ask('setUp', { item: shared.item })]);
      list ??= createSetUpDialog();
      list(spots);
    } catch (error) {
      said.textContent = sentenceFor(error);
    }
  }

  onClick('share-set-up', () => void setUp());
  onClick('share-copy', () => void copy());
  onClick('share-close', () => dialog.close());
  onClick('share-set', async () => {
    if (!shared) return;
    dialog.close();
    addToSet(await shared.link(false), shared.task);
  });
  for (const one of [carried, bare]) one.addEventListener('change', () => void refresh());
  send.hidden = typeof navigator.share !== 'function';
  send.addEventListener('click', async () => {
    try {
      await navigator.share({ title: shared?.title ?? '', text: shared?.task ?? '', url: field.value });
    } catch {
      // Turning back from the system's own dialog is no error; the link still stands in the field.
    }
  });

  /** @param {Shared} wanted */
  return (wanted) => {
    if (dialog.open) return;
    shared = wanted;
    const { callable, played, plain = false, ways = CALLS } = wanted;
    for (const way of /** @type {const} */ (['with', 'without'])) byId(`share-${way}-words`, HTMLElement).textContent = ways[way];
    choice.hidden = plain;
    carried.disabled = !callable;
    carried.checked = callable && played;
    bare.checked = !carried.checked;
    dialog.showModal();
    void refresh();
    void offer(wanted);
  };
}

/** @typedef {ReturnType<typeof createShareDialog>} ShareDialog */
