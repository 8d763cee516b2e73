// Files that come to the page: set-ups, the panels they name, logs, sweeps and weather.
import { app, notice } from './app.js';
import { byId, el } from './dom.js';
import { idFrom, lay, quoted, tableOf, withFilesIn } from './document.js';
import { addToCatalogue, keepTable } from './ask_files.js';
import { select, showView } from './questions.js';

const named = (text) =>
  lay(text)
    .tables.filter((t) => ['[[panel', '[controller'].includes(t.name))
    .map((t) => t.keys.get('file')?.value)
    .filter(Boolean);

/** Opens a set-up: the files it names are written in as far as they are here, and asked for otherwise. */
export function open(text, name) {
  const own = /\.toml$/.test(name ?? '') ? name : 'set-up.toml';
  app.store.set(withFilesIn(text, { ...app.shipped.panels, ...app.dropped }), { name: own });
  app.store.setDraft(null);
  notice();
  missingFiles();
}

export function missingFiles() {
  const wanted = [...new Set(named(app.store.text).map((n) => n.split('/').at(-1)))];
  if (wanted.length === 0) {
    if (byId('notice').dataset.missing) notice();
    delete byId('notice').dataset.missing;
    return;
  }
  byId('notice').dataset.missing = '1';
  notice(
    `This set-up names ${wanted.join(', ')}. Drop ${wanted.length === 1 ? 'that file' : 'those files'} here as well, or choose: `,
    el('input', {
      type: 'file',
      accept: '.toml',
      multiple: true,
      'aria-label': `The files ${wanted.join(', ')}`,
      onchange: (e) => takeFiles(e.target.files),
    }),
  );
}

export async function takeFiles(list) {
  for (const file of list) {
    const bytes = new Uint8Array(await file.arrayBuffer());
    let text;
    try {
      text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
    } catch {
      notice(
        `${file.name} is not a text in UTF-8, so that it cannot be read. Save it as a text or CSV file and drop it again.`,
      );
      continue;
    }
    const wanted = named(app.store.text).map((n) => n.split('/').at(-1));
    if (wanted.includes(file.name)) {
      app.dropped[file.name] = text;
      app.store.set(withFilesIn(app.store.text, { ...app.shipped.panels, ...app.dropped }));
    } else if (/\.toml$/i.test(file.name)) {
      const top = lay(text);
      // A controller file is one more for the question about many, as all files are that are dropped on that question.
      const controller = tableOf(top, '[[input') && !tableOf(top, '[controller');
      if (app.store.text !== '' && (app.view === 'pairs' || controller)) {
        if (app.view !== 'pairs') select('pairs');
        addToCatalogue({ [file.name]: text });
        continue;
      }
      // A panel file has its figures at the top and no table of panels: it is one more kind of this set-up.
      if (!tableOf(top, '[[panel') && top.tables[0].keys.has('voc') && app.store.text !== '') {
        const id = idFrom(file.name.replace(/\.toml$/i, ''));
        app.dropped[file.name] = text;
        const added = withFilesIn(
          `[[panel]]\nid = ${quoted(id)}\ncount = 1\nfile = ${quoted(file.name)}\n`,
          app.dropped,
        );
        const at = tableOf(lay(app.store.text), '[controller');
        const lines = app.store.text.split('\n');
        lines.splice(at ? at.at : lines.length, 0, ...added.split('\n'));
        app.store.set(lines.join('\n'));
        notice(`${file.name} is now one more kind of panel in this set-up.`);
      } else open(text, file.name);
    } else {
      await keepTable(file.name, text);
      chooseUse(file.name);
    }
  }
}

function chooseUse(name) {
  const use = (id) =>
    el(
      'button',
      {
        type: 'button',
        onclick: () => {
          (app.answers[id] ??= {}).file = name;
          notice();
          select(id);
          showView(true);
        },
      },
      {
        explain: 'a log of this input',
        learn: 'a bench sweep',
        harvest: 'weather',
        climate: 'a station’s daily record',
        pairs: 'prices',
      }[id],
    );
  const uses = ['explain', 'learn', 'harvest', 'climate', 'pairs'].flatMap((id) => [use(id), ' ']);
  notice(`${name} is here. It is `, ...uses);
}

addEventListener('dragover', (e) => e.dataTransfer?.types.includes('Files') && e.preventDefault());
addEventListener('drop', (e) => {
  if (!e.dataTransfer?.files.length) return;
  e.preventDefault();
  takeFiles(e.dataTransfer.files);
});
