// Two invented labels, drawn: the plate at the back of a panel and the figures of an input in a manual. The row that is
// asked for is marked, so that a newcomer knows where to look.
import { draw } from './dom.js';

const rows = {
  panel: [
    ['pmax', 'Pmax', 'W'],
    ['vmp', 'Vmp', 'V'],
    ['imp', 'Imp', 'A'],
    ['voc', 'Voc', 'V'],
    ['isc', 'Isc', 'A'],
    ['voc_coefficient', 'TC Voc', '%/K'],
    ['max_system_voltage', 'Max. system', 'V'],
    ['max_series_fuse', 'Max. fuse', 'A'],
  ],
  input: [
    ['max_voltage', 'Max. input voltage', 'V'],
    ['tracking_min', 'Working range from', 'V'],
    ['tracking_max', 'Working range to', 'V'],
    ['max_current', 'Max. current', 'A'],
    ['max_power', 'Max. power', 'W'],
    ['over_current', 'A larger array', '…'],
  ],
};

/** The drawing with one row marked, or null where a question is about no label. */
export function labelDrawing(which, key) {
  const list = rows[which];
  const at = list?.findIndex(([k]) => k === key) ?? -1;
  if (at < 0) return null;
  const high = 56 + 26 * list.length;
  const caption = which === 'panel' ? 'label at the back of the panel' : 'page “solar input” of the manual';
  const picture = draw(
    'svg',
    {
      viewBox: `0 0 280 ${high}`,
      class: 'label',
      role: 'img',
      'aria-label': `On the ${caption}, “${list[at][1]}” is usually row ${at + 1} of ${list.length}.`,
    },
    draw('rect', { x: 3, y: 3, width: 274, height: high - 6, rx: which === 'panel' ? 3 : 14, class: 'plate' }),
    draw('text', { x: 18, y: 28, class: 'plate-head' }, caption),
    draw('path', { d: `M18 38H262`, class: 'plate-rule' }),
  );
  list.forEach(([, name, unit], i) => {
    const y = 60 + 26 * i;
    if (i === at)
      picture.append(
        draw('rect', { x: 10, y: y - 18, width: 260, height: 25, rx: 4, class: 'plate-here' }),
        draw('path', { d: `M262 ${y - 5}l-9 -5v10z`, class: 'plate-arrow' }),
      );
    picture.append(
      draw('text', { x: 18, y, class: i === at ? 'plate-row here' : 'plate-row' }, name),
      draw('text', { x: 246, y, 'text-anchor': 'end', class: 'plate-row' }, `_____ ${unit}`),
    );
  });
  return picture;
}
