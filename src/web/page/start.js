// From a question to a verdict: one question at a time, each with the drawn label beside it. What is typed is read by
// the library; its complaint is put at the question.
import { asValue, inputFigures, panelFigures, siteFigures } from './figures.js';
import { el, put } from './dom.js';
import { keyAt } from './document.js';
import { labelDrawing } from './label.js';

const figureOf = (list, key) => list.find((f) => f.key === key);
const panelKeys = ['pmax', 'voc', 'vmp', 'isc', 'imp', 'voc_coefficient', 'max_series_fuse'];
const inputKeys = ['max_voltage', 'tracking_min', 'tracking_max', 'max_current', 'max_power'];

const batteries = {
  '12 V lead': ['10.5 V', '12 V', '14.4 V'],
  '12.8 V lithium': ['10.5 V', '12.8 V', '14.6 V'],
  '24 V lead': ['21 V', '24 V', '28.8 V'],
  '25.6 V lithium': ['21 V', '25.6 V', '29.2 V'],
  '51.2 V lithium': ['42 V', '51.2 V', '58.4 V'],
};

const kinds = [
  ['wide-range', 'A power station, or an input with a voltage range of its own'],
  ['step-down', 'A charge controller with a tracker (MPPT) and a battery'],
  ['direct-connect', 'A simple charge controller (PWM) and a battery'],
  ['step-up', 'A controller that charges a battery of higher voltage than the panels'],
];

/** The questions, in order, for what was answered so far. */
function questions(answers, shipped) {
  const list = [];
  if (answers.how === 'class')
    list.push({
      key: 'class',
      title: 'Which class of panel is most like yours?',
      choices: Object.entries(shipped).map(([file, name]) => [file, name]),
    });
  list.push({
    key: 'count',
    title: 'How many of these panels do you have?',
    figure: figureOf(panelFigures, 'count'),
    must: true,
  });
  if (answers.how !== 'class')
    for (const key of panelKeys)
      list.push({
        key,
        label: 'panel',
        title: figureOf(panelFigures, key).title,
        figure: figureOf(panelFigures, key),
        must: key === 'voc' || key === 'isc',
        table: '[[panel',
      });
  list.push({ key: 'type', title: 'What do the panels go into?', choices: kinds });
  if (answers.type && answers.type !== 'wide-range')
    list.push({
      key: 'battery',
      title: 'Which battery is behind it?',
      choices: Object.keys(batteries).map((b) => [b, b]),
    });
  for (const key of inputKeys) {
    if (answers.type === 'direct-connect' && key.startsWith('tracking')) continue;
    list.push({
      key,
      label: 'input',
      title: figureOf(inputFigures, key).title,
      figure: figureOf(inputFigures, key),
      must: key === 'max_voltage' || (key === 'tracking_min' && answers.type === 'wide-range'),
      table: '[[controller.input',
    });
  }
  list.push({
    key: 'over_current',
    label: 'input',
    title: 'What does the manual say of an array that could give more amps or watts than that?',
    choices: [
      ['', 'Nothing, or I do not know'],
      ['clips', 'It only takes what it can; no harm is done'],
      ['do-not-exceed', 'It must not be exceeded'],
    ],
  });
  list.push({
    key: 'coldest_air',
    title: 'How cold can a morning get where the panels are?',
    figure: figureOf(siteFigures, 'coldest_air'),
    hint: 'With its unit, such as -18 °C or 0 °F. Cold raises the voltage of panels: this is the figure that protects the input.',
    table: '[site',
  });
  return list;
}

/** The answers as a set-up. `panelText` is that of a shipped class. */
export function setupFrom(answers, panelText) {
  const lines = [
    'title = "My panels"',
    '',
    '[[panel]]',
    'id = "mine"',
    `count = ${asValue({ plain: true }, answers.count || '1')}`,
  ];
  if (answers.how === 'class')
    lines.push(
      ...(panelText ?? '')
        .replace(/\n+$/, '')
        .split('\n')
        .map((l) => l.replace(/^\[diode\]/, '[panel.diode]').replace(/^\[nmot\]/, '[panel.nmot]')),
    );
  else
    for (const key of panelKeys)
      if (answers[key]) lines.push(`${key} = ${asValue(figureOf(panelFigures, key), answers[key])}`);
  lines.push('', '[controller]', `type = ${JSON.stringify(answers.type || 'wide-range')}`);
  if (batteries[answers.battery] && answers.type !== 'wide-range') {
    const [low, usual, high] = batteries[answers.battery];
    lines.push(
      '',
      '[controller.battery]',
      `min_voltage = "${low}"`,
      `nominal_voltage = "${usual}"`,
      `max_voltage = "${high}"`,
    );
  }
  lines.push('', '[[controller.input]]', 'name = "PV"');
  for (const key of inputKeys)
    if (answers[key]) lines.push(`${key} = ${asValue(figureOf(inputFigures, key), answers[key])}`);
  if (answers.over_current) lines.push(`over_current = ${JSON.stringify(answers.over_current)}`);
  if (answers.coldest_air)
    lines.push('', '[site]', `coldest_air = ${asValue(figureOf(siteFigures, 'coldest_air'), answers.coldest_air)}`);
  return `${lines.join('\n')}\n`;
}

/** The table in which a question's key is written. */
const placeOf = (question) => question.table ?? (question.key === 'count' ? '[[panel' : null);

/**
 * Asks one question after another in `host`.
 * @param given {host, draft, shipped (file -> name), panelTexts, judge(text) -> outline, keep(draft), done(text), leave()}
 */
export function ask(given) {
  const { host, shipped, judge, keep, done, leave } = given;
  const draft = given.draft;
  const text = () => setupFrom(draft.answers, given.panelTexts[draft.answers.class]);

  const complaintsAt = async (question) => {
    const written = text();
    const { outline } = (await judge(written)) ?? {};
    const all = outline?.complaints ?? [];
    const here = all.filter((c) => {
      const at = keyAt(written, c.line);
      return at && at.key === question.key && at.table === placeOf(question);
    });
    return { here, all, written };
  };

  const show = (trouble) => {
    const list = questions(draft.answers, shipped);
    draft.step = Math.min(draft.step, list.length - 1);
    const q = list[draft.step];
    const now = draft.answers[q.key] ?? '';
    const input = q.choices
      ? null
      : el('input', {
          id: 'answer-field',
          value: now,
          autocomplete: 'off',
          spellcheck: 'false',
          inputmode: q.figure.plain ? 'numeric' : 'text',
          'aria-describedby': 'answer-hint answer-trouble',
          'aria-invalid': trouble ? 'true' : null,
          placeholder: q.figure.example,
        });
    const set = (value) => {
      draft.answers[q.key] = value;
      keep(draft);
    };
    input?.addEventListener('input', () => set(input.value));
    const next = async () => {
      const value = (draft.answers[q.key] ?? '').trim();
      if (q.must && value === '')
        return show(
          `This one is needed: without it there is nothing to judge. Write it as printed, such as ${q.figure.example}.`,
        );
      if (!q.choices && value !== '') {
        const { here } = await complaintsAt(q);
        if (here.length > 0) return show(here.map((c) => c.message).join(' '));
      }
      if (draft.step + 1 < list.length) {
        draft.step += 1;
        keep(draft);
        return show();
      }
      const { all, written } = await complaintsAt(q);
      if (all.length === 0) return done(written);
      // A contradiction between two answers: back to the first of them, with the reader's words.
      for (const c of all) {
        const at = keyAt(written, c.line);
        const step = list.findIndex((one) => at && one.key === at.key && placeOf(one) === at.table);
        if (step >= 0) {
          draft.step = step;
          return show(c.message);
        }
      }
      return show(all.map((c) => c.message).join(' '));
    };
    const back = () => {
      if (draft.step === 0) return leave();
      draft.step -= 1;
      keep(draft);
      return show();
    };
    const skip = () => {
      set('');
      return next();
    };
    const heading = el('h2', { id: 'question', tabindex: '-1' }, q.title);
    const choices =
      q.choices &&
      (q.choices.length > 8
        ? el(
            'select',
            { id: 'answer-field', 'aria-labelledby': 'question', onchange: (e) => set(e.target.value) },
            [['', 'Choose one'], ...q.choices].map(([value, words]) =>
              el('option', { value, selected: value === now }, words),
            ),
          )
        : el(
            'div',
            { class: 'choices', role: 'group', 'aria-labelledby': 'question' },
            q.choices.map(([value, words]) =>
              el(
                'button',
                {
                  type: 'button',
                  class: 'choice',
                  'aria-pressed': String(value === now && draft.answers[q.key] !== undefined),
                  onclick: () => (set(value), next()),
                },
                words,
              ),
            ),
          ));
    const form = el(
      'form',
      { class: 'ask', novalidate: true, onsubmit: (e) => (e.preventDefault(), next()) },
      el('p', { class: 'progress' }, `Question ${draft.step + 1} of ${list.length}`),
      el('progress', { max: list.length, value: draft.step, 'aria-label': 'Questions answered' }),
      heading,
      q.figure?.marks ? el('p', { class: 'marks' }, `Printed as: ${q.figure.marks}`) : null,
      el(
        'div',
        { class: 'answer-row' },
        input ? el('label', { class: 'grow' }, el('span', { class: 'unseen' }, q.title), input) : choices,
      ),
      el(
        'p',
        { id: 'answer-hint', class: 'hint' },
        q.hint ??
          (input
            ? `Write it as it is printed, such as ${q.figure.example}.${q.figure.unit ? ` A number alone counts as ${q.figure.unit}.` : ''}`
            : ''),
      ),
      el('p', { id: 'answer-trouble', class: 'trouble', role: 'alert' }, trouble ?? ''),
      el(
        'div',
        { class: 'buttons' },
        el('button', { type: 'button', onclick: back }, 'Back'),
        q.must || (q.choices && q.key !== 'over_current')
          ? null
          : el('button', { type: 'button', onclick: skip }, 'Not printed: skip'),
        input || q.choices?.length > 8
          ? el('button', { type: 'submit', class: 'main' }, draft.step + 1 < list.length ? 'Next' : 'Show the verdict')
          : null,
      ),
    );
    put(host, form, el('div', { class: 'beside' }, labelDrawing(q.label, q.key)));
    const field = host.querySelector('#answer-field');
    (field ?? host.querySelector('[aria-pressed="true"], .choice') ?? heading).focus();
    field?.select?.();
  };
  show();
}
