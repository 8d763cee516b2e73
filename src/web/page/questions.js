// The questions that can be asked of the set-up, each with its choices, its report and what it can be saved as.
import { app, fault, today } from './app.js';
import { argumentsOf, commands } from './commands.js';
import { catalogue, catalogueField, fileField, othersField, panelField } from './ask_files.js';
import { byId, el, figure, put, saveAs } from './dom.js';
import { idFrom, panelFile, read } from './document.js';
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

const inputNames = () => app.latest?.outline.setup.inputs.map((i) => i.name) ?? [];

let headFor = ''; // the inputs that the choices were drawn for

export function showHead() {
  headFor = inputNames().join('\n');
  const command = commandOf(app.view);
  if (!command) {
    put(byId('view-head'));
    return;
  }
  const mine = (app.answers[app.view] ??= {});
  const inputs = inputNames();
  const field = (choice, i) => {
    const id = `c-${app.view}-${i}`;
    if (choice.inputs && inputs.length < 2) return null;
    const options = choice.inputs
      ? [...(choice.needed ? [] : [['', 'all, or the first']]), ...inputs.map((name) => [name])]
      : choice.choices;
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
    const input = options
      ? el(
          'select',
          { id, onchange: again },
          options.map(([value, words]) =>
            el('option', { value, selected: value === (mine[choice.option] ?? '') }, words ?? value),
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
  const choices = (command.choices ?? []).map((c, i) => [c, field(c, i)]).filter(([, f]) => f !== null);
  const folded = choices.filter(([c]) => c.more).map(([c]) => c);
  const choicesOf = (which) => {
    const those = choices.filter(([c]) => which(c)).map(([, f]) => f);
    return those.length > 0 ? el('div', { class: 'choices-row' }, those) : null;
  };
  put(
    byId('view-head'),
    el('h3', {}, command.ask),
    choicesOf((c) => !c.more),
    folded.length > 0
      ? el('details', { open: folded.some((c) => mine[c.option]) }, el('summary', {}, 'More choices'), choicesOf((c) => c.more))
      : null,
    command.catalogue ? catalogueField() : null,
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
      command.csv
        ? el('button', { type: 'button', onclick: () => exportAs('csv') }, command.csv === true ? 'CSV' : command.csv)
        : null,
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

function argumentsFor(command) {
  const mine = { ...app.answers[command.id] };
  // An input that was chosen may have another name by now; where one is needed it is the first.
  const inputs = inputNames();
  if (!inputs.includes(mine['--input'])) delete mine['--input'];
  if (inputs.length > 1 && command.choices?.some((c) => c.needed)) mine['--input'] ??= inputs[0];
  const files = { own: mine.file, others: Object.keys(app.others) };
  const put = { [app.store.name]: app.store.text };
  if (command.catalogue) {
    const all = catalogue();
    Object.assign(put, all);
    files.catalogue = Object.keys(all);
  }
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
  if (headFor !== inputNames().join('\n')) showHead();
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
