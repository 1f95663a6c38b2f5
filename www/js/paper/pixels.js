// A drawing that stands alone, as pixels.

import { asText } from './alone.js';

/** Pixels to one of the drawing's own. */
const FINER = 1.5;

/** A drawing as a file. @param {SVGSVGElement} root */
export const svgFile = (root) => new Blob([asText(root)], { type: 'image/svg+xml' });

/** @param {string} url */
async function load(url) {
  const image = new Image();
  image.src = url;
  await image.decode();
  return image;
}

/** @param {CanvasRenderingContext2D} context @param {SVGSVGElement} root */
async function paint(context, root) {
  const url = URL.createObjectURL(svgFile(root));
  context.resetTransform();
  context.drawImage(await load(url), 0, 0, context.canvas.width, context.canvas.height);
  URL.revokeObjectURL(url);
}

/** The map, where it lies on the cloth. @param {CanvasRenderingContext2D} context @param {SVGImageElement} map @param {number} scale Pixels to a millimetre. @param {number[]} origin Of the view box. */
async function paintMap(context, map, scale, [left, top]) {
  const number = (/** @type {string} */ name) => Number(map.getAttribute(name));
  const [, flip = ''] = /matrix\((.*)\)/.exec(map.closest('[transform]')?.getAttribute('transform') ?? '') ?? [];
  const [a, b, c, d, e, f] = flip.split(' ').map(Number);
  context.setTransform(scale, 0, 0, scale, -scale * left, -scale * top);
  context.transform(a, b, c, d, e, f);
  context.drawImage(await load(map.getAttribute('href') ?? ''), number('x'), number('y'), number('width'), number('height'));
}

/** @param {SVGSVGElement} root @returns {Promise<Blob>} */
export async function pngFile(root) {
  const [width, height] = ['width', 'height'].map((name) => FINER * Number(root.getAttribute(name)));
  const canvas = Object.assign(document.createElement('canvas'), { width, height });
  const context = canvas.getContext('2d');
  if (!context) throw new Error('the browser has no canvas');
  await paint(context, root);
  const map = root.querySelector('image');
  if (map) {
    // An image within an image may come too late to be drawn; so the map by itself, then what lies over it once more.
    const box = (root.getAttribute('viewBox') ?? '').split(' ').map(Number);
    await paintMap(context, map, canvas.width / box[2], box);
    const over = /** @type {SVGSVGElement} */ (root.cloneNode(true));
    over.querySelector(':scope > rect')?.remove();
    const copy = over.querySelector('image');
    copy?.previousElementSibling?.remove();
    copy?.remove();
    await paint(context, over);
  }
  return new Promise((done, fail) => canvas.toBlob((file) => (file ? done(file) : fail(new Error('the browser made no picture'))), 'image/png'));
}
