// Makes SVG elements; nothing here knows pool.

const SPACE = 'http://www.w3.org/2000/svg';

/** @typedef {Record<string, string | number | null | undefined>} Attributes */

/**
 * @template {keyof SVGElementTagNameMap} K
 * @param {K} name @param {Attributes} [attributes] @param {(Element | string)[]} children
 * @returns {SVGElementTagNameMap[K]}
 */
export function svg(name, attributes = {}, ...children) {
  const element = document.createElementNS(SPACE, name);
  set(element, attributes);
  element.append(...children);
  return element;
}

/** Sets what differs; null takes an attribute away. @param {Element} element @param {Attributes} attributes */
export function set(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined) element.removeAttribute(name);
    else if (element.getAttribute(name) !== String(value)) element.setAttribute(name, String(value));
  }
}

/** Metres to the drawing's millimetres, to a hundredth. @param {number} metres */
export const mm = (metres) => Math.round(metres * 1e5) / 100;

/** @param {readonly (readonly [number, number])[]} points In metres. */
export const pathData = (points) => points.map(([x, y], k) => `${k ? 'L' : 'M'}${mm(x)} ${mm(y)}`).join('');

/** @param {{ x: number, y: number }} place @returns {[number, number]} */
export const pair = ({ x, y }) => [x, y];
