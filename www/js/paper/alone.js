// Makes a drawing stand alone: what the page's styles say of it is written into it, in its own millimetres and in the
// colours of the day, so that it looks the same wherever it is opened.

import { html } from '../dom.js';
import { set, svg } from '../table/svg.js';

/** What only serves to take hold of something, or to look closer. */
const TOOLS = '.halo, .loupe, .zone-arm, .zone-grip, .preview, .aim-end';
const SHAPES = 'circle, ellipse, path, rect, text';
/** Attributes of the page that say nothing in a file. */
const OURS = /^(class|role|tabindex|aria-.*|data-.*)$/;
/** Longer side of a picture, pixels. */
const LONGER = 1600;

/** A computed colour as files have it, and how much it covers. @param {string} value @returns {[string, number]} */
export function colourOf(value) {
  const [space, ...parts] = value.match(/[a-z]+|-?[\d.]+(?:e-?\d+)?%?/gi) ?? [];
  if (value === 'none' || value.startsWith('url')) return [value.replaceAll('"', ''), 1];
  const numbers = parts.map(Number).filter((part) => !Number.isNaN(part));
  const channels = numbers.slice(0, 3).map((part) => (space === 'color' ? 255 * part : part));
  const hex = channels.map((part) => Math.round(part).toString(16).padStart(2, '0')).join('');
  const covers = numbers[3] ?? 1;
  return covers === 0 ? ['none', 1] : [`#${hex}`, covers];
}

const round = (/** @type {number} */ value) => Math.round(100 * value) / 100;

/** @param {Element} shape @param {CSSStyleDeclaration} looks @param {number} px Millimetres to a pixel of the page. */
function resolve(shape, looks, px) {
  const [fill, fills] = colourOf(looks.fill);
  const [stroke, covers] = colourOf(looks.stroke);
  const dashes = looks.strokeDasharray === 'none' ? null : looks.strokeDasharray.split(/[ ,]+/).map((one) => round(parseFloat(one) * px)).join(' ');
  const other = (/** @type {string} */ value, /** @type {string} */ usual) => (value === usual ? null : value);
  set(shape, {
    fill,
    'fill-opacity': fills === 1 ? null : fills,
    stroke: other(stroke, 'none'),
    ...(stroke !== 'none' && {
      'stroke-width': round(parseFloat(looks.strokeWidth) * px),
      'stroke-opacity': covers === 1 ? null : covers,
      'stroke-dasharray': dashes,
      'stroke-linecap': other(looks.strokeLinecap, 'butt'),
      'stroke-linejoin': other(looks.strokeLinejoin, 'miter'),
    }),
    opacity: other(looks.opacity, '1'),
    ...(shape instanceof SVGTextElement && {
      'font-weight': other(looks.fontWeight, '400'),
      'text-anchor': other(looks.textAnchor, 'start'),
      'paint-order': looks.paintOrder.startsWith('stroke') ? 'stroke' : null,
    }),
  });
}

/**
 * Resolves a drawing in place; it must be nobody else's.
 * @param {SVGSVGElement} root @param {Element} where Beside which it is to look as it does there. @param {number} px Millimetres to a pixel.
 * @param {string} title @param {string} words What there is to see.
 */
export function standAlone(root, where, px, title, words) {
  const holder = html('div', { class: 'day table', hidden: '' });
  holder.append(root);
  where.append(holder);
  for (const tool of root.querySelectorAll(TOOLS)) tool.remove();
  const gone = [...root.querySelectorAll('*')].filter((one) => ['none', 'hidden'].some((value) => [getComputedStyle(one).display, getComputedStyle(one).visibility].includes(value)));
  for (const one of gone) one.remove();
  const day = getComputedStyle(holder);
  const [paper, font] = [day.getPropertyValue('--paper').trim(), day.fontFamily];
  // All is read before anything is written: what is written first would change what is read next.
  const looks = [...root.querySelectorAll(SHAPES)].map((shape) => /** @type {const} */ ([shape, { ...picked(getComputedStyle(shape)) }]));
  for (const [shape, look] of looks) resolve(shape, look, px);
  holder.remove();
  for (const one of [root, ...root.querySelectorAll('*')]) {
    for (const { name } of [...one.attributes]) if (OURS.test(name)) one.removeAttribute(name);
  }
  const { x, y, width, height } = root.viewBox.baseVal;
  const scale = LONGER / Math.max(width, height);
  set(root, { id: null, width: Math.round(scale * width), height: Math.round(scale * height), 'font-family': font.replaceAll('"', "'") });
  root.prepend(svg('title', {}, title), svg('desc', {}, words), svg('rect', { x, y, width, height, fill: paper }));
  root.remove();
  return root;
}

/** What is asked of a computed style, as it is now. @param {CSSStyleDeclaration} looks */
const picked = ({ fill, stroke, strokeDasharray, strokeWidth, strokeLinecap, strokeLinejoin, opacity, fontWeight, textAnchor, paintOrder }) =>
  /** @type {CSSStyleDeclaration} */ ({ fill, stroke, strokeDasharray, strokeWidth, strokeLinecap, strokeLinejoin, opacity, fontWeight, textAnchor, paintOrder });

/** @param {SVGSVGElement} root */
export const asText = (root) => new XMLSerializer().serializeToString(root);
