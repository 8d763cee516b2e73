// The module says what the command line says. Every command of the golden texts, and every set-up, panel and broken file
// of docs, panels and tests through both: exit code, text, complaints, pages and pictures byte for byte; JSON and CSV to 12
// significant digits with an absolute floor of 1e-9 (volts, amps, watts), below which a number is a numerical zero.
// Usage: node equal.mjs <native plait> <folder of the preset "web"> <source folder>
import { spawnSync } from 'node:child_process';
import { mkdtempSync, statSync, readFileSync, rmSync, existsSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { moduleFrom, textsUnder } from './module.mjs';

const [plait, built, source] = process.argv.slice(2).map((p) => resolve(p));
const digits_ratio = 1e-12;
const floor = 1e-9;

const door = await moduleFrom(built, source);
const files = {};
for (const folder of ['docs', 'panels', 'tests/input', 'tests/golden'])
  Object.assign(files, textsUnder(source, folder));
door.put(files);

// golden(name exit-code arguments…), with CMake's quotes.
const golden = readFileSync(join(source, 'tests/golden/golden.cmake'), 'utf8');
const words = (text) =>
  [...text.matchAll(/"((?:[^"\\]|\\.)*)"|(\S+)/g)].map((m) => (m[1] ?? m[2]).replace(/\\(.)/g, '$1'));
const runs = [...golden.matchAll(/^golden\(([a-z0-9-]+ \d[^\n]*(?:\n +[^\n]*)*)\)$/gm)].map((m) =>
  words(m[1]).slice(2),
);
// A page has no folders: commands that name one are the command line's alone.
for (let i = runs.length - 1; i >= 0; --i) {
  if (runs[i].some((word) => statSync(join(source, word), { throwIfNoEntry: false })?.isDirectory())) runs.splice(i, 1);
}
const goldens = runs.length;

const page = ['--page', '@/page.html'];
const picture = ['--svg', '@/picture.svg'];
const setups = Object.keys(files).filter((f) => f.endsWith('.toml') && /^(docs\/demo|tests\/input)\//.test(f));
for (const f of setups) {
  runs.push(
    ['check', f, ...page],
    ['check', f, '--json', ...picture],
    ['check', f, '--full', ...picture, '--picture', 'wiring'],
  );
  if (!f.startsWith('docs/demo/')) continue;
  runs.push(
    ['arrange', f, ...page, ...picture],
    ['arrange', f, '--json', '--trade-offs'],
    ['curve', f, '--csv', ...page, ...picture],
    ['curve', f, '--json', '--when', 'weak-light'],
    ['curve', f, '--netlist'],
  );
  for (const c of ['parts', 'steps']) runs.push([c, f, ...page], [c, f, '--json']);
  runs.push(
    ['parts', f, '--csv'],
    ['expect', f, '--air', '31 °C', '--sun', '820', ...page],
    ['expect', f, '--cell', '40 °C', '--json'],
  );
}
for (const f of Object.keys(files).filter((n) => /^(panels|tests\/input)\/.*\.toml$/.test(n)))
  runs.push(['panel', f, '--full', ...page], ['panel', f, '--json']);
runs.push(
  ['harvest', 'docs/demo/allotment.toml', '--wiring', 'PV1=2s1p; PV2=4s1p', '--json', ...page, ...picture],
  [
    'harvest',
    'docs/demo/allotment.toml',
    '--wiring',
    'PV1=2s1p; PV2=4s1p',
    '--day',
    'december',
    '--csv',
    ...picture,
    '--picture',
    'day',
  ],
  ['charge', 'docs/demo/hut.toml', '--json', ...page, ...picture],
  ['charge', 'docs/demo/hut.toml', '--csv'],
  ['explain', 'docs/demo/van.toml', 'docs/demo/van-log.csv', '--json', ...page, ...picture],
  ['explain', 'docs/demo/van.toml', 'docs/demo/van-log.csv', '--csv'],
  ['learn', 'docs/demo/workshop-sweep.csv', '--json', ...page, ...picture],
  ['learn', 'docs/demo/workshop-sweep.csv', '--csv'],
  ['compare', 'docs/demo/allotment.toml', 'docs/demo/van.toml', 'docs/demo/mixed.toml', '--json', ...page],
  ['compare', 'docs/demo/allotment.toml', 'docs/demo/van.toml', '--csv'],
  ['new', '@/mine.toml'],
  ['--help'],
  ['--version'],
  ['chek'],
  ['check'],
  ['check', 'docs/demo/van.toml', '--wirin', '2s2p'],
);

const faults = [];
let compared = 0;
let numbers = 0;
let worst = { ratio: 0, where: 'none' };
let widest = { off: 0, where: 'none', values: '' };
const near = (a, b, where) => {
  numbers += 1;
  const off = Math.abs(a - b);
  if (off > widest.off) widest = { off, where, values: `${a} and ${b}` };
  if (off <= floor) return;
  const ratio = off / Math.max(Math.abs(a), Math.abs(b));
  if (ratio > worst.ratio) worst = { ratio, where };
  if (!(ratio <= digits_ratio)) faults.push(`${where}: ${a} against ${b}`);
};
const same = (a, b, where) => {
  if (typeof a === 'number' && typeof b === 'number') return near(a, b, where);
  if (a === null || b === null || typeof a !== 'object' || typeof b !== 'object') {
    if (a !== b) faults.push(`${where}: ${JSON.stringify(a)} against ${JSON.stringify(b)}`);
    return undefined;
  }
  const keys = Object.keys(a);
  if (keys.join() !== Object.keys(b).join()) faults.push(`${where}: other keys`);
  for (const key of keys) if (key in b) same(a[key], b[key], `${where}.${key}`);
  return undefined;
};
const bytes = (a, b, where) => {
  if (a === b) return;
  let i = 0;
  while (a[i] === b[i]) ++i;
  faults.push(
    `${where}: from byte ${i}: ${JSON.stringify(a.slice(i - 30, i + 50))} against ${JSON.stringify(b.slice(i - 30, i + 50))}`,
  );
};
const table = (a, b, where) => {
  const cells = (t) => t.split('\n').map((l) => l.split(','));
  const [x, y] = [cells(a), cells(b)];
  if (x.length !== y.length) faults.push(`${where}: ${x.length} lines against ${y.length}`);
  x.forEach((row, i) =>
    row.forEach((cell, j) => {
      const other = y[i]?.[j] ?? '';
      if (cell === other) return;
      if (cell !== '' && other !== '' && Number.isFinite(+cell) && Number.isFinite(+other))
        near(+cell, +other, `${where} line ${i + 1} column ${j + 1}`);
      else faults.push(`${where} line ${i + 1}: ${cell} against ${other}`);
    }),
  );
};

const folder = mkdtempSync(join(tmpdir(), 'plait-equal-'));
for (const run of runs) {
  const where = run.join(' ');
  // Files are written beside the sources' world: the name in a message is the same for both.
  const native = spawnSync(
    plait,
    run.map((a) => a.replace(/^@/, folder)),
    { cwd: source, encoding: 'utf8', env: { ...process.env, NO_COLOR: '1', COLUMNS: '' }, maxBuffer: 1 << 28 },
  );
  const mine = door.run(run.map((a) => a.replace(/^@/, folder)));
  compared += 1;
  if (native.status !== mine.code) faults.push(`${where}: exit code ${native.status} against ${mine.code} ${mine.err}`);
  // A file that is not there is to be dropped on a page, where a terminal has the path checked: the one sentence that differs.
  const missing = 'is not among the files on this page; drop it here as well';
  const onPage = (text) => text.replaceAll('cannot be opened (No such file or directory); check the path', missing);
  bytes(onPage(native.stderr), mine.err, `${where}: complaints`);
  const isJson = run.includes('--json') && native.status <= 1;
  if (isJson) same(JSON.parse(native.stdout), JSON.parse(mine.out), where);
  else if (run.includes('--csv') || run.includes('--netlist')) table(native.stdout, mine.out, where);
  else bytes(onPage(native.stdout), mine.out, where);
  for (const [path, text] of Object.entries(mine.files)) {
    if (!existsSync(path)) {
      faults.push(`${where}: ${path} was written by the module only`);
      continue;
    }
    bytes(readFileSync(path, 'utf8'), text, `${where}: ${path.split('/').at(-1)}`);
    rmSync(path);
  }
}
rmSync(folder, { recursive: true });
console.log(
  `${compared} runs (${goldens} of the golden texts), ${numbers} numbers; the farthest apart by ${widest.off.toExponential(1)} (${widest.values}: ${widest.where}); beyond the floor by ${worst.ratio.toExponential(1)} of itself: ${worst.where}`,
);
if (goldens < 40 || compared < 300) faults.push('the test: too few runs');
for (const f of faults.slice(0, 60)) console.error(f);
if (faults.length > 0) console.error(`${faults.length} differences`);
process.exit(faults.length === 0 ? 0 : 1);
