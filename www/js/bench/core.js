// What the Bench asks of the core, in the shapes that it draws.

import { asLeave } from '../round/as-leave.js';
import { COLOURS } from '../table/chance-map.js';
import { pathOf } from '../table/balls.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { LeaveItem, Margins, Pair, Place, Shot, Trial as Reply } from '../engine/protocol.js' */

/**
 * What comes of an item's stroke: `item` with the stroke aimed and the cue lifted as needed; `aim` is the cue ball's way
 * to the ghost ball, or all of it.
 * @typedef {Reply & { aim: Pair[] }} Trial
 */

/** @typedef {{ azimuth: number, name: string }} Way */

/** The layout with which a fresh Bench begins. @type {Shot} */
const LAYOUT = {
  version: 1,
  table: { size: 'nine-foot' },
  balls: [
    { id: 'cue', x: 0.635, y: 0.635 },
    { id: '1', x: 1.5875, y: 0.9525 },
    { id: '2', x: 1.905, y: 0.3175 },
  ],
  stroke: { azimuth: 16.15, elevation: 3, speed: 1.6, side: 0, height: 0 },
};

/** @param {Engine} engine @param {Engine} slow */
export function createCore(engine, slow) {
  return {
    /** The hands to choose from. */
    hands: () => engine.ask('hands'),

    /** @returns {Promise<LeaveItem>} */
    async fresh() {
      const item = { model: await engine.ask('modelVersion'), level: 1, shot: LAYOUT };
      return asLeave(item, { on: '1', pocket: 'foot-left', next: '2' });
    },

    /** @param {LeaveItem} item @param {boolean} aim @returns {Promise<Trial>} */
    async trial(item, aim) {
      const reply = await engine.ask('trial', { item, aim });
      return { ...reply, aim: pathOf(reply.tracks, 'cue', 0, reply.contactTime ?? Infinity) };
    },

    /** The table of an item. @param {LeaveItem} item */
    board: (item) => engine.ask('board', { item }),

    /**
     * The ways into the pocket that is asked: its middle, its right side and its left, and off a rail first.
     * @param {LeaveItem} item @returns {Promise<Way[]>}
     */
    async ways(item) {
      const aim = (await engine.ask('aims', { item })).find(({ pocket }) => pocket === item.demand.pocket);
      if (!aim) return [];
      const { ballFirst, cushionFirst } = aim;
      const middle = ballFirst ? [{ azimuth: ballFirst.azimuth, name: 'the middle of the pocket' }] : [];
      const sides = ballFirst ? [ballFirst.right, ballFirst.left] : [];
      return [
        ...middle,
        ...sides.map(({ azimuth }, k) => ({ azimuth, name: `the ${k ? 'left' : 'right'} end of what still falls` })),
        ...cushionFirst.map(({ azimuth, rail }) => ({ azimuth, name: `the ${rail} rail first` })),
      ];
    },

    /** @param {LeaveItem} item @param {string} ball @param {Place} place @param {boolean} snap @param {boolean} [add] */
    place: async (item, ball, { x, y }, snap, add = false) => (await engine.ask('placeBall', { item, ball, x, y, snap, add })).item,

    /** @param {LeaveItem} item @param {string} ball */
    remove: async (item, ball) => (await engine.ask('removeBall', { item, ball })).item,

    /** @param {LeaveItem} item */
    mirror: async (item) => (await engine.ask('mirror', { item })).item,

    /** The place at typed diamonds. @param {LeaveItem} item @param {number} along @param {number} across */
    placeAt: (item, along, across) => engine.ask('pointAt', { item, along, across }),

    /** The fragment of a link to the item. @param {LeaveItem} item */
    link: (item) => engine.ask('makeLink', { item }),

    /** @param {LeaveItem} item */
    scale: (item) => engine.ask('speedScale', { item }),

    /** @param {LeaveItem} item @param {string} hand @returns {Promise<Margins>} */
    margins: (item, hand) => slow.ask('margins', { item, hand }),

    /** The colours of a map, from no chance to certain. */
    colours: () => engine.ask('mapScale', COLOURS),

    /** @param {LeaveItem} item @param {string} hand */
    ten: async (item, hand) => engine.ask('tries', { item, hand, seed: await engine.ask('freshSeed') }),
  };
}

/** @typedef {ReturnType<typeof createCore>} Core */
