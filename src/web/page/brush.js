// The brush: how dark a press makes what it falls on, and what that is.
import { el, put } from './dom.js';

const shares = [0.75, 0.5, 0.25, 0.1, 0];

/** Draws the choices in `host`. @returns a function: the brush {share, on, cells} (shade.js), or null while it is off */
export function makeBrush(host, changed) {
  const brush = { share: null, on: 'panel', cells: 1 };
  const cells = el('input', {
    id: 'shade-cells',
    type: 'number',
    min: 1,
    max: 300,
    value: brush.cells,
    inputmode: 'numeric',
    onchange: (e) => {
      brush.cells = Math.min(300, Math.max(1, Math.round(Number(e.target.value)) || 1));
      e.target.value = brush.cells;
    },
  });
  const many = el('span', { class: 'how-many' }, el('label', { for: 'shade-cells' }, 'how many: '), cells);
  const on = el(
    'select',
    { id: 'shade-on', onchange: (e) => ((brush.on = e.target.value), show()) },
    el('option', { value: 'panel' }, 'the whole panel'),
    el('option', { value: 'group' }, 'one bypass group'),
    el('option', { value: 'cells' }, 'some cells of a group'),
  );
  const what = el('span', { class: 'what' }, el('label', { for: 'shade-on' }, 'of: '), on);
  const show = () => {
    what.hidden = brush.share === null;
    many.hidden = brush.share === null || brush.on !== 'cells';
    changed();
  };
  put(
    host,
    el(
      'span',
      { class: 'what' },
      el('label', { for: 'shade' }, 'Shade: '),
      el(
        'select',
        {
          id: 'shade',
          onchange: (e) => {
            brush.share = e.target.value === '' ? null : Number(e.target.value);
            show();
          },
        },
        el('option', { value: '' }, 'off'),
        shares.map((s) => el('option', { value: s }, `press a panel: ${s * 100} % of the light`)),
      ),
    ),
    what,
    many,
  );
  what.hidden = true;
  many.hidden = true;
  return () => (brush.share === null ? null : brush);
}
