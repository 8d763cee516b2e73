// The bench of strings: every panel a token, every string a row, every input a rail. Tokens are dragged, or moved by
// keys; each move writes the set-up's [wiring] anew.
import { draw, el, put } from './dom.js';
import { brushTrouble, drawn, entryWords, groupsOf, painted, shadeMark, shadeWords } from './shade.js';

const drag_px = 6;

// A group as a small field of cells, its shade from the foot up and the darker the less light it gets.
function groupPicture(entry, kind) {
  const { part, light, others } = drawn(entry, kind);
  const high = 20 * part;
  return draw(
    'svg',
    { viewBox: '0 0 12 20', width: 12, height: 20, class: 'cells', 'aria-hidden': 'true' },
    draw('rect', { width: 12, height: 20, class: 'lit' }),
    draw('rect', { width: 12, height: 20, class: 'shadow', opacity: Math.max(0, 1 - others) }),
    draw('rect', { y: 20 - high, width: 12, height: high, class: 'shadow', opacity: Math.max(0, 1 - light) }),
    draw('rect', { x: 0.5, y: 0.5, width: 11, height: 19, class: 'frame' }),
  );
}

/**
 * @param given {host, change(wiring, words), say(words), paint}. `change` gets the new wiring of all inputs and words for
 * who cannot see it; `paint()` is the brush (shade.js) that a press on a panel uses, or null.
 */
export function makeBoard({ host, change, say, paint }) {
  let setup = null;
  let wanted = null; // the token that is to have the focus after the next drawing

  const copy = () => structuredClone(setup.wiring);
  const fresh = (kind) => ({ kind, light: [], warmer: [], plane: null });
  const newString = (panels) => ({ panels, blocking_diode: false, fuse_a: null });
  const used = (kind) =>
    setup.wiring
      .flat()
      .flatMap((s) => s.panels)
      .filter((p) => p.kind === kind).length;
  const place = (i, s, p) => `${setup.inputs[i].name}, string ${s + 1}, place ${p + 1}`;

  // Takes a panel from one place ("i.s.p", or a kind from the pile) and lays it at another ("i.s.p", "i.new", "pile").
  const move = (from, to) => {
    const wiring = copy();
    let panel;
    const [fi, fs, fp] = from.split('.').map(Number);
    if (from.startsWith('kind:')) {
      panel = fresh(from.slice(5));
      const kind = setup.kinds.find((k) => k.id === panel.kind);
      if (used(panel.kind) >= kind.count)
        say(`All ${kind.count} of ${panel.kind} are wired already; this is one more than you have.`);
    } else {
      panel = wiring[fi][fs].panels[fp];
      wiring[fi][fs].panels[fp] = null; // the hole keeps places countable until the panel is laid
    }
    let words = `${panel.kind} taken off`;
    if (to !== 'pile') {
      const [ti, ts, tp] = to.split('.');
      if (ts === 'new') {
        wiring[ti].push(newString([panel]));
        wanted = `${ti}.${wiring[ti].length - 1}.0`;
      } else {
        const string = wiring[ti][ts].panels;
        string.splice(Math.min(Number(tp), string.length), 0, panel);
        wanted = `${ti}.${ts}.${tp}`;
      }
      words = `${panel.kind} is now on ${setup.inputs[ti].name}`;
    } else wanted = null;
    // The focus follows the panel past the hole it left and past strings that vanish.
    const cleared = wiring.map((strings, i) =>
      strings
        .filter((s) => s.panels.some((p) => p !== null))
        .map((s, at) => {
          const kept = s.panels.filter((p) => p !== null);
          if (to !== 'pile' && s.panels.includes(panel)) {
            wanted = `${i}.${at}.${kept.indexOf(panel)}`;
            words = `${panel.kind} is now at ${place(i, at, kept.indexOf(panel))}`;
          }
          return { ...s, panels: kept };
        }),
    );
    change(cleared, words);
  };

  const keys = (event, i, s, p) => {
    const here = `${i}.${s}.${p}`;
    const strings = setup.wiring[i];
    const length = strings[s].panels.length;
    const to = {
      ArrowLeft: () => p > 0 && `${i}.${s}.${p - 1}`,
      ArrowRight: () => p + 1 < length && `${i}.${s}.${p + 2}`,
      ArrowUp: () =>
        s > 0
          ? `${i}.${s - 1}.${strings[s - 1].panels.length}`
          : i > 0
            ? setup.wiring[i - 1].length > 0
              ? `${i - 1}.${setup.wiring[i - 1].length - 1}.99`
              : `${i - 1}.new`
            : null,
      ArrowDown: () =>
        s + 1 < strings.length
          ? `${i}.${s + 1}.${strings[s + 1].panels.length}`
          : length > 1
            ? `${i}.new`
            : i + 1 < setup.inputs.length
              ? setup.wiring[i + 1].length > 0
                ? `${i + 1}.0.0`
                : `${i + 1}.new`
              : null,
      Delete: () => 'pile',
      Backspace: () => 'pile',
    }[event.key]?.();
    if (to === undefined) return;
    event.preventDefault();
    if (to) move(here, to);
  };

  const press = (event, from) => {
    if (event.button !== 0) return;
    const token = event.currentTarget;
    const start = [event.clientX, event.clientY];
    let ghost = null;
    let over = null;
    token.setPointerCapture(event.pointerId); // a quick hand has left the token by the first move
    const going = (e) => {
      if (!ghost && Math.hypot(e.clientX - start[0], e.clientY - start[1]) < drag_px) return;
      if (!ghost) {
        ghost = token.cloneNode(true);
        ghost.removeAttribute('id');
        ghost.classList.add('ghost');
        ghost.setAttribute('aria-hidden', 'true');
        document.body.append(ghost);
        token.classList.add('lifted');
      }
      ghost.style.transform = `translate(${e.clientX - 18}px, ${e.clientY - 18}px)`;
      over?.classList.remove('over');
      over =
        document
          .elementsFromPoint(e.clientX, e.clientY)
          .map((n) => n.closest?.('[data-drop]'))
          .find((n) => n && host.contains(n)) ?? null;
      over?.classList.add('over');
      e.preventDefault();
    };
    const end = (e) => {
      token.removeEventListener('pointermove', going);
      token.removeEventListener('pointerup', end);
      token.removeEventListener('pointercancel', end);
      over?.classList.remove('over');
      token.classList.remove('lifted');
      if (!ghost) return;
      ghost.remove();
      token.dataset.dragged = '1';
      setTimeout(() => delete token.dataset.dragged, 0);
      if (e.type === 'pointerup' && over && over.dataset.drop !== from) move(from, over.dataset.drop);
    };
    token.addEventListener('pointermove', going);
    token.addEventListener('pointerup', end);
    token.addEventListener('pointercancel', end);
  };

  const kindOf = (panel) => setup.kinds.find((k) => k.id === panel.kind);

  const shade = (i, s, p, group) => {
    const brush = paint();
    if (brush === null) return;
    const wiring = copy();
    const kind = kindOf(wiring[i][s].panels[p]);
    const trouble = brushTrouble(brush, kind);
    if (trouble) return say(trouble);
    const panel = painted(wiring[i][s].panels[p], kind, brush, group);
    wiring[i][s].panels[p] = panel;
    setup = { ...setup, wiring }; // the next stroke may come before this one is judged and drawn
    wanted = brush.on === 'panel' ? `${i}.${s}.${p}` : `${i}.${s}.${p}.${group}`;
    change(wiring, `${panel.kind} at ${place(i, s, p)}: ${shadeWords(panel) || 'full light'}`);
    return undefined;
  };

  const token = (panel, i, s, p) => {
    const mark = shadeMark(panel);
    const kind = kindOf(panel);
    const brush = paint();
    const parts = brush !== null && brush.on !== 'panel'; // a press is for one of its groups
    const t = el(
      'button',
      {
        type: 'button',
        class: 'token',
        'data-at': `${i}.${s}.${p}`,
        'data-drop': `${i}.${s}.${p}`,
        'aria-label': `${panel.kind}${mark ? ` ${mark}: ${shadeWords(panel)}` : ''}, ${place(i, s, p)}. Arrow keys move it, Delete takes it off.`,
        onkeydown: (e) => keys(e, i, s, p),
        onpointerdown: (e) => press(e, `${i}.${s}.${p}`),
        onclick: (e) => !parts && !e.currentTarget.dataset.dragged && shade(i, s, p),
      },
      el('span', { class: 'pole', 'aria-hidden': 'true' }, '+'),
      el('span', {}, panel.kind),
      mark ? [' ', el('span', { class: 'dim' }, mark)] : null,
      mark && !parts ? groupsOf(panel, kind).map((entry) => groupPicture(entry, kind)) : null,
    );
    if (!parts) return t;
    return el(
      'span',
      { class: 'place' },
      t,
      el(
        'span',
        { class: 'groups', role: 'group', 'aria-label': `Bypass groups of ${panel.kind}, ${place(i, s, p)}` },
        groupsOf(panel, kind).map((entry, g) =>
          el(
            'button',
            {
              type: 'button',
              class: 'group',
              'data-at': `${i}.${s}.${p}.${g}`,
              'aria-label': `group ${g + 1}, ${entryWords(entry)}. Press to shade ${brush.on === 'cells' ? 'cells of it' : 'it'}, or to take that away.`,
              onclick: () => shade(i, s, p, g),
            },
            groupPicture(entry, kind),
          ),
        ),
      ),
    );
  };

  const stringRow = (string, i, s) =>
    el(
      'li',
      { class: 'string', 'data-drop': `${i}.${s}.${string.panels.length}` },
      el('span', { class: 'string-name' }, `string ${s + 1}`),
      el(
        'span',
        { class: 'thread' },
        string.panels.map((p, n) => token(p, i, s, n)),
      ),
      el(
        'span',
        { class: 'string-tools' },
        setup.kinds.map((k) =>
          el(
            'button',
            {
              type: 'button',
              class: 'small',
              'aria-label': `+ ${setup.kinds.length > 1 ? k.id : `panel ${k.id}`} to string ${s + 1} of ${setup.inputs[i].name}`,
              onclick: () => move(`kind:${k.id}`, `${i}.${s}.${string.panels.length}`),
            },
            `+ ${setup.kinds.length > 1 ? k.id : 'panel'}`,
          ),
        ),
        el(
          'button',
          {
            type: 'button',
            class: 'small',
            'aria-label': `once more: string ${s + 1} of ${setup.inputs[i].name}`,
            onclick: () => twin(i, s),
          },
          'once more',
        ),
      ),
    );

  const twin = (i, s) => {
    const wiring = copy();
    wiring[i].splice(s + 1, 0, structuredClone(wiring[i][s]));
    wanted = `${i}.${s + 1}.0`;
    change(wiring, `A second string like string ${s + 1} on ${setup.inputs[i].name}`);
  };

  const rail = (input, i) =>
    el(
      'section',
      { class: 'rail', 'aria-label': `Input ${input.name}` },
      el(
        'h3',
        {},
        input.name,
        el(
          'span',
          { class: 'of' },
          input.max_voltage_v === null ? ' its highest voltage is not stated' : ` never above ${input.max_voltage_v} V`,
        ),
      ),
      el(
        'ol',
        { class: 'strings' },
        setup.wiring[i].map((s, n) => stringRow(s, i, n)),
      ),
      el(
        'div',
        { class: 'new-string', 'data-drop': `${i}.new` },
        setup.kinds.map((k) => {
          const words =
            setup.wiring[i].length > 0
              ? `new string of ${setup.kinds.length > 1 ? k.id : 'one'}`
              : `put ${setup.kinds.length > 1 ? k.id : 'a panel'} here`;
          return el(
            'button',
            {
              type: 'button',
              class: 'small',
              'aria-label': `${words}: ${k.id} on ${input.name}`,
              onclick: () => move(`kind:${k.id}`, `${i}.new`),
            },
            words,
          );
        }),
      ),
    );

  const pile = () =>
    el(
      'div',
      { class: 'pile', 'data-drop': 'pile' },
      setup.kinds.map((k) => {
        const left = k.count - used(k.id);
        const words = left >= 0 ? `${left} of ${k.count} left` : `${-left} more than you have`;
        return el(
          'button',
          {
            type: 'button',
            class: `token spare${left <= 0 ? ' none' : ''}`,
            'data-at': `kind:${k.id}`,
            'aria-label': `${k.id} ${words}: ${k.name}. Drag one into a string, or use the buttons there.`,
            onpointerdown: (e) => press(e, `kind:${k.id}`),
          },
          el('span', {}, k.id),
          ' ',
          el('span', { class: 'dim' }, words),
        );
      }),
    );

  return {
    draw(next) {
      setup = next;
      const had = host.contains(document.activeElement) ? document.activeElement.dataset.at : null;
      put(host, pile(), ...setup.inputs.map(rail));
      const to = wanted ?? had;
      if (to && (wanted || had)) host.querySelector(`[data-at="${CSS.escape(to)}"]`)?.focus({ preventScroll: true });
      wanted = null;
    },
    again() {
      if (setup) this.draw(setup);
    },
  };
}
