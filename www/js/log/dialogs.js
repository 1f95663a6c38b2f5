// What the Log asks before it acts: what to delete, what to practise; and what a file brought.

import { html } from '../dom.js';
import { answerLine, makeDialog, press, row } from '../panels/dialog.js';
import { count } from './words.js';

/** @import { Model } from './state.js' */

/** Bad lines of a file that are named. */
const NAMED = 5;

/**
 * @param {Model} model
 * @param {{ ofSkill(): string[], remove(ids: readonly string[]): Promise<void>, clear(): Promise<void> }} does
 */
export function createDeleteDialog(model, { ofSkill, remove, clear }) {
  const line = answerLine();
  const skill = press('', () => ask(() => remove(ofSkill())));
  const all = press('', () => ask(clear));
  const yes = press('Delete for good', () => void done(), { class: 'action primary' });
  const close = press('Cancel', () => dialog.close());
  const dialog = makeDialog('log-delete', 'Delete calls', html('p', {}, 'A single call is deleted in the list. What is deleted cannot be brought back, unless you have exported it.'), skill, all, line, row(yes, close));
  /** @type {(() => Promise<void>) | null} */
  let act = null;

  /** @param {() => Promise<void>} wanted */
  function ask(wanted) {
    act = wanted;
    line.textContent = 'Sure?';
    yes.hidden = false;
    yes.focus();
  }
  async function done() {
    await act?.();
    dialog.close();
  }

  return () => {
    const { plots, summary } = model.state;
    if (dialog.open) return;
    skill.textContent = plots ? `The ${count(plots.n, 'call')} that tell of “${plots.name}”` : '';
    skill.hidden = !plots || plots.n === 0;
    all.textContent = `Everything: ${count(summary?.n ?? 0, 'call')}`;
    line.textContent = '';
    yes.hidden = true;
    act = null;
    dialog.showModal();
  };
}

/** @param {Model} model @param {(topic: string) => void} choose */
export function createTopicDialog(model, choose) {
  const list = html('ul', { class: 'log-topics' });
  const dialog = makeDialog('log-topics', 'Practise something else', list, row(press('Cancel', () => dialog.close())));
  return () => {
    const { next } = model.state;
    if (dialog.open || !next) return;
    list.replaceChildren(...next.standings.map(({ topic, name, n, words, due }) => {
      const how = n === 0 ? 'not tried yet' : `${words}${due ? ', due' : ''}`;
      return html('li', {}, press(`${name}: ${how}`, () => {
        dialog.close();
        choose(topic);
      }));
    }));
    dialog.showModal();
  };
}

export function createImportDialog() {
  const [came, bad] = [html('p', { role: 'status' }), html('ul', {})];
  const dialog = makeDialog('log-import', 'What the file brought', came, bad, row(press('Done', () => dialog.close(), { class: 'action primary' })));

  /** @param {{ found: number, fresh: number, refused: { line: number, words: string }[] }} come */
  return ({ found, fresh, refused }) => {
    const twice = found - fresh;
    came.textContent = `${count(fresh, 'call')} came in${twice > 0 ? `; ${twice.toLocaleString('en')} ${twice === 1 ? 'was' : 'were'} here already` : ''}${refused.length > 0 ? `; ${count(refused.length, 'line')} could not be read` : ''}.`;
    const more = refused.length - NAMED;
    bad.replaceChildren(...refused.slice(0, NAMED).map(({ line, words }) => html('li', {}, `Line ${line}: ${words}`)),
      ...(more > 0 ? [html('li', {}, `and ${count(more, 'line')} more`)] : []));
    if (!dialog.open) dialog.showModal();
  };
}
