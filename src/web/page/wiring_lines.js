// The wiring of a set-up as lines of TOML. What a person wrote of a string that is as it was stays as it was written,
// with its comments; so does the light of a panel that only moved.
import { keyed, lay, lineWith, quoted, unquoted } from './document.js';

const isWiring = (name) => name === '[wiring' || /^\[?\[wiring\s*\./.test(name);
const isComment = (line) => line.trim().startsWith('#');
const alike = (a, b) => JSON.stringify(a) === JSON.stringify(b);

/** The text with its wiring replaced by these lines, at its place; at the end where there was none. */
export function withWiring(text, wiringLines) {
  const { lines, tables } = lay(text);
  const own = tables.filter((t) => isWiring(t.name));
  if (own.length === 0) {
    while (lines.length > 1 && lines.at(-1).trim() === '') lines.pop();
    return [...lines, '', ...wiringLines, ''].join('\n');
  }
  const out = [...lines.slice(0, own[0].at), ...wiringLines];
  const said = new Set(wiringLines);
  own.forEach((t, i) => {
    // Comments and what is not of the wiring stay; a comment that went along with its string is there already.
    const between = lines.slice(lastLine(lines, t) + 1, own[i + 1]?.at);
    const bare = between.every((line) => line.trim() === '' || isComment(line));
    if (i + 1 === own.length || !bare) out.push(...between);
    else out.push(...between.filter((line) => line.trim() !== '' && !said.has(line)));
  });
  return out.join('\n');
}

// Blank lines and comments at a table's foot belong to what follows.
function lastLine(lines, table) {
  let last = table.end - 1;
  while (last > table.at && (lines[last].trim() === '' || isComment(lines[last]))) last -= 1;
  return last;
}

/**
 * The wiring of a set-up's outline as TOML: the short form where it says all, else string by string.
 * @param was {text, wiring}: what was written before, and the outline's wiring that was read from it
 */
export function wiringLines(setup, was = null) {
  const old = writtenBefore(setup, was);
  const plain = (p) => p.light.every((l) => l === 1) && p.warmer.every((w) => w === 0) && !p.plane;
  const lines = ['[wiring]'];
  const tables = [];
  setup.inputs.forEach((input, i) => {
    const strings = setup.wiring[i].filter((s) => s.panels.length > 0);
    if (old.strings[i].length > 0 && alike(strings, was.wiring[i])) {
      tables.push(...old.strings[i].flatMap((o) => ['', ...o.lines]));
      return;
    }
    if (strings.every((s) => !s.blocking_diode && s.fuse_a === null && s.panels.every(plain))) {
      const short = old.short.get(input.name);
      if (short && alike(strings, was.wiring[i])) lines.push(short);
      else {
        const raw = quoted(shortForm(strings, setup.kinds.length > 1));
        lines.push(short ? lineWith(short, raw) : `${keyed(input.name)} = ${raw}`);
      }
      return;
    }
    const unused = [...old.strings[i]];
    for (const s of strings) {
      const at = unused.findIndex((o) => alike(o.string, s));
      if (at >= 0) tables.push('', ...unused.splice(at, 1)[0].lines);
      else tables.push('', ...newString(input, s, plain, old.panels));
    }
  });
  return lines.length === 1 && tables.length > 0 ? tables.slice(1) : [...lines, ...tables];
}

function newString(input, s, plain, oldPanels) {
  const lines = [`[[wiring.${keyed(input.name)}.string]]`];
  const written = s.panels.map((p) => {
    const old = plain(p) ? null : oldPanels.find((o) => alike(o.panel, p));
    return old ?? { text: panelOf(p, plain), comment: '' };
  });
  if (written.some((w) => w.comment !== '' || w.text.includes('\n'))) {
    lines.push('panels = [', ...written.map((w) => `    ${w.text},${w.comment}`), ']');
  } else lines.push(`panels = [ ${written.map((w) => w.text).join(', ')} ]`);
  if (s.blocking_diode) lines.push('blocking_diode = true');
  if (s.fuse_a !== null) lines.push(`fuse = "${s.fuse_a} A"`);
  return lines;
}

// As so many digits as a person could have meant: 0.1 over 0.8 and back is 0.1.
const share = (ratio) => String(Number(ratio.toPrecision(12)));

// A difference of temperatures needs its unit, but for none.
const kelvins = (k) => (k === 0 ? '0' : quoted(`${share(k)} K`));

function lightOf(entry) {
  if (typeof entry === 'number') return share(entry);
  const others = entry.others === 1 ? '' : `, others = ${share(entry.others)}`;
  return `{ cells = ${entry.cells}, light = ${share(entry.light)}${others} }`;
}

function panelOf(p, plain) {
  if (plain(p)) return quoted(p.kind);
  // One number stands for all groups; cells are always those of one.
  const one = (all) => all.length === 1 || (all[0][0] !== '{' && all.every((x) => x === all[0]));
  const list = (all) => (one(all) ? all[0] : `[ ${all.join(', ')} ]`);
  const parts = [`panel = ${quoted(p.kind)}`];
  if (p.plane) parts.push(`plane = ${quoted(p.plane)}`);
  if (p.light.some((l) => l !== 1)) parts.push(`light = ${list(p.light.map(lightOf))}`);
  if (p.warmer.some((w) => w !== 0)) parts.push(`warmer = ${list(p.warmer.map(kelvins))}`);
  return `{ ${parts.join(', ')} }`;
}

/** "2s3p", "2s3p roof" or "2 roof + field | 3 field", as the command line takes it. */
export function shortForm(strings, severalKinds) {
  if (strings.length === 0) return 'unused';
  const ids = strings.map((s) => s.panels.map((p) => p.kind));
  const first = ids[0];
  const same = ids.every((s) => s.length === first.length && s.every((id) => id === first[0]));
  if (same) return `${first.length}s${ids.length}p${severalKinds ? ` ${first[0]}` : ''}`;
  const run = (s) => {
    const parts = [];
    for (const id of s) {
      if (parts.length > 0 && parts.at(-1).id === id) parts.at(-1).n += 1;
      else parts.push({ id, n: 1 });
    }
    return parts.map(({ id, n }) => (n > 1 ? `${n} ${id}` : id)).join(' + ');
  };
  return ids.map(run).join(' | ');
}

// What the text says now, piece by piece: lines of [wiring] by input, strings with their lines, panels in braces with
// theirs. A wiring in a form that is not known here has no pieces, and is written anew.
function writtenBefore(setup, was) {
  const found = { short: new Map(), strings: setup.inputs.map(() => []), panels: [] };
  if (!was) return found;
  const { lines, tables } = lay(was.text);
  const own = tables.filter((t) => isWiring(t.name));
  const several = own.filter((t) => t.name === '[wiring').flatMap((t) => [...t.keys]);
  for (const [name, key] of several) if (key.raw !== null && key.raw[0] !== '[') found.short.set(name, lines[key.line]);
  setup.inputs.forEach((input, i) => {
    const mine = own.filter((t) => stringOf(t.name) === input.name);
    if (mine.length !== was.wiring[i].length) return;
    mine.forEach((t, n) => {
      const string = was.wiring[i][n];
      let from = t.at;
      while (t !== own[0] && from > 0 && isComment(lines[from - 1])) from -= 1;
      const whole = lines.slice(from, lastLine(lines, t) + 1);
      found.strings[i].push({ string, lines: whole });
      const elements = elementsOf(whole.join('\n'));
      if (elements.length !== string.panels.length) return;
      string.panels.forEach((panel, p) => {
        const { text } = elements[p];
        // A plane may have been said of the whole string.
        if (text[0] === '{' && (!panel.plane || /\bplane\b/.test(text))) found.panels.push({ panel, ...elements[p] });
      });
    });
  });
  return found;
}

const stringOf = (name) => {
  const found = /^\[\[wiring\s*\.\s*(.+?)\s*\.\s*string$/.exec(name);
  return found ? unquoted(found[1]) : null;
};

// The elements of the list `panels`, each as written, with the comment at its line's end.
function elementsOf(text) {
  const start = /^[ \t]*panels[ \t]*=[ \t]*\[/m.exec(text);
  if (!start) return [];
  const out = [];
  let depth = 0;
  let held = '';
  let latest = null; // the element that a comment on this line is about
  const end = () => {
    if (held.trim() === '') return;
    out.push((latest = { text: held.trim(), comment: '' }));
    held = '';
  };
  const rest = text.slice(start.index + start[0].length);
  for (const [token] of rest.matchAll(/"(?:[^"\\]|\\.)*"|'[^']*'|#[^\n]*|[^]/g)) {
    if (token[0] === '#') {
      if (held.trim() !== '' && depth === 0) end();
      if (latest && depth === 0) latest.comment = `   ${token.trim()}`;
    } else if (token === ']' && depth === 0) {
      end();
      return out;
    } else if (token === ',' && depth === 0) end();
    else {
      if (token === '\n' && held.trim() === '') latest = null;
      if ('[{'.includes(token)) depth += 1;
      if (']}'.includes(token)) depth -= 1;
      held += token;
    }
  }
  return [];
}
