// What survives a reload: the latest items of a part with what was done on them, by the link of each.

/**
 * @template E
 * @typedef {{ version: 1, level: number, entries: E[] }} Kept
 */

const MOST_ENTRIES = 20;

/** What is said where nothing can be written. */
export const NOT_KEPT =
  'This browser keeps nothing for this page (its storage is full or blocked). All works until the page is closed; Share keeps the item.';

/**
 * The store of a part under its name.
 * @template {{ link: string }} E
 * @param {string} name
 * @param {(entry: any) => boolean} isEntry Whether something has the shape of an entry; what it holds is for the core to judge.
 */
export function createStore(name, isEntry) {
  const key = `leaveline.${name}`;
  /** @type {Kept<E>} */
  const nothing = { version: 1, level: 1, entries: [] };

  /**
   * Reads what was kept. `broken` says that there was something that cannot be read.
   * @param {Storage} [storage]
   * @returns {{ kept: Kept<E>, broken: boolean }}
   */
  function read(storage) {
    try {
      const text = (storage ?? localStorage).getItem(key);
      if (text === null) return { kept: nothing, broken: false };
      const kept = JSON.parse(text);
      if (kept?.version !== 1 || !Array.isArray(kept.entries)) return { kept: nothing, broken: true };
      const entries = kept.entries.filter((/** @type {any} */ entry) => typeof entry?.link === 'string' && isEntry(entry));
      const level = Number.isInteger(kept.level) ? kept.level : 1;
      return { kept: { version: 1, level, entries }, broken: entries.length < kept.entries.length };
    } catch (error) {
      return { kept: nothing, broken: error instanceof SyntaxError };
    }
  }

  /**
   * Writes one entry as the latest. Reads first, so that a second tab loses nothing but the same item.
   * @param {E} entry @param {number} level @param {Storage} [storage]
   * @returns {boolean} whether it could be written
   */
  function write(entry, level, storage) {
    const others = read(storage).kept.entries.filter(({ link }) => link !== entry.link);
    let entries = [...others, entry].slice(-MOST_ENTRIES);
    // When the storage is full, older items make room.
    for (;;) {
      try {
        (storage ?? localStorage).setItem(key, JSON.stringify({ version: 1, level, entries }));
        return true;
      } catch {
        if (entries.length <= 1) return false;
        entries = entries.slice(Math.ceil(entries.length / 2));
      }
    }
  }

  /** @param {string} link @param {Storage} [storage] */
  const find = (link, storage) => read(storage).kept.entries.find((entry) => entry.link === link);

  return { read, write, find };
}

/**
 * @template {{ link: string }} E
 * @typedef {ReturnType<typeof createStore<E>>} Store
 */
