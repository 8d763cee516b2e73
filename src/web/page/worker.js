// What runs beside the page: the module and nothing else. It inflates the module by itself and answers one message
// at a time, so that the page never waits.
import { undense } from './dense.js';
import { openDoor } from './door.js';

let door = null;

async function open(code) {
  // Compiled while it is still being inflated.
  const stream = new Blob([undense(code)]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
  const wasm = new Response(stream, { headers: { 'content-type': 'application/wasm' } });
  const module = await new Promise((resolve, reject) => {
    self
      .createPlait({
        instantiateWasm(imports, got) {
          WebAssembly.instantiateStreaming(wasm, imports).then(({ instance }) => got(instance), reject);
          return {};
        },
        print() {},
        printErr() {},
      })
      .then(resolve, reject);
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
    const { answer: check, ...outline } = door.outline(path);
    const judge_ms = performance.now() - start;
    const wired = outline.setup?.has_wiring && outline.setup.wiring.some((w) => w.length > 0);
    // A wiring without an answer: the command says why.
    const complaint = wired && !check ? door.run(['check', path]).err : '';
    return { outline, check: check ?? null, complaint, judge_ms };
  },
};

async function reply({ id, verb, message }) {
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
  turn = turn.then(() => reply(data));
};
