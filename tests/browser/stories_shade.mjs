// Shade inside a bypass group: kept by whatever is done with the set-up, painted by pointer, thumb and keys. And what is
// asked of many panels, many inputs, and before a bench session.
import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { artefacts, disk, drop, look, native, opened, saved, settled, source, telling } from './stage.mjs';

const carport = () => readFileSync(join(source, 'docs/demo/carport.toml'), 'utf8');
const shown = (tab) => tab.evaluate(() => document.querySelector('#report').shadowRoot?.textContent ?? '');
const spotWords = (tab) => tab.locator('.hot-spots li').allTextContents();
const exported = async (tab, button) => {
  const [download] = await Promise.all([
    tab.waitForEvent('download'),
    tab.getByRole('button', { name: button, exact: true }).click(),
  ]);
  return readFileSync(await download.path(), 'utf8');
};

/** The set-up as it is saved, judged by the command line: what the page shows must be that. */
async function asTheCommandLine(tab) {
  const text = await saved(tab);
  const file = join(artefacts, `${telling.story.replace(/\W+/g, '-')}.toml`);
  writeFileSync(file, text);
  const ran = native(['check', file, '--json']);
  assert.ok(ran.status <= 1, ran.stderr);
  const there = JSON.parse(ran.stdout);
  await tab.waitForFunction((h) => document.querySelector('#answer .word').textContent === h, there.headline);
  await tab.waitForFunction(
    (all) => {
      const text = (document.querySelector('#report').shadowRoot?.textContent ?? '').replace(/\s/g, ' '); // figures do not break
      return all.every((s) => text.includes(s));
    },
    there.hot_spots.map((s) => s.sentence),
  );
  assert.deepEqual((await spotWords(tab)).slice(0, 2), there.hot_spots.slice(0, 2).map((s) => s.sentence));
  const here = JSON.parse(await exported(tab, 'JSON'));
  assert.equal(here.headline, there.headline);
  assert.deepEqual(here.hot_spots.map((s) => s.sentence), there.hot_spots.map((s) => s.sentence));
  return { text, spots: there.hot_spots };
}

export const shade = {
  async 'cells of a bypass group are kept'() {
    const tab = await opened(disk);
    await drop(tab, 'carport.toml', carport());
    await settled(tab);
    const before = await asTheCommandLine(tab);
    assert.equal(before.spots.length, 2);
    await look(tab, 'spots');
    // Something else is moved: the last panel, by keys, between the shaded ones; and a limit.
    await tab.locator('.string .token').nth(3).focus();
    await tab.keyboard.press('ArrowLeft');
    await tab.waitForFunction(() => /group 2: 3 cells at 15 %/.test(document.querySelectorAll('.string .token')[3].ariaLabel));
    await tab.locator('[data-handle="0.max_power"]').focus();
    await tab.keyboard.press('PageDown');
    await tab.waitForFunction(() => document.querySelector('[data-handle="0.max_power"]').getAttribute('aria-valuenow') === '1450');
    const moved = await asTheCommandLine(tab);
    assert.match(moved.text, /light = \[\{ cells = 1, light = 0\.3 \}, 1, 1\] \}, +# the leaf\n/);
    assert.match(moved.text, /light = \[1, \{ cells = 3, light = 0\.15 \}, 1\] \}, +# the lamp post\n/);
    assert.equal(moved.spots.length, 2);
    assert.equal(moved.spots[1].panel, 4, 'the third panel is the fourth now');
    // A second string like the first, undone; a link; a reload.
    await tab.getByRole('button', { name: 'once more: string 1' }).click();
    await tab.waitForFunction(() => document.querySelectorAll('.string').length === 2);
    assert.equal((await saved(tab)).match(/cells = 3, light = 0\.15/g).length, 2);
    await tab.getByRole('button', { name: 'Undo' }).click();
    await tab.waitForFunction(() => document.querySelectorAll('.string').length === 1);
    assert.equal(await saved(tab), moved.text);
    await tab.getByRole('button', { name: 'Link' }).click();
    const code = await tab.locator('dialog textarea').inputValue();
    await tab.getByRole('button', { name: 'Close' }).last().click();
    await tab.reload();
    await settled(tab);
    assert.equal(await saved(tab), moved.text);
    const other = await opened(disk);
    await other.getByText('Or paste a link').click();
    await other.locator('#paste').fill(code);
    await other.getByRole('button', { name: 'Open it' }).click();
    await settled(other);
    assert.equal(await saved(other), moved.text);
    for (const t of [tab, other]) await t.context().close();
  },

  async 'shade is painted on cells'() {
    const tab = await opened(disk);
    await drop(tab, 'carport.toml', carport());
    await settled(tab);
    await tab.locator('#shade').selectOption('0.1');
    await tab.locator('#shade-on').selectOption('cells');
    await tab.locator('#shade-cells').fill('2');
    await tab.locator('#shade-cells').blur();
    await look(tab, 'brush');
    // With the pointer, the third group of the second panel; with keys, the first of the fourth.
    const group = (p, g) => tab.locator(`[data-at="0.0.${p}.${g}"]`);
    await group(1, 2).click();
    await tab.waitForFunction(() => /3 hot spots/.test(document.querySelector('.hot-spots')?.textContent ?? ''));
    await group(3, 0).focus();
    await tab.keyboard.press('Enter');
    await tab.waitForFunction(() => /4 hot spots/.test(document.querySelector('.hot-spots')?.textContent ?? ''));
    assert.equal(await tab.evaluate(() => document.activeElement.dataset.at), '0.0.3.0', 'the keys stay where they were');
    await tab.waitForFunction(() => /4 hot spots: PV, string 1, panel 1/.test(document.querySelector('#live').textContent));
    const painted = await asTheCommandLine(tab);
    assert.equal(painted.spots.length, 4);
    assert.match(painted.text, /light = \[ 1, 1, \{ cells = 2, light = 0\.1 \} \]/);
    assert.match(painted.text, /light = \[ \{ cells = 2, light = 0\.1 \}, 1, 1 \]/);
    assert.match(painted.text, /# the leaf/, 'what was written of the others stays');
    // A whole group in place of its cells: the diode carries the current, and no cell is driven backward.
    await tab.locator('#shade-on').selectOption('group');
    await group(1, 2).click();
    await tab.waitForFunction(() => /3 hot spots/.test(document.querySelector('.hot-spots').textContent));
    assert.match(await saved(tab), /light = \[ 1, 1, 0\.1 \]/);
    // The same stroke again takes it away; a whole panel is painted by its token.
    await group(1, 2).click();
    await tab.waitForFunction(() => /group 3, full light/.test(document.querySelector('[data-at="0.0.1.2"]').ariaLabel));
    await tab.locator('#shade-on').selectOption('panel');
    await tab.locator('.string .token').nth(1).click();
    await tab.waitForFunction(() => document.querySelectorAll('.string .token')[1].querySelector('.dim')?.textContent === '10 %');
    await asTheCommandLine(tab);
    await look(tab, 'painted');
    for (let i = 0; i < 5; ++i) await tab.getByRole('button', { name: 'Undo' }).click();
    await tab.waitForFunction(() => /2 hot spots/.test(document.querySelector('.hot-spots')?.textContent ?? ''));
    // Thin film: what its cells do backward is not known, and the page says so.
    await tab.getByRole('button', { name: 'Start anew' }).click();
    const film = readFileSync(join(source, 'docs/demo/carport.toml'), 'utf8')
      .replace('rigid-330w-perc', 'flexible-60w-amorphous')
      .replace(/light = \[[^\n]*\] \}/g, 'light = 1 }');
    await drop(tab, 'film.toml', film);
    await settled(tab);
    await tab.locator('#shade-on').selectOption('cells');
    await tab.locator('.group').first().click();
    await tab.waitForFunction(() => /crystalline silicon only/.test(document.querySelector('#live').textContent));
    await tab.context().close();
  },

  async 'shade is painted with a thumb'() {
    for (const [width, colorScheme] of [
      [360, 'dark'],
      [800, 'light'],
    ]) {
      const tab = await opened(disk, { viewport: { width, height: 740 }, hasTouch: true, isMobile: true, colorScheme });
      await tab.locator('#open-demo').selectOption('carport.toml');
      await settled(tab);
      await tab.locator('#shade').selectOption('0.25');
      await tab.locator('#shade-on').selectOption('cells');
      const group = tab.locator('[data-at="0.0.1.1"]');
      const box = await group.boundingBox();
      assert.ok(box.width >= 40 && box.height >= 40, `a thumb hits ${box.width} × ${box.height} px`);
      await group.tap();
      await tab.waitForFunction(() => /3 hot spots/.test(document.querySelector('.hot-spots')?.textContent ?? ''));
      await look(tab, 'painted');
      await tab.context().close();
    }
  },

  async 'many panels and inputs, and a sheet for the bench'() {
    const tab = await opened(disk);
    await tab.locator('#open-demo').selectOption('workshop.toml');
    await settled(tab);
    await tab.getByRole('tab', { name: 'Before a bench sweep' }).click();
    await tab.waitForFunction(() =>
      /Do not step past the printed maximum/.test(document.querySelector('#report').shadowRoot?.textContent ?? ''),
    );
    await look(tab, 'sheet');
    const file = join(artefacts, 'workshop.toml');
    const text = await saved(tab);
    writeFileSync(file, text);
    assert.equal(await exported(tab, 'Sheet to fill in (CSV)'), native(['learn', '--plan', file, '--csv']).stdout);
    // Of several inputs the first, until another is chosen.
    await drop(tab, 'large.toml', readFileSync(join(source, 'docs/demo/allotment.toml'), 'utf8'));
    await settled(tab);
    await tab.waitForFunction(() => /PV1/.test(document.querySelector('#report').shadowRoot?.textContent ?? ''));
    await tab.getByLabel('Which input').selectOption('PV2');
    await tab.waitForFunction(() => /PV2/.test(document.querySelector('#report').shadowRoot?.textContent ?? ''));
    // All panels that are inside on the example inputs, as on the command line.
    await tab.getByRole('tab', { name: 'Panels × inputs' }).click();
    const own = join(artefacts, 'large.toml');
    writeFileSync(own, await saved(tab));
    await tab.locator('#work-out').click();
    await tab.waitForFunction(() => /1 pair/.test(document.querySelector('#report').shadowRoot?.textContent ?? ''));
    await tab.getByRole('button', { name: 'Leave those of this set-up out' }).click();
    await tab.getByRole('button', { name: /^Add all \d+ panels/ }).click();
    await tab.getByRole('button', { name: 'Add the example inputs' }).click();
    await drop(tab, 'prices.csv', readFileSync(join(source, 'docs/demo/prices.csv'), 'utf8'));
    await tab.locator('#notice').getByRole('button', { name: 'prices' }).click();
    await tab.getByLabel('What comes first').selectOption('cost');
    await tab.getByLabel('At most so many of each panel').fill('6');
    await tab.locator('#work-out').click();
    await tab.waitForFunction(() => /60 pairs/.test(document.querySelector('#report').shadowRoot?.textContent ?? ''), null, {
      timeout: 60000,
    });
    await look(tab, 'pairs');
    assert.match(await shown(tab), /for 100 EUR/);
    const here = JSON.parse(await exported(tab, 'JSON'));
    const args = ['match', 'panels', 'docs/demo/inputs', '--by', 'cost', '--up-to', '6', '--prices', 'docs/demo/prices.csv'];
    const ran = native([...args, '--site', own, '--json']);
    assert.ok(ran.status <= 1, ran.stderr);
    const there = JSON.parse(ran.stdout);
    const bare = (all) => all.map((p) => [p.panel, p.controller, p.wiring, p.panels]);
    assert.ok(there.best.length >= 5);
    assert.deepEqual(bare(here.best), bare(there.best));
    // A controller file that is dropped on any other question comes here.
    await tab.getByRole('tab', { name: 'Parts', exact: true }).click();
    await drop(tab, 'box.toml', readFileSync(join(source, 'docs/demo/inputs/small-station.toml'), 'utf8'));
    await tab.getByRole('tab', { name: 'Panels × inputs', selected: true }).waitFor();
    assert.match(await tab.locator('#view-head .file-field details').first().textContent(), /box\.toml/);
    await tab.context().close();
  },
};
