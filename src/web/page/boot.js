// What runs first: it unpacks the other scripts and the shipped files, and starts the worker that judges while the rest of the
// page, nearly all of it the module, is still being read.
import { undense } from './dense.js';

const inflated = (text) =>
  new Response(
    new Blob([undense(text)]).stream().pipeThrough(new DecompressionStream('deflate-raw')),
  ).json();

const read = new Promise((done) => addEventListener('DOMContentLoaded', done, { once: true }));

async function boot() {
  const parts = await inflated(document.getElementById('part-pack').textContent);
  const url = URL.createObjectURL(new Blob([parts.worker], { type: 'text/javascript' }));
  globalThis.plaitParts = { ...parts, ready: new Worker(url) };
  URL.revokeObjectURL(url);
  await read;
  const script = document.createElement('script');
  script.textContent = parts.script;
  document.body.append(script);
}

boot().catch((e) => {
  const p = document.createElement('p');
  p.className = 'fault';
  p.textContent = `This page cannot start in this browser (${e.message}). Bring the browser up to date, or use plait on the command line.`;
  document.querySelector('main').append(p);
});
