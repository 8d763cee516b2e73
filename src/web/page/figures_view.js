// The set-up's figures, table by table: what is stated, each with its field, and one list to add another from. Never all
// of them at once.
import { asValue, controllerFigures, inputFigures, panelFigures, siteFigures } from './figures.js';
import { el, put } from './dom.js';
import { keyAt, lay, read, write } from './document.js';

const parts = [
  { table: '[[panel', title: 'Panels', figures: panelFigures },
  { table: '[controller', title: 'Controller or station', figures: controllerFigures },
  { table: '[[controller.input', title: 'Input', figures: inputFigures },
  { table: '[site', title: 'The place', figures: siteFigures, always: true },
];

/** Draws the fields of `text`; a complaint is put at its field. @param change(text, stroke) */
export function showFigures(host, text, complaints, change) {
  const focused = host.contains(document.activeElement) ? document.activeElement.id : null;
  const caret = focused && document.activeElement.selectionStart;
  const laid = lay(text);
  const troubles = new Map();
  for (const c of complaints ?? []) {
    const at = keyAt(text, c.line);
    if (at) troubles.set(`${at.table}.${at.n}.${at.key}`, c.message);
  }
  const sections = parts.flatMap((part) => {
    const count = laid.tables.filter((t) => t.name === part.table).length;
    return Array.from({ length: part.always ? Math.max(1, count) : count }, (_, n) => section(part, n, count));
  });
  put(
    host,
    el(
      'p',
      { class: 'hint' },
      'What the label or the manual does not print, leave out: a cautious value is assumed, and every verdict that rests on it says so.',
    ),
    ...sections,
  );
  if (focused) {
    const field = document.getElementById(focused);
    field?.focus({ preventScroll: true });
    if (caret !== null && field?.setSelectionRange && field.type === 'text') field.setSelectionRange(caret, caret);
  }

  function section(part, n, count) {
    const stated = (key) => read(text, part.table, n, key);
    const name = stated('name') ?? stated('id');
    const rows = part.figures.filter((f) => stated(f.key) !== null);
    const others = part.figures.filter((f) => stated(f.key) === null);
    const here = troubles.get(`${part.table}.${n}.null`);
    return el(
      'fieldset',
      { class: 'figures' },
      el('legend', {}, `${part.title}${count > 1 || part.table === '[[panel' ? `: ${name ?? n + 1}` : ''}`),
      here ? el('p', { class: 'trouble' }, here) : null,
      rows.map((f) => row(part, n, f)),
      others.length > 0
        ? el(
            'p',
            { class: 'add' },
            el('label', { for: `add-${part.table}-${n}` }, 'Add a figure: '),
            el(
              'select',
              {
                id: `add-${part.table}-${n}`,
                onchange: (e) => {
                  const f = part.figures.find((one) => one.key === e.target.value);
                  if (!f) return;
                  change(write(text, part.table, n, f.key, asValue(f, f.example)), null);
                  document.getElementById(`f-${part.table}-${n}-${f.key}`)?.select?.();
                  document.getElementById(`f-${part.table}-${n}-${f.key}`)?.focus();
                },
              },
              el('option', { value: '' }, 'choose'),
              others.map((f) => el('option', { value: f.key }, f.title)),
            ),
          )
        : null,
    );
  }

  function row(part, n, f) {
    const id = `f-${part.table}-${n}-${f.key}`;
    const value = read(text, part.table, n, f.key);
    const trouble = troubles.get(`${part.table}.${n}.${f.key}`);
    if (value === undefined)
      return el(
        'p',
        { class: 'row' },
        el('span', {}, f.title),
        el('em', {}, 'written as a list; change it in the text'),
      );
    const set = (typed) => change(write(text, part.table, n, f.key, asValue(f, typed)), id);
    return el(
      'p',
      { class: 'row' },
      el('label', { for: id }, f.title),
      f.choices
        ? el(
            'select',
            {
              id,
              onchange: (e) => set(e.target.value),
              'aria-invalid': trouble ? 'true' : null,
              'aria-describedby': trouble ? `${id}-t` : null,
            },
            f.choices.includes(value) ? null : el('option', { value, selected: true }, value),
            f.choices.map((c) => el('option', { value: c, selected: c === value }, c)),
          )
        : el('input', {
            id,
            value,
            autocomplete: 'off',
            spellcheck: 'false',
            'aria-invalid': trouble ? 'true' : null,
            'aria-describedby': trouble ? `${id}-t` : null,
            onchange: (e) => set(e.target.value),
          }),
      el(
        'button',
        {
          type: 'button',
          class: 'small',
          'aria-label': `Take out: ${f.title}`,
          onclick: () => change(write(text, part.table, n, f.key, null), null),
        },
        'take out',
      ),
      trouble ? el('span', { class: 'trouble', id: `${id}-t` }, trouble) : null,
    );
  }
}
