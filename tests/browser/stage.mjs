// A browser, the page from disk and from a server, and what every story does with it. Whoever runs it gives
// <plait.html> <native plait> <source folder> <folder for artefacts> <folder with node_modules>.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { createServer } from 'node:http';
import { join, resolve } from 'node:path';

export const [html, plait, source, artefacts, modules] = process.argv.slice(2).map((p) => resolve(p));
const require = createRequire(join(modules, 'package.json'));
const { chromium } = require('playwright-core');
const axe = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
const executablePath = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find(existsSync);
mkdirSync(artefacts, { recursive: true });

export const disk = `file://${html}`;
export const server = createServer((request, response) => {
  response.writeHead(200, { 'content-type': 'text/html; charset=utf-8' });
  response.end(readFileSync(html));
});
await new Promise((done) => server.listen(0, '127.0.0.1', done));
export const served = `http://127.0.0.1:${server.address().port}/plait.html`;

export const browser = await chromium.launch({
  executablePath,
  headless: true,
  args: [
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ],
});

export const faults = [];
export const figures = {};
/** The story that runs: its name, and a console error that it provokes. */
export const telling = { story: '', expected: null };

export async function opened(address, options = {}) {
  const context = await browser.newContext({
    viewport: { width: 1400, height: 900 },
    acceptDownloads: true,
    ...options,
  });
  if (address.startsWith('file:')) await context.setOffline(true);
  const tab = await context.newPage();
  const where = () => `${telling.story}: `;
  tab.on(
    'console',
    (m) => m.type() === 'error' && !telling.expected?.test(m.text()) && faults.push(`${where()}console: ${m.text()}`),
  );
  tab.on('pageerror', (e) => faults.push(`${where()}script: ${e.message}`));
  tab.on(
    'request',
    (r) =>
      r.url().split('#')[0] === address.split('#')[0] ||
      r.url().startsWith('blob:') ||
      r.url().startsWith('data:') ||
      faults.push(`${where()}asks for ${r.url()}`),
  );
  if (options.before) await tab.addInitScript(options.before);
  await tab.goto(address);
  return tab;
}

export async function look(tab, name) {
  const { width } = tab.viewportSize();
  const wide = await tab.evaluate(() => document.documentElement.scrollWidth);
  if (wide > width) {
    const what = await tab.evaluate(() =>
      [...document.querySelectorAll('body *')]
        .filter((e) => e.getBoundingClientRect().right > innerWidth + 1)
        .slice(0, 3)
        .map((e) => e.outerHTML.slice(0, 90)),
    );
    faults.push(`${telling.story}, ${name}: scrolls sideways, ${wide} px at ${width}: ${what.join(' | ')}`);
  }
  await tab.evaluate(axe);
  const found = await tab.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
  for (const v of found.violations)
    faults.push(
      `${telling.story}, ${name}: axe: ${v.id}: ${v.nodes[0].target.join(' ')} ${v.nodes[0].html.slice(0, 160)}`,
    );
  if (process.env.PLAIT_LOOK === '1')
    await tab.screenshot({
      path: join(artefacts, `${telling.story.replace(/\W+/g, '-')}-${name}-${width}.png`),
      fullPage: true,
    });
}

export const verdict = (tab) => tab.locator('#answer .verdict');
export const settled = (tab) => tab.waitForFunction(() => document.querySelector('#answer .verdict'));
export const example = async (tab) => {
  await tab.getByRole('button', { name: 'Show me an example' }).click();
  await settled(tab);
};
export const saved = async (tab) => {
  const [download] = await Promise.all([
    tab.waitForEvent('download'),
    tab.getByRole('button', { name: 'Save set-up' }).click(),
  ]);
  return readFileSync(await download.path(), 'utf8');
};
export const drop = (tab, name, text) =>
  tab.evaluate(
    ([n, t]) => {
      const data = new DataTransfer();
      data.items.add(new File([typeof t === 'string' ? t : new Uint8Array(t)], n));
      dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
    },
    [name, text],
  );
export const native = (args) => spawnSync(plait, args, { cwd: source, encoding: 'utf8' });

export const median = (all) => [...all].sort((a, b) => a - b)[Math.floor(all.length / 2)];
