// Draws an item of any kind, and over it how it is meant to be played.

import { drawAim } from '../path/call.js';
import { drawOutcome } from '../path/outcome.js';
import { drawMarks, drawPockets } from '../stroke/drawing.js';
import { drawBalls } from '../table/balls.js';
import { createSheet } from '../table/sheet.js';
import { mm, set, svg } from '../table/svg.js';
import { drawTabletop } from '../table/tabletop.js';
import { drawZone } from '../table/zone.js';

/** @import { ShownItem } from '../engine/protocol.js' */

const LAYERS = /** @type {const} */ (['tabletop', 'pockets', 'zones', 'was', 'aim', 'outcome', 'marks', 'balls']);

/** @param {SVGSVGElement} root @param {string} id @param {() => void} resized */
export function createDrawing(root, id, resized) {
  const sheet = createSheet(root, id, LAYERS, { schedule: resized });
  const { layers } = sheet;
  /** @type {ShownItem | null} */
  let drawn = null;

  /** @param {ShownItem | null} shown @param {boolean} revealed */
  return (shown, revealed) => {
    if (!shown) {
      drawn = null;
      for (const layer of Object.values(layers)) layer.replaceChildren();
      return;
    }
    const { table, balls, asked, given, meant } = shown;
    const fresh = sheet.reframe(table, shown !== drawn);
    const { frame } = sheet.board;
    if (!frame) return;
    const r = mm(table.ballRadius);
    if (fresh) {
      drawTabletop(layers.tabletop, table, frame);
      for (const layer of [layers.balls, layers.was, layers.zones, layers.pockets]) layer.replaceChildren();
    }
    drawn = shown;
    drawPockets(layers.pockets, table.pockets, asked.pocket, false);
    drawZone(layers.zones, asked.zone, table, frame, false);
    drawMarks(layers.marks, balls, asked, frame, r);
    const path = revealed ? meant : null;
    const approach = path?.approach ?? given?.approach ?? null;
    const ghost = approach?.at(-1);
    if (approach && ghost) {
      drawAim(layers.aim, { path: approach, ghost: { x: ghost[0], y: ghost[1] }, first: '', pocketPath: path?.objectPath ?? [] }, r);
      set(layers.aim.lastElementChild ?? layers.aim, { role: 'img', 'aria-label': 'Ghost ball' });
    } else {
      layers.aim.replaceChildren();
    }
    drawOutcome(layers.outcome, path && { tracks: [], way: path.way, whole: true, clock: 0 }, frame);
    if (path && !path.way.stop.pocket) layers.outcome.append(svg('circle', { class: 'stop', cx: mm(path.way.stop.x), cy: mm(path.way.stop.y), r }));
    drawBalls(layers.balls, layers.was, { table, balls, ghost: ghost ? { x: ghost[0], y: ghost[1] } : null, tracks: [], clock: 0 }, frame);
  };
}
