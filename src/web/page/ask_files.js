// What a question asks for beside the set-up: a person's file, other set-ups, one of the panels, many panels and
// controllers.
import { app } from './app.js';
import { el } from './dom.js';
import { idFrom, lay, panelFile, read, withFilesIn } from './document.js';
import { showHead, showView } from './questions.js';

export function fileField(command, mine) {
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

export function othersField() {
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

export function panelField(mine) {
  const names = Array.from(
    { length: panelCount() },
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

const panelCount = () => lay(app.store.text).tables.filter((t) => t.name === '[[panel').length;

/** Panels and controllers for a question about many: their files, by name. Those of the set-up come first. */
export function catalogue() {
  const files = {};
  if (!app.catalogue.without) {
    for (let n = 0; n < panelCount(); ++n)
      files[`${read(app.store.text, '[[panel', n, 'id') || idFrom(`panel ${n + 1}`)}.toml`] = panelFile(app.store.text, n);
    files[app.store.name] = app.store.text;
  }
  return { ...files, ...app.catalogue.files };
}

export function addToCatalogue(files) {
  Object.assign(app.catalogue.files, files);
  showHead();
  showView();
}

export function catalogueField() {
  const names = Object.keys(catalogue());
  const button = (words, onclick) => el('button', { type: 'button', onclick }, words);
  const own = (without) => ((app.catalogue.without = without), addToCatalogue({}));
  return el(
    'div',
    { class: 'file-field' },
    el(
      'details',
      {},
      el('summary', {}, names.length === 1 ? '1 file' : `${names.length} files of panels and controllers`),
      el('p', {}, names.join(', ')),
    ),
    el(
      'p',
      { class: 'buttons' },
      button(`Add all ${Object.keys(app.shipped.panels).length} panels that are inside`, () => addToCatalogue(app.shipped.panels)),
      button('Add the example inputs', () => addToCatalogue(app.shipped.inputs)),
      app.catalogue.without
        ? button('Add those of this set-up', () => own(false))
        : button('Leave those of this set-up out', () => own(true)),
      Object.keys(app.catalogue.files).length > 0
        ? button('Take the added ones away', () => ((app.catalogue.files = {}), addToCatalogue({})))
        : null,
    ),
    el(
      'p',
      { class: 'row' },
      el('label', { for: 'catalogue-files' }, 'Files of panels and controllers'),
      el('input', {
        type: 'file',
        id: 'catalogue-files',
        accept: '.toml',
        multiple: true,
        onchange: async (e) => {
          const files = {};
          for (const file of e.target.files) files[file.name] = await file.text();
          addToCatalogue(files);
        },
      }),
    ),
  );
}
