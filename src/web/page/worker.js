// What runs beside the page: the module and nothing else. It inflates the module by itself and answers one message
// at a time, so that the page never waits.
import { openDoor } from './door.js';

let door = null;

async function open(code) {
  const packedBytes = Uint8Array.from(atob(code), (c) => c.charCodeAt(0));
  const stream = new Blob([packedBytes]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
  const wasmBinary = new Uint8Array(await new Response(stream).arrayBuffer());
  const aborted = { why: '' };
  const module = await self.createPlait({
    wasmBinary,
    print() {},
    printErr: (t) => (aborted.why += t),
    onAbort: (t) => (aborted.why ||= String(t)),
  });
  door = openDoor(module);
}

const work = {
  put: ({ files }) => door.put(files),
  run: ({ args, options }) => door.run(args, options),
  // What follows every change of the set-up; its report is asked for when nothing moves any more.
  judge({ path, text, files }) {
    door.put({ ...files, [path]: text });
    const start = performance.now();
    const outline = door.outline(path);
    if (outline.complaints) return { outline, judge_ms: performance.now() - start };
    if (!outline.setup.has_wiring || outline.setup.wiring.every((w) => w.length === 0)) {
      return { outline, judge_ms: performance.now() - start };
    }
    const checked = door.run(['check', path, '--json']);
    return {
      outline,
      check: checked.code <= 1 ? JSON.parse(checked.out) : null,
      complaint: checked.err,
      judge_ms: performance.now() - start,
    };
  },
};

async function answer({ id, verb, message }) {
  try {
    if (verb === 'open') await open(message.code);
    self.postMessage({ id, reply: verb === 'open' ? true : (work[verb](message) ?? true) });
  } catch (e) {
    self.postMessage({ id, fault: String(e?.message ?? e) });
  }
}

// One after another: what comes while the module is still being opened waits for it.
let turn = Promise.resolve();
self.onmessage = ({ data }) => {
  turn = turn.then(() => answer(data));
};
