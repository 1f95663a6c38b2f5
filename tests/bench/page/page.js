// Hands what is to be measured to the worker, which alone may compile WebAssembly.
const worker = new Worker('worker.js', { type: 'module' });
worker.onerror = ({ message }) => console.error(message);
const next = () => new Promise((done) => worker.addEventListener('message', ({ data }) => done(data), { once: true }));
globalThis.ready = next();

globalThis.measure = async (request) => {
  const answer = next();
  worker.postMessage(request);
  return answer;
};
