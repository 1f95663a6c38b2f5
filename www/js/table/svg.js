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

/** Makes what is there like another element of its kind; says whether it could. @param {Element} there @param {Element} element */
function liken(there, element) {
  if (there.nodeName !== element.nodeName || there.hasChildNodes() || element.hasChildNodes()) return there.isEqualNode(element);
  for (const { name } of [...there.attributes]) if (!element.hasAttribute(name)) there.removeAttribute(name);
  set(there, Object.fromEntries([...element.attributes].map(({ name, value }) => [name, value])));
  return true;
}

/** Puts these into a group and nothing else. What is there like them stays: a browser has less to do for what changes than for what comes and goes. @param {Element} group @param {readonly Element[]} elements */
export function fill(group, elements) {
  elements.forEach((element, k) => {
    const there = group.children[k];
    if (!there) group.append(element);
    else if (!liken(there, element)) there.replaceWith(element);
  });
  while (group.children.length > elements.length) group.lastElementChild?.remove();
}

/** Metres to the drawing's millimetres, to a hundredth. @param {number} metres */
export const mm = (metres) => Math.round(metres * 1e5) / 100;

/** @param {readonly (readonly [number, number])[]} points In metres. */
export const pathData = (points) => points.map(([x, y], k) => `${k ? 'L' : 'M'}${mm(x)} ${mm(y)}`).join('');

/** @param {{ x: number, y: number }} place @returns {[number, number]} */
export const pair = ({ x, y }) => [x, y];

/**
 * Keeps the children of a group in step with a list, by key: an element that stays keeps its focus.
 * @template T
 * @template {Element} E
 * @param {Element} parent
 * @param {readonly T[]} list
 * @param {(one: T, index: number) => string} keyOf
 * @param {(one: T, index: number) => E} make
 * @param {(element: E, one: T, index: number) => void} [update]
 */
export function sync(parent, list, keyOf, make, update) {
  /** @type {Map<string, E>} */
  const old = new Map();
  for (const child of parent.children) old.set(child.getAttribute('data-key') ?? '', /** @type {any} */ (child));
  let before = parent.firstElementChild;
  list.forEach((one, index) => {
    const key = keyOf(one, index);
    let element = old.get(key);
    if (element) {
      old.delete(key);
    } else {
      element = make(one, index);
      element.setAttribute('data-key', key);
    }
    update?.(element, one, index);
    if (element === before) before = before.nextElementSibling;
    else parent.insertBefore(element, before);
  });
  for (const element of old.values()) element.remove();
}
