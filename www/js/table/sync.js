// Keeps the children of a group in step with a list, by key: an element that stays keeps its focus.

/**
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
