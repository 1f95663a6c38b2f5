// Finds what index.html promises, and makes HTML elements.

/**
 * @template {Element} E
 * @param {string} id @param {new (...rest: any) => E} kind
 * @returns {E}
 */
export function byId(id, kind) {
  const element = document.getElementById(id);
  if (!(element instanceof kind)) throw new Error(`the page has no ${kind.name} named ${id}`);
  return element;
}

/** @param {string} id */
export const button = (id) => byId(id, HTMLButtonElement);

/** @param {string} id @param {() => void} act */
export const onClick = (id, act) => button(id).addEventListener('click', act);

/**
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} name @param {string} [className] @param {string} [text]
 */
export function html(name, className, text) {
  const element = document.createElement(name);
  if (className) element.className = className;
  if (text !== undefined) element.textContent = text;
  return element;
}
