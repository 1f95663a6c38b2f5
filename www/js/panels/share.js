// The link to the open item: copied at once, with the call or without.

import { button, byId, onClick } from '../dom.js';
import { urlOf } from '../links.js';
import { sentenceFor } from '../sentences.js';

/** @import { Model } from '../model.js' */
/** @import { Session } from '../session.js' */

/** @param {Model} model @param {Session} session */
export function createShareDialog(model, session) {
  const dialog = byId('share-dialog', HTMLDialogElement);
  const field = byId('share-link', HTMLInputElement);
  const [said, promise] = ['share-said', 'share-promise'].map((id) => byId(id, HTMLElement));
  const [carried, bare] = ['share-with', 'share-without'].map((id) => byId(id, HTMLInputElement));
  const send = button('share-send');

  async function copy() {
    field.select();
    try {
      await navigator.clipboard.writeText(field.value);
      said.textContent = 'Copied.';
    } catch {
      said.textContent = 'This browser does not let the page copy: the link is selected, copy it by hand.';
    }
  }

  async function refresh() {
    said.textContent = '';
    promise.textContent = carried.checked ? 'Your call stays hidden until theirs was played.' : 'The layout and the stroke, nothing else.';
    try {
      field.value = urlOf(await session.linkTo(carried.checked));
      await copy();
    } catch (error) {
      said.textContent = sentenceFor(error);
    }
  }

  onClick('share-copy', () => void copy());
  onClick('share-close', () => dialog.close());
  for (const choice of [carried, bare]) choice.addEventListener('change', () => void refresh());
  send.hidden = typeof navigator.share !== 'function';
  send.addEventListener('click', async () => {
    try {
      await navigator.share({ title: 'Leaveline: Read', text: model.state.question?.task ?? '', url: field.value });
    } catch {
      // Turning back from the system's own dialog is no error; the link still stands in the field.
    }
  });

  return () => {
    const { question, points, phase } = model.state;
    if (!question || dialog.open) return;
    const callable = points.length > 0;
    carried.disabled = !callable;
    carried.checked = callable && (phase === 'played' || phase === 'playing');
    bare.checked = !carried.checked;
    dialog.showModal();
    void refresh();
  };
}
