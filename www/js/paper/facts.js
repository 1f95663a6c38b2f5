// What a sheet says of an item: the core finds it, and makes the link.

import { urlOf } from '../links.js';
import { zoneInWords } from '../table/zone.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { Aim, AnyItem, Ball, Demand, LevelInfo, SetUpSpot, Table } from '../engine/protocol.js' */

/**
 * @typedef {object} Facts
 * @property {string} part @property {string} task @property {LevelInfo} level @property {string} card @property {number} model
 * @property {Table} table @property {readonly Ball[]} balls
 * @property {Aim | null} aim The given stroke's, where the stroke is given.
 * @property {Partial<Demand>} demand What is asked of one shot.
 * @property {readonly string[]} given The stroke, or the zone, in words.
 * @property {readonly SetUpSpot[]} spots How the balls are set up.
 * @property {string} url Opens the item.
 * @property {{ size: number, level: string, path: string }} code The same for a camera.
 */

/** What all kinds of items tell. @param {Pick<Facts, 'task' | 'level' | 'card' | 'model' | 'table' | 'balls'>} question */
const told = ({ task, level, card, model, table, balls }) => ({ task, level, card, model, table, balls });

/** @param {Engine} engine @param {AnyItem} item @returns {Promise<Omit<Facts, 'spots' | 'url' | 'code'>>} */
async function asked(engine, item) {
  if (item.kind === 'read') {
    const question = await engine.ask('openItem', item);
    const { aim, stroke } = question;
    return { part: 'Read', ...told(question), aim, demand: {}, given: [stroke.words] };
  }
  if (item.kind === 'leave') {
    const question = await engine.ask('openLeave', { item });
    const { zone } = item.demand;
    const given = zone ? [zoneInWords(zone, question.table)] : [];
    return { part: 'Leave', ...told(question), aim: null, demand: item.demand, given };
  }
  return { part: 'Clear', ...told(await engine.ask('openClear', { item })), aim: null, demand: {}, given: [] };
}

/** @param {Engine} engine @param {AnyItem} item @returns {Promise<Facts>} */
export async function factsOf(engine, item) {
  const [facts, link] = await Promise.all([asked(engine, item), engine.ask('makeLink', { item })]);
  const url = urlOf(link);
  const [spots, code] = await Promise.all([engine.ask('setUp', { item }), engine.ask('code', url)]);
  return { ...facts, spots, url, code };
}
