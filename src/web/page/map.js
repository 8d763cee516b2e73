// The window map: volts across, amps up. What the input takes is a tinted field, the line never to cross is at its
// right, and the wiring is a thread from weak light to bright heat with a whisker to its voltage on the coldest morning.
// Every limit that the set-up states can be dragged, or moved by keys.
import { draw, figure, put } from './dom.js';

const high = 340;
const edge = { left: 44, right: 16, top: 40, bottom: 52 };

const tick = (top) => {
  const raw = top / 6;
  const unit = 10 ** Math.floor(Math.log10(raw));
  return [1, 2, 5, 10].map((n) => n * unit).find((step) => step >= raw);
};

const handles = [
  {
    key: 'max_voltage',
    model: 'max_voltage_v',
    words: 'Highest voltage, never to be passed',
    unit: 'V',
    axis: 'x',
    step: 0.5,
    most: 3000,
  },
  {
    key: 'tracking_min',
    model: 'tracking_min_v',
    words: 'Lowest working voltage',
    unit: 'V',
    axis: 'x',
    step: 0.5,
    most: 3000,
  },
  {
    key: 'tracking_max',
    model: 'tracking_max_v',
    words: 'Highest working voltage',
    unit: 'V',
    axis: 'x',
    step: 0.5,
    most: 3000,
  },
  { key: 'max_current', model: 'max_current_a', words: 'Most current', unit: 'A', axis: 'y', step: 0.1, most: 1000 },
  { key: 'max_power', model: 'max_power_w', words: 'Most power', unit: 'W', axis: 'xy', step: 5, most: 1000000 },
];

/**
 * One map of one input.
 * @param given {input, map, index, width, canDrag(key), change(key, text, done), verdict, frozen}
 */
export function mapPicture(given) {
  const { input, map, width, frozen } = given;
  const topV = Math.max(map.top_v, frozen?.top_v ?? 0);
  const topA = Math.max(map.top_a, frozen?.top_a ?? 0);
  const x = (v) => edge.left + (v / topV) * (width - edge.left - edge.right);
  const y = (a) => high - edge.bottom - (a / topA) * (high - edge.top - edge.bottom);
  const volts = (px) => ((px - edge.left) / (width - edge.left - edge.right)) * topV;
  const amps = (px) => ((high - edge.bottom - px) / (high - edge.top - edge.bottom)) * topA;
  const line = (points) =>
    points.map(([v, a], i) => `${i === 0 ? 'M' : 'L'}${x(v).toFixed(1)} ${y(a).toFixed(1)}`).join('');
  const id = `map-${given.index}`;
  const never = map.max_voltage_v;
  const t = map.track;
  const words =
    `Input ${input.name}: ` +
    (never === null ? 'its highest voltage is not stated. ' : `never above ${figure(never)} V. `) +
    (t ? `On the coldest morning the wiring reaches ${figure(t.cold_voc_v, 2)} V.` : 'Nothing is wired to it.');
  const picture = draw('svg', {
    viewBox: `0 0 ${width} ${high}`,
    width,
    height: high,
    class: 'map',
    role: 'group',
    'aria-label': words,
  });

  const grid = draw('g', { class: 'grid', 'aria-hidden': 'true' });
  const stepV = tick(topV) * (width < 420 ? 2 : 1);
  for (let v = 0; x(v) < width - edge.right - 30; v += stepV)
    grid.append(
      draw('path', { d: `M${x(v)} ${y(0)}V${edge.top}` }),
      draw('text', { x: x(v), y: y(0) + 15, 'text-anchor': 'middle' }, figure(v)),
    );
  const stepA = tick(topA);
  for (let a = 0; a <= topA; a += stepA)
    grid.append(
      draw('path', { d: `M${x(0)} ${y(a)}H${width - edge.right}` }),
      draw('text', { x: x(0) - 6, y: y(a) + 4, 'text-anchor': 'end' }, figure(a)),
    );
  grid.append(
    draw('text', { x: 4, y: edge.top - 8 }, 'amps'),
    draw('text', { x: width - edge.right, y: y(0) + 15, 'text-anchor': 'end' }, 'volts'),
    draw('text', { x: 4, y: 14, class: 'name' }, input.name),
  );
  picture.append(
    draw(
      'defs',
      {},
      draw(
        'pattern',
        { id: `${id}-weave`, width: 12, height: 12, patternUnits: 'userSpaceOnUse' },
        draw('path', { d: 'M0 3h7M10 3h2M0 9h1M4 9h8M3 0v1M3 5v7M9 0v7M9 11v1', class: 'weave' }),
      ),
    ),
    grid,
  );
  for (const region of map.regions) {
    if (region.length < 2) continue;
    const shape = `${line([[region[0][0], 0], ...region, [region.at(-1)[0], 0]])}Z`;
    picture.append(
      draw('path', { d: shape, class: 'field' }),
      draw('path', { d: shape, fill: `url(#${id}-weave)` }),
      draw('path', { d: line(region), class: 'rim' }),
    );
  }
  if (never !== null) {
    picture.append(draw('path', { d: `M${x(never)} ${y(0)}V${edge.top - 6}`, class: 'never' }));
    for (let k = 0; k < 9; ++k)
      picture.append(draw('path', { d: `M${x(never)} ${y(0) - 6 - k * 27}l9 -9`, class: 'barb' }));
  }
  if (t) {
    const over = never !== null && t.cold_voc_v > never;
    picture.append(draw('path', { d: line(t.curve), class: 'curve' }));
    if (t.path.length > 0)
      picture.append(
        draw('path', { d: line(t.path), class: 'thread-under' }),
        draw('path', { d: line(t.path), class: 'thread' }),
      );
    const from = t.cold_point[0] > 0 ? t.cold_point : (t.path.at(-1) ?? [0, 0]);
    picture.append(draw('path', { d: line([from, [t.cold_voc_v, 0]]), class: 'whisker' }));
    const cx = x(t.cold_voc_v);
    // A cross where it is past the line, a ring where it is not: the shape says it without colour.
    picture.append(
      over
        ? draw('path', { d: `M${cx - 7} ${y(0) - 7}l14 14m0 -14l-14 14`, class: 'past' })
        : draw('circle', { cx, cy: y(0), r: 6, class: 'cold' }),
    );
    const atEnd = cx > width - 120;
    picture.append(
      draw(
        'text',
        { x: atEnd ? cx - 10 : cx + 10, y: y(0) - 10, 'text-anchor': atEnd ? 'end' : 'start', class: 'cold-words' },
        `${figure(t.cold_voc_v, 1)} V in the cold`,
      ),
    );
  } else {
    picture.append(
      draw('text', { x: width / 2, y: high / 2, 'text-anchor': 'middle', class: 'empty' }, 'nothing is wired here yet'),
    );
  }

  for (const h of handles) {
    const value = input[h.model];
    if (value === null || !given.canDrag(h.key)) continue;
    picture.append(handle(h, value));
  }
  return picture;

  // The figure itself beside its grip, where nothing else is.
  function valueWords(h, value) {
    const words = `${figure(value, 2)} ${h.unit}`;
    if (h.key === 'max_voltage')
      return draw('text', { x: -18, y: 4, 'text-anchor': 'end', class: 'value' }, `never above ${words}`);
    if (h.axis === 'x') return draw('text', { x: 0, y: 23, 'text-anchor': 'middle', class: 'value' }, words);
    if (h.axis === 'y') return draw('text', { x: 18, y: -6, class: 'value' }, words);
    return draw('text', { x: 4, y: -17, 'text-anchor': 'end', class: 'value' }, words);
  }

  function handle(h, value) {
    let at;
    let arrow;
    if (h.axis === 'x') {
      at = [x(value), h.key === 'max_voltage' ? edge.top - 12 : y(0) + 28];
      arrow = 'M-9 0l5 -5v10zM9 0l-5 -5v10z';
    } else if (h.axis === 'y') {
      at = [x(Math.min(topV, Math.max(map.low_v, 0))) + 12, y(Math.min(value, topA))];
      arrow = 'M0 -9l-5 5h10zM0 9l-5 -5h10z';
    } else {
      // On the hyperbola, where it leaves the field at the right.
      const v = Math.min(map.high_v || topV, topV) * 0.96;
      at = [x(v), y(Math.min(topA, value / v))];
      arrow = 'M-6 6l2 -8l6 6zM6 -6l-2 8l-6 -6z';
    }
    const group = draw(
      'g',
      {
        class: 'handle',
        role: 'slider',
        tabindex: '0',
        'data-handle': `${given.index}.${h.key}`,
        transform: `translate(${at[0].toFixed(1)} ${at[1].toFixed(1)})`,
        'aria-label': `${h.words}, input ${input.name}`,
        'aria-valuemin': 0,
        'aria-valuemax': h.most,
        'aria-valuenow': value,
        'aria-valuetext': `${figure(value)} ${h.unit}`,
        'aria-orientation': h.axis === 'y' ? 'vertical' : 'horizontal',
      },
      draw('circle', { r: 22, class: 'reach' }),
      draw('rect', { x: -13, y: -11, width: 26, height: 22, rx: 11, class: 'grip' }),
      draw('path', { d: arrow, class: 'arrow' }),
      valueWords(h, value),
      draw('title', {}, `${h.words}: ${figure(value)} ${h.unit}`),
    );
    const set = (next, done) => {
      // The ends of the range stay in order: what contradicts itself could not be read.
      const least =
        { max_voltage: (input.tracking_min_v ?? 0) + 1, tracking_max: (input.tracking_min_v ?? 0) + 1 }[h.key] ??
        h.step;
      const most = Math.min(
        h.most,
        { tracking_max: never ?? h.most, tracking_min: (input.tracking_max_v ?? h.most) - 1 }[h.key] ?? h.most,
      );
      const rounded = Math.max(least, Math.min(most, Math.round(next / h.step) * h.step));
      given.change(h.key, `${Number(rounded.toFixed(2))} ${h.unit}`, done);
    };
    group.addEventListener('keydown', (e) => {
      const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[e.key];
      if (!by) return;
      e.preventDefault();
      set(value + by * h.step, true);
    });
    group.addEventListener('pointerdown', (e) => {
      if (e.button !== 0) return;
      e.preventDefault();
      given.grab(
        {
          index: given.index,
          axis: h.axis,
          key: h.key,
          set,
          at: (event) => {
            const box = picture.isConnected ? picture.getBoundingClientRect() : given.box();
            const px = ((event.clientX - box.left) / box.width) * width;
            const py = ((event.clientY - box.top) / box.height) * high;
            return h.axis === 'x'
              ? volts(px)
              : h.axis === 'y'
                ? amps(py)
                : Math.max(0, volts(px)) * Math.max(0, amps(py));
          },
          scale: { top_v: topV, top_a: topA },
        },
        e,
      );
    });
    return group;
  }
}

/** All maps, with dragging that outlives their redrawing. @param given {host, canDrag(i, key), change(i, key, text, done)} */
export function makeMaps({ host, canDrag, change }) {
  let frozen = null;
  let last = null;
  const drawAll = (outline) => {
    last = outline;
    const focus = host.contains(document.activeElement) ? document.activeElement.dataset.handle : null;
    const width = Math.max(300, Math.min(860, Math.floor(host.clientWidth)));
    put(
      host,
      outline.maps.map((map, i) =>
        mapPicture({
          input: outline.setup.inputs[i],
          map,
          index: i,
          width,
          frozen: frozen?.index === i ? frozen.scale : null,
          canDrag: (key) => canDrag(i, key),
          change: (key, text, done) => change(i, key, text, done),
          box: () => host.children[i].getBoundingClientRect(),
          grab: (held, e) => {
            frozen = held;
            const going = (event) => {
              event.preventDefault();
              held.set(held.at(event), false);
            };
            const end = (event) => {
              removeEventListener('pointermove', going);
              removeEventListener('pointerup', end);
              removeEventListener('pointercancel', end);
              frozen = null;
              if (event.type === 'pointerup') held.set(held.at(event), true);
              else if (last) drawAll(last);
            };
            addEventListener('pointermove', going);
            addEventListener('pointerup', end);
            addEventListener('pointercancel', end);
            void e;
          },
        }),
      ),
    );
    if (focus) host.querySelector(`[data-handle="${CSS.escape(focus)}"]`)?.focus({ preventScroll: true });
  };
  addEventListener('resize', () => last && drawAll(last));
  return { draw: drawAll };
}
