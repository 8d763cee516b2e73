// Opens the program's pages in a real browser: no console error, no request, no horizontal scroll at 360, 768 and 1440
// px, light and dark, printable on A4 and Letter, nothing for axe-core to find; no table reaches out of its page and
// none is preformatted text; in the drawings of more than 40 wirings
// no text is cut and none lies on another, and what is drawn is what was asked for, panel by panel.
// Usage: node pages.mjs <plait> <source folder> <folder for artefacts> [<folder with node_modules>]
// Exit code 77: a browser or a module is missing.
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';

const [plait, source, artefacts, modules] = process.argv.slice(2).map((p) => resolve(p));
const skip = (why) => {
  console.log(`SKIPPED: ${why}`);
  process.exit(77);
};
let chromium;
let axe;
try {
  const require = createRequire(join(modules ?? source, 'package.json'));
  ({ chromium } = require('playwright-core'));
  axe = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
} catch {
  skip('playwright-core and axe-core are not installed (bash .ci/test does it)');
}
const executablePath = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find(existsSync);
if (!executablePath) skip('no chromium (Debian: chromium)');

mkdirSync(artefacts, { recursive: true });
const failures = [];
const fail = (where, what) => failures.push(`${where}: ${what}`);
const run = (args) =>
  new Promise((done) => {
    const ran = spawn(plait, args, { cwd: source, stdio: ['ignore', 'ignore', 'pipe'] });
    let complaint = '';
    ran.stderr.on('data', (d) => (complaint += d));
    ran.on('close', (status) => {
      if (status !== 0 && status !== 1) fail(args.join(' '), `exit code ${status}: ${complaint}`);
      done();
    });
  });
const at = (name) => join(artefacts, name);

// A house with names nobody should have chosen, and with room for 24 panels on four inputs.
const nasty = '</script>&\\"\'<b>';
const hebrew = 'לוח שמש 100';
const input = (name) => `[[controller.input]]
name = "${name}"
max_voltage = "500 V"
tracking_min = "10 V"
tracking_max = "450 V"
max_current = "40 A"
max_power = "3000 W"
over_current = "clips"
`;
const panel = (id, name, count) => `[[panel]]
id = "${id}"
count = ${count}
name = "${name}"
technology = "mono"
cells_in_series = 36
bypass_diodes = 2
pmax = "100 W"
vmp = "20 V"
imp = "5 A"
voc = "24 V"
isc = "5.5 A"
isc_coefficient = "0.05 %/K"
voc_coefficient = "-0.3 %/K"
pmax_coefficient = "-0.4 %/K"
noct = "45 °C"
max_system_voltage = "600 V"
max_series_fuse = "15 A"
`;
const house = `title = "${nasty} ${hebrew}"
${panel('a', nasty, 24)}
${panel('b', hebrew, 24)}
[controller]
name = "Box"
type = "wide-range"
${['PV1', nasty, hebrew, 'an input with a name as long as allowed'].map(input).join('\n')}
[site]
coldest_air = "-10 °C"
hottest_air = "35 °C"
`;
writeFileSync(at('house.toml'), house);
// The same with cables on every way, fuses and a disconnect.
const cable = (run, name, length, size) => `[[cable]]\nrun = "${run}"\nname = "${name}"\nlength = "${length} m"\nsize = "${size}"\n`;
const cabled = `${house}${cable('string', nasty, 12.5, '6 mm²')}${cable('string', 'an extension with a name as long as it may be', 5, '10 AWG')}
${cable('trunk', 'the way across the yard and down into the cellar', 125.5, '10 mm²')}${cable('panel-leads', hebrew, 0.5, '4 mm²')}
[fittings]
string_fuse = "12.5 A"
`;
writeFileSync(at('cabled.toml'), cabled);

const wirings = [];
for (const n of [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18]) wirings.push(`${n}s1p a`);
for (const [s, p] of [[1, 2], [1, 4], [1, 8], [2, 2], [2, 5], [3, 3], [3, 8], [4, 4], [5, 2], [6, 4], [8, 3], [12, 2], [1, 3], [2, 3]]) wirings.push(`${s}s${p}p a`);
for (const w of ['a + b', 'a | b', '2 a + b | 3 b', 'a + 2 b | b + 2 a', '3 a | 3 b | 2 a + b', '6 a + b | 7 b', 'a | a | a | b | b | b', '11 a | 11 b']) wirings.push(w);
const plans = wirings.map((w) => ['PV1', w]).map(([name, w]) => [`${name}=${w}`, [w]]);
plans.push(['PV1=2s1p a; ' + hebrew + '=3s1p b', ['2s1p a', '3s1p b']]);

// "2 a + b | 3 b" as a list of strings of kinds.
const strings = (text) => {
  const equal = /^(\d+)s(\d+)p (\w+)$/.exec(text);
  if (equal) return Array.from({ length: +equal[2] }, () => Array(+equal[1]).fill(equal[3]));
  return text.split('|').map((s) =>
    s.split('+').flatMap((part) => {
      const [, n, kind] = /^\s*(?:(\d+)\s+)?(\w+)\s*$/.exec(part);
      return Array(+(n ?? 1)).fill(kind);
    }),
  );
};

const pages = [];
const wantedPages = [];
const page = (name, ...args) => wantedPages.push([name, args]);
const makePages = async () => {
  const todo = [...wantedPages];
  const make = async () => {
    for (let one = todo.shift(); one; one = todo.shift()) {
      const [name, args] = one;
      await run([...args, '--page', at(`${name}.html`)]);
      if (existsSync(at(`${name}.html`))) pages.push(name);
      else fail(args.join(' '), 'no page was written');
    }
  };
  await Promise.all([make(), make()]);
};
for (const demo of ['allotment', 'mixed', 'van', 'shaded', 'cabin-direct']) {
  page(`${demo}-check`, 'check', `docs/demo/${demo}.toml`);
  page(`${demo}-arrange`, 'arrange', `docs/demo/${demo}.toml`, '--trade-offs');
  page(`${demo}-curve`, 'curve', `docs/demo/${demo}.toml`);
}
const drawn = new Map();
page('van-expect', 'expect', 'docs/demo/van.toml', '--air', '31 °C', '--sun', '820');
page('van-readings', 'expect', 'docs/demo/van.toml', '--air', '31 °C', '--sun', '820', '--read', 'string 1 voc 40.2 V', '--read', 'string 2 voc 20.1 V');
page('compare', 'compare', 'docs/demo/allotment.toml', 'docs/demo/allotment-one-input.toml', 'docs/demo/van.toml');
for (const command of ['check', 'parts', 'steps']) {
  page(`barn-${command}`, command, 'docs/demo/barn.toml');
  page(`nasty-${command}`, command, at('house.toml'), '--wiring', 'PV1=2s1p a; ' + hebrew + '=3s1p b');
}
page('van-expect-dark', 'expect', 'docs/demo/van.toml');
page('allotment-steps', 'steps', 'docs/demo/allotment.toml');
page('nasty-curve', 'curve', at('house.toml'), '--wiring', '2 a + b | 3 b');
page('nasty-expect', 'expect', at('house.toml'), '--wiring', '2 a + b | 3 b', '--sun', '800', '--cell', '45 °C');
page('nasty-compare', 'compare', at('house.toml'), 'docs/demo/van.toml', '--seconds', '1');
writeFileSync(at('panel.toml'), panel('a', `${nasty} ${hebrew}`, 1).replace('[[panel]]\nid = "a"\ncount = 1\n', ''));
page('nasty-panel', 'panel', at('panel.toml'));
writeFileSync(at('sweep.csv'), `Voltage [V];Current [A];${nasty.replace(/["\\]/g, '')} ${hebrew}\n` + Array.from({ length: 20 }, (_, i) => `${8 + 2 * i};${i < 2 ? 0 : 5};x\n`).join(''));
page('nasty-learn', 'learn', at('sweep.csv'), '--against', at('house.toml'), '--input', hebrew);
page('van-explain', 'explain', 'docs/demo/van.toml', 'docs/demo/van-log.csv', '--wiring', '1s4p');
page('workshop-learn', 'learn', 'docs/demo/workshop-sweep.csv', '--against', 'docs/demo/workshop.toml');
page('hut-charge', 'charge', 'docs/demo/hut.toml', '--from', '20 %', '--wall', '600 W');
page('panel', 'panel', 'panels/rigid-175w-perc.toml');
plans.forEach(([text, wanted], i) => {
  page(`house-${i}`, 'check', at(i % 2 === 0 ? 'house.toml' : 'cabled.toml'), '--wiring', text);
  drawn.set(`house-${i}`, wanted.map(strings));
});
page('house-arrange', 'arrange', at('cabled.toml'), '--top', '5', '--seconds', '1', '--trade-offs');

await makePages();
const browser = await chromium.launch({
  executablePath,
  headless: true,
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});

// In the page: what is cut off, what lies on what, which panels are drawn.
const look = () => {
  const out = { cut: [], over: [], drawn: [], smallest: 99 };
  for (const svg of document.querySelectorAll('svg.picture')) {
    const frame = svg.getBoundingClientRect();
    const scale = frame.width / svg.viewBox.baseVal.width;
    for (const t of svg.querySelectorAll('text')) out.smallest = Math.min(out.smallest, parseFloat(getComputedStyle(t).fontSize) * scale);
    // The word across a wiring that must not be connected lies on everything, on purpose.
    const texts = [...svg.querySelectorAll('text:not(.across)')].map((t) => ({ words: t.textContent, box: t.getBoundingClientRect() }));
    for (const { words, box } of texts) {
      if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1) out.cut.push(words);
    }
    for (let i = 0; i < texts.length; ++i) {
      for (let j = i + 1; j < texts.length; ++j) {
        const a = texts[i].box;
        const b = texts[j].box;
        const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (across > 1 && down > 0.3 * Math.min(a.height, b.height)) out.over.push(`${texts[i].words} / ${texts[j].words}`);
      }
    }
    const panels = [...svg.querySelectorAll('g.panel')];
    if (panels.length === 0) continue;
    const strings = [];
    for (const p of panels) (strings[+p.dataset.string] ??= [])[+p.dataset.panel] = p.dataset.kind;
    out.drawn.push(strings);
  }
  return out;
};

const views = [[360, 'light'], [768, 'light'], [1440, 'dark']];
const keepPictures = process.env.PLAIT_LOOK === '1';  // screenshots of every page, to look at with one's own eyes

const lookAt = async (name, full, width, colorScheme) => {
  const where = `${name} at ${width} px, ${colorScheme}`;
  const tab = await browser.newPage({ viewport: { width, height: 900 }, colorScheme });
  tab.on('console', (m) => m.type() === 'error' && fail(where, `console: ${m.text()}`));
  tab.on('pageerror', (e) => fail(where, `script: ${e.message}`));
  tab.on('request', (r) => r.url().startsWith('file:') || fail(where, `asks for ${r.url()}`));
  tab.on('dialog', (d) => fail(where, `a dialog opened: ${d.message()}`));
  await tab.goto(`file://${at(`${name}.html`)}`);
  // What is folded is looked at as well.
  await tab.evaluate(() => document.querySelectorAll('details').forEach((d) => (d.open = true)));
  const wide = await tab.evaluate(() => document.documentElement.scrollWidth);
  if (wide > width) fail(where, `scrolls sideways: ${wide} px`);
  const outside = await tab.evaluate(() => [...document.querySelectorAll('main *')].filter((e) => !e.closest('svg')).filter((e) => e.getBoundingClientRect().right > innerWidth + 1).map((e) => e.outerHTML.slice(0, 80)));
  for (const e of outside) fail(where, `reaches out of the page: ${e}`);
  if (await tab.evaluate(() => document.querySelector('pre'))) fail(where, 'preformatted text');
  const seen = await tab.evaluate(look);
  for (const words of seen.cut) fail(where, `cut off: ${words}`);
  for (const words of seen.over) fail(where, `one text on another: ${words}`);
  if (seen.smallest < 11) fail(where, `text of ${seen.smallest.toFixed(1)} px in a picture`);
  const wanted = drawn.get(name);
  if (wanted && JSON.stringify(seen.drawn) !== JSON.stringify(wanted)) {
    fail(where, `drawn ${JSON.stringify(seen.drawn)} instead of ${JSON.stringify(wanted)}`);
  }
  if (full && (width === 360) === (colorScheme === 'light')) {
    await tab.evaluate(axe);
    const found = await tab.evaluate(() => window.axe.run());
    for (const v of found.violations) fail(where, `axe: ${v.id}: ${v.nodes[0].html}`);
  }
  if (full && keepPictures) await tab.screenshot({ path: at(`${name}-${width}-${colorScheme}.png`), fullPage: true });
  if (full && width === 768) {
    for (const format of ['A4', 'Letter']) await tab.pdf({ path: at(`${name}-${format}.pdf`), format });
  }
  await tab.close();
};

// One browser, several pages side by side.
const jobs = [];
for (const name of pages) {
  const full = !/^house-\d/.test(name) || name === 'house-0';
  for (const [width, colorScheme] of full ? views : [[360, 'light']]) jobs.push([name, full, width, colorScheme]);
}
const work = async () => {
  for (let job = jobs.shift(); job; job = jobs.shift()) await lookAt(...job);
};
await Promise.all(Array.from({ length: 4 }, work));
await browser.close();
if (plans.length < 40) fail('the test', 'too few wirings');
console.log(`${pages.length} pages, ${plans.length} wirings drawn`);
for (const f of failures) console.error(f);
process.exit(failures.length === 0 ? 0 : 1);
