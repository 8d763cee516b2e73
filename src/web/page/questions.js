// The questions that can be asked of the set-up, each with its choices, its report and what it can be saved as.
import { app, fault, today } from './app.js';
import { argumentsOf, commands } from './commands.js';
import { byId, el, figure, put, saveAs } from './dom.js';
import { idFrom, lay, read, tableOf, withFilesIn } from './document.js';
import { missingFiles } from './files.js';
import { showFigures } from './figures_view.js';
import { showReport } from './report.js';
import { useWiring } from './wiring.js';

const tabs = [
  ...commands.map((c) => ({ id: c.id, title: c.title })),
  { id: 'figures', title: 'All figures' },
  { id: 'text', title: 'As text' },
];

export function showTabs() {
  put(
    byId('asks'),
    tabs.map((t) =>
      el(
        'button',
        {
          type: 'button',
          role: 'tab',
          id: `tab-${t.id}`,
          'aria-selected': String(t.id === app.view),
          'aria-controls': 'view',
          tabindex: t.id === app.view ? '0' : '-1',
          onclick: () => select(t.id),
          onkeydown: tabKeys,
        },
        t.title,
      ),
    ),
  );
  byId('view').setAttribute('aria-labelledby', `tab-${app.view}`);
}
function tabKeys(e) {
  const at = tabs.findIndex((t) => t.id === app.view);
  const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: tabs.length - 1 }[e.key];
  if (to === undefined) return;
  e.preventDefault();
  select(tabs[(to + tabs.length) % tabs.length].id);
  byId(`tab-${app.view}`).focus();
}
export function select(id) {
  app.view = id;
  showTabs();
  put(byId('plain'));
  byId('report').shadowRoot?.replaceChildren();
  showHead();
  showView();
}

const commandOf = (id) => commands.find((c) => c.id === id);

export function showHead() {
  const command = commandOf(app.view);
  if (!command) {
    put(byId('view-head'));
    return;
  }
  const mine = (app.answers[app.view] ??= {});
  const field = (choice, i) => {
    const id = `c-${app.view}-${i}`;
    const set = (e) => (mine[choice.option] = choice.tick ? e.target.checked : e.target.value);
    const again = (e) => (set(e), command.slow || showView());
    if (choice.tick)
      return el(
        'p',
        { class: 'row' },
        el(
          'label',
          {},
          el('input', { type: 'checkbox', checked: mine[choice.option] === true, onchange: again }),
          ' ',
          choice.title,
        ),
      );
    const input = choice.choices
      ? el(
          'select',
          { id, onchange: again },
          choice.choices.map(([value, words]) =>
            el('option', { value, selected: value === (mine[choice.option] ?? '') }, words),
          ),
        )
      : choice.lines
        ? el('textarea', {
            id,
            rows: 2,
            placeholder: choice.example,
            oninput: set,
            onchange: again,
            value: mine[choice.option] ?? '',
          })
        : el('input', {
            id,
            placeholder: choice.example,
            autocomplete: 'off',
            oninput: set,
            onchange: again,
            value: mine[choice.option] ?? '',
          });
    return el('p', { class: 'row' }, el('label', { for: id }, choice.title), input);
  };
  put(
    byId('view-head'),
    el('h3', {}, command.ask),
    command.choices ? el('div', { class: 'choices-row' }, command.choices.map(field)) : null,
    command.file ? fileField(command, mine) : null,
    command.others ? othersField() : null,
    command.panel ? panelField(mine) : null,
    el(
      'p',
      { class: 'buttons' },
      command.slow
        ? el('button', { type: 'button', class: 'main', id: 'work-out', onclick: () => showView(true) }, 'Work it out')
        : null,
      el('button', { type: 'button', onclick: () => exportAs('json') }, 'JSON'),
      command.csv ? el('button', { type: 'button', onclick: () => exportAs('csv') }, 'CSV') : null,
      (command.pictures ?? []).map((p) =>
        el(
          'button',
          { type: 'button', onclick: () => exportAs('svg', p) },
          p === '' ? 'Picture (SVG)' : `Picture: ${p.replace('-', ' ')} (SVG)`,
        ),
      ),
      command.out ? el('button', { type: 'button', onclick: () => exportAs('out') }, 'Controller file (TOML)') : null,
      command.netlist ? el('button', { type: 'button', onclick: () => exportAs('netlist') }, 'Netlist') : null,
      el('button', { type: 'button', onclick: () => exportAs('page') }, 'Page (HTML)'),
    ),
  );
}

function fileField(command, mine) {
  const names = Object.keys(app.tables);
  const take = async (file) => {
    if (!file) return;
    await keepTable(file.name, await file.text());
    mine.file = file.name;
    showHead();
    showView(true);
  };
  return el(
    'div',
    { class: 'file-field' },
    el(
      'p',
      { class: 'row' },
      el('label', { for: 'own-file' }, command.file.title),
      el('input', { type: 'file', id: 'own-file', onchange: (e) => take(e.target.files[0]) }),
    ),
    names.length > 0
      ? el(
          'p',
          { class: 'row' },
          el('label', { for: 'known-file' }, 'Or one that is here already'),
          el(
            'select',
            { id: 'known-file', onchange: (e) => ((mine.file = e.target.value), showView(true)) },
            el('option', { value: '' }, 'none'),
            names.map((n) => el('option', { value: n, selected: n === mine.file }, n)),
          ),
        )
      : null,
    el(
      'details',
      {},
      el('summary', {}, 'Or paste it'),
      el('textarea', {
        rows: 4,
        'aria-label': `${command.file.title}, pasted`,
        onchange: async (e) => {
          if (e.target.value.trim() === '') return;
          await keepTable('pasted.csv', e.target.value);
          mine.file = 'pasted.csv';
          showView(true);
        },
      }),
    ),
  );
}

export async function keepTable(name, text) {
  app.tables[name] = text;
  app.engine.put({ [name]: text });
}

function othersField() {
  const names = Object.keys(app.others);
  return el(
    'div',
    { class: 'file-field' },
    el('p', {}, names.length > 0 ? `Beside ${names.join(', ')}.` : 'Add one to three others:'),
    el(
      'p',
      { class: 'buttons' },
      el(
        'button',
        { type: 'button', onclick: () => addOther(`as it was ${names.length + 1}.toml`, app.store.text) },
        'Set-up as it is now',
      ),
      el(
        'label',
        {},
        'A demo: ',
        el(
          'select',
          {
            onchange: (e) =>
              e.target.value &&
              addOther(e.target.value, withFilesIn(app.shipped.demos[e.target.value], app.shipped.panels)),
          },
          el('option', { value: '' }, 'choose'),
          Object.keys(app.shipped.demos).map((n) => el('option', {}, n)),
        ),
      ),
      el(
        'label',
        {},
        'A file: ',
        el('input', {
          type: 'file',
          accept: '.toml',
          onchange: async (e) =>
            e.target.files[0] &&
            addOther(
              e.target.files[0].name,
              withFilesIn(await e.target.files[0].text(), { ...app.shipped.panels, ...app.dropped }),
            ),
        }),
      ),
      names.length > 0
        ? el(
            'button',
            { type: 'button', onclick: () => (names.forEach((n) => delete app.others[n]), showHead()) },
            'Take them away',
          )
        : null,
    ),
  );
}
function addOther(name, text) {
  const own = name === app.store.name ? `other ${name}` : name;
  app.others[own] = text;
  app.engine.put({ [own]: text });
  showHead();
  showView(true);
}

function panelField(mine) {
  const count = lay(app.store.text).tables.filter((t) => t.name === '[[panel').length;
  const names = Array.from(
    { length: count },
    (_, n) =>
      read(app.store.text, '[[panel', n, 'name') ?? read(app.store.text, '[[panel', n, 'id') ?? `panel ${n + 1}`,
  );
  return el(
    'p',
    { class: 'row' },
    el('label', { for: 'which-panel' }, 'Which'),
    el(
      'select',
      { id: 'which-panel', onchange: (e) => ((mine.panel = Number(e.target.value)), showView()) },
      names.map((name, n) => el('option', { value: n, selected: n === mine.panel }, name)),
    ),
  );
}

// The n-th panel as a panel file: its keys at the top, its tables without their first part.
function panelFile(text, n) {
  const laid = lay(text);
  const table = tableOf(laid, '[[panel', n);
  if (!table) return '';
  const skip = new Set(['id', 'count', 'price', 'plane'].map((k) => table.keys.get(k)?.line));
  const out = [];
  for (let i = table.at + 1; i < table.end; ++i) if (!skip.has(i)) out.push(laid.lines[i]);
  for (const t of laid.tables.slice(laid.tables.indexOf(table) + 1)) {
    if (!t.name.startsWith('[panel.')) break;
    out.push(...laid.lines.slice(t.at, t.end).map((l, i) => (i === 0 ? l.replace('panel.', '') : l)));
  }
  return `${out.join('\n')}\n`;
}

function argumentsFor(command) {
  const mine = app.answers[command.id] ?? {};
  const files = { own: mine.file, others: Object.keys(app.others) };
  const put = { [app.store.name]: app.store.text };
  if (command.panel) {
    const n = mine.panel ?? 0;
    files.own = `${read(app.store.text, '[[panel', n, 'id') || idFrom('panel')}.toml`;
    put[files.own] = panelFile(app.store.text, n);
  }
  return {
    args: argumentsOf(command, app.store.name, mine, files),
    put,
    ready: !command.file || command.file.optional || Boolean(mine.file),
  };
}

let viewTurn = 0;
export async function showView(asked = false) {
  const mine = ++viewTurn;
  if (app.view === 'text') return showText();
  if (app.view === 'figures') {
    const host = el('div');
    const old = byId('plain').firstElementChild;
    const into = old?.classList.contains('figures-view')
      ? old
      : (put(byId('plain'), Object.assign(host, { className: 'figures-view' })) ?? host);
    showFigures(into, app.store.text, app.complaints, (text, of) => app.store.set(text, { of }));
    return undefined;
  }
  const command = commandOf(app.view);
  if (app.complaints && !command.alone)
    return plainly('The lines above cannot be read yet. Mend them, and this comes back.');
  if (command.needs === 'wiring' && app.latest && !app.latest.check)
    return plainly('Nothing is wired yet: lay panels on an input first.');
  const { args, put: files, ready } = argumentsFor(command);
  if (!ready) return plainly(`${command.file.title}: choose it, drop it on the page, or paste it.`);
  if (command.others && Object.keys(app.others).length === 0)
    return plainly('Add at least one other set-up to stand beside this one.');
  if (command.slow && !asked)
    return plainly(
      byId('report').shadowRoot?.childElementCount ? 'The set-up may have changed since: work it out again.' : '',
    );
  app.engine.put(files);
  const full = [...args, '--page', 'report.html', ...(app.view === 'arrange' ? ['--json'] : [])];
  const busy = command.slow
    ? setTimeout(
        () =>
          put(
            byId('plain'),
            el(
              'p',
              { class: 'busy' },
              'Working … ',
              el(
                'button',
                { type: 'button', class: 'small', onclick: () => (app.engine.stop(), plainly('Stopped.')) },
                'Stop',
              ),
            ),
          ),
        120,
      )
    : 0;
  try {
    const got = await (command.slow
      ? app.engine.run(full, { today: today() })
      : app.engine.check(full, { today: today() }));
    clearTimeout(busy);
    if (mine !== viewTurn) return undefined;
    if (got.files['report.html']) {
      plainly();
      showReport(byId('report'), got.files['report.html']);
      if (app.view === 'arrange') showPicks(JSON.parse(got.out));
    } else {
      byId('report').shadowRoot?.replaceChildren();
      plainly(...got.err.trim().split('\n'));
      missingFiles(got.missing);
    }
  } catch (e) {
    clearTimeout(busy);
    if (mine === viewTurn) fault(e);
  }
  return undefined;
}

function plainly(...lines) {
  put(
    byId('plain'),
    lines.filter(Boolean).map((l) => el('p', { class: 'said' }, l)),
  );
}

function showPicks(data) {
  const plans = data.plans.slice(0, 10).map((p) => ({
    wiring: p.inputs.map((i) => `${i.name} = ${i.wiring}`).join('; '),
    verdict: p.verdict,
    watts: p.harvest?.european_w,
  }));
  put(
    byId('plain'),
    el('p', {}, 'Lay one on the bench:'),
    el(
      'ul',
      { class: 'picks' },
      plans.map((p) =>
        el(
          'li',
          {},
          el('button', { type: 'button', onclick: () => useWiring(p.wiring) }, p.wiring),
          ` ${p.verdict}${p.watts ? `, ${figure(p.watts, 0)} W on a warm day over a year’s light` : ''}`,
        ),
      ),
    ),
  );
}

async function exportAs(form, picture = '') {
  const command = commandOf(app.view);
  const { args, put: files, ready } = argumentsFor(command);
  if (!ready) return plainly(`${command.file.title}: choose it first.`);
  app.engine.put(files);
  const extra = {
    json: ['--json'],
    csv: ['--csv'],
    netlist: ['--netlist'],
    out: ['--out', 'window.toml'],
    page: ['--page', 'report.html', '--dated'],
    svg: ['--svg', 'picture.svg', ...(picture ? ['--picture', picture] : [])],
  }[form];
  try {
    const got = await app.engine.run([...args, ...extra], { today: today() });
    const base = app.store.name.replace(/\.toml$/, '');
    const text =
      form === 'page'
        ? got.files['report.html']
        : form === 'svg'
          ? got.files['picture.svg']
          : form === 'out'
            ? got.files['window.toml']
            : got.code <= 1
              ? got.out
              : undefined;
    if (text === undefined) return plainly(...got.err.trim().split('\n'));
    const [end, type] = {
      json: ['json', 'application/json'],
      csv: ['csv', 'text/csv'],
      netlist: ['cir', 'text/plain'],
      out: ['toml', 'application/toml'],
      page: ['html', 'text/html'],
      svg: ['svg', 'image/svg+xml'],
    }[form];
    saveAs(`${base}-${command.id}${picture ? `-${picture}` : ''}.${end}`, text, type);
  } catch (e) {
    fault(e);
  }
  return undefined;
}

function showText() {
  byId('report').shadowRoot?.replaceChildren();
  let area = byId('text-area');
  if (!area) {
    area = el('textarea', {
      id: 'text-area',
      spellcheck: 'false',
      rows: 24,
      'aria-describedby': 'text-trouble',
      oninput: () => app.store.set(area.value, { of: 'text' }),
      onblur: () => app.store.endStroke(),
    });
    put(
      byId('plain'),
      el('label', { for: 'text-area' }, 'The whole set-up, as it is saved. Every key is explained in docs/input.md.'),
      area,
      el('ul', { id: 'text-trouble', class: 'trouble' }),
    );
  }
  if (area.value !== app.store.text) area.value = app.store.text;
  put(
    byId('text-trouble'),
    (app.complaints ?? []).map((c) => el('li', {}, `${c.file}:${c.line}:${c.column}: ${c.message}`)),
  );
}
