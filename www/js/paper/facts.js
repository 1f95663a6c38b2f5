// What a sheet says of an item: the core finds it, and makes the link.

import { urlOf } from '../links.js';
import { zoneInWords } from '../table/zone.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { Aim, AnyItem, Ball, Demand, LevelInfo, Table } from '../engine/protocol.js' */

/**
 * @typedef {object} Facts
 * @property {string} part @property {string} task @property {LevelInfo} level @property {string} card @property {number} model
 * @property {Table} table @property {readonly Ball[]} balls
 * @property {Aim | null} aim The given stroke's, where the stroke is given.
 * @property {Partial<Demand>} demand What is asked of one shot.
 * @property {readonly string[]} given The stroke, or the zone, in words.
 * @property {string} url Opens the item.
 * @property {{ size: number, level: string, path: string }} code The same for a camera.
 */

/** What all kinds of items tell. @param {Pick<Facts, 'task' | 'level' | 'card' | 'model' | 'table' | 'balls'>} question */
const told = ({ task, level, card, model, table, balls }) => ({ task, level, card, model, table, balls });

/** @param {Engine} engine @param {AnyItem} item @returns {Promise<{ facts: Omit<Facts, 'url' | 'code'>, link: string }>} */
async function asked(engine, item) {
  if (item.kind === 'read') {
    const [question, link] = await Promise.all([engine.ask('openItem', item), engine.ask('makeLink', { item })]);
    const { aim, stroke } = question;
    return { facts: { part: 'Read', ...told(question), aim, demand: {}, given: [stroke.words] }, link };
  }
  if (item.kind === 'leave') {
    const [question, link] = await Promise.all([engine.ask('openLeave', { item }), engine.ask('makeLeaveLink', { item })]);
    const { zone } = item.demand;
    const given = zone ? [zoneInWords(zone, question.table)] : [];
    return { facts: { part: 'Leave', ...told(question), aim: null, demand: item.demand, given }, link };
  }
  const [question, link] = await Promise.all([engine.ask('openClear', { item }), engine.ask('makeClearLink', { item })]);
  return { facts: { part: 'Clear', ...told(question), aim: null, demand: {}, given: [] }, link };
}

/** @param {Engine} engine @param {AnyItem} item @returns {Promise<Facts>} */
export async function factsOf(engine, item) {
  const { facts, link } = await asked(engine, item);
  const url = urlOf(link);
  return { ...facts, url, code: await engine.ask('code', url) };
}
