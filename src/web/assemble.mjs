// Makes the one file of the page. The module is deflated inside it, and so are the scripts but the one that unpacks them;
// the page's policy names the hash of each of its own scripts and styles and lets nothing else in, nor anything out.
// Usage: node assemble.mjs <source folder> <folder with plait_module.js and .wasm> <page to write>
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { deflateRawSync, constants } from 'node:zlib';
import { dense } from './page/dense.js';

const [source, built, target] = process.argv.slice(2);
const at = (name) => join(source, 'src/web/page', name);

const bundle = (name) =>
  execFileSync('esbuild', [at(name), '--bundle', '--minify', '--format=iife', '--target=es2022', '--charset=utf8'], {
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
const hash = (text) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
// A text in a script element ends at the first end tag in it.
const closed = (text, name) => {
  if (/<\/script|<!--/i.test(text)) throw new Error(`${name} holds the end of a script element`);
  return text;
};

// Zopfli deflates 4 % better than zlib and takes a minute for it; where it is missing the page is that much larger.
const deflated = (file) => {
  try {
    return execFileSync('zopfli', ['--deflate', '--i5', '-c', file], { maxBuffer: 1 << 26 });
  } catch (e) {
    if (e.code !== 'ENOENT') throw e;
    return deflateRawSync(readFileSync(file), { level: 9, memLevel: 9, strategy: constants.Z_DEFAULT_STRATEGY });
  }
};
const wasm = deflated(join(built, 'plait_module.wasm'));
const glue = readFileSync(join(built, 'plait_module.js'), 'utf8');
const worker = `${glue};self.createPlait=createPlait;${bundle('worker.js')}`;
const script = bundle('main.js');
const boot = closed(bundle('boot.js'), 'the first script');
const style = execFileSync('esbuild', [at('page.css'), '--bundle', '--minify', '--charset=utf8'], { encoding: 'utf8' });

const texts = (folder, end) =>
  Object.fromEntries(
    readdirSync(join(source, folder))
      .filter((n) => n.endsWith(end))
      .sort()
      .map((n) => [n, readFileSync(join(source, folder, n), 'utf8')]),
  );
const shipped = {
  panels: texts('panels', '.toml'),
  demos: texts('docs/demo', '.toml'),
  inputs: texts('docs/demo/inputs', '.toml'),
};
const packed = join(built, 'pack.json');
writeFileSync(packed, JSON.stringify({ worker, script, shipped }));
const pack = deflated(packed);

const policy = [
  "default-src 'none'",
  `script-src ${hash(boot)} ${hash(script)} 'wasm-unsafe-eval'`,
  `style-src ${hash(style)}`,
  'worker-src blob:',
  'img-src data:',
  "connect-src 'none'",
  "form-action 'none'",
  "base-uri 'none'",
].join('; ');

const parts = {
  CSP: policy,
  STYLE: style,
  PACK: dense(pack),
  BOOT: boot,
  MODULE: dense(wasm),
};
const html = readFileSync(at('page.html'), 'utf8').replace(/@([A-Z]+)@/g, (whole, name) => parts[name] ?? whole);
writeFileSync(target, html);
console.log(
  `${target}: ${html.length} characters, ${Buffer.byteLength(html)} bytes (deflated: module ${wasm.length}, scripts and shipped files ${pack.length})`,
);
