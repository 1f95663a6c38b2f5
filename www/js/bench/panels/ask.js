// What is asked: the ball on, the next one, the pocket, and the rails to be met in order.

import { byId, html, onClick } from '../../dom.js';
import { asking, zoned } from '../session.js';

/** @import { PocketName, Rail } from '../../engine/protocol.js' */
/** @import { Session } from '../session.js' */
/** @import { Model } from '../state.js' */

/** @param {Model} model @param {Session} session */
export function createAskDialog(model, session) {
  const dialog = byId('ask-dialog', HTMLDialogElement);
  const [on, next, pocket, mapped] = ['ask-on', 'ask-next', 'ask-pocket', 'ask-mapped'].map((id) => byId(id, HTMLSelectElement));
  const rails = byId('ask-rails', HTMLElement);
  const [sequence, unzone] = [byId('ask-sequence', HTMLElement), byId('ask-unzone', HTMLButtonElement)];

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
  rails.addEventListener('click', ({ target }) => {
    const rail = target instanceof Element && target.closest('button')?.getAttribute('data-rail');
    if (!rail) return;
    void session.commit((item) => {
      const before = item.demand.rails ?? [];
      if (rail === 'none') return asking(item, { rails: null });
      return before.length < 6 ? asking(item, { rails: [...before, /** @type {Rail} */ (rail)] }) : item;
    });
  });
  unzone.addEventListener('click', () => void session.commit(zoned(null)));
  onClick('ask-close', () => dialog.close());

  model.onDraw(({ item, board }, before) => {
    if (!item || !board || (item === before.item && board === before.board)) return;
    const { demand, shot } = item;
    const objects = shot.balls.map(({ id }) => id).filter((id) => id !== 'cue').sort((a, b) => Number(a) - Number(b));
    const option = (/** @type {string} */ value, text = value) => Object.assign(html('option', '', text), { value });
    on.replaceChildren(...objects.map((id) => option(id, `${id} ball`)));
    next.replaceChildren(option('', 'none'), ...objects.filter((id) => id !== demand.on).map((id) => option(id, `${id} ball`)));
    pocket.replaceChildren(option('', 'any'), ...board.table.pockets.map(({ id }) => option(id, id.replace('-', ' '))));
    mapped.replaceChildren(option('', 'the best pocket'), ...board.table.pockets.map(({ id }) => option(id, id.replace('-', ' '))));
    [on.value, next.value, pocket.value, mapped.value] = [demand.on, demand.next ?? '', demand.pocket ?? '', model.state.mapPocket];
    sequence.textContent = demand.rails?.length ? `Off the ${demand.rails.join(', then the ')} rail.` : 'Any way.';
    unzone.disabled = !demand.zone;
  });

  return () => {
    if (!dialog.open && model.state.item) dialog.showModal();
  };
}
