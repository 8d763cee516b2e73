// The page: one text, judged as it changes, and everything around it drawn from the answer.
import { app, fault, notice, say, today } from './app.js';
import { byId, el, figure, put, saveAs } from './dom.js';
import { linkPart, makeStore } from './store.js';
import { makeBoard } from './board.js';
import { makeBrush } from './brush.js';
import { makeMaps } from './map.js';
import { missingFiles } from './files.js';
import { openLink, showStart } from './begin.js';
import { quoted, read, write } from './document.js';
import { select, showHead, showTabs, showView } from './questions.js';
import { showAnswer, spoken } from './answer.js';
import { useWiring } from './wiring.js';
import { wiringLines, withWiring } from './wiring_lines.js';

app.store = makeStore(() => refresh());
app.refresh = refresh;

let turn = 0;
let draggingNow = false; // while something is dragged only what moves is judged; the report follows when it is let go

async function refresh() {
  const begun = performance.now();
  const dragging = draggingNow;
  buttons();
  const text = app.store.text;
  if (text === '') {
    app.latest = null;
    showStart();
    return;
  }
  byId('start').hidden = true;
  byId('work').hidden = false;
  const mine = ++turn;
  let got;
  try {
    got = await app.engine.judge({ path: app.store.name, text });
  } catch (e) {
    fault(e);
    return;
  }
  if (!got || text !== app.store.text) return;
  app.complaints = got.outline.complaints ?? null;
  if (!app.complaints) app.latest = { ...got, text };
  byId('work').classList.toggle('stale', app.complaints !== null);
  const title = read(text, '', 0, 'title');
  byId('title').textContent = title ?? app.store.name;
  showAnswer(
    byId('answer'),
    {
      check: app.complaints ? null : got.check,
      outline: got.outline,
      complaints: app.complaints,
      complaint: got.complaint,
    },
    go,
  );
  if (!app.complaints) {
    maps.draw(app.latest.outline);
    board.draw(app.latest.outline.setup);
    if (!dragging) showWeather(app.latest.outline.setup);
  }
  app.times.judge.push(got.judge_ms);
  app.times.turn.push(performance.now() - begun);
  if (app.times.first === null && (got.check || app.complaints)) app.times.first = performance.now();
  say(
    app.complaints
      ? `${app.complaints.length} lines cannot be read: ${app.complaints[0].message}`
      : got.check
        ? spoken(got.check)
        : 'Nothing is wired yet.',
    700,
  );
  missingFiles(got.outline.missing);
  if (dragging) return;
  if (mine === turn) showView();
}

const go = {
  complaint(c) {
    select('text');
    const area = byId('text-area');
    const from =
      area.value
        .split('\n')
        .slice(0, c.line - 1)
        .join('\n').length + (c.line > 1 ? 1 : 0);
    area.focus();
    area.setSelectionRange(
      from,
      area.value.indexOf('\n', from) < 0 ? area.value.length : area.value.indexOf('\n', from),
    );
  },
  figures() {
    select('figures');
    byId('view').focus();
  },
  async best() {
    say('Looking for the best wiring.');
    try {
      const found = await app.engine.run(['arrange', await shelved(), '--json', '--top', '1'], { today: today() });
      if (found.code > 1) return notice(found.err);
      const { advised } = JSON.parse(found.out);
      if (!advised) return notice('No wiring of these panels works on these inputs. “Every wiring” says why.');
      useWiring(advised.wiring);
      return undefined;
    } catch (e) {
      return fault(e);
    }
  },
};

/** Lays the set-up on the shelf of the worker for searches. */
async function shelved(name = app.store.name) {
  app.engine.put({ [name]: app.store.text });
  return name;
}

const board = makeBoard({
  host: byId('board'),
  say,
  paint: makeBrush(byId('paint'), () => board.again()),
  change(wiring, words) {
    say(words);
    const { outline, text } = app.latest;
    app.store.set(
      withWiring(app.store.text, wiringLines({ ...outline.setup, wiring }, { text, wiring: outline.setup.wiring })),
    );
  },
});

const maps = makeMaps({
  host: byId('maps'),
  canDrag: (i, key) => typeof read(app.store.text, '[[controller.input', i, key) === 'string',
  change(i, key, value, done) {
    let text = write(app.store.text, '[[controller.input', i, key, quoted(value));
    // No input works above what it may ever see: the upper end of its range goes along.
    const upper = app.latest.outline.setup.inputs[i].tracking_max_v;
    if (key === 'max_voltage' && upper > parseFloat(value) && read(text, '[[controller.input', i, 'tracking_max'))
      text = write(text, '[[controller.input', i, 'tracking_max', quoted(value));
    dragTo(text, `map.${i}.${key}`, done);
  },
});

function dragTo(text, stroke, done) {
  draggingNow = !done;
  app.store.set(text, { of: stroke });
  if (done) {
    app.store.endStroke();
    draggingNow = false;
    refresh();
  }
}

const sliders = [
  { key: 'coldest_air', model: 'coldest_air_degc', words: 'Coldest morning', unit: '°C', min: -50, max: 20, step: 1 },
  { key: 'hottest_air', model: 'hottest_air_degc', words: 'Hottest day', unit: '°C', min: 10, max: 60, step: 1 },
  { key: 'warm_air', model: 'warm_air_degc', words: 'A warm day', unit: '°C', min: 0, max: 45, step: 1 },
  {
    key: 'peak_irradiance',
    model: 'peak_irradiance_w_per_m2',
    words: 'Strongest light',
    unit: 'W/m²',
    min: 200,
    max: 1600,
    step: 10,
  },
];

function showWeather(setup) {
  const host = byId('weather');
  if (host.contains(document.activeElement) && host.children.length > 0) {
    for (const s of sliders) byId(`w-${s.key}`).value = setup.site[s.model];
    return;
  }
  put(
    host,
    sliders.map((s) => {
      const value = setup.site[s.model];
      const stated = read(app.store.text, '[site', 0, s.key);
      const out = el(
        'output',
        { for: `w-${s.key}` },
        `${figure(value)} ${s.unit}${stated === null ? ', assumed' : ''}`,
      );
      const set = (e, done) => {
        const words = `${e.target.value} ${s.unit}`;
        out.textContent = words.replace('-', '−');
        e.target.setAttribute('aria-valuetext', words);
        dragTo(write(app.store.text, '[site', 0, s.key, quoted(words)), `site.${s.key}`, done);
      };
      const range = stated === undefined;
      return el(
        'div',
        { class: 'gauge' },
        el('label', { for: `w-${s.key}` }, s.words),
        el('input', {
          type: 'range',
          id: `w-${s.key}`,
          min: Math.min(s.min, value),
          max: Math.max(s.max, value),
          step: s.step,
          value,
          'aria-valuetext': `${figure(value)} ${s.unit}`,
          disabled: range,
          oninput: (e) => set(e, false),
          onchange: (e) => set(e, true),
        }),
        out,
      );
    }),
  );
}

function buttons() {
  byId('undo').disabled = !app.store.canUndo;
  byId('redo').disabled = !app.store.canRedo;
  for (const id of ['save', 'link', 'print', 'again']) byId(id).disabled = app.store.text === '';
}
byId('undo').onclick = () => app.store.undo();
byId('redo').onclick = () => app.store.redo();
byId('save').onclick = () => saveAs(app.store.name, app.store.text, 'application/toml');
byId('print').onclick = () => print();
byId('again').onclick = () => {
  app.store.set('', { name: 'set-up.toml' });
  notice('The set-up is put away; Undo brings it back.');
};
byId('forget').onclick = () => {
  app.store.forget();
  notice('Forgotten: this browser keeps nothing of it any more.');
};
byId('link').onclick = async () => {
  const code = await linkPart(app.store.text);
  const whole = location.protocol === 'file:' ? code : `${location.href.split('#')[0]}#${code}`;
  const area = el('textarea', { rows: 6, readonly: true, 'aria-labelledby': 'dialog-title', value: whole });
  const dialog = byId('dialog');
  put(
    dialog,
    el('h2', { id: 'dialog-title' }, 'This set-up as a link'),
    el(
      'p',
      {},
      location.protocol === 'file:'
        ? 'This page was opened from a file, which has no address for others. Send this text instead: it goes into “paste a link” on the first screen.'
        : 'The set-up is in the part after #, which is never sent to a server.',
    ),
    area,
    el(
      'p',
      { class: 'buttons' },
      el(
        'button',
        {
          type: 'button',
          onclick: () => (
            area.select(),
            navigator.clipboard?.writeText(whole).catch(() => document.execCommand('copy'))
          ),
        },
        'Copy',
      ),
      el('button', { type: 'button', class: 'main', onclick: () => dialog.close() }, 'Close'),
    ),
  );
  dialog.showModal();
  area.select();
};
addEventListener('keydown', (e) => {
  if (!(e.ctrlKey || e.metaKey) || e.altKey || /^(INPUT|TEXTAREA)$/.test(e.target.tagName)) return;
  if (e.key === 'z' && !e.shiftKey) (e.preventDefault(), app.store.undo());
  else if (e.key === 'y' || (e.key === 'z' && e.shiftKey) || e.key === 'Z') (e.preventDefault(), app.store.redo());
});
addEventListener('hashchange', () => openHash());
addEventListener('error', (e) => fault(e.error ?? e.message));
addEventListener('unhandledrejection', (e) => fault(e.reason));

async function openHash() {
  if (!/^#p\d+=/.test(location.hash)) return false;
  const code = location.hash.slice(1);
  history.replaceState(null, '', location.href.split('#')[0]);
  await openLink(code);
  return true;
}

showTabs();
showHead();
(async () => {
  if (!(await openHash())) refresh();
  else if (app.store.text === '') refresh();
})();
