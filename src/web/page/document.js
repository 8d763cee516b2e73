// The set-up's text is the document. What the page changes, it changes in that text, line by line, so that comments,
// order and spaces stay as their writer had them, and a saved file that is opened again is the same to the byte.
// Reading a set-up is the library's work; this file only finds lines.

const header = /^\s*(\[\[?)\s*([^\]]+?)\s*\]\]?\s*(?:#.*)?$/;
const entry =
  /^(\s*)([A-Za-z0-9_-]+|"(?:[^"\\]|\\.)*")(\s*=\s*)("(?:[^"\\]|\\.)*"|'[^']*'|\[[^\][]*\]|[^\s#"'[{][^\s#]*)(\s*(?:#.*)?)$/;

export const unquoted = (raw) => {
  if (raw[0] === "'") return raw.slice(1, -1);
  if (raw[0] !== '"') return raw;
  try {
    return JSON.parse(raw);
  } catch {
    return raw.slice(1, -1);
  }
};

/** A string as TOML writes it. */
export const quoted = (text) => JSON.stringify(text).replace(/\u007f/g, '\\u007F');
/** A key as TOML writes it. */
export const keyed = (name) => (/^[A-Za-z0-9_-]+$/.test(name) ? name : quoted(name));

// How many brackets a line leaves open, strings and comments left out.
function leftOpen(line) {
  const bare = line.replace(/"(?:[^"\\]|\\.)*"|'[^']*'/g, '').replace(/#.*/, '');
  return (bare.match(/[[{]/g) ?? []).length - (bare.match(/[\]}]/g) ?? []).length;
}

/**
 * The lines of a text, by table. @returns {{lines: string[], tables: {name: string, at: number, end: number,
 * keys: Map<string, {line: number, raw: string, value: string}>}[]}} The first table has no name: the top of the file.
 */
export function lay(text) {
  const lines = text.split('\n');
  const tables = [{ name: '', at: -1, end: lines.length, keys: new Map() }];
  let open = 0;
  lines.forEach((line, i) => {
    const was = open;
    const found = was > 0 ? null : header.exec(line.replace(/\r$/, ''));
    if (found && !/=/.test(line.split('#')[0].replace(/"(?:[^"\\]|\\.)*"/g, ''))) {
      tables.at(-1).end = i;
      tables.push({ name: (found[1] === '[[' ? '[[' : '[') + found[2], at: i, end: lines.length, keys: new Map() });
      return;
    }
    open = Math.max(0, was + leftOpen(line));
    if (was > 0) return;
    const e = entry.exec(line.replace(/\r$/, ''));
    if (e) tables.at(-1).keys.set(unquoted(e[2]), { line: i, raw: e[4], value: unquoted(e[4]) });
    else if (/^\s*[A-Za-z0-9_"-]+\s*=/.test(line)) {
      tables.at(-1).keys.set(unquoted(line.split('=')[0].trim()), { line: i, raw: null, value: null });
    }
  });
  return { lines, tables };
}

/** The n-th table of that name, such as "[[panel" or "[site"; the top of the file is "". */
export const tableOf = (laid, name, n = 0) => laid.tables.filter((t) => t.name === name)[n] ?? null;

/** What a key says; null where there is none, undefined where it is more than one line or a table. */
export function read(text, name, n, key) {
  const found = tableOf(lay(text), name, n)?.keys.get(key);
  return found ? (found.value ?? undefined) : null;
}

/** A line with a key on it, with another raw value; its spaces and its comment stay. */
export const lineWith = (line, raw) => {
  const cr = line.endsWith('\r') ? '\r' : '';
  const e = entry.exec(line.replace(/\r$/, ''));
  return e[1] + e[2] + e[3] + raw + e[5] + cr;
};

/** The text with a key set to a raw TOML value, or taken out (raw null). A missing table is added at the end. */
export function write(text, name, n, key, raw) {
  const laid = lay(text);
  const { lines } = laid;
  const table = tableOf(laid, name, n);
  const cr = lines.length > 1 && lines[0].endsWith('\r') ? '\r' : '';
  if (!table) {
    if (raw === null) return text;
    const close = name.startsWith('[[') ? ']]' : ']';
    while (lines.length > 1 && lines.at(-1).trim() === '') lines.pop();
    const gap = lines.length === 1 && lines[0] === '' ? [] : [...lines, cr];
    return [...gap, `${name}${close}${cr}`, `${keyed(key)} = ${raw}${cr}`, ''].join('\n');
  }
  const found = table.keys.get(key);
  if (found && found.raw === null) return text; // more than one line: only the text itself can change it
  if (found) {
    if (raw === null) lines.splice(found.line, 1);
    else lines[found.line] = lineWith(lines[found.line], raw);
    return lines.join('\n');
  }
  if (raw === null) return text;
  const last = Math.max(table.at, ...[...table.keys.values()].map((k) => k.line));
  lines.splice(last + 1, 0, `${keyed(key)} = ${raw}${cr}`);
  return lines.join('\n');
}

/** The table and key a line belongs to, to put a complaint at its field. */
export function keyAt(text, line) {
  const laid = lay(text);
  const counts = {};
  for (const t of laid.tables) {
    const n = (counts[t.name] = (counts[t.name] ?? -1) + 1);
    if (line - 1 < t.at || line - 1 >= t.end) continue;
    for (const [key, k] of t.keys) if (k.line === line - 1) return { table: t.name, n, key };
    return { table: t.name, n, key: null };
  }
  return null;
}

/** The text with the panel and controller files it names written in. `files` is by basename. */
export function withFilesIn(text, files) {
  for (;;) {
    const laid = lay(text);
    const at = laid.tables.findIndex((t) => ['[[panel', '[controller'].includes(t.name) && t.keys.get('file')?.value);
    if (at < 0) return text;
    const t = laid.tables[at];
    const named = t.keys.get('file').value;
    const inside = files[named.split('/').at(-1)];
    if (inside === undefined) return text;
    const prefix = t.name === '[[panel' ? 'panel' : 'controller';
    const theirs = inside
      .replace(/\r/g, '')
      .replace(/\n+$/, '')
      .split('\n')
      .map((line) => {
        const found = header.exec(line);
        if (!found) return line;
        return line.replace(found[2], `${prefix}.${found[2]}`);
      });
    const head = theirs.findIndex((line) => header.test(line));
    const top = head < 0 ? theirs : theirs.slice(0, head);
    const tail = head < 0 ? [] : theirs.slice(head);
    const own = lay(inside).tables[0].keys;
    const lines = laid.lines.slice();
    const base = named
      .split('/')
      .at(-1)
      .replace(/\.toml$/, '');
    const extra = [];
    if (prefix === 'panel' && !t.keys.has('id')) extra.push(`id = ${quoted(idFrom(base))}`);
    if (!own.has('name')) extra.push(`name = ${quoted(base)}`);
    const end = trimmedEnd(lines, t);
    const rest = lines.slice(t.keys.get('file').line + 1, end);
    const before = lines.slice(0, t.keys.get('file').line);
    const whole = [
      ...before,
      ...rest,
      ...extra,
      ...top,
      ...(tail.length > 0 ? ['', ...tail] : []),
      ...lines.slice(end),
    ];
    text = whole.join('\n');
  }
}

/** The n-th panel as a panel file: its keys at the top, its tables without their first part. */
export function panelFile(text, n) {
  const laid = lay(text);
  const table = tableOf(laid, '[[panel', n);
  if (!table) return '';
  const skip = new Set(['id', 'count', 'price', 'plane'].map((k) => table.keys.get(k)?.line));
  const out = [];
  for (let i = table.at + 1; i < table.end; ++i) if (!skip.has(i)) out.push(laid.lines[i]);
  for (const t of laid.tables.slice(laid.tables.indexOf(table) + 1)) {
    if (!t.name.startsWith('[panel.')) break;
    out.push(...laid.lines.slice(t.at, t.end).map((l, i) => (i === 0 ? l.replace('panel.', '') : l)));
  }
  return `${out.join('\n')}\n`;
}

function trimmedEnd(lines, table) {
  let end = table.end;
  while (end > table.at + 1 && (lines[end - 1].trim() === '' || lines[end - 1].trim().startsWith('#'))) end -= 1;
  return end;
}

/** An id that wirings can use, from any name. */
export function idFrom(name) {
  const id = name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^[^a-z]+|-+$/g, '')
    .slice(0, 32);
  return id || 'panel';
}
