// Plays the blocks that the address names, `?blocks=0,1`, and shows their digests; the title then says that it is done.
const blocks = new URL(location.href).searchParams.get('blocks').split(',').map(Number);

function show(reply) {
  document.querySelector('output').textContent = JSON.stringify(reply);
  document.title = 'done';
}

const worker = new Worker('worker.js', { type: 'module' });
worker.onmessage = ({ data }) => show(data);
worker.onerror = (event) => show({ error: event.message || 'the worker did not load' });
worker.postMessage(blocks);
