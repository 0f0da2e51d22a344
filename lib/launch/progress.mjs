/**
 * @typedef {object} Progress
 * @property {<T>(name: string, work: (tell: (detail: string) => void) => T | Promise<T>) => Promise<T>} step
 *   runs one step and prints its name, what it found and its seconds
 * @property {(line: string) => void} line prints a line of its own
 */

/**
 * One line for each step: on a terminal the name stands while the step runs; elsewhere (a log, a pipe) long steps
 * announce themselves after two seconds, so that nobody watches an empty screen.
 * @param {NodeJS.WritableStream & { isTTY?: boolean }} out
 * @returns {Progress}
 */
export function createProgress(out) {
  const line = (/** @type {string} */ text) => {
    out.write(`${text}\n`);
  };
  return {
    line,
    async step(name, work) {
      const startedAt = performance.now();
      let detail = '';
      if (out.isTTY) out.write(`  ${name} ...`);
      const announce = out.isTTY ? undefined : setTimeout(() => line(`  ${name} ...`), 2000);
      const show = (/** @type {string} */ mark) => {
        clearTimeout(announce);
        const seconds = ((performance.now() - startedAt) / 1000).toFixed(1);
        if (out.isTTY) out.write('\r\x1b[K');
        line(`${mark} ${name}${detail && `: ${detail}`} (${seconds} s)`);
      };
      try {
        const result = await work((text) => {
          detail = text;
        });
        show('-');
        return result;
      } catch (error) {
        show('x');
        throw error;
      }
    },
  };
}
