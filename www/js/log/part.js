// Puts the Log together.

import { putBack } from '../show-again.js';
import { button, byId, onClick } from '../dom.js';
import { TODAY } from '../links.js';
import { createModel, set } from '../state.js';
import { listenToLetters } from '../panels/letters.js';
import { sentenceFor } from '../sentences.js';
import { createDeleteDialog, createImportDialog, createTopicDialog } from './dialogs.js';
import { asFile, fromFile, give } from './file.js';
import { createSession } from './session.js';
import { EMPTY, chosen } from './state.js';
import { createView } from './view.js';
import { hint } from './words.js';

export { createBlock } from './block.js';

/** @import { LogNext } from '../engine/protocol.js' */
/** @import { Page } from '../main.js' */
/** @import { Part } from '../parts.js' */
/** @import { Keeper } from './keeper.js' */
/** @import { View } from './state.js' */

/** Changes that follow each other this soon are added up together, ms. */
const SOON = 100;

/** @param {Page} page @returns {Part} */
export function createPart({ engine, slow, parts, voice, log }) {
  const model = createModel(EMPTY);
  const isOpen = () => parts.isOpen('log');
  createView(model);
  const line = byId('log-hint', HTMLElement);
  model.onDraw((state) => {
    if (line.textContent !== hint(state)) line.textContent = hint(state);
  });
  byId('log-title-task', HTMLElement).textContent = 'Your calls over time';
  void slow.ask('modelVersion').then((version) => (byId('log-title-model', HTMLElement).textContent = String(version)));

  /** @param {unknown} error */
  const failed = (error) => voice.say(sentenceFor(error));
  /** A file is taken in, and added up when all of it is there. */
  let taking = false;
  /** @type {Promise<{ keeper: Keeper, session: ReturnType<typeof createSession> }> | null} */
  let begun = null;
  const begin = () => (begun ??= log.load().then((keeper) => {
    const session = createSession(model, keeper, engine, slow, voice.say);
    // What another part keeps is added up when the Log is seen again, and a whole file once.
    let soon = 0;
    keeper.onChange(() => {
      clearTimeout(soon);
      soon = setTimeout(() => isOpen() && !taking && void session.refresh(), SOON);
    });
    return { keeper, session };
  }));

  /** Opens an item for what is to be practised. @param {LogNext} next */
  async function practise({ link, part, deal }) {
    if (model.state.dealing) return;
    if (!deal) return parts.visit(link ?? part);
    model.change(set, { dealing: true });
    try {
      const { item } = await slow.ask('dealClear', deal);
      const fresh = await slow.ask('makeLink', { item });
      if (isOpen()) parts.visit(fresh);
    } finally {
      model.change(set, { dealing: false });
    }
  }
  const does = {
    async practise() {
      if (model.state.next) await practise(model.state.next);
    },
    async other(/** @type {string} */ topic) {
      const { session } = await begin();
      await practise(await session.choose(topic));
    },
    async export() {
      const { keeper } = await begin();
      give(await asFile(keeper), `leaveline-log-${new Date().toISOString().slice(0, 10)}.jsonl`);
      voice.announce('The file is on its way.');
    },
    async import(/** @type {File} */ file) {
      const { keeper, session } = await begin();
      taking = true;
      const come = await fromFile(file, keeper, slow).finally(() => (taking = false));
      await session.refresh();
      showImport(come);
    },
    async call(/** @type {string} */ what, /** @type {string} */ id) {
      const { keeper } = await begin();
      const kept = model.state.calls.find(({ record }) => record.id === id);
      if (what === 'remove') {
        await keeper.remove([id]);
        voice.announce('Deleted.');
      } else if (kept) parts.visit(await putBack(kept.record, slow), 'again');
    },
  };

  const showDelete = createDeleteDialog(model, {
    ofSkill: () => ofSkill(),
    remove: async (ids) => (await begin()).keeper.remove(ids),
    clear: async () => (await begin()).keeper.clear(),
  });
  /** @type {() => string[]} */
  let ofSkill = () => [];
  const showTopics = createTopicDialog(model, (topic) => void does.other(topic).catch(failed));
  const showImport = createImportDialog();

  const file = byId('log-file', HTMLInputElement);
  file.addEventListener('change', () => {
    const [one] = file.files ?? [];
    if (one) void does.import(one).catch(failed);
    file.value = '';
  });
  onClick('log-next', () => void does.practise().catch(failed));
  onClick('log-daily', () => parts.visit(TODAY));
  onClick('log-other', showTopics);
  onClick('log-export', () => void does.export().catch(failed));
  onClick('log-import', () => file.click());
  onClick('log-delete', showDelete);
  onClick('log-more', () => void begin().then(({ session }) => session.more()).catch(failed));
  onClick('log-persist', () => void begin().then(async ({ session }) => {
    if (!(await session.persist())) voice.say('The browser does not promise it. Export the Log now and then.');
  }).catch(failed));
  byId('log-view', HTMLSelectElement).addEventListener('change', ({ target }) =>
    target instanceof HTMLSelectElement && model.change(set, { view: /** @type {View} */ (target.value) }));
  byId('log-skills', HTMLElement).addEventListener('click', ({ target }) => {
    const skill = target instanceof Element && target.closest('[data-skill]')?.getAttribute('data-skill');
    if (skill) model.change(chosen, skill);
  });
  byId('log-list', HTMLElement).addEventListener('click', ({ target }) => {
    const pressed = target instanceof Element ? target.closest('[data-does]') : null;
    // Who deletes by the keyboard goes on with the next call.
    const row = pressed?.closest('li');
    const other = pressed?.getAttribute('data-does') === 'remove' ? (row?.nextElementSibling ?? row?.previousElementSibling)?.querySelector('[data-does="remove"]') : null;
    if (other instanceof HTMLElement) other.focus();
    if (pressed) void does.call(pressed.getAttribute('data-does') ?? '', pressed.getAttribute('data-id') ?? '').catch(failed);
  });
  listenToLetters(isOpen, { p: () => button('log-next').click() }, { undo: () => {}, redo: () => {} });

  return {
    async open() {
      try {
        const { session } = await begin();
        ofSkill = session.ofSkill;
        await session.refresh();
      } catch (error) {
        begun = null;
        failed(error);
      }
    },
  };
}
