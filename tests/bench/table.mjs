// A table as the benchmarks print it.

/** @param {string[]} head @param {string[][]} body */
export function table(head, body) {
  const widths = head.map((title, k) => Math.max(title.length, ...body.map((row) => row[k].length)));
  const line = (cells) => `| ${cells.map((cell, k) => (k ? cell.padStart(widths[k]) : cell.padEnd(widths[k]))).join(' | ')} |`;
  console.log([line(head), line(widths.map((width, k) => (k ? '-'.repeat(width - 1) + ':' : '-'.repeat(width)))), ...body.map(line), ''].join('\n'));
}
