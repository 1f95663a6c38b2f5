// Zones that are only shown: as much of them as lies on the cloth.

import { mm, svg } from './svg.js';

/** @import { Table, Zone } from '../engine/protocol.js' */

/** @param {Zone} zone @param {Record<string, string>} attributes */
export const ellipse = ({ x, y, long, wide, turn }, attributes) =>
  svg('ellipse', { ...attributes, cx: mm(x), cy: mm(y), rx: mm(long / 2), ry: mm(wide / 2), transform: `rotate(${turn} ${mm(x)} ${mm(y)})` });

/** A group that ends at the noses of the rails. @param {string} id of its own. @param {Table} table @param {Element[]} shapes */
export const onCloth = (id, { length, width }, shapes) =>
  svg('g', {},
    svg('clipPath', { id }, svg('path', { d: `M0 0H${mm(length)}V${mm(width)}H0z` })),
    svg('g', { 'clip-path': `url(#${id})` }, ...shapes));
