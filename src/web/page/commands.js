// What can be asked of a set-up: each line is a command of the program, with the few choices a page offers for it. A
// new command is one more line here; its report comes from the library.

const text = (option, title, example = '') => ({ option, title, example });
const tick = (option, title) => ({ option, title, tick: true });
const pick = (option, title, ...choices) => ({ option, title, choices });
const lines = (option, title, example) => ({ option, title, example, lines: true });

const weather = [
  ['', 'as in the set-up'],
  ['cold-bright', 'cold and bright'],
  ['stc', 'test conditions'],
  ['warm-bright', 'warm and bright'],
  ['hot-bright', 'hot and bright'],
  ['weak-light', 'weak light'],
];

/** needs: 'wiring' or a file of the person's; slow: runs in the worker for searches; pictures: of --picture. */
export const commands = [
  {
    id: 'check',
    title: 'The verdict in full',
    ask: 'May it be connected, and what does it take?',
    needs: 'wiring',
    pictures: ['window-map', 'wiring'],
  },
  {
    id: 'arrange',
    title: 'Every wiring',
    ask: 'Which wiring of these panels is best, and why not another?',
    slow: true,
    pictures: ['window-map', 'wiring', 'trade-offs'],
    choices: [
      text('--top', 'How many to show', '10'),
      pick('--by', 'In the order of', ['', 'watts'], ['year', 'the energy of a year'], ['day', 'the energy of a day']),
      tick('--trade-offs', 'Show what you may prefer for other reasons'),
      tick('--all', 'Show the dangerous ones too'),
      lines('--why', 'Why not this wiring?', 'PV1=2s1p; PV2=4s1p'),
    ],
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
      text('--input', 'Of this input only', 'PV1'),
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
    choices: [text('--day', 'One day', 'december'), text('--month', 'Or one month', 'june')],
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
      pick('--by', 'In the order of', ['', 'watts'], ['year', 'the energy of a year']),
    ],
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
    choices: [text('--input', 'The input that was logged', 'PV1'), lines('--column', 'Columns by hand', 'wall=AC in')],
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
      text('--input', 'Which of its inputs', 'PV1'),
      text('--supply-limit', 'The supply was set to, A', '10'),
      text('--accuracy', 'Error of the meters, ±%', '1'),
    ],
  },
  {
    id: 'climate',
    title: 'How cold it gets',
    ask: 'How cold and how hot is the place, by a station’s daily record?',
    slow: true,
    alone: true,
    file: { title: 'The station’s record (.dly or CSV)' },
  },
  { id: 'panel', title: 'One panel', ask: 'What is made of one datasheet?', panel: true },
];

/** The command line for a set-up at `path`. @param answers by option; `file` is the name of the person's file. */
export function argumentsOf(command, path, answers, files) {
  const args = [command.id];
  if (command.file && command.first) args.push(files.own);
  else if (command.alone) args.push(files.own);
  else if (command.panel) args.push(files.own);
  else args.push(path);
  if (command.others) args.push(...(files.others ?? []));
  if (command.file && !command.first && !command.alone && files.own)
    args.push(...(command.file.option ? [command.file.option, files.own] : [files.own]));
  for (const choice of command.choices ?? []) {
    const value = (answers[choice.option] ?? '').toString().trim();
    if (value === '' || value === 'false') continue;
    if (choice.option === '--against') args.push('--against', path);
    else if (choice.tick) args.push(choice.option);
    else if (choice.lines)
      for (const line of value.split('\n')) line.trim() !== '' && args.push(choice.option, line.trim());
    else args.push(choice.option, value);
  }
  return args;
}
