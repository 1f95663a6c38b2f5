// Draws the ghost path of a shot with one thing changed, with its number.

import { drawDimension } from '../table/dimension.js';
import { createPlacer } from '../table/labels.js';
import { mm, pathData, svg } from '../table/svg.js';

/** @import { Table } from '../engine/protocol.js' */
/** @import { Choice } from '../panels/why.js' */
/** @import { Frame } from '../table/frame.js' */

/** Size of the notes, CSS pixels. */
const NOTE = 12;

/** A layer of the drawing that is made when it is first needed. @param {SVGSVGElement} root @param {string} name @param {string} behind */
function layer(root, name, behind) {
  const there = root.querySelector(`.${name}`);
  if (there instanceof SVGGElement) return there;
  const made = svg('g', { class: name });
  root.querySelector(`.${behind}`)?.after(made);
  return made;
}

/** @param {SVGSVGElement} root @param {Choice | null} replay @param {Table} table @param {Frame} frame */
export function drawReplay(root, replay, table, frame) {
  const [paths, notes] = [layer(root, 'replay', 'outcome'), layer(root, 'replay-notes', 'notes')];
  if (!replay) {
    paths.replaceChildren();
    notes.replaceChildren();
    return;
  }
  const { path, objectPath, dimension, label } = replay;
  const [x, y] = path[path.length - 1];
  paths.replaceChildren(
    svg('path', { class: 'replayed', d: pathData(path) }),
    ...(objectPath.length > 1 ? [svg('path', { class: 'replayed', d: pathData(objectPath) })] : []),
    svg('circle', { class: 'replayed', cx: mm(x), cy: mm(y), r: mm(table.ballRadius) }),
  );
  const size = NOTE * frame.px;
  const placer = createPlacer(frame.box, size);
  placer.avoid(frame.toView({ x, y }), mm(table.ballRadius));
  placer.avoidLine(path.map(([px, py]) => frame.toView({ x: px, y: py })));
  const drawn = dimension ? drawDimension(dimension, table, frame, placer, size) : [];
  const end = frame.toView({ x, y });
  const [beside, above] = [mm(table.ballRadius) + 0.5 * size, mm(table.ballRadius) + size];
  const spot = placer.place(label, [
    { x: end.x + beside, y: end.y, anchor: 'start' },
    { x: end.x - beside, y: end.y, anchor: 'end' },
    { x: end.x, y: end.y - above, anchor: 'middle' },
    { x: end.x, y: end.y + above, anchor: 'middle' },
  ]);
  notes.replaceChildren(
    svg('g', { class: 'dimension lit' }, ...drawn),
    svg('text', { class: 'note', x: spot.x, y: spot.y, dy: '0.36em', 'font-size': size, 'text-anchor': spot.anchor }, label),
  );
}
