// Light on a panel, as the set-up has it: one entry for each bypass group, or none, which is full light. An entry is a
// share of the light, or {cells, light, others}: so many cells of the group get `light`, its other cells `others`.

const full = (panel) => panel.light.every((l) => l === 1);
const percent = (share) => `${Number((share * 100).toFixed(1))} %`;
const cellsOf = (n) => (n === 1 ? '1 cell' : `${n} cells`);
const dark = (entry) => (typeof entry === 'number' ? entry : entry.light);

// Without the last digits that a product leaves: 0.8 × 0.125 is 0.1.
const round = (ratio) => Number(ratio.toPrecision(12));

/** The light of each group of a panel, one entry for each. */
export const groupsOf = (panel, kind) =>
  Array.from({ length: kind.bypass_groups }, (_, g) => {
    const entry = panel.light[g] ?? 1;
    if (typeof entry === 'number') return round(entry);
    return { cells: entry.cells, light: round(entry.light), others: round(entry.others) };
  });

/** An entry in words: "25 % light", "3 cells at 15 % light, the others at 80 %". */
export function entryWords(entry) {
  if (typeof entry === 'number') return entry === 1 ? 'full light' : `${percent(entry)} light`;
  const others = entry.others === 1 ? '' : `, the others at ${percent(entry.others)}`;
  return `${cellsOf(entry.cells)} at ${percent(entry.light)} light${others}`;
}

/** What shades a panel, in words; "" where nothing does. */
export function shadeWords(panel) {
  if (full(panel)) return '';
  if (panel.light.every((l) => l === panel.light[0])) return entryWords(panel.light[0]);
  return panel.light
    .map((l, g) => (l === 1 ? '' : `group ${g + 1}: ${entryWords(l)}`))
    .filter(Boolean)
    .join('; ');
}

/** The same in a token's few letters. */
export function shadeMark(panel) {
  const shaded = panel.light.filter((l) => l !== 1);
  if (shaded.length === 0) return '';
  const one = shaded[0];
  if (shaded.length === 1 && typeof one === 'object') return `${cellsOf(one.cells)} ${percent(one.light)}`;
  if (panel.light.every((l) => l === one)) return percent(one);
  if (shaded.length === 1) return `1 group ${percent(one)}`;
  return `${shaded.length} groups, down to ${percent(Math.min(...shaded.map(dark)))}`;
}

/** How much of a group is shaded and how dark, to draw it: {part, light, others}. */
export function drawn(entry, kind) {
  if (typeof entry === 'number') return { part: entry === 1 ? 0 : 1, light: entry, others: entry };
  const cells = Math.max(entry.cells, kind.group_cells, 1);
  return { part: Math.max(0.12, entry.cells / cells), light: entry.light, others: entry.others };
}

/**
 * Why a brush cannot paint this kind, or null. @param brush {share, on: 'panel'|'group'|'cells', cells}
 */
export const brushTrouble = (brush, kind) =>
  brush.on === 'cells' && kind.group_cells === 0
    ? `What some cells of a group do is known of crystalline silicon only: paint whole groups of ${kind.id}.`
    : null;

/**
 * The panel after a stroke of the brush on one group, or on all of it. The same stroke once more takes the shade away.
 */
export function painted(panel, kind, brush, group) {
  const light = groupsOf(panel, kind);
  const strokes = brush.on === 'panel' ? light.map((_, g) => g) : [group];
  const next = strokes.map((g) => strokeOn(light[g], kind, brush));
  const was = strokes.every((g, i) => JSON.stringify(light[g]) === JSON.stringify(next[i]));
  strokes.forEach((g, i) => (light[g] = was ? clean(light[g]) : next[i]));
  const out = { ...panel, light: light.every((l) => l === 1) && panel.warmer.length === 0 ? [] : light };
  // Both lists are written for each group or not at all.
  if (out.light.length > 0 && out.warmer.length === 0) out.warmer = Array(kind.bypass_groups).fill(0);
  if (out.light.every((l) => l === 1) && out.warmer.every((w) => w === 0)) Object.assign(out, { light: [], warmer: [] });
  return out;
}

const clean = (entry) => (typeof entry === 'object' ? entry.others : 1);

function strokeOn(entry, kind, brush) {
  if (brush.on !== 'cells') return brush.share;
  // What already lies over the group stays on its other cells, unless the brush is lighter than that.
  const before = typeof entry === 'object' ? entry.others : entry;
  const others = before > brush.share ? before : 1;
  if (brush.share === others) return others;
  return { cells: Math.min(Math.max(1, brush.cells), kind.group_cells), light: brush.share, others };
}
