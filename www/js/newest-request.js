// Keeps one request under way and remembers only the newest of those that wait.

/**
 * @template T
 * @param {(input: T) => Promise<void>} run
 */
export function latest(run) {
  /** @type {{ input: T } | null} */
  let waiting = null;
  /** @type {Promise<void> | null} */
  let running = null;

  async function drain() {
    while (waiting) {
      const { input } = waiting;
      waiting = null;
      await run(input);
    }
    running = null;
  }

  return {
    /** @param {T} input */
    push(input) {
      waiting = { input };
      running ??= drain();
    },
    clear: () => void (waiting = null),
    /** Resolves when nothing is under way any more. */
    settled: async () => {
      while (running) await running;
    },
  };
}
