// A tool of the page that is loaded when it is first used.

/**
 * @template {unknown[]} A
 * @param {string} name What is said not to have loaded.
 * @param {() => Promise<(...rest: A) => void>} load @param {(sentence: string) => void} say
 * @returns {(...rest: A) => void}
 */
export function later(name, load, say) {
  /** @type {ReturnType<typeof load> | null} */
  let tool = null;
  return (...rest) => {
    tool ??= load();
    tool.then((use) => use(...rest), () => {
      // The next use tries again.
      tool = null;
      say(`${name} could not be loaded. Check the connection, then try again.`);
    });
  };
}
