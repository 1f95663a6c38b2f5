// Shows a kept call again in its part: it becomes what the part kept last, and is opened by its link.

/** @import { Engine } from '../engine/client.js' */
/** @import { LogRecord } from '../engine/protocol.js' */

/** @param {LogRecord} record @param {Engine} engine @returns {Promise<string>} The link to it. */
export async function putBack({ item, call }, engine) {
  if ('zone' in call && 'stroke' in call && item.kind === 'leave') {
    const link = await engine.ask('makeLink', { item });
    const { zone, stroke, hand, seed } = call;
    const points = call.call ? [...call.call.points, call.call.stop] : [];
    const { store } = await import('../leave/session.js');
    const answer = { zone, stroke, pocket: item.demand.pocket ?? null, hand, exact: seed == null, seed: seed ?? 0 };
    store.write({ link, item, points, sealed: null, played: true, ...answer }, item.level);
    return link;
  }
  if (item.kind === 'clear' && 'ball' in call) {
    const link = await engine.ask('makeLink', { item });
    const { ball, pocket, zone = null, hand, seed, index } = call;
    const { store } = await import('../clear/session.js');
    const { game } = item;
    const balls = game.kind === 'group' ? game.group.length : item.shot.balls.length - 1;
    const wish = { game: game.kind, balls, demands: false };
    const play = { hand, exact: seed == null, seed: seed ?? 0, tries: index ?? 0 };
    store.write({ link, item, now: item, points: [], sealed: null, played: false, shots: [], order: [ball], pocket, zone, ...play, wish }, item.level);
    return link;
  }
  if (item.kind === 'eye' && 'answer' in call) {
    const { keepAgain } = await import('../eye/session.js');
    return keepAgain(item, call.answer);
  }
  if (item.kind !== 'read' || !('points' in call)) throw new Error('a call of another part');
  const link = await engine.ask('makeLink', { item });
  const { store } = await import('../read/session.js');
  store.write({ link, item, points: [...call.points, call.stop], sealed: null, played: true }, item.level);
  return link;
}
