// The map: chances over the table as colours, the line of one chance, and the legend. The core finds and draws them.

import { hide } from '../dom.js';
import { latest } from '../newest-request.js';
import { mm, set, svg } from './svg.js';

/** @import { Engine } from '../engine/client.js' */
/** @import { MapProgress, MapRequest, Table } from '../engine/protocol.js' */

/** What a map shows: whether all its chances are proved, and the line of one chance as path data. @typedef {{ rough: boolean, line: string }} Heat */

/** So many frames from now. @param {number} count */
async function frames(count) {
  for (let k = 0; k < count; k += 1) await new Promise(requestAnimationFrame);
}

/** Places along and across the table. */
const COLUMNS = 64;
const ROWS = 32;

/**
 * The map under a drawing: the first engine draws, all of them share the work. Engines must keep no other map.
 * @param {SVGSVGElement} root @param {readonly Engine[]} engines @param {(heat: Heat) => void} told
 * @param {(error: unknown) => void} failed
 */
export function createHeat(root, engines, told, failed) {
  const canvas = Object.assign(document.createElement('canvas'), { className: 'heat', width: COLUMNS, height: ROWS, hidden: true });
  root.before(canvas);
  let [given, proving] = [new AbortController(), new AbortController()];
  /** As far as they are known. @type {Float64Array | null} */
  let chances = null;
  let [level, rough] = [0.5, true];

  const drawings = latest(async () => {
    const now = rough;
    try {
      if (!chances) return;
      const { picture, line } = await engines[0].draw({ job: 'ChanceMap', chances, level });
      canvas.getContext('bitmaprenderer')?.transferFromImageBitmap(picture);
      told({ rough: now, line });
    } catch (error) {
      fail(error);
    }
  });

  function stop() {
    given.abort();
    proving.abort();
  }

  /** @param {unknown} error */
  function fail(error) {
    stop();
    chances = null;
    failed(error);
  }

  /** @typedef {Omit<MapRequest, 'columns' | 'rows' | 'share' | 'of' | 'proved'>} Asked */

  /**
   * Lets all engines find their shares; resolves when all is told.
   * @param {Asked} request @param {boolean} proved @param {AbortSignal} signal
   * @param {(progress: MapProgress, share: number) => void} take
   */
  const find = (request, proved, signal, take) =>
    Promise.all(engines.map(async (engine, share) => {
      const asked = { ...request, columns: COLUMNS, rows: ROWS, share, of: engines.length, proved };
      const told = (/** @type {MapProgress} */ progress) => take(progress, share);
      told(await engine.run('ChanceMap', asked, told, signal));
    }));

  /** Waits until what was found last is seen: whatever computes before takes the browser's time to show it. */
  async function seen() {
    await drawings.settled();
    await frames(2);
  }

  /** Proves what is shown. @param {Asked} request @param {Float64Array} found @param {AbortSignal} signal */
  async function prove(request, found, signal) {
    await seen();
    if (signal.aborted) return;
    const done = engines.map(() => 0);
    await find(request, true, signal, (progress, share) => {
      progress.cells.forEach((cell, k) => (found[cell] = progress.chances[k]));
      done[share] = progress.done;
      if (progress.cells.length === 0 && progress.done < 1) return;
      [chances, rough] = [found, done.some((part) => part < 1)];
      drawings.push(null);
    });
  }

  return {
    /**
     * Shows what is rough as soon as it is known; where all `rests`, goes on to what is proved. Resolves when the first is
     * known, so that another may be asked for.
     * @param {Asked} request @param {boolean} rests
     */
    async show(request, rests) {
      stop();
      given = new AbortController();
      const { signal } = given;
      const found = new Float64Array(COLUMNS * ROWS);
      const failing = (/** @type {AbortSignal} */ asked) => (/** @type {unknown} */ error) => void (asked.aborted || fail(error));
      try {
        await find(request, false, signal, (progress) => progress.cells.forEach((cell, k) => (found[cell] = progress.chances[k])));
      } catch (error) {
        return failing(signal)(error);
      }
      if (signal.aborted) return;
      [chances, rough] = [found, true];
      drawings.push(null);
      if (!rests) return;
      proving = new AbortController();
      prove(request, found, proving.signal).catch(failing(proving.signal));
    },

    /** Another chance to draw the line of. @param {number} chance */
    line(chance) {
      level = chance;
      drawings.push(null);
    },

    stop,

    seen,

    /** Proves no further what is shown: something else is to come. */
    pause: () => proving.abort(),

    /** Lays the canvas under the table, or takes it away. @param {SVGGElement} group @param {Table} table @param {boolean} shown */
    place(group, { length, width, touch }, shown) {
      hide(canvas, !shown);
      if (!shown) return;
      const [matrix, stage] = [group.getScreenCTM(), root.parentElement?.getBoundingClientRect()];
      if (!matrix || !stage) return;
      const { a, b, c, d, e, f } = matrix;
      Object.assign(canvas.style, {
        width: `${mm(length - 2 * touch)}px`,
        height: `${mm(width - 2 * touch)}px`,
        transform: `matrix(${[a, b, c, d, e - stage.left, f - stage.top]}) translate(${mm(touch)}px, ${mm(touch)}px)`,
      });
    },
  };
}

/** The line of the chosen chance. @param {SVGGElement} group @param {Heat | null} heat */
export function drawLine(group, heat) {
  if (group.childElementCount === 0) group.append(svg('path', { class: 'contour-under' }), svg('path', { class: 'contour' }));
  for (const line of group.children) set(line, { d: heat?.line ?? '' });
}

/** Colours of a legend: as many as look even. */
export const COLOURS = 48;

/** The scale from 0 to 100. @param {SVGSVGElement} legend @param {readonly string[]} colours */
export function drawScale(legend, colours) {
  const step = 100 / colours.length;
  legend.replaceChildren(...colours.map((fill, k) => svg('rect', { x: k * step, y: 0, width: step + 0.3, height: 8, fill })));
}

/** @typedef {ReturnType<typeof createHeat>} HeatMap */
