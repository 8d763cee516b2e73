// The module's door from the script's side: texts in, texts out (src/web/module.cpp).

const encoder = new TextEncoder();
const decoder = new TextDecoder();

/** The bytes of a message: a list of strings, each with its length in front. */
export function packed(texts) {
  const parts = texts.map((t) => encoder.encode(t));
  const bytes = new Uint8Array(4 + parts.reduce((sum, p) => sum + 4 + p.length, 0));
  const view = new DataView(bytes.buffer);
  view.setUint32(0, parts.length, true);
  let at = 4;
  for (const part of parts) {
    view.setUint32(at, part.length, true);
    bytes.set(part, at + 4);
    at += 4 + part.length;
  }
  return bytes;
}

function unpacked(memory, at) {
  const view = new DataView(memory.buffer);
  const texts = [];
  const count = view.getUint32(at, true);
  at += 4;
  for (let i = 0; i < count; ++i) {
    const length = view.getUint32(at, true);
    texts.push(decoder.decode(memory.subarray(at + 4, at + 4 + length)));
    at += 4 + length;
  }
  return texts;
}

/** A module that was made by emscripten's createPlait, as plain functions. */
export function openDoor(module) {
  const ask = (texts) => {
    const bytes = packed(texts);
    const room = module._plait_room(bytes.length) >>> 0;
    module.HEAPU8.set(bytes, room);
    const at = module._plait_answer() >>> 0;
    return unpacked(module.HEAPU8, at); // looked up anew: memory that grew is another one
  };
  const wrong = (reply) => {
    if (reply.length === 1) throw new Error(reply[0]);
    return reply;
  };
  const names = (text) => text.split('\n').filter(Boolean);
  return {
    put(files) {
      ask(['put', ...Object.entries(files).flat()]);
    },
    putAway(paths) {
      ask(['put-away', ...paths]);
    },
    /** One command line. @returns {{code:number,out:string,err:string,missing:string[],files:Object<string,string>}} */
    run(args, { today = '', columns = 80 } = {}) {
      const [code, out, err, missing, ...rest] = wrong(ask(['run', today, String(columns), ...args]));
      const files = {};
      for (let i = 0; i < rest.length; i += 2) files[rest[i]] = rest[i + 1];
      return { code: Number(code), out, err, missing: names(missing), files };
    },
    /** A set-up as data. @returns {{complaints?:object[],setup?:object,maps?:object[],answer?:object,missing:string[]}} */
    outline(path) {
      const [json, missing] = wrong(ask(['outline', path]));
      return { ...JSON.parse(json), missing: names(missing) };
    },
  };
}
