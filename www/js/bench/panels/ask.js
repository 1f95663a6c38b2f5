// What is called: the ball on, the next one, the pocket, and the rails to be met in order.

import { LIMITS } from '../../../pkg/limits.js';
import { html, option, put } from '../../dom.js';
import { answerLine, labelled, makeDialog, press, row } from '../../panels/dialog.js';
import { asking, zoned } from '../session.js';

/** @import { PocketName, Rail } from '../../engine/protocol.js' */
/** @import { Session } from '../session.js' */
/** @import { Model } from '../state.js' */

const RAILS = /** @type {Rail[]} */ (['head', 'foot', 'right', 'left']);

/** @param {Model} model @param {Session} session @param {() => void} typeZone Opens the numbers of the zone. */
export function createAskDialog(model, session, typeZone) {
  const [on, next, pocket, mapped] = ['select', 'select', 'select', 'select'].map((name) => html(/** @type {'select'} */ (name)));
  const sequence = answerLine();
  const unzone = press('No zone', () => void session.commit(zoned(null)));
  const addRail = (/** @type {Rail} */ rail) => void session.commit((item) => {
    const rails = item.demand.rails ?? [];
    return rails.length < LIMITS.mostRails ? asking(item, { rails: [...rails, rail] }) : item;
  });
  const dialog = makeDialog('ask', 'What is called',
    html('div', { class: 'fields' }, labelled('Ball on', on), labelled('Pocket', pocket), labelled('Next ball', next), labelled('Map: chance in', mapped)),
    sequence,
    html('p', { class: 'small', id: 'ask-rails' }, 'The cue ball must meet these rails, in order:'),
    html('div', { class: 'row wrap', role: 'group', 'aria-labelledby': 'ask-rails' },
      ...RAILS.map((rail) => press(rail, () => addRail(rail))),
      press('no matter', () => void session.commit((item) => asking(item, { rails: null })))),
    row(press('Done', () => dialog.close(), { class: 'action primary' }), press('Zone…', () => {
      dialog.close();
      typeZone();
    }), unzone));

  on.addEventListener('change', () => void session.commit((item) => {
    const before = item.demand;
    return asking(item, { on: on.value, next: before.next === on.value ? before.on : before.next });
  }, model.state.aimed));
  next.addEventListener('change', () => void session.commit((item) => asking(item, { next: next.value || null })));
  pocket.addEventListener('change', () => {
    if (pocket.value) session.set({ aimed: true });
    void session.commit((item) => asking(item, { pocket: /** @type {PocketName} */ (pocket.value) || null }), pocket.value !== '');
  });
  mapped.addEventListener('change', () => session.set({ mapPocket: /** @type {PocketName | ''} */ (mapped.value) }));

  model.onDraw(({ item, board, trial }, before) => {
    if (!item || !board || (item === before.item && board === before.board)) return;
    const { demand, shot } = item;
    const objects = shot.balls.map(({ id }) => id).filter((id) => id !== 'cue').sort((a, b) => Number(a) - Number(b));
    on.replaceChildren(...objects.map((id) => option(id, `${id} ball`)));
    next.replaceChildren(option('', 'none'), ...objects.filter((id) => id !== demand.on).map((id) => option(id, `${id} ball`)));
    pocket.replaceChildren(option('', 'any'), ...board.table.pockets.map(({ id }) => option(id, id)));
    mapped.replaceChildren(option('', 'the best pocket'), ...board.table.pockets.map(({ id }) => option(id, id)));
    [on.value, next.value, pocket.value, mapped.value] = [demand.on, demand.next ?? '', demand.pocket ?? '', model.state.mapPocket];
    put(sequence, trial?.task ?? '');
    unzone.disabled = !demand.zone;
  });

  return () => {
    if (!dialog.open && model.state.item) dialog.showModal();
  };
}
