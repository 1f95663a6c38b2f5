// How the table lies on the screen: on its side, or standing on its head rail.

/** @import { Place, Table } from '../engine/protocol.js' */

/**
 * @typedef {object} Frame
 * @property {boolean} standing
 * @property {[number, number, number, number]} box The view box, mm.
 * @property {string} flip The one transform from the table to the screen.
 * @property {string} upright Undoes it, for what must be read.
 * @property {number} px Millimetres to one CSS pixel.
 * @property {(place: Place) => Place} toView From metres on the table to the view box.
 */

/** Room around the rails, mm. */
const MARGIN = 6;

/**
 * @param {Table} table @param {boolean} standing @param {number} width @param {number} height of the drawing, CSS pixels
 * @returns {Frame}
 */
export function frameOf(table, standing, width, height) {
  const [rail, length, across] = [table.rail * 1000 + MARGIN, table.length * 1000, table.width * 1000];
  const long = length + 2 * rail;
  const short = across + 2 * rail;
  // The y axis is turned over here and nowhere else; standing, the head is at the bottom as the player sees it.
  return standing
    ? {
        standing,
        box: [-across - rail, -length - rail, short, long],
        flip: 'matrix(0 -1 -1 0 0 0)',
        upright: 'matrix(0 -1 -1 0 0 0)',
        px: Math.max(short / width, long / height),
        toView: ({ x, y }) => ({ x: -1000 * y, y: -1000 * x }),
      }
    : {
        standing,
        box: [-rail, -across - rail, long, short],
        flip: 'matrix(1 0 0 -1 0 0)',
        upright: 'matrix(1 0 0 -1 0 0)',
        px: Math.max(long / width, short / height),
        toView: ({ x, y }) => ({ x: 1000 * x, y: -1000 * y }),
      };
}

/** A direction on the screen (y down) as one on the table. @param {Frame} frame @param {number} x @param {number} y */
export const onTable = ({ standing }, x, y) => (standing ? { x: -y, y: -x } : { x, y: -y });

/** Steps of an arrow key over the table, m: plain, held down, with shift. */
export const STEP = 0.01;
const RUN = 0.03;
const FINE = 0.001;

/** @param {Pick<KeyboardEvent, 'shiftKey' | 'repeat'>} event */
export const stepOf = ({ shiftKey, repeat }) => (shiftKey ? FINE : repeat ? RUN : STEP);

/** Where the arrow keys point on the screen. @type {Record<string, [number, number]>} */
export const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
