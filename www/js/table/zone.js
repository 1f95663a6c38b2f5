// A zone on the table: drawn as a hatched ellipse, moved, sized and turned by pointer and by keys.

import { ARROWS, onTable, stepOf } from './frame.js';
import { mm, set, svg } from './svg.js';

/** @import { Place, Table, Zone } from '../engine/protocol.js' */
/** @import { Frame } from './frame.js' */

/** What of a zone is held: all of it, the ends of its length and width, or the handle that turns it. */
/** @typedef {'middle' | 'long' | 'wide' | 'turn'} Grip */

/** Between the lines of the hatch, and from the end to the turning handle, CSS pixels. */
const HATCH = 7;
const ARM = 22;
/** The least length and width, m. */
const LEAST = 0.02;
/** Step of a key that turns it, degrees. */
const TURN = 5;

const radians = (/** @type {number} */ degrees) => (degrees * Math.PI) / 180;
const round = (/** @type {number} */ value, digits = 4) => Math.round(value * 10 ** digits) / 10 ** digits;
/** Half turns change nothing. @param {number} degrees */
const folded = (degrees) => round((((degrees % 180) + 270) % 180) - 90, 1);

/** A place from the middle of the zone, so far along it and across. @param {Zone} zone @param {number} along @param {number} across @returns {Place} */
function from({ x, y, turn }, along, across) {
  const [c, s] = [Math.cos(radians(turn)), Math.sin(radians(turn))];
  return { x: x + along * c - across * s, y: y + along * s + across * c };
}

/** How far along the zone and across it a place lies. @param {Zone} zone @param {Place} place @returns {[number, number]} */
function inward({ x, y, turn }, place) {
  const [c, s] = [Math.cos(radians(turn)), Math.sin(radians(turn))];
  const [dx, dy] = [place.x - x, place.y - y];
  return [dx * c + dy * s, dy * c - dx * s];
}

/** @param {Zone} zone @param {Frame} frame @returns {Record<Grip, Place>} */
const grips = (zone, { px }) => ({
  middle: zone,
  long: from(zone, zone.long / 2, 0),
  wide: from(zone, 0, zone.wide / 2),
  turn: from(zone, zone.long / 2 + (ARM * px) / 1000, 0),
});

/**
 * The zone as it is typed: its middle in diamonds, half its length and width in a measure of so many metres, its turn.
 * @param {Zone} zone @param {Table} table @param {number} measure
 */
export const zoneInNumbers = ({ x, y, long, wide, turn }, { length, width }, measure) => ({
  along: round((8 * x) / length, 2),
  across: round((4 * y) / width, 2),
  long: round(long / 2 / measure, 2),
  wide: round(wide / 2 / measure, 2),
  turn: round(turn, 1),
});

/** @param {Zone} zone @param {Table} table @param {number} [parts] Into how many a diamond is told. */
export function zoneInWords(zone, table, parts = 100) {
  const { along, across, long, wide, turn } = zoneInNumbers(zone, table, 0.01);
  const [x, y] = [along, across].map((diamond) => Math.round(parts * diamond) / parts);
  const size = `${Math.round(2 * long)} by ${Math.round(2 * wide)} cm, turned ${Math.round(turn)}°`;
  return `Zone: diamond ${x} from the head, ${y} from the right, ${size}`;
}

/**
 * Draws the zone; with `live` it has handles and takes the keyboard.
 * @param {SVGGElement} group @param {Zone | null | undefined} zone @param {Table} table @param {Frame} frame @param {boolean} live
 */
export function drawZone(group, zone, table, frame, live) {
  if (!zone) return group.replaceChildren();
  const id = `${group.ownerSVGElement?.id ?? ''}-hatch`;
  let whole = group.querySelector('.zone');
  if (!whole) {
    whole = svg('g', { class: 'zone', 'data-handle': 'zone' },
      svg('ellipse', { class: 'zone-area' }), svg('ellipse', { class: 'halo' }), svg('path', { class: 'zone-arm' }),
      ...['long', 'wide', 'turn'].map((grip) => svg('circle', { class: `zone-grip ${grip}` })));
    const pattern = svg('pattern', { id, patternUnits: 'userSpaceOnUse' }, svg('path', { class: 'zone-hatch' }));
    group.replaceChildren(pattern, whole);
  }
  const step = HATCH * frame.px;
  const pattern = group.querySelector('pattern');
  if (pattern) {
    set(pattern, { width: step, height: step, patternTransform: 'rotate(45)' });
    set(pattern.children[0], { d: `M0 0V${step}` });
  }
  const [area, halo, arm, ...handles] = whole.children;
  const shape = { rx: mm(zone.long / 2), ry: mm(zone.wide / 2) };
  set(area, { ...shape, fill: `url(#${id})` });
  set(halo, shape);
  // Drawn about its middle, so that only one attribute changes while it is moved.
  const { long, wide, turn } = grips({ ...zone, x: 0, y: 0, turn: 0 }, frame);
  set(arm, { d: live ? `M${mm(long.x)} 0H${mm(turn.x)}` : '' });
  [long, wide, turn].forEach(({ x, y }, k) => set(handles[k], { cx: mm(x), cy: mm(y), r: live ? 4.5 * frame.px : 0 }));
  set(whole, { transform: `translate(${mm(zone.x)} ${mm(zone.y)}) rotate(${zone.turn})`, role: live ? 'button' : 'img', tabindex: live ? 0 : null, 'aria-label': zoneInWords(zone, table) });
}

/** What of the zone lies under a pointer, if anything. @param {Zone} zone @param {Place} place @param {Frame} frame @param {number} reach m @returns {Grip | null} */
export function zoneAt(zone, place, frame, reach) {
  const at = grips(zone, frame);
  for (const grip of /** @type {const} */ (['turn', 'long', 'wide'])) {
    if (Math.hypot(place.x - at[grip].x, place.y - at[grip].y) <= reach) return grip;
  }
  const [along, across] = inward(zone, place);
  return Math.hypot(along / (zone.long / 2), across / (zone.wide / 2)) <= 1 ? 'middle' : null;
}

/** @param {number} size */
const sized = (size) => round(Math.max(LEAST, size));

/** The zone with what is held brought to `place`; `grab` is from the pointer to the middle as it was taken. @param {Zone} zone @param {Grip} grip @param {Place} place @param {Place} grab @returns {Zone} */
export function zoneDragged(zone, grip, place, grab) {
  const [along, across] = inward(zone, place);
  if (grip === 'long') return { ...zone, long: sized(2 * Math.abs(along)) };
  if (grip === 'wide') return { ...zone, wide: sized(2 * Math.abs(across)) };
  if (grip === 'turn') return { ...zone, turn: folded((Math.atan2(place.y - zone.y, place.x - zone.x) * 180) / Math.PI) };
  return { ...zone, x: round(place.x + grab.x), y: round(place.y + grab.y) };
}

/** A new zone, drawn from one corner of its box to the other. @param {Place} a @param {Place} b @returns {Zone} */
export function zoneBetween(a, b) {
  const [dx, dy] = [Math.abs(b.x - a.x), Math.abs(b.y - a.y)];
  const lying = dx >= dy;
  return {
    x: round((a.x + b.x) / 2),
    y: round((a.y + b.y) / 2),
    long: sized(lying ? dx : dy),
    wide: sized(lying ? dy : dx),
    turn: lying ? 0 : 90,
  };
}

/** A zone to begin with, around a place. @param {Place} place @returns {Zone} */
export const zoneAround = ({ x, y }) => ({ x: round(x), y: round(y), long: 0.4, wide: 0.25, turn: 0 });

/** The zone after a key, or null: arrows move it, + and - size its length, with shift its width, [ and ] turn it. @param {Zone} zone @param {KeyboardEvent} event @param {Frame} frame @returns {Zone | null} */
export function zoneKeyed(zone, { key, shiftKey, repeat, code }, frame) {
  const step = stepOf({ shiftKey, repeat });
  const arrow = ARROWS[key];
  if (arrow) {
    const way = onTable(frame, arrow[0], arrow[1]);
    return { ...zone, x: round(zone.x + step * way.x), y: round(zone.y + step * way.y) };
  }
  // With shift the character differs by keyboard; the numeric pad has its own.
  const more = key === '+' || key === '=' || code === 'Equal';
  const less = key === '-' || key === '_' || code === 'Minus';
  if (more || less) {
    const by = (more ? 2 : -2) * stepOf({ shiftKey: false, repeat });
    return shiftKey ? { ...zone, wide: sized(zone.wide + by) } : { ...zone, long: sized(zone.long + by) };
  }
  if (key === '[' || key === ']') return { ...zone, turn: folded(zone.turn + (key === ']' ? TURN : -TURN)) };
  return null;
}
