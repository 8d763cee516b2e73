// The page in a real browser, by what a person does: a newcomer with a keyboard only, a phone, a broken file, a reload, a
// link, a fault of the module. Opened from disk with no network, and from a server of static files. axe-core looks at every
// state; nothing may scroll sideways, nothing may be asked of a network, no error may reach the console.
// Usage: node web.mjs <plait.html> <native plait> <source folder> <folder for artefacts> <folder with node_modules>
// PLAIT_LOOK=1 keeps screenshots of every state, to look at with one's own eyes. PLAIT_ONLY=word runs the stories with it.
import { statSync } from 'node:fs';
import { browser, faults, figures, html, server, telling } from './stage.mjs';
import { begin } from './stories_begin.mjs';
import { shade } from './stories_shade.mjs';
import { work } from './stories_work.mjs';

const only = process.env.PLAIT_ONLY;
for (const [name, run] of Object.entries({ ...begin, ...work, ...shade })) {
  if (only && !name.includes(only)) continue;
  telling.story = name;
  const begun = Date.now();
  await run().catch((e) => faults.push(`${name}: ${e.stack.split('\n').slice(0, 4).join('\n    ')}`));
  console.log(`${name}: ${((Date.now() - begun) / 1000).toFixed(1)} s`);
  for (const context of browser.contexts()) await context.close();
}
await browser.close();
server.close();

const size = statSync(html).size;
figures['bytes of the one file'] = size;
// Wanted are 1.3 million (docs/performance.md says why they are not reached); it must not grow unnoticed.
if (size >= 1.42e6) faults.push(`the page has ${size} bytes, 1.42 million are allowed`);
for (const [what, value] of Object.entries(figures))
  console.log(`${what}: ${Number.isInteger(value) ? value : value.toFixed(1)}`);
for (const f of faults) console.error(f);
process.exit(faults.length === 0 ? 0 : 1);
