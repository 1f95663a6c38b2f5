// Draws the plots, with a library that is fetched with the Log alone. The same numbers stand in a table beside each.

import { html } from '../dom.js';

/** @import uPlot from '../../pkg/vendor/uplot.js' */
/** @import { LogPlots } from '../engine/protocol.js' */
/** @import { View } from './state.js' */

/** @param {string} name */
const colour = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

// It sets up how dates and numbers are written as soon as it runs, which takes long: it is here, but runs with the first plot.
document.head.append(html('link', { rel: 'modulepreload', href: new URL('../../pkg/vendor/uplot.js', import.meta.url).href }));
const library = () => import('../../pkg/vendor/uplot.js');

/** Points without a line. @param {string} fill @returns {uPlot.Series} */
const dots = (fill) => ({ paths: () => null, points: { show: true, size: 5, width: 0, fill, stroke: fill } });

/** @param {string} label @param {boolean} [time] @returns {uPlot.Axis} */
const axis = (label, time = false) => ({
  label,
  labelSize: 18,
  labelFont: '12px sans-serif',
  font: '12px sans-serif',
  size: time ? 40 : 44,
  gap: 3,
  stroke: colour('--ink'),
  grid: { stroke: colour('--hair'), width: 0.5 },
  ticks: { stroke: colour('--hair'), width: 0.5 },
});

/** The lines through nil. @param {uPlot} plot */
function cross(plot) {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.strokeStyle = colour('--ink');
  ctx.lineWidth = devicePixelRatio;
  ctx.beginPath();
  const [x, y] = [plot.valToPos(0, 'x', true), plot.valToPos(0, 'y', true)];
  if (x >= bbox.left && x <= bbox.left + bbox.width) {
    ctx.moveTo(x, bbox.top);
    ctx.lineTo(x, bbox.top + bbox.height);
  }
  if (y >= bbox.top && y <= bbox.top + bbox.height) {
    ctx.moveTo(bbox.left, y);
    ctx.lineTo(bbox.left + bbox.width, y);
  }
  ctx.stroke();
  ctx.restore();
}

/** The line on which both agree, from corner to corner. @param {uPlot} plot */
function agreement({ ctx, bbox: { left, top, width, height } }) {
  ctx.save();
  ctx.strokeStyle = colour('--ink');
  ctx.lineWidth = devicePixelRatio;
  ctx.beginPath();
  ctx.moveTo(left, top + height);
  ctx.lineTo(left + width, top);
  ctx.stroke();
  ctx.restore();
}

/** From the least to the most of both, with some room. @param {{ x: number[], y: number[] }} points @returns {() => [number, number]} */
function shared({ x, y }) {
  const [least, most] = [x, y].flat().reduce(([low, high], one) => [Math.min(low, one), Math.max(high, one)], [Infinity, -Infinity]);
  const room = 0.05 * (most - least) || 1;
  return () => [least - room, most + room];
}

/** Both axes to one scale, about nil. @param {readonly (readonly number[])[]} all @param {number} width @param {number} height */
function square(all, width, height) {
  const far = Math.max(1, ...all.map((one) => one.reduce((most, x) => Math.max(most, Math.abs(x)), 0)));
  const [x, y] = width > height ? [(far * width) / height, far] : [far, (far * height) / width];
  return { x: { time: false, range: /** @type {[number, number]} */ ([-x, x]) }, y: { range: /** @type {[number, number]} */ ([-y, y]) } };
}

/**
 * What a plot needs of the library.
 * @param {LogPlots} plots @param {View} view @param {number} width @param {number} height
 * @returns {{ options: Partial<uPlot.Options>, data: uPlot.AlignedData }}
 */
function specOf({ groups, places, stops, unit, placed }, view, width, height) {
  const [call, ink, real] = ['--call', '--ink', '--real'].map(colour);
  if (view === 'time') {
    const [mean, low, high] = /** @type {const} */ (['bias', 'low', 'high']).map((name) => groups.map((group) => group[name]));
    const edge = { stroke: call, width: 0.5, points: { show: false } };
    return {
      options: {
        series: [{}, edge, edge, { stroke: ink, width: 1.5, points: { show: true, size: 6, fill: ink } }],
        bands: [{ series: [2, 1], fill: `color-mix(in srgb, ${call} 18%, transparent)` }],
        axes: [axis('', true), axis(`mean error, ${unit}`)],
        hooks: { drawAxes: [cross] },
      },
      data: [groups.map(({ at }) => at / 1000), low, high, mean],
    };
  }
  if (view === 'stops') {
    return {
      options: {
        scales: square([stops.x, stops.y], width - 60, height - 60),
        series: [{}, dots(real)],
        axes: [axis('left and right of the call, balls'), axis('short and long, balls')],
        hooks: { drawAxes: [cross] },
      },
      data: [stops.x, stops.y],
    };
  }
  return {
    options: {
      scales: { x: { time: false, range: shared(places) }, y: { range: shared(places) } },
      series: [{}, dots(call)],
      axes: [axis(`real, in ${placed}`), axis(`called, in ${placed}`)],
      hooks: { drawAxes: [agreement] },
    },
    data: [places.x, places.y],
  };
}

/** @param {HTMLElement} box */
export function createPlot(box) {
  /** @type {uPlot | null} */
  let plot = null;
  /** Counts what was to be drawn, so that the library, which may come late, draws only the last of it. */
  let turn = 0;

  /** @param {LogPlots | null} plots @param {View} view */
  return async (plots, view) => {
    const mine = ++turn;
    const { clientWidth: width, clientHeight: height } = box;
    const spec = plots && width >= 80 && height >= 80 ? specOf(plots, view, width, height) : null;
    const loaded = spec && spec.data[0].length > 0 ? await library().catch(() => null) : undefined;
    if (mine !== turn) return;
    plot?.destroy();
    plot = null;
    box.textContent = loaded === null ? 'The plot could not be loaded; its numbers stand in the table.' : '';
    if (!spec || !loaded) return;
    const options = /** @type {uPlot.Options} */ ({ width, height, legend: { show: false }, cursor: { show: false }, ...spec.options });
    plot = new loaded.default(options, spec.data, box);
  };
}
