// Draws what never moves: rails, cushions, cloth, pockets, sights.

import { mm, pair, pathData, svg } from './svg.js';

/** @import { Table } from '../engine/protocol.js' */
/** @import { Frame } from './frame.js' */

/** How deep the drawn cushion is behind its nose, m. */
const CUSHION = 0.05;
/** Coarser drawings carry no numerals, mm per pixel. */
const COARSE = 3.4;

/** @param {number} behind @param {Table} table @param {string} name @param {number} [round] */
const border = (behind, { length, width }, name, round = 0) =>
  svg('rect', {
    class: name,
    x: mm(-behind),
    y: mm(-behind),
    width: mm(length + 2 * behind),
    height: mm(width + 2 * behind),
    rx: round,
  });

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

/** @param {Table} table @param {Frame} frame */
function numerals(table, frame) {
  const { along, across } = counted(table);
  const size = Math.min(10.5 * frame.px, 28);
  /** @param {number} x @param {number} y @param {number} count */
  const numeral = (x, y, count) =>
    svg('text', { class: 'numeral', transform: `translate(${mm(x)} ${mm(y)}) ${frame.upright}`, 'font-size': size, dy: '0.35em' }, String(count));
  const inward = 0.03;
  return [
    ...along.map(([x, y]) => numeral(x, y + (y < 0 ? inward : -inward), Math.round((x / table.length) * 8))),
    ...across.map(([x, y]) => numeral(x + (x < 0 ? inward : -inward), y, Math.round((y / table.width) * 4))),
  ];
}

/** @param {SVGGElement} group @param {Table} table @param {Frame} frame */
export function drawTabletop(group, table, frame) {
  const sight = (/** @type {[number, number]} */ [x, y]) => `M${mm(x) - 9} ${mm(y)}l9 9 9-9-9-9z`;
  group.replaceChildren(
    border(table.rail, table, 'rail', 46),
    border(CUSHION, table, 'cushion'),
    svg('path', { class: 'cloth', d: `${pathData(table.outline)}Z` }),
    crosses(table),
    svg('path', { class: 'sight', d: table.sights.map(sight).join('') }),
    ...(frame.px < COARSE ? numerals(table, frame) : []),
    ...table.pockets.map((pocket) => {
      const [cx, cy] = pair(pocket);
      return svg('circle', { class: 'pocket', cx: mm(cx), cy: mm(cy), r: mm(pocket.r) });
    }),
  );
}
