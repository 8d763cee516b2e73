// What the page does to a set-up's text: nothing where nothing was changed, one line where one figure was; and a set-up
// with its panel files written in is judged as it was before.
// Usage: node document.mjs <native plait> <source folder>
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { textsUnder } from './module.mjs';

const [plait, source] = process.argv.slice(2).map((p) => resolve(p));
const page = (name) => import(pathToFileURL(join(source, 'src/web/page', name)));
const { keyAt, lay, read, withFilesIn, write } = await page('document.js');
const { shortForm, wiringLines, withWiring } = await page('wiring_lines.js');
const { entryWords, painted, shadeMark, shadeWords } = await page('shade.js');
const { asTyped } = await page('figures.js');
const { dense, undense } = await page('dense.js');

const demos = textsUnder(source, 'docs/demo');
const panels = Object.fromEntries(
  Object.entries(textsUnder(source, 'panels')).map(([path, text]) => [basename(path), text]),
);
const folder = mkdtempSync(join(tmpdir(), 'plait-document-'));
const judged = (args) => {
  const ran = spawnSync(plait, args, { encoding: 'utf8', cwd: source });
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
};

let setups = 0;
for (const [path, text] of Object.entries(demos).filter(([p, t]) => p.endsWith('.toml') && /^\[\[?panel/m.test(t))) {
  setups += 1;
  const whole = withFilesIn(text, panels);
  assert.equal(lay(whole).lines.join('\n'), whole, `${path}: laid out and joined it is the same`);
  assert.equal(withFilesIn(whole, panels), whole, `${path}: written in once is written in`);
  assert.ok(!/^file = /m.test(whole), `${path}: no file is named any more`);
  const saved = join(folder, basename(path));
  writeFileSync(saved, whole);
  const [before, after] = [judged(['arrange', path, '--json']), judged(['arrange', saved, '--json'])];
  assert.equal(after.err, before.err, path);
  assert.equal(after.out, before.out, `${path}: judged the same with its panels written in`);
  // Every figure that can be read can be written as it is without a byte changing, and changed in one line only.
  for (const table of ['[[panel', '[controller', '[[controller.input', '[site']) {
    const count = lay(whole).tables.filter((t) => t.name === table).length;
    for (let n = 0; n < count; ++n) {
      for (const [key, { raw }] of lay(whole).tables.filter((t) => t.name === table)[n].keys) {
        if (raw === null) continue;
        assert.equal(write(whole, table, n, key, raw), whole, `${path} ${table} ${n} ${key}`);
        const changed = write(whole, table, n, key, '"another"').split('\n');
        const old = whole.split('\n');
        assert.equal(changed.length, old.length);
        assert.equal(
          changed.filter((l, i) => l !== old[i]).length,
          raw === '"another"' ? 0 : 1,
          `${path} ${key}: one line`,
        );
        assert.equal(
          write(write(whole, table, n, key, '"another"'), table, n, key, raw),
          whole,
          `${path} ${key}: and back`,
        );
      }
    }
  }
}
assert.ok(setups >= 10);

// Comments, odd spaces, windows' line ends, quoted keys.
const odd =
  '# top\r\ntitle="a # b"   # said\r\n\r\n[ site ]  # here\r\ncoldest_air   =  "-18 °C"# cold\r\n"code" = \'NEC\'\r\nx = [ 1,\r\n 2 ]\r\n';
assert.equal(read(odd, '', 0, 'title'), 'a # b');
assert.equal(read(odd, '[site', 0, 'coldest_air'), '-18 °C');
assert.equal(read(odd, '[site', 0, 'code'), 'NEC');
assert.equal(read(odd, '[site', 0, 'x'), undefined);
assert.equal(read(odd, '[site', 0, 'y'), null);
assert.equal(write(odd, '[site', 0, 'coldest_air', '"-9 °C"'), odd.replace('-18', '-9'));
assert.equal(write(odd, '[site', 0, 'x', '3'), odd, 'a value of several lines is left alone');
assert.ok(write(odd, '[site', 0, 'hottest_air', '"40 °C"').includes("'NEC'\r\n"));
assert.deepEqual(keyAt(odd, 5), { table: '[site', n: 0, key: 'coldest_air' });

// Wirings: the short form is the command line's, and shade is written panel by panel.
const plain = (kind) => ({ kind, light: [], warmer: [], plane: null });
const string = (...kinds) => ({ panels: kinds.map(plain), blocking_diode: false, fuse_a: null });
assert.equal(shortForm([string('a', 'a'), string('a', 'a')], false), '2s2p');
assert.equal(shortForm([string('a', 'a')], true), '2s1p a');
assert.equal(shortForm([string('a', 'a', 'b'), string('b')], true), '2 a + b | b');
assert.equal(shortForm([], true), 'unused');
const shaded = string('a', 'a');
shaded.panels[1].light = [0.25, 1];
shaded.panels[1].warmer = [0, 0];
assert.deepEqual(wiringLines({ kinds: [{}], inputs: [{ name: 'PV 1' }, { name: 'B' }], wiring: [[string('a')], []] }), [
  '[wiring]',
  '"PV 1" = "1s1p"',
  'B = "unused"',
]);
assert.deepEqual(wiringLines({ kinds: [{}], inputs: [{ name: 'P' }], wiring: [[shaded]] }), [
  '[[wiring.P.string]]',
  'panels = [ "a", { panel = "a", light = [ 0.25, 1 ] } ]',
]);
// Cells of a group: what is written of them is what was read, and one group's never becomes a whole panel's.
const cells = (n, light, others = 1) => ({ cells: n, light, others });
const lit = (...light) => [{ ...string('a'), panels: [{ ...plain('a'), light, warmer: light.map(() => 0) }] }];
const linesOf = (strings, was) => wiringLines({ kinds: [{}], inputs: [{ name: 'P' }], wiring: [strings] }, was);
for (const [light, written] of [
  [[1, cells(3, 0.2), 1], '[ 1, { cells = 3, light = 0.2 }, 1 ]'],
  [[cells(1, 0.8 * 0.125, 0.8), 0.8], '[ { cells = 1, light = 0.1, others = 0.8 }, 0.8 ]'],
  [[cells(2, 0), cells(2, 0)], '[ { cells = 2, light = 0 }, { cells = 2, light = 0 } ]'],
  [[cells(2, 0.5)], '{ cells = 2, light = 0.5 }'],
  [[0.5, 0.5], '0.5'],
])
  assert.equal(linesOf(lit(...light))[1], `panels = [ { panel = "a", light = ${written} } ]`);

assert.equal(
  linesOf([{ ...string(), panels: [{ ...plain('a'), light: [0.5, 1], warmer: [6, 0] }] }])[1],
  'panels = [ { panel = "a", light = [ 0.5, 1 ], warmer = [ "6 K", 0 ] } ]',
);

// What the person wrote of a string that did not change stays, and so does the light of a panel that only moved.
const leaf = { ...plain('a'), light: [cells(1, 0.3), 1], warmer: [0, 0] };
const post = { ...plain('a'), light: [1, cells(3, 0.1)], warmer: [0, 0] };
const wrote = `[[wiring.P.string]]
panels = [
    { panel = "a", light = [{ cells = 1, light = "30 %" }, 1] },  # the leaf, [not] a "bug"
    "a",
    { panel = 'a', light = [1, { cells = 3, light = 0.1 }] }   # the post
]

# the second
[[wiring.P.string]]
panels = [ "a", "a" ]   # in the sun


# cables
[[cable]]
run = "string"
`;
const had = [{ ...string(), panels: [leaf, plain('a'), post] }, string('a', 'a')];
const was = { text: wrote, wiring: [had] };
assert.equal(withWiring(wrote, linesOf(had, was)), wrote, 'a wiring that did not change is as it was, to the byte');
assert.equal(
  withWiring(wrote, linesOf([had[1], { ...had[0], panels: [leaf, post] }], was)),
  `# the second
[[wiring.P.string]]
panels = [ "a", "a" ]   # in the sun

[[wiring.P.string]]
panels = [
    { panel = "a", light = [{ cells = 1, light = "30 %" }, 1] },   # the leaf, [not] a "bug"
    { panel = 'a', light = [1, { cells = 3, light = 0.1 }] },   # the post
]


# cables
[[cable]]
run = "string"
`,
);

// The brush: a panel, a group, cells of a group; the same stroke again takes it away.
const roof = { id: 'a', bypass_groups: 3, group_cells: 20 };
const bare = plain('a');
const brush = (share, on, n = 3) => ({ share, on, cells: n });
assert.deepEqual(painted(bare, roof, brush(0.25, 'panel'), 0).light, [0.25, 0.25, 0.25]);
assert.deepEqual(painted(bare, roof, brush(0.25, 'group'), 1).light, [1, 0.25, 1]);
const three = painted(bare, roof, brush(0.2, 'cells'), 1);
assert.deepEqual(three.light, [1, cells(3, 0.2), 1]);
assert.deepEqual(three.warmer, [0, 0, 0]);
assert.deepEqual(painted(three, roof, brush(0.2, 'cells'), 1), bare, 'and away again');
assert.deepEqual(painted(three, roof, brush(0.2, 'cells', 99), 1).light, [1, cells(20, 0.2), 1], 'no more than it has');
const dusk = painted(bare, roof, brush(0.8, 'panel'), 0);
const both = painted(dusk, roof, brush(0.1, 'cells'), 2);
assert.deepEqual(both.light, [0.8, 0.8, cells(3, 0.1, 0.8)], 'the others keep the shade that lay on them');
assert.deepEqual(painted(both, roof, brush(0.1, 'cells'), 2).light, dusk.light);
assert.deepEqual(bare, plain('a'), 'a stroke makes a new panel');
assert.equal(shadeWords(three), 'group 2: 3 cells at 20 % light');
assert.equal(shadeMark(three), '3 cells 20 %');
assert.equal(shadeMark(dusk), '80 %');
assert.equal(shadeMark(bare), '');
assert.equal(entryWords(cells(1, 0.1, 0.8)), '1 cell at 10 % light, the others at 80 %');

const cabled = 'a = 1\n\n[wiring]\nPV = "2s1p"\n\n# cables\n[[cable]]\nrun = "string"\n';
assert.equal(
  withWiring(cabled, ['[wiring]', 'PV = "1s2p"']),
  cabled.replace('2s1p', '1s2p'),
  'the wiring is changed at its place',
);
const text = demos['docs/demo/shaded.toml'];
const once = withWiring(text, ['[wiring]', 'PV = "3s2p"']);
assert.equal(withWiring(once, ['[wiring]', 'PV = "3s2p"']), once, 'a wiring written twice is written once');
assert.ok(!once.includes('[[wiring.PV.string]]'));

// Every option of every command is on the page, or it is said where its work is done; and the page offers none that is not.
const { commands, elsewhere } = await page('commands.js');
const offered = {};
for (const c of commands) {
  const own = (offered[(c.line ?? [c.id])[0]] ??= new Set());
  for (const option of [...(c.choices ?? []).map((o) => o.option), c.file?.option]) if (option) own.add(option);
}
const known = [...judged(['--help']).out.matchAll(/^ {2}([a-z]+) {2,}/gm)].map((m) => m[1]);
assert.ok(known.length >= 15, `commands: ${known}`);
assert.deepEqual(known.filter((c) => !offered[c]).sort(), ['new'], 'begun by questions instead of a template');
const options = new Set();
for (const [command, own] of Object.entries(offered)) {
  const all = [...judged([command, '--help']).out.matchAll(/^ +(?:-\w, *)?(--[a-z-]+)/gm)].map((m) => m[1]);
  for (const option of all) options.add(option);
  assert.ok(all.length >= 5, command);
  assert.deepEqual(all.filter((o) => !own.has(o) && !elsewhere[o]), [], `${command}: not on the page`);
  assert.deepEqual([...own].filter((o) => !all.includes(o)), [], `${command}: no such option`);
}
assert.deepEqual(Object.keys(elsewhere).filter((o) => !options.has(o)), [], 'said of options that are no more');

// What people type.
const v = { unit: 'V' };
for (const [typed, taken] of [
  ['22,5', '22.5 V'],
  ['22.5', '22.5 V'],
  [' 22,5 volts ', '22.5 volts'],
  ['22.5 volts', '22.5 volts'],
  ['1,000', '1,000'],
  ['-0,28 %/K', '-0.28 %/K'],
  ['abc', 'abc'],
])
  assert.equal(asTyped(v, typed), taken);
assert.equal(asTyped({}, '14 °F'), '14 °F');
assert.equal(asTyped({}, '-18'), '-18', 'a bare temperature is left for the reader to ask about');
// The module inside the page: every byte comes back, and no letter means anything in a script element.
for (let length = 0; length < 1500; ++length) {
  const bytes = Uint8Array.from({ length }, (_, i) => (i * i * 31 + length * 17 + (i >> 3)) & 255);
  const text = dense(bytes);
  assert.deepEqual(undense(text), bytes, `${length} bytes`);
  assert.match(text, /^\d+ [!-~]*$/);
  assert.doesNotMatch(text, /[<&\\]/);
  assert.ok(text.length <= Math.ceil((length * 8) / 13) * 2 + 5, 'a quarter more than the bytes, no third');
}
rmSync(folder, { recursive: true });
console.log(`${setups} set-ups kept to the byte`);
