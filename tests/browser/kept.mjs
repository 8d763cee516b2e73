// A wiring that the page writes anew is the wiring that was read: every set-up of docs and tests, from its text through the
// module's outline into lines and back. Written without a look at the old text it is judged the same, shade, planes, fuses,
// diodes and all; written beside the old text it is the old text, to the byte. The verdict that the page draws is that of
// the report.
// Usage: node kept.mjs <folder of the preset "web"> <source folder>
import assert from 'node:assert/strict';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { moduleFrom, textsUnder } from './module.mjs';

const [built, source] = process.argv.slice(2).map((p) => resolve(p));
const { wiringLines, withWiring } = await import(pathToFileURL(join(source, 'src/web/page/wiring_lines.js')));
const door = await moduleFrom(built, source);
const files = {};
for (const folder of ['docs', 'panels', 'tests/input', 'tests/golden'])
  Object.assign(files, textsUnder(source, folder));
door.put(files);

// Its provenance, such as a hash of the file, is no part of a judgement.
const judged = (path) => {
  const ran = door.run(['check', path, '--json']);
  return ran.code <= 1 ? JSON.parse(ran.out) : ran.err;
};
// The same to the last digit but one: a share of light that was divided and multiplied again may be off by that.
const same = (one, other, where) => {
  if (typeof one === 'number' && typeof other === 'number')
    return assert.ok(Math.abs(one - other) <= 1e-9 * Math.max(1, Math.abs(other)), `${where}: ${one} and ${other}`);
  if (one === null || other === null || typeof one !== 'object') return assert.equal(one, other, where);
  assert.equal(Object.keys(one).join(), Object.keys(other).join(), where);
  for (const key of Object.keys(one)) same(one[key], other[key], `${where}.${key}`);
  return undefined;
};
// The verdict that is drawn is the report's, as far as it goes.
const within = (part, whole, where) => {
  if (part === null || typeof part !== 'object') return assert.equal(part, whole, where);
  if (Array.isArray(part)) assert.equal(part.length, whole.length, where);
  for (const key of Object.keys(part)) within(part[key], whole[key], `${where}.${key}`);
  return undefined;
};
const decides = (rules) => rules.filter((r) => r.decides && r.outcome !== 'within');
let drawn = 0;
const drawnAsReported = (path, answer, report) => {
  if (typeof report === 'string') return assert.equal(answer, null, path);
  drawn += 1;
  const plan_rules = decides(report.plan_rules);
  const inputs = report.inputs.map((i) => ({ ...i, rules: decides(i.rules) }));
  return within(answer, { ...report, inputs, plan_rules }, path);
};
let kept = 0;
let cells = 0;
for (const [path, text] of Object.entries(files).filter(([p]) => p.endsWith('.toml'))) {
  const outline = door.outline(path);
  if (!outline.setup?.has_wiring) continue;
  const { setup } = outline;
  const was = { text, wiring: setup.wiring };
  assert.equal(withWiring(text, wiringLines(setup, was)), text, `${path}: what did not change is not touched`);
  const before = judged(path);
  drawnAsReported(path, outline.answer, before);
  const anew = withWiring(text, wiringLines(setup));
  door.put({ [path]: anew });
  same(judged(path), before, `${path}, written anew`);
  assert.deepEqual(door.outline(path).setup.wiring, setup.wiring, `${path}: and read the same`);
  door.put({ [path]: text });
  kept += 1;
  if (/cells = \d+, light/.test(anew)) cells += 1;
}
assert.ok(kept >= 12, `${kept} set-ups`);
assert.ok(drawn >= 12, `${drawn} verdicts`);
assert.ok(cells >= 1, 'one of them with cells shaded inside a group');
console.log(`${kept} wirings written anew, ${cells} with shaded cells`);
