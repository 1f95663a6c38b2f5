// Draws what never moves: rails, cushions, cloth, pockets, sights.

import { mm, pair, pathData, svg } from './svg.js';

/** @import { Pair, Table } from '../engine/protocol.js' */
/** @import { Frame } from './frame.js' */

/** How deep the drawn cushion is behind its nose, m. */
const CUSHION = 0.05;
/** Coarser drawings carry no numerals, and coarser ones still do not say which end is which, mm per pixel. */
const COARSE = 3.4;
const TINY = 7;
/** From a sight to its numeral, m. */
const INWARD = 0.03;

/** Whether the diamonds are numbered. @param {Frame} frame */
export const isNumbered = ({ px }) => px < COARSE;

/** Where the numeral of a sight stands. @param {Pair} sight @param {Table} table @returns {Pair} */
export function numeralAt([x, y], { length, width }) {
  if (y < 0 || y > width) return [x, y + (y < 0 ? INWARD : -INWARD)];
  return [x + (x < length / 2 ? INWARD : -INWARD), y];
}

/** What lies round the cloth, which is left open for what lies under the drawing. @param {number} behind @param {Table} table @param {string} name @param {string} cloth @param {number} [round] */
function border(behind, { length, width }, name, cloth, round = 0) {
  const [x, y] = [mm(length + 2 * behind) - 2 * round, mm(width + 2 * behind) - 2 * round];
  const corner = (/** @type {number} */ dx, /** @type {number} */ dy) => `a${round} ${round} 0 0 1 ${dx * round} ${dy * round}`;
  const rim = `M${mm(-behind) + round} ${mm(-behind)}h${x}${corner(1, 1)}v${y}${corner(-1, 1)}h${-x}${corner(-1, -1)}v${-y}${corner(1, -1)}Z`;
  return svg('path', { class: name, d: rim + cloth, 'fill-rule': 'evenodd' });
}

/** The sights that count along x and along y. @param {Table} table */
function counted({ sights, length, width }) {
  const along = sights.filter(([, y]) => y < 0 || y > width);
  const across = sights.filter(([x]) => x < 0 || x > length);
  return { along, across };
}

/** Small crosses where the lines between opposite sights meet. @param {Table} table */
function crosses(table) {
  const { along, across } = counted(table);
  const xs = [...new Set(along.map(([x]) => x)), table.length / 2];
  const ys = new Set(across.map(([, y]) => y));
  const arm = 9;
  let d = '';
  for (const x of xs) {
    for (const y of ys) d += `M${mm(x) - arm} ${mm(y)}h${2 * arm}M${mm(x)} ${mm(y) - arm}v${2 * arm}`;
  }
  return svg('path', { class: 'cross', d });
}

/** Which end is which, and the numbers of the diamonds where there is room: places are told from the head. @param {Table} table @param {Frame} frame */
function numerals(table, frame) {
  const { along, across } = counted(table);
  const size = 10.5 * frame.px;
  /** @param {Pair} sight @param {number | string} count @param {number} [most] */
  const numeral = (sight, count, most = 28) => {
    const [x, y] = numeralAt(sight, table);
    const at = `translate(${mm(x)} ${mm(y)}) ${frame.upright}`;
    return svg('text', { class: 'numeral', transform: at, 'font-size': Math.min(size, most), dy: '0.35em' }, String(count));
  };
  const ends = across.filter(([, y]) => Math.abs(y - table.width / 2) < 1e-6);
  const names = ends.map(([x, y]) => numeral([x, y + table.width / 8], x < 0 ? 'head' : 'foot', size));
  if (!isNumbered(frame)) return names;
  return [
    ...names,
    ...along.map((sight) => numeral(sight, Math.round((sight[0] / table.length) * 8))),
    ...across.map((sight) => numeral(sight, Math.round((sight[1] / table.width) * 4))),
  ];
}

/** Where the line through a jaw, from its nose on, meets the hole; or the jaw's end, if that lies in the hole. @param {Pair} nose @param {Pair} end @param {Table['pockets'][number]} hole @returns {Pair} */
function toHole([nx, ny], [ex, ey], { x, y, r }) {
  const [dx, dy] = [ex - nx, ey - ny];
  const [fx, fy] = [ex - x, ey - y];
  const [a, b, c] = [dx * dx + dy * dy, fx * dx + fy * dy, fx * fx + fy * fy - r * r];
  const reach = c > 0 && b * b > a * c ? (-b - Math.sqrt(b * b - a * c)) / a : 0;
  return [ex + reach * dx, ey + reach * dy];
}

/** The noses with their jaws, six lines that end in the holes. @param {Table} table @returns {Pair[][]} */
function noses({ outline, pockets }) {
  const [first, ...rest] = outline;
  // Of the 24 corners the second and third of each four are the ends of a pocket's two jaws.
  const round = [...rest, first];
  const near = (/** @type {Pair} */ [x, y]) =>
    pockets.reduce((best, one) => (Math.hypot(one.x - x, one.y - y) < Math.hypot(best.x - x, best.y - y) ? one : best));
  return Array.from({ length: outline.length / 4 }, (_, k) => {
    const [end, nose, otherNose, otherEnd] = [1, 2, 3, 4].map((n) => round[(4 * k + n) % round.length]);
    return [toHole(nose, end, near(end)), nose, otherNose, toHole(otherNose, otherEnd, near(otherEnd))];
  });
}

/** @param {SVGGElement} group @param {Table} table @param {Frame} frame */
export function drawTabletop(group, table, frame) {
  const sight = (/** @type {[number, number]} */ [x, y]) => `M${mm(x) - 9} ${mm(y)}l9 9 9-9-9-9z`;
  const lines = noses(table);
  const cloth = `${pathData(lines.flat())}Z`;
  group.replaceChildren(
    border(table.rail, table, 'rail', cloth, 46),
    border(CUSHION, table, 'cushion', cloth),
    svg('path', { class: 'cloth', d: cloth }),
    svg('path', { class: 'nose', d: lines.map(pathData).join('') }),
    crosses(table),
    svg('path', { class: 'sight', d: table.sights.map(sight).join('') }),
    ...(frame.px < TINY ? numerals(table, frame) : []),
    ...table.pockets.map((pocket) => {
      const [cx, cy] = pair(pocket);
      return svg('circle', { class: 'pocket', cx: mm(cx), cy: mm(cy), r: mm(pocket.r) });
    }),
  );
}
