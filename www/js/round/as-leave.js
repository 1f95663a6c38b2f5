// A shot that comes from elsewhere, as the core reads an item of Leave.

/** @import { Demand, LeaveItem, Shot } from '../engine/protocol.js' */

/** @param {{ model: number, level: number, shot: Shot }} item Of any kind. @param {Demand} demand @returns {LeaveItem} */
export const asLeave = ({ model, level, shot }, demand) => ({ version: 1, kind: 'leave', model, level, shot, demand });
