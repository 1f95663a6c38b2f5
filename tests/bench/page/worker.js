// Measures the shipped engine: the same calls with the same shots as natively.
import init, { ends, playPacked } from './pkg/leaveline.js';
import { Bench } from './tinybench.js';

await init();

/** The least time of one shot, ns. */
async function least(work, shots, time) {
  const bench = new Bench({ time, warmupTime: time / 4, warmupIterations: 2, iterations: 4, throws: true });
  bench.add('shots', work);
  const [task] = await bench.run();
  return (1e6 * task.result.latency.min) / shots;
}

onmessage = async ({ data: { shot, strokes, shots, time } }) => {
  const numbers = new Float64Array(strokes);
  const n = numbers.length / 5;
  // As many a sample as there are strokes: the clock is coarse.
  const record = () => {
    for (let k = 0; k < n; k += 1) playPacked(shots[k % shots.length]);
  };
  postMessage({ ends: await least(() => ends(shot, numbers), n, time), recorded: await least(record, n, time) });
};

postMessage('ready');
