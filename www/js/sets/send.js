// Hands the open set on: as a file, and as a link while it is small.

import { html } from '../dom.js';
import { urlOf } from '../links.js';
import { answerLine, makeDialog, press, row } from '../panels/dialog.js';
import { sentenceFor } from '../sentences.js';
import { fileName, save } from './files.js';
import { entriesOf, openSet } from './state.js';

/** @import { Session } from './session.js' */
/** @import { Model } from './state.js' */

/** @param {Model} model @param {Session} session */
export function createSendDialog(model, session) {
  const field = html('input', { class: 'link', type: 'text', readonly: '', 'aria-label': 'Link to this set' });
  const withScore = html('input', { type: 'checkbox' });
  const score = html('span', {});
  const choice = html('label', { class: 'check' }, withScore, score);
  const text = html('textarea', { class: 'link', rows: 5, readonly: '', 'aria-label': 'Your result' });
  const said = answerLine();
  const copy = press('Copy', () => void copied(), { class: 'action primary' });
  const dialog = makeDialog('sets-send', 'Share this set', choice, field, text, said, row(copy, press('Save as a file', () => void saved()), press('Print…', () => void print(), { 'aria-haspopup': 'dialog' }), press('Done', () => dialog.close())));

  async function copied() {
    const from = text.hidden ? field : text;
    from.select();
    try {
      await navigator.clipboard.writeText(from.value);
      said.textContent = text.hidden && withScore.checked ? 'Copied, with your score to beat: nobody can check it.' : 'Copied.';
    } catch {
      said.textContent = `This browser does not let the page copy: the ${text.hidden ? 'link' : 'result'} is selected, copy it by hand.`;
    }
  }

  async function refresh() {
    field.hidden = text.hidden = copy.hidden = true;
    said.textContent = '';
    const result = withScore.checked ? model.state.daily?.result : null;
    try {
      field.value = urlOf(await session.link(withScore.checked));
      text.value = result?.text ?? '';
      field.hidden = !(text.hidden = !result);
      copy.hidden = false;
      await copied();
    } catch (error) {
      said.textContent = `${sentenceFor(error)} Save it as a file instead.`;
    }
  }

  async function saved() {
    const set = openSet(model.state);
    if (!set) return;
    try {
      save(fileName(set.title), await session.text());
      said.textContent = `Saved as ${fileName(set.title)}.`;
    } catch (error) {
      said.textContent = sentenceFor(error);
    }
  }

  /** Sheets for the table, with their notes. */
  async function print() {
    try {
      const { openPaper } = await import('../paper/print.js');
      await openPaper(entriesOf(model.state).map(({ title, note, item }) => ({ title, note, item })));
    } catch {
      said.textContent = 'Sheets could not be loaded. Check the connection.';
    }
  }

  withScore.addEventListener('change', () => void refresh());

  return () => {
    const { tally, daily } = model.state;
    if (!openSet(model.state) || dialog.open) return;
    const has = daily ? daily.result !== null : (tally?.isOver ?? false);
    choice.hidden = !has;
    withScore.checked = has;
    score.textContent = daily ? 'with my result, which tells nothing of the items' : `with my score of ${tally?.score ?? 0}, for a friend to beat`;
    dialog.showModal();
    void refresh();
  };
}
