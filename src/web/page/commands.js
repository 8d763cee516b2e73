// What can be asked of a set-up: each line is a command of the program, with the few choices a page offers for it. A
// new command is one more line here; its report comes from the library.

const text = (option, title, example = '') => ({ option, title, example });
const tick = (option, title) => ({ option, title, tick: true });
const pick = (option, title, ...choices) => ({ option, title, choices });
const lines = (option, title, example) => ({ option, title, example, lines: true });
const input = (title) => ({ option: '--input', title, inputs: true });
/** What few ask for: folded away until it is wanted. */
const more = (...choices) => choices.map((c) => ({ ...c, more: true }));

const order = pick('--by', 'In the order of', ['', 'watts'], ['year', 'the energy of a year'], ['day', 'the energy of a day']);
const longest = text('--seconds', 'Seconds to search at most', '10');
const whichDay = text('--day', 'Which day, for the energy of a day', 'longest');
const fileClock = [
  pick('--stamps', 'Times in the weather file are', ['', 'as its kind has them'], ['begin', 'beginnings'], ['end', 'ends']),
  tick('--wall-clock', 'They follow the clock on the wall, summer time and all'),
];
const sunModels = [
  pick('--sky', 'Light of the sky by', ['', 'the usual way'], ['isotropic'], ['hay-davies'], ['perez']),
  pick('--glass', 'Loss at the glass by', ['', 'the usual way'], ['none'], ['ashrae'], ['physical'], ['martin-ruiz']),
  pick('--warmth', 'Warmth of the cells by', ['', 'the usual way'], ['nominal'], ['faiman'], ['exponential']),
];

const weather = [
  ['', 'as in the set-up'],
  ['cold-bright', 'cold and bright'],
  ['stc', 'test conditions'],
  ['warm-bright', 'warm and bright'],
  ['hot-bright', 'hot and bright'],
  ['weak-light', 'weak light'],
];

/**
 * needs: 'wiring' or a file of the person's; slow: runs in the worker for searches; pictures: of --picture; line: the words
 * of the command line before its file, where they are not the id alone; catalogue: of many panels and controllers.
 */
export const commands = [
  {
    id: 'check',
    title: 'The verdict in full',
    ask: 'May it be connected, and what does it take?',
    needs: 'wiring',
    pictures: ['window-map', 'wiring'],
    choices: more(input('Whose picture')),
  },
  {
    id: 'arrange',
    title: 'Every wiring',
    ask: 'Which wiring of these panels is best, and why not another?',
    slow: true,
    pictures: ['window-map', 'wiring', 'trade-offs'],
    choices: [
      text('--top', 'How many to show', '10'),
      order,
      tick('--trade-offs', 'Show what you may prefer for other reasons'),
      tick('--all', 'Show the dangerous ones too'),
      lines('--why', 'Why not this wiring?', 'PV1=2s1p; PV2=4s1p'),
      ...more(whichDay, longest, input('Whose picture')),
    ],
    file: { option: '--weather', title: 'A weather file, for the energy of a year or a day', optional: true },
  },
  {
    id: 'curve',
    title: 'The curve',
    ask: 'How do current and power run over the voltage?',
    needs: 'wiring',
    pictures: [''],
    csv: true,
    netlist: true,
    choices: [
      pick('--when', 'In which weather', ...weather),
      text('--sun', 'Or in this light', '800 W/m²'),
      text('--cell', 'with cells at', '45 °C'),
      input('Of this input only'),
      ...more(
        text('--air', 'or in air of', '25 °C'),
        text('--points', 'Points of each curve', '101'),
        text('--at', 'Or at these volts only', '40, 45.5'),
      ),
    ],
  },
  {
    id: 'match',
    title: 'What the input wants',
    ask: 'Which panels would suit this input?',
    slow: true,
    pictures: [''],
    choices: [text('--up-to', 'At most so many panels', '12')],
  },
  {
    id: 'pairs',
    line: ['match'],
    title: 'Panels × inputs',
    ask: 'Of many panels and many inputs, which go together best?',
    slow: true,
    pictures: ['window-map', 'wiring'],
    csv: true,
    catalogue: true,
    choices: [
      pick(
        '--by',
        'What comes first',
        ['', 'watts over a year’s light'],
        ['cost', 'watts for the money'],
        ['fill', 'what suits the input’s size'],
      ),
      pick(
        '--only',
        'List only pairs',
        ['', 'that can be used'],
        ['ready', 'with nothing to add'],
        ['fits', 'of which all is taken'],
        ['proven', 'that are proven'],
      ),
      text('--up-to', 'At most so many of each panel', '4'),
      text('--on-hand', 'Or so many of each are there', ''),
      lines('--why', 'Why is this pair not the first?', 'roof-430 on box'),
      ...more(
        lines('--keep', 'Panels that are there and stay', 'roof.toml=3'),
        text('--top', 'How many to list', '10'),
        tick('--every', 'Solve every pair, also those that cannot be on the list'),
      ),
    ],
    file: { option: '--prices', title: 'A table of prices (CSV: file, price, currency)', optional: true },
  },
  { id: 'parts', title: 'Parts', ask: 'What has to be bought?', needs: 'wiring', csv: true },
  { id: 'steps', title: 'Order of work', ask: 'What is done first, and what is live when?', needs: 'wiring' },
  {
    id: 'expect',
    title: 'At the meter',
    ask: 'What must a meter show right now, and what does another reading mean?',
    needs: 'wiring',
    choices: [
      text('--air', 'Air in the shade', '31 °C'),
      text('--cell', 'Or the back of a panel', '47 °C'),
      text('--sun', 'Light in the panels’ plane', '820'),
      lines('--read', 'What the meter shows, one reading a line', 'string 1 voc 43.5 V'),
      ...more(
        text('--meter-accuracy', 'Error of the meter, ±%', '1'),
        text('--display-accuracy', 'Error of the display, ±%', '3'),
        text('--sun-accuracy', 'Error of the light sensor, ±%', '5'),
        text('--temperature-accuracy', 'Error of the thermometer, ±K', '2'),
      ),
    ],
  },
  {
    id: 'harvest',
    title: 'The year',
    ask: 'What does it bring over a year, a month or a day?',
    needs: 'wiring',
    slow: true,
    pictures: ['', 'day', 'year', 'carpet'],
    csv: true,
    choices: [
      text('--day', 'One day', 'december'),
      text('--month', 'Or one month', 'june'),
      ...more(tick('--year', 'The whole year, month by month'), ...fileClock, ...sunModels, longest),
    ],
    file: { option: '--weather', title: 'A weather file (EPW or CSV); clear days without one', optional: true },
  },
  {
    id: 'charge',
    title: 'The battery',
    ask: 'When is the battery full?',
    needs: 'wiring',
    slow: true,
    pictures: [''],
    csv: true,
    choices: [
      text('--from', 'How full it is at first', '20 %'),
      text('--to', 'How full it is to be', 'full'),
      text('--day', 'On which day', '12-21'),
      text('--at', 'From which hour', '08:00'),
      text('--wall', 'With a charger at the wall', '600 W'),
      ...more(...fileClock, ...sunModels),
    ],
    file: { option: '--weather', title: 'A weather file (EPW or CSV); clear days without one', optional: true },
  },
  {
    id: 'compare',
    title: 'Side by side',
    ask: 'How does this set-up stand beside others?',
    slow: true,
    csv: true,
    others: true,
    choices: [
      tick('--as-wired', 'As each is wired, instead of its best wiring'),
      order,
      ...more(whichDay, longest),
    ],
    file: { option: '--weather', title: 'A weather file, for the energy of a year or a day', optional: true },
  },
  {
    id: 'explain',
    title: 'A log',
    ask: 'Why does the log show what it shows?',
    needs: 'wiring',
    slow: true,
    pictures: [''],
    csv: true,
    file: { title: 'The log, as CSV' },
    choices: [
      input('The input that was logged'),
      lines('--column', 'Columns by hand', 'wall=AC in'),
      ...more(
        text('--clock-ahead', 'The logger’s clock was ahead by', '3 min'),
        tick('--wall-clock', 'Its times follow the clock on the wall, summer time and all'),
        text('--display', 'Watts below which the display may show nothing', '2'),
        text('--volt-accuracy', 'Error of the volts, ±%', '1'),
        text('--amp-accuracy', 'Error of the amps, ±%', '2'),
        text('--watt-accuracy', 'Error of the watts, ±%', '3'),
        text('--sun-accuracy', 'Error of the light sensor, ±%', '10'),
        text('--temperature-accuracy', 'Error of the thermometers, ±K', '4'),
      ),
    ],
  },
  {
    id: 'sheet',
    line: ['learn', '--plan'],
    title: 'Before a bench sweep',
    ask: 'Which voltages does a bench session take, in which order, and when does it stop?',
    csv: 'Sheet to fill in (CSV)',
    choices: [{ ...input('Which input'), needed: true }],
  },
  {
    id: 'learn',
    title: 'A bench sweep',
    ask: 'What does an input really take?',
    slow: true,
    pictures: [''],
    csv: true,
    out: true,
    first: true,
    file: { title: 'The sweep, as CSV' },
    choices: [
      tick('--against', 'Beside the limits of this set-up'),
      { ...input('Which of its inputs'), with: '--against' },
      text('--supply-limit', 'The supply was set to, A', '10'),
      text('--accuracy', 'Error of the meters, ±%', '1'),
      ...more(
        lines('--resolution', 'Steps of the readings, one a line', '0.5 A'),
        tick('--cut-off', 'The display cuts digits off instead of rounding'),
        lines('--column', 'Columns by hand', 'display-watts=Screen'),
      ),
    ],
  },
  {
    id: 'climate',
    title: 'How cold it gets',
    ask: 'How cold and how hot is the place, by a station’s daily record?',
    slow: true,
    alone: true,
    file: { title: 'The station’s record (.dly or CSV)' },
    choices: more(
      text('--station', 'Which station, of several', ''),
      tick('--south', 'It is in the southern hemisphere, where the file does not say'),
      tick('--north', 'It is in the northern one'),
    ),
  },
  { id: 'panel', title: 'One panel', ask: 'What is made of one datasheet?', panel: true },
];

/** Options that no tab has, each with where its work is done instead. */
export const elsewhere = {
  '--help': 'the page itself',
  '--wiring': 'the strings on the bench',
  '--json': 'a button',
  '--csv': 'a button',
  '--netlist': 'a button',
  '--page': 'the report, and a button',
  '--svg': 'a button',
  '--picture': 'a button for each',
  '--dated': 'the page that is saved',
  '--full': 'folded away in each report',
  '--colour': 'of a terminal',
  '--plot': 'of a terminal: letters as a picture',
  '--lines': 'a stream for other programs; JSON has the same pairs',
  '--out': 'a button',
  '--force': 'a browser asks where to save',
  '--plan': 'a tab of its own',
  '--site': 'the place of the set-up',
};

/**
 * The command line for a set-up at `path`. @param answers by option @param files {own, others, catalogue}: the name of the
 * person's file, of set-ups, of panels and controllers
 */
export function argumentsOf(command, path, answers, files) {
  const args = [...(command.line ?? [command.id])];
  if (command.catalogue) args.push(...files.catalogue, '--site', path);
  else if (command.file && command.first) args.push(files.own);
  else if (command.alone) args.push(files.own);
  else if (command.panel) args.push(files.own);
  else args.push(path);
  if (command.others) args.push(...(files.others ?? []));
  if (command.file && !command.first && !command.alone && files.own)
    args.push(...(command.file.option ? [command.file.option, files.own] : [files.own]));
  for (const choice of command.choices ?? []) {
    const value = (answers[choice.option] ?? '').toString().trim();
    if (value === '' || value === 'false') continue;
    if (choice.with && !answers[choice.with]) continue;
    if (choice.option === '--against') args.push('--against', path);
    else if (choice.tick) args.push(choice.option);
    else if (choice.lines)
      for (const line of value.split('\n')) line.trim() !== '' && args.push(choice.option, line.trim());
    else args.push(choice.option, value);
  }
  return args;
}
