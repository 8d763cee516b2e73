// How a set-up comes to the page and stays: typed, dropped, reloaded, by a link.
import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  artefacts,
  disk,
  drop,
  example,
  figures,
  look,
  native,
  opened,
  saved,
  served,
  settled,
  source,
  verdict,
} from './stage.mjs';

export const begin = {
  async 'a newcomer with a keyboard only'() {
    const tab = await opened(disk);
    await tab.getByRole('heading', { name: 'Panels, an input, and a cold morning' }).waitFor();
    await look(tab, 'first');
    const press = (key) => tab.keyboard.press(key);
    for (
      let i = 0;
      i < 20 && (await tab.evaluate(() => document.activeElement.textContent)) !== 'I have the panel’s label';
      ++i
    )
      await press('Tab');
    await press('Enter');
    const begun = Date.now();
    const question = async (words) => tab.getByRole('heading', { name: words }).waitFor({ timeout: 5000 });
    const type = async (text) => {
      await tab.keyboard.type(text);
      await press('Enter');
    };
    await question('How many of these panels');
    await press('Enter'); // nothing typed: it is needed
    await tab.locator('#answer-trouble', { hasText: 'This one is needed' }).waitFor();
    await type('6');
    await question('Maximum power');
    await look(tab, 'question');
    await type('175');
    await question('Open-circuit voltage');
    await type('24,5'); // a comma, and no unit
    await question('Voltage at maximum power');
    await type('20.3 amps');
    await tab.locator('#answer-trouble', { hasText: 'vmp' }).waitFor();
    await look(tab, 'complaint');
    await press('Control+A');
    await type('20.3 volts');
    await question('Short-circuit current');
    await type('9,2 A');
    await question('Current at maximum power');
    await type('8.62');
    await question('Temperature coefficient of Voc');
    await type('-0,28 %/K');
    await question('Maximum series fuse');
    await press('Tab');
    await press('Tab');
    assert.equal(await tab.evaluate(() => document.activeElement.textContent), 'Not printed: skip');
    await press('Enter');
    await question('What do the panels go into?');
    await press('Enter');
    await question('Highest voltage it may ever see');
    await type('148');
    await question('Lowest voltage at which it works');
    await type('33');
    await question('Highest voltage at which it works');
    await type('139');
    await question('Most current it takes');
    await type('11,5');
    await question('Most power it takes');
    await type('820 W');
    await question('What does the manual say');
    await press('Tab');
    await press('Enter');
    await question('How cold can a morning get');
    await type('-18'); // no unit: the reader asks for one
    await tab.locator('#answer-trouble', { hasText: 'coldest_air' }).waitFor();
    await press('Control+A');
    await type('0 °F');
    await settled(tab);
    figures['newcomer: from the first question to the verdict, s (machine typing)'] = (Date.now() - begun) / 1000;
    await tab.waitForFunction(() => /PV/.test(document.querySelector('#live').textContent), null, { timeout: 5000 });
    assert.match(await verdict(tab).textContent(), /PV = \d/);
    assert.match(await tab.locator('#answer').textContent(), /assumed/);
    assert.match(await tab.locator('#answer').textContent(), /Arithmetic, not an approval/);
    await look(tab, 'verdict');
    // The saved set-up is the command line's.
    const text = await saved(tab);
    const file = join(artefacts, 'newcomer.toml');
    writeFileSync(file, text);
    const ran = native(['check', file]);
    assert.ok(ran.status <= 1, ran.stderr);
    const shown = await verdict(tab).textContent();
    assert.equal(ran.stdout.split('\n')[0].replace(/\s+/g, ' '), `${shown.replace(/\s+/g, ' ')} · My panels`);
    // The strings by keys: take one panel off, and back.
    await tab.locator('.string .token').first().focus();
    await press('Delete');
    await tab.waitForFunction((was) => document.querySelector('#answer .verdict').textContent !== was, shown);
    await tab.evaluate(() => document.activeElement.blur());
    await press('Control+z');
    await tab.waitForFunction((was) => document.querySelector('#answer .verdict').textContent === was, shown);
    await press('Control+y');
    await tab.waitForFunction((was) => document.querySelector('#answer .verdict').textContent !== was, shown);
    await tab.context().close();
  },

  async 'a broken file is dropped'() {
    const tab = await opened(disk);
    await example(tab);
    const was = await saved(tab);
    await drop(tab, 'broken.toml', 'title = "Broken"\n[[panel]\nid = 3\n');
    await tab.waitForFunction(() => /cannot be read/.test(document.querySelector('#answer').textContent));
    assert.match(await tab.locator('.complaints').textContent(), /line \d/);
    await look(tab, 'broken');
    await tab.locator('.complaints button').first().click();
    await tab.locator('#text-area').waitFor();
    await look(tab, 'text');
    await drop(tab, 'picture.toml', [0xff, 0xd8, 0xff, 0xe0, 0]);
    await tab.locator('#notice', { hasText: 'not a text' }).waitFor();
    await tab.getByRole('button', { name: 'Undo' }).click();
    await tab.waitForFunction(() => /EXCEEDS/.test(document.querySelector('#answer').textContent));
    assert.equal(await saved(tab), was, 'what was there before is back, to the byte');
    // A set-up that names a file asks for it.
    const setup = readFileSync(join(source, 'docs/demo/van.toml'), 'utf8').replace(
      '../../panels/flexible-110w-back-contact.toml',
      'parts/of-ours.toml',
    );
    await drop(tab, 'ours.toml', setup);
    await tab.locator('#notice', { hasText: 'of-ours.toml' }).waitFor();
    await look(tab, 'missing');
    await drop(tab, 'of-ours.toml', readFileSync(join(source, 'panels/flexible-110w-back-contact.toml'), 'utf8'));
    await tab.waitForFunction(() => /PV = 2s2p/.test(document.querySelector('#answer .verdict')?.textContent ?? ''));
    const text = await saved(tab);
    assert.doesNotMatch(text, /of-ours/, 'the panel is written in');
    await drop(tab, 'again.toml', text);
    await settled(tab);
    assert.equal(await saved(tab), text, 'saved, opened and saved again: the same bytes');
    await tab.context().close();
  },

  async 'a reload, and forgetting'() {
    const tab = await opened(disk);
    await tab.getByRole('button', { name: 'I have the panel’s label' }).click();
    await tab.keyboard.type('4');
    await tab.keyboard.press('Enter');
    await tab.getByRole('heading', { name: 'Maximum power' }).waitFor();
    await tab.keyboard.type('12');
    await tab.reload();
    await tab.getByRole('heading', { name: 'Maximum power' }).waitFor();
    assert.equal(await tab.locator('#answer-field').inputValue(), '12', 'half an answer is still there');
    await tab.getByRole('button', { name: 'Back' }).click();
    await tab.getByRole('button', { name: 'Back' }).click();
    await example(tab);
    await tab.getByRole('tab', { name: 'As text' }).click();
    await tab
      .locator('#text-area')
      .fill((await tab.locator('#text-area').inputValue()).replace('Allotment tool shed', 'My own words'));
    await tab.reload();
    await settled(tab);
    assert.match(await tab.locator('#title').textContent(), /My own words/);
    const times = await tab.evaluate(() => plaitTimes);
    figures['opened from disk to the first verdict, ms'] = times.first;
    await tab.getByRole('button', { name: 'Undo' }).click();
    await tab.waitForFunction(() => /Allotment/.test(document.querySelector('#title').textContent));
    await tab.getByRole('button', { name: 'Forget' }).click();
    await tab.reload();
    await tab.getByRole('heading', { name: 'Panels, an input' }).waitFor();
    assert.deepEqual(await tab.evaluate(() => Object.keys(localStorage)), []);
    await tab.context().close();
  },

  async 'a link'() {
    const tab = await opened(served);
    await example(tab);
    const text = await saved(tab);
    await tab.getByRole('button', { name: 'Link' }).click();
    await look(tab, 'dialog');
    const link = await tab.locator('dialog textarea').inputValue();
    figures['characters of the link of the demo'] = link.length;
    await tab.getByRole('button', { name: 'Close' }).last().click();
    const other = await opened(link);
    await settled(other);
    assert.equal(await saved(other), text, 'the set-up came over whole');
    assert.ok(!(await other.evaluate(() => location.hash)), 'the address does not go stale');
    const firsts = await other.evaluate(() => plaitTimes.first);
    figures['opened with a link to the first verdict, ms'] = firsts;
    const later = await opened(`${served}#p9=abcd`);
    await later.locator('#notice', { hasText: 'later version' }).waitFor();
    await look(later, 'later');
    const cut = await opened(link.slice(0, -40));
    await cut.locator('#notice', { hasText: 'damaged' }).waitFor();
    // A page from disk has no address for others: a text to paste.
    const paper = await opened(disk);
    await paper.getByText('Or paste a link').click();
    await paper.locator('#paste').fill(link);
    await paper.getByRole('button', { name: 'Open it' }).click();
    await settled(paper);
    assert.equal(await saved(paper), text);
    await paper.getByRole('button', { name: 'Link' }).click();
    assert.match(await paper.locator('dialog textarea').inputValue(), /^p1=[\w-]+$/);
    for (const t of [tab, other, later, cut, paper]) await t.context().close();
  },
};
