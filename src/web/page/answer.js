// The answer where the eye lands: the verdict in words, what decides it, what it rests on, and that it is arithmetic.
import { el, put } from './dom.js';

const connection = {
  allowed: 'Within every stated limit that protects something.',
  'once-added': 'To be connected only once this is there:',
  undecided: 'Nobody can say yet: a limit that protects something is not stated.',
  'may-exceed': 'Within on the nominal figures, but a tolerance reaches past a limit that must never be passed.',
  forbidden: 'Outside a limit that must never be passed. Do not connect it.',
};
const intake = {
  all: 'The input takes all that the panels offer.',
  clipped: 'The input does not take all that the panels could give.',
  'falls-short': 'The panels do not reach the voltage that the input needs.',
};
const grave = ['exceeds', 'undecided', 'needs', 'falls-short', 'clips'];

// What decides: the gravest findings first, as sentences of the library's own.
function reasons(check) {
  const all = check.inputs
    .flatMap((i) => i.rules.map((r) => ({ ...r, where: i.name })))
    .concat(check.plan_rules.map((r) => ({ ...r, where: null })));
  const weight = (r) => grave.indexOf(r.outcome);
  return all.filter((r) => r.decides && r.outcome !== 'within').sort((a, b) => weight(a) - weight(b));
}

const lookUp = (assumption, f) =>
  `${assumption.what} of ${assumption.subject} (taken as ${assumption.value}; ${f.printed})`;

// What shaded cells take, in the library's sentences, and what to do about it.
function hotSpots(spots) {
  if (spots.length === 0) return null;
  const most = 2;
  const more = spots.length - most;
  return el(
    'div',
    { class: 'hot-spots' },
    el(
      'p',
      {},
      el('strong', {}, spots.length === 1 ? 'A hot spot. ' : `${spots.length} hot spots. `),
      'A shaded cell takes power from the others: it can burn the panel and what is under it. Move the panel, or cut or move what shades it.',
    ),
    el(
      'ul',
      {},
      spots.slice(0, most).map((s) => el('li', {}, s.sentence)),
      more > 0 ? el('li', {}, `${more} more: “The verdict in full” names ${more === 1 ? 'it' : 'them'}.`) : null,
    ),
  );
}

const spokenSpots = (spots) =>
  spots.length === 0 ? '' : ` ${spots.length === 1 ? 'A hot spot' : `${spots.length} hot spots`}: ${spots[0].sentence}`;

/** The headline as plain words, for who listens. */
export const spoken = (check) =>
  `${check.headline.replaceAll(' ?', ', not proven')}: ${check.wiring}. ${connection[check.connection]} ${check.connection === 'forbidden' ? '' : intake[check.intake]}${spokenSpots(check.hot_spots ?? [])}`;

/** @param state {check, outline, complaints} */
export function showAnswer(host, { check, outline, complaints, complaint }, go) {
  if (complaints) {
    put(
      host,
      el(
        'h2',
        { class: 'verdict' },
        complaints.length === 1 ? 'One line cannot be read yet' : `${complaints.length} lines cannot be read yet`,
      ),
      el(
        'ul',
        { class: 'complaints' },
        complaints.map((c) =>
          el(
            'li',
            {},
            el(
              'button',
              { type: 'button', class: 'linkish', onclick: () => go.complaint(c) },
              c.line > 0 ? `line ${c.line}` : c.file,
            ),
            ' ',
            c.message,
          ),
        ),
      ),
      el('p', { class: 'rests' }, 'Nothing is lost: mend the line, or undo.'),
    );
    return;
  }
  if (!check) {
    const inputs = outline.setup.inputs.map((i) => i.name).join(', ');
    put(
      host,
      el('h2', { class: 'verdict' }, complaint ? 'No verdict' : 'Nothing is wired yet'),
      el('p', {}, complaint || `Lay panels on ${inputs}, or let the best wiring be found.`),
      el('p', {}, el('button', { type: 'button', class: 'main', onclick: go.best }, 'Find the best wiring')),
    );
    return;
  }
  const why = reasons(check);
  const first = check.look_up_first.first ?? [];
  const conditions = (check.conditions ?? [])
    .map((c) => (typeof c === 'string' ? c : (c.text ?? c.words ?? c.what ?? '')))
    .filter(Boolean);
  const assumed = check.assumptions.length;
  put(
    host,
    el(
      'h2',
      { class: 'verdict', 'data-connection': check.connection },
      el('span', { class: 'word' }, check.headline),
      ' ',
      el('span', { class: 'wiring' }, check.wiring),
    ),
    el(
      'p',
      { class: 'sentence' },
      connection[check.connection],
      conditions.length > 0 && check.connection === 'once-added' ? ` ${conditions.join('; ')}.` : '',
      check.connection === 'forbidden' ? '' : ` ${intake[check.intake]}`,
    ),
    why.length > 0
      ? el(
          'p',
          { class: 'because' },
          why[0].where ? `${why[0].where}: ` : '',
          why[0].because,
          why[0].instead ? el('strong', {}, ` ${why[0].instead}`) : '',
        )
      : null,
    hotSpots(check.hot_spots ?? []),
    check.could_exceed
      ? el('p', { class: 'because' }, 'A plausible value of a figure that was assumed would carry it past a limit.')
      : null,
    el(
      'p',
      { class: 'rests' },
      assumed === 0
        ? 'It rests on no assumed figure. '
        : `${assumed} ${assumed === 1 ? 'figure was' : 'figures were'} assumed. `,
      first.length > 0
        ? el(
            'span',
            {},
            'Look up first: ',
            first
              .slice(0, 2)
              .map((f) => lookUp(check.assumptions[f.assumption], f))
              .join('; '),
            '. ',
          )
        : null,
      assumed > 0
        ? el('button', { type: 'button', class: 'linkish', onclick: go.figures }, 'Put in what you know')
        : null,
    ),
    check.connection !== 'allowed' || check.intake === 'falls-short'
      ? el('p', {}, el('button', { type: 'button', onclick: go.best }, 'Find the best wiring'))
      : null,
    el('p', { class: 'deferral' }, check.deferral),
  );
}
