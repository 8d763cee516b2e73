// The module in node, for tests: the same door that the page's workers have.
import { readFileSync, readdirSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

export async function moduleFrom(built, source) {
  const createPlait = createRequire(import.meta.url)(join(built, 'src/web/plait_module.js'));
  const { openDoor } = await import(pathToFileURL(join(source, 'src/web/page/door.js')));
  const wasmBinary = readFileSync(join(built, 'src/web/plait_module.wasm'));
  return openDoor(await createPlait({ wasmBinary }));
}

/** The text files under a folder, by path from `source`. */
export function textsUnder(source, folder, out = {}) {
  for (const name of readdirSync(join(source, folder))) {
    const path = `${folder}/${name}`;
    if (statSync(join(source, path)).isDirectory()) textsUnder(source, path, out);
    else if (/\.(toml|csv|epw|dly|txt)$/.test(name)) out[path] = readFileSync(join(source, path), 'utf8');
  }
  return out;
}
