// What is done with a set-up: dragging, every question, searches, faults, all widths.
import assert from 'node:assert/strict';
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  artefacts,
  disk,
  drop,
  example,
  faults,
  figures,
  look,
  median,
  native,
  opened,
  saved,
  served,
  settled,
  source,
  telling,
  verdict,
} from './stage.mjs';

export const work = {
  async 'a phone'() {
    const tab = await opened(disk, {
      viewport: { width: 360, height: 740 },
      hasTouch: true,
      isMobile: true,
      colorScheme: 'dark',
    });
    await look(tab, 'first');
    await tab.getByRole('button', { name: 'Show me an example' }).tap();
    await settled(tab);
    await tab.locator('#report').waitFor();
    await look(tab, 'example');
    const small = await tab.evaluate(() =>
      [...document.querySelectorAll('button, select, .handle .reach')]
        .filter((e) => e.getClientRects().length > 0 && !e.classList.contains('linkish'))
        .map((e) => [e.getBoundingClientRect(), e.outerHTML.slice(0, 80)])
        .filter(([box]) => box.height < 24 || box.width < 24)
        .map(([, h]) => h),
    );
    assert.deepEqual(small, [], 'nothing smaller than a thumb can hit (24 px, WCAG 2.5.8)');
    // A class of panel in a few taps.
    await tab.getByRole('button', { name: 'Start anew' }).tap();
    await tab.getByRole('button', { name: 'Only roughly' }).tap();
    await tab.locator('#answer-field').selectOption('rigid-100w-poly.toml');
    await tab.getByRole('button', { name: 'Next' }).tap();
    await look(tab, 'class');
    await tab.context().close();
  },

  async 'panels and limits are dragged'() {
    const tab = await opened(disk);
    await example(tab);
    const was = await verdict(tab).textContent();
    assert.match(was, /EXCEEDS PV2 = 6s1p/);
    await tab.waitForFunction(() => document.querySelector('#report').shadowRoot?.textContent.includes('rule by rule'));
    await look(tab, 'example');
    const from = await tab.locator('.rail').nth(1).locator('.string .token').first().boundingBox();
    const to = await tab.locator('.rail').nth(0).locator('.new-string').boundingBox();
    await tab.mouse.move(from.x + 10, from.y + 10);
    await tab.mouse.down();
    await tab.mouse.move(to.x + 40, to.y + 10, { steps: 8 });
    await tab.mouse.up();
    await tab.waitForFunction(() =>
      /PV1 = 1s1p; PV2 = 5s1p|PV1 = 1s1p, PV2 = 5s1p/.test(document.querySelector('#answer .verdict').textContent),
    );
    // The limit of the second input, dragged slowly to the left: below 137 V five in series are too many.
    const grip = await tab.locator('[data-handle="1.max_voltage"] .grip').boundingBox();
    await tab.evaluate(() => ((plaitTimes.judge.length = 0), (plaitTimes.turn.length = 0)));
    await tab.mouse.move(grip.x + 12, grip.y + 10);
    await tab.mouse.down();
    for (let i = 1; i <= 60; ++i) {
      await tab.mouse.move(grip.x + 12 - i, grip.y + 10);
      await tab.evaluate(() => new Promise(requestAnimationFrame));
    }
    await tab.mouse.up();
    await tab.waitForFunction(() => document.querySelector('#answer .verdict').textContent.includes('EXCEEDS'));
    const times = await tab.evaluate(() => plaitTimes);
    assert.ok(times.judge.length > 5, 'judged while it was dragged');
    figures['a dragged limit, 6 panels: judged in the worker, median ms'] = median(times.judge);
    figures['a dragged limit, 6 panels: from the change to the drawn picture, median ms'] = median(times.turn);
    assert.match(await saved(tab), /max_voltage = "1[0-3]\d(\.5)? V"\n/, 'the limit in the text');
    // One stroke is one step back.
    await tab.getByRole('button', { name: 'Undo' }).click();
    await tab.waitForFunction(() => !document.querySelector('#answer .verdict').textContent.includes('EXCEEDS'));
    // The same by keys, and the cold by its slider.
    await tab.locator('[data-handle="1.max_voltage"]').focus();
    await tab.keyboard.press('PageDown');
    await tab.waitForFunction(
      () =>
        document.activeElement.dataset?.handle === '1.max_voltage' &&
        document.activeElement.getAttribute('aria-valuenow') === '143',
    );
    await tab.locator('#w-coldest_air').focus();
    for (let i = 0; i < 12; ++i) await tab.keyboard.press('ArrowLeft');
    await tab.waitForFunction(
      () =>
        /30 °C/.test(document.querySelector('#answer .because')?.textContent ?? '') ||
        document.querySelector('#w-coldest_air').value === '-30',
    );
    await tab.waitForTimeout(300);
    assert.match(await saved(tab), /coldest_air = "-30 °C"/);
    await look(tab, 'dragged');
    // Shade is painted on a panel and written into the text.
    await tab.locator('#shade').selectOption('0.25');
    await tab.locator('.rail').nth(1).locator('.string .token').nth(1).click();
    await tab.waitForFunction(() => document.querySelector('.string .token .dim')?.textContent === '25 %');
    assert.match(await saved(tab), /panel = "rigid", light = 0.25/);
    await tab.getByRole('tab', { name: 'The curve' }).click();
    await tab.waitForFunction(() =>
      /maxima|maximum/.test(document.querySelector('#report').shadowRoot?.textContent ?? ''),
    );
    await look(tab, 'curve');
    await tab.context().close();
  },

  async 'every question'() {
    const tab = await opened(disk);
    await tab.locator('#open-demo').selectOption('hut.toml');
    await settled(tab);
    for (const [name, words, slow] of [
      ['The verdict in full', /rule by rule/],
      ['Every wiring', /./, true],
      ['The curve', /open circuit/i],
      ['Parts', /panel/i],
      ['Order of work', /cover/i],
      ['At the meter', /string/i],
      ['The year', /kWh|Wh/, true],
      ['The battery', /full/i, true],
      ['One panel', /Voc|coefficient/],
    ]) {
      await tab.getByRole('tab', { name, exact: true }).click();
      if (slow) await tab.locator('#work-out').click();
      await tab
        .waitForFunction(
          (w) => new RegExp(w, 'i').test(document.querySelector('#report').shadowRoot?.textContent ?? ''),
          words.source,
          { timeout: 60000 },
        )
        .catch((e) => faults.push(`${telling.story}: ${name}: ${e.message.split('\n')[0]}`));
      await look(tab, name.replace(/\W/g, ''));
    }
    // The report is the command line's own page.
    const file = join(artefacts, 'hut.toml');
    writeFileSync(file, await saved(tab));
    await tab.getByRole('tab', { name: 'Parts', exact: true }).click();
    await tab.waitForFunction(() => /hut\.toml/.test(document.querySelector('#report').shadowRoot?.textContent ?? ''));
    const [download] = await Promise.all([
      tab.waitForEvent('download'),
      tab.getByRole('button', { name: 'JSON' }).click(),
    ]);
    const mine = JSON.parse(readFileSync(await download.path(), 'utf8'));
    assert.equal(mine.command, 'parts');
    assert.deepEqual(
      mine.parts.map((p) => p.id ?? p.what),
      JSON.parse(native(['parts', file, '--json']).stdout).parts.map((p) => p.id ?? p.what),
    );
    for (const [tabName, button] of [
      ['The curve', 'CSV'],
      ['The curve', 'Picture (SVG)'],
      ['The verdict in full', 'Page (HTML)'],
    ]) {
      await tab.getByRole('tab', { name: tabName, exact: true }).click();
      const [got] = await Promise.all([
        tab.waitForEvent('download'),
        tab.getByRole('button', { name: button, exact: true }).click(),
      ]);
      assert.ok(statSync(await got.path()).size > 500, `${button} of ${tabName}`);
    }
    // Readings, a log, a sweep, set-ups side by side.
    await tab.getByRole('button', { name: 'Start anew' }).click();
    await tab.locator('#open-demo').selectOption('van.toml');
    await settled(tab);
    await tab.getByRole('tab', { name: 'At the meter' }).click();
    await tab.getByLabel('Air in the shade').fill('31 °C');
    await tab.getByLabel('Light in the panels’ plane').fill('820');
    await tab.getByLabel('What the meter shows').fill('string 1 voc -43.5 V\nstring 2 voc 43.9 V');
    await tab.getByLabel('What the meter shows').blur();
    await tab.waitForFunction(() => /revers/i.test(document.querySelector('#report').shadowRoot?.textContent ?? ''));
    await drop(tab, 'van-log.csv', readFileSync(join(source, 'docs/demo/van-log.csv'), 'utf8'));
    await tab.getByRole('button', { name: 'a log of this input' }).click();
    await tab.waitForFunction(
      () => /kWh|Wh/.test(document.querySelector('#report').shadowRoot?.textContent ?? ''),
      null,
      { timeout: 60000 },
    );
    await look(tab, 'log');
    await drop(tab, 'workshop-sweep.csv', readFileSync(join(source, 'docs/demo/workshop-sweep.csv'), 'utf8'));
    await tab.getByRole('button', { name: 'a bench sweep' }).click();
    await tab.waitForFunction(
      () => /sweep/i.test(document.querySelector('#report').shadowRoot?.textContent ?? ''),
      null,
      { timeout: 60000 },
    );
    const [window] = await Promise.all([
      tab.waitForEvent('download'),
      tab.getByRole('button', { name: 'Controller file' }).click(),
    ]);
    assert.match(readFileSync(await window.path(), 'utf8'), /\[\[input\]\]/, 'the window as a controller file');
    await tab.getByRole('tab', { name: 'Side by side' }).click();
    await tab.getByLabel('A demo:').selectOption('allotment.toml');
    await tab.waitForFunction(
      () => /Allotment/.test(document.querySelector('#report').shadowRoot?.textContent ?? ''),
      null,
      { timeout: 60000 },
    );
    await look(tab, 'compare');
    await tab.getByRole('tab', { name: 'All figures' }).click();
    await look(tab, 'figures');
    await tab.getByRole('textbox', { name: 'Highest voltage it may ever see' }).fill('nonsense');
    await tab.getByRole('textbox', { name: 'Highest voltage it may ever see' }).blur();
    await tab.locator('.figures .trouble', { hasText: 'max_voltage' }).waitFor();
    await look(tab, 'figuresTrouble');
    await tab.context().close();
  },

  async 'a fault of the module'() {
    // The third message to a worker kills it, once.
    const tab = await opened(disk, {
      before: () => {
        const Real = Worker;
        let count = 0;
        globalThis.Worker = class extends Real {
          postMessage(message, ...rest) {
            if (message.verb === 'judge' && ++count === 2)
              setTimeout(() => this.onmessage({ data: { id: message.id, fault: 'unreachable' } }), 5);
            else super.postMessage(message, ...rest);
          }
        };
      },
    });
    await example(tab);
    await tab.locator('.string .token').first().focus();
    await tab.keyboard.press('Delete');
    await tab.locator('#fault', { hasText: 'still here' }).waitFor();
    await look(tab, 'fault');
    await tab.locator('#fault').getByRole('button', { name: 'Try again' }).click();
    await tab.waitForFunction(() => /5s1p/.test(document.querySelector('#answer .verdict').textContent));
    await tab.context().close();
  },

  async 'a browser that cannot unpack the page'() {
    const tab = await opened(disk, { before: () => delete globalThis.DecompressionStream });
    await tab.locator('main .fault', { hasText: 'Bring the browser up to date' }).waitFor();
    await look(tab, 'old');
    await tab.context().close();
  },

  async 'twelve panels and a search'() {
    const tab = await opened(disk);
    const text = readFileSync(join(source, 'docs/demo/allotment.toml'), 'utf8')
      .replace('count = 6', 'count = 12')
      .replace('PV1 = "unused"', 'PV1 = "2s2p"')
      .replace('PV2 = "6s1p"', 'PV2 = "4s2p"');
    await drop(tab, 'twelve.toml', text);
    await settled(tab);
    await tab.getByRole('tab', { name: 'As text' }).click();
    await tab.evaluate(() => ((plaitTimes.judge.length = 0), (plaitTimes.turn.length = 0)));
    for (let i = 0; i < 40; ++i) {
      await tab.locator('[data-handle="1.max_power"]').focus();
      await tab.keyboard.press('ArrowUp');
      await tab.waitForFunction((n) => plaitTimes.judge.length > n, i);
    }
    const times = await tab.evaluate(() => plaitTimes);
    figures['12 panels on two inputs: judged in the worker, median ms'] = median(times.judge);
    figures['12 panels on two inputs: from the change to the drawn picture, median ms'] = median(times.turn);
    assert.ok(median(times.judge) < 100, `judged in ${median(times.judge)} ms`);
    await tab.getByRole('tab', { name: 'Every wiring' }).click();
    for (let i = 0; i < 3; ++i) {
      const took = await tab.evaluate(async () => {
        document.querySelector('#plain').replaceChildren();
        const start = performance.now();
        document.querySelector('#work-out').click();
        while (!document.querySelector('.picks')) await new Promise((go) => setTimeout(go, 1));
        return performance.now() - start;
      });
      figures['12 panels: a full arrange with its report shown, ms'] = took;
    }
    await look(tab, 'arrange');
    await tab.locator('.picks button').first().click();
    await tab.waitForFunction(
      () => !/PV1 = 2s2p; PV2 = 4s2p/.test(document.querySelector('#answer .verdict').textContent),
    );
    await tab.context().close();
  },

  async 'what the policy allows'() {
    const tab = await opened(served);
    telling.expected = /Content Security Policy|violates|Failed to load|net::|Refused/;
    const answer = await tab.evaluate(() =>
      fetch(location.href).then(
        () => 'came',
        () => 'refused',
      ),
    );
    assert.equal(answer, 'refused');
    const ran = await tab.evaluate(() => {
      const s = document.createElement('script');
      s.textContent = 'window.smuggled = true';
      document.body.append(s);
      return window.smuggled === true;
    });
    assert.equal(ran, false);
    await tab.waitForTimeout(200);
    telling.expected = null;
    await tab.context().close();
  },

  async 'three widths, two schemes, forced colours'() {
    for (const [width, colorScheme, forcedColors] of [
      [360, 'light', 'none'],
      [800, 'dark', 'none'],
      [1400, 'light', 'active'],
      [1400, 'dark', 'none'],
    ]) {
      const tab = await opened(disk, {
        viewport: { width, height: 900 },
        colorScheme,
        forcedColors,
        reducedMotion: 'reduce',
      });
      await tab.locator('#open-demo').selectOption('mixed.toml');
      await settled(tab);
      await tab.waitForFunction(() =>
        document.querySelector('#report').shadowRoot?.textContent.includes('rule by rule'),
      );
      await look(tab, `mixed-${colorScheme}-${forcedColors}`);
      if (width === 800) await tab.pdf({ path: join(artefacts, 'printed.pdf'), format: 'A4' });
      await tab.context().close();
    }
  },
};
