// What Share offers beside the link: a sheet for the table, the drawing as a file, the played shot as a moving picture.

import { html } from '../dom.js';
import { press } from '../panels/dialog.js';
import { svg } from '../table/svg.js';
import { standAlone } from './alone.js';
import { movingPicture } from './moving.js';
import { pngFile, svgFile } from './pixels.js';
import { openPaper } from './print.js';

/** @import { AnyItem } from '../engine/protocol.js' */
/** @import { Run } from './moving.js' */

/** @typedef {{ title: string, task: string, item: AnyItem, run?: Run | null }} Offered */

/** So long a file is kept for the browser to take it, ms. */
const KEPT = 60_000;

const NOT_LOADED = 'The sheets could not be loaded. Check the connection, then try again.';

/** Hands a file to the browser's downloads. @param {Blob} file @param {string} name */
function save(file, name) {
  const url = URL.createObjectURL(file);
  html('a', { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), KEPT);
}

/** The drawing of the part that is open. */
function openDrawing() {
  const drawing = document.querySelector('[data-part]:not([hidden]) svg.table');
  if (!(drawing instanceof SVGSVGElement) || !drawing.parentElement) throw new Error('no part is open');
  return { drawing, stage: drawing.parentElement };
}

/** Lays the map that is seen under the drawing onto the cloth of its copy. @param {SVGSVGElement} copy @param {Element} stage */
function layMap(copy, stage) {
  const map = stage.querySelector('canvas.heat');
  if (!(map instanceof HTMLCanvasElement) || map.hidden) return;
  // What a worker draws on can be drawn, but not read.
  const canvas = Object.assign(document.createElement('canvas'), { width: map.width, height: map.height });
  canvas.getContext('2d')?.drawImage(map, 0, 0);
  const { width, height, transform } = map.style;
  const [, inward] = /translate\(([\d.]+)px/.exec(transform) ?? [];
  copy.classList.remove('mapped');
  copy.querySelector('.cloth')?.after(svg('image', {
    x: inward, y: inward, width: parseFloat(width), height: parseFloat(height), preserveAspectRatio: 'none', href: canvas.toDataURL(),
  }));
}

/** @param {Offered} offered */
function picture({ title, task }) {
  const { drawing, stage } = openDrawing();
  const { width, height } = drawing.getBoundingClientRect();
  const { width: long, height: short } = drawing.viewBox.baseVal;
  const balls = [...drawing.querySelectorAll('.ball')].map((ball) => ball.getAttribute('aria-label')).join('; ');
  const copy = /** @type {SVGSVGElement} */ (drawing.cloneNode(true));
  layMap(copy, stage);
  return standAlone(copy, stage, Math.max(long / width, short / height), `${title}. ${task}`, balls);
}

/**
 * The buttons for an item.
 * @param {Offered} offered @param {(sentence: string) => void} tell
 */
export function offersFor(offered, tell) {
  const name = `leaveline-${offered.item.kind}`;
  /** @param {string} ending @param {() => Promise<Blob> | Blob} make */
  const saving = (ending, make) => async () => {
    try {
      save(await make(), `${name}${ending}`);
      tell(`Saved as ${name}${ending}.`);
    } catch {
      tell('This browser could not make the file.');
    }
  };
  const { run } = offered;
  const title = `${offered.title}. ${offered.task}`;
  return [
    press('Print…', () => void openPaper([{ title: '', note: '', item: offered.item }]).catch(() => tell(NOT_LOADED)), { 'aria-haspopup': 'dialog' }),
    press('Drawing (SVG)', saving('.svg', () => svgFile(picture(offered))), { title: 'The table as a drawing', 'aria-label': 'Save a Drawing (SVG) of the table' }),
    press('Picture (PNG)', saving('.png', () => pngFile(picture(offered))), { title: 'The table as a picture', 'aria-label': 'Save a Picture (PNG) of the table' }),
    ...(run ? [press('Moving picture', saving('-moving.svg', () => svgFile(movingPicture(run, openDrawing().stage, title))), {
      title: 'The shot in motion, an animated SVG', 'aria-label': 'Save the shot as a moving picture',
    })] : []),
  ];
}
