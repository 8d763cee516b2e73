// The first screen, and what leads from it to a set-up.
import { app, fault, notice } from './app.js';
import { ask } from './start.js';
import { byId, el, put } from './dom.js';
import { fromLinkPart } from './store.js';
import { open, takeFiles } from './files.js';
import { read } from './document.js';
import { withWiring } from './wiring_lines.js';
import { wiringFrom } from './wiring.js';

const panelNames = Object.fromEntries(
  Object.entries(app.shipped.panels).map(([file, text]) => [file, read(text, '', 0, 'name') ?? file]),
);

export function showStart() {
  byId('work').hidden = true;
  byId('start').hidden = false;
  byId('title').textContent = '';
  if (app.store.draft) return askOn(app.store.draft);
  const begin = (how) => askOn({ step: 0, answers: { how } });
  const code = el('textarea', { id: 'paste', rows: 3 });
  put(
    byId('start'),
    el(
      'div',
      { class: 'begin' },
      el('h2', {}, 'Panels, an input, and a cold morning'),
      el(
        'p',
        { class: 'lead' },
        'Which ways of wiring your panels stay within the limits of your charge controller or power station? Answer a few questions from the labels; leave out what they do not print.',
      ),
      el(
        'p',
        { class: 'buttons' },
        el('button', { type: 'button', class: 'main', onclick: () => begin('label') }, 'I have the panel’s label'),
        el('button', { type: 'button', onclick: () => begin('class') }, 'Only roughly what panel it is'),
        el(
          'button',
          { type: 'button', onclick: () => open(app.shipped.demos['allotment.toml'], 'allotment.toml') },
          'Show me an example',
        ),
      ),
      el(
        'p',
        { class: 'row' },
        el('label', { for: 'open-file' }, 'Or open a set-up file'),
        el('input', { type: 'file', id: 'open-file', accept: '.toml', onchange: (e) => takeFiles(e.target.files) }),
      ),
      el(
        'p',
        { class: 'row' },
        el('label', { for: 'open-demo' }, 'Or another example'),
        el(
          'select',
          {
            id: 'open-demo',
            onchange: (e) => e.target.value && open(app.shipped.demos[e.target.value], e.target.value),
          },
          el('option', { value: '' }, 'choose'),
          Object.entries(app.shipped.demos).map(([n, t]) => el('option', { value: n }, read(t, '', 0, 'title') ?? n)),
        ),
      ),
      el(
        'details',
        {},
        el('summary', {}, 'Or paste a link or the text of a set-up'),
        el('label', { for: 'paste', class: 'unseen' }, 'A link or a set-up'),
        code,
        el('p', {}, el('button', { type: 'button', onclick: () => openPasted(code.value) }, 'Open it')),
      ),
      el(
        'p',
        { class: 'deferral' },
        'Plait compares stated values with stated limits. It approves nothing: the local code, the makers’ manuals and a licensed electrician have the last word.',
      ),
    ),
  );
}

async function openPasted(text) {
  if (!/p\d+=[A-Za-z0-9_-]+\s*$/.test(text)) return open(text, 'set-up.toml');
  return openLink(text);
}
export async function openLink(code) {
  const got = await fromLinkPart(code);
  if (got.trouble) return notice(got.trouble);
  open(got.text, 'set-up.toml');
  if (got.note) notice(got.note);
  return undefined;
}

function askOn(draft) {
  ask({
    host: byId('start'),
    draft,
    shipped: panelNames,
    panelTexts: app.shipped.panels,
    judge: (text) => app.engine.judge({ path: 'set-up.toml', text }).catch((e) => (fault(e), null)),
    keep: (d) => app.store.setDraft(d),
    leave: () => {
      app.store.setDraft(null);
      showStart();
    },
    async done(text) {
      app.store.setDraft(null);
      let whole = text;
      try {
        app.engine.put({ 'set-up.toml': text });
        const found = await app.engine.run(['arrange', 'set-up.toml', '--json', '--top', '1']);
        const advised = found.code <= 1 ? JSON.parse(found.out).advised : null;
        if (advised) whole = withWiring(text, wiringFrom(advised.wiring, 'PV'));
      } catch (e) {
        fault(e);
      }
      app.store.set(whole, { name: 'set-up.toml' });
      byId('answer').focus();
    },
  });
}
