// The figures a label and a manual print: what each is called there, in which unit, and where it usually is printed.

/** unit: what a bare number is taken in; absent where only a unit tells (temperatures, coefficients). */
export const panelFigures = [
  { key: 'pmax', title: 'Maximum power', marks: 'Pmax, Pm, Pmpp', unit: 'W', example: '175 W' },
  { key: 'voc', title: 'Open-circuit voltage', marks: 'Voc, Uoc', unit: 'V', example: '22.5 V' },
  { key: 'vmp', title: 'Voltage at maximum power', marks: 'Vmp, Vmpp, Vpm', unit: 'V', example: '18.6 V' },
  { key: 'isc', title: 'Short-circuit current', marks: 'Isc', unit: 'A', example: '9.8 A' },
  { key: 'imp', title: 'Current at maximum power', marks: 'Imp, Impp, Ipm', unit: 'A', example: '9.4 A' },
  { key: 'voc_coefficient', title: 'Temperature coefficient of Voc', marks: 'TC Voc, β', example: '-0.28 %/K' },
  { key: 'pmax_coefficient', title: 'Temperature coefficient of Pmax', marks: 'TC Pmax, γ', example: '-0.35 %/K' },
  { key: 'isc_coefficient', title: 'Temperature coefficient of Isc', marks: 'TC Isc, α', example: '0.05 %/K' },
  {
    key: 'max_system_voltage',
    title: 'Maximum system voltage',
    marks: 'Max. system voltage',
    unit: 'V',
    example: '600 V',
  },
  {
    key: 'max_series_fuse',
    title: 'Maximum series fuse',
    marks: 'Max. series fuse, over-current rating',
    unit: 'A',
    example: '15 A',
  },
  { key: 'noct', title: 'Nominal operating cell temperature', marks: 'NOCT', example: '45 °C' },
  { key: 'technology', title: 'Kind of cell', marks: 'mono, poly, perc, topcon, cigs …', text: true, example: 'mono' },
  {
    key: 'cells_in_series',
    title: 'Cells in series',
    marks: 'cells; of half-cut cells the rows of one half',
    plain: true,
    example: '36',
  },
  { key: 'bypass_diodes', title: 'Bypass diodes', marks: 'diodes in the box at the back', plain: true, example: '2' },
  { key: 'voc_tolerance', title: 'Tolerance of Voc', marks: '±', unit: '%', example: '3 %' },
  { key: 'isc_tolerance', title: 'Tolerance of Isc', marks: '±', unit: '%', example: '4 %' },
  { key: 'pmax_tolerance', title: 'Tolerance of Pmax', marks: '±', unit: '%', example: '3 %' },
  { key: 'weak_light_efficiency', title: 'Efficiency at 200 W/m²', marks: 'low-light', unit: '%', example: '96 %' },
  { key: 'name', title: 'What reports call it', marks: '', text: true, example: 'Panels on the shed' },
  { key: 'count', title: 'How many you have', marks: '', plain: true, example: '4' },
];

export const inputFigures = [
  {
    key: 'max_voltage',
    title: 'Highest voltage it may ever see',
    marks: 'Max. PV voltage, Voc max, input voltage max',
    unit: 'V',
    example: '60 V',
  },
  {
    key: 'tracking_min',
    title: 'Lowest voltage at which it works',
    marks: 'MPPT range, operating voltage: the lower figure',
    unit: 'V',
    example: '12 V',
  },
  {
    key: 'tracking_max',
    title: 'Highest voltage at which it works',
    marks: 'MPPT range: the upper figure',
    unit: 'V',
    example: '55 V',
  },
  { key: 'start_voltage', title: 'Voltage it needs to wake up', marks: 'start voltage', unit: 'V', example: '14 V' },
  { key: 'max_current', title: 'Most current it takes', marks: 'Max. input current', unit: 'A', example: '12 A' },
  { key: 'max_power', title: 'Most power it takes', marks: 'Max. input power', unit: 'W', example: '500 W' },
  {
    key: 'max_short_circuit_current',
    title: 'Most short-circuit current of the array',
    marks: 'Max. PV Isc',
    unit: 'A',
    example: '20 A',
  },
  {
    key: 'max_array_power',
    title: 'Most watts of panels the manual allows',
    marks: 'Max. array power',
    unit: 'W',
    example: '800 W',
  },
  { key: 'plug_rating', title: 'Rating of the plug', marks: '', unit: 'A', example: '30 A' },
  {
    key: 'over_current',
    title: 'What the manual says of an array that could give more',
    marks: 'clips, or do-not-exceed',
    text: true,
    example: 'clips',
    choices: ['clips', 'do-not-exceed'],
  },
  { key: 'name', title: 'Name of the input', marks: '', text: true, example: 'PV1' },
];

export const siteFigures = [
  { key: 'coldest_air', title: 'Coldest air of the place', marks: 'the coldest morning on record', example: '-18 °C' },
  {
    key: 'coldest_basis',
    title: 'Where that comes from',
    marks: '',
    text: true,
    example: 'record',
    choices: ['record', 'mean-extreme', 'forecast', 'fifty-year'],
  },
  { key: 'hottest_air', title: 'Hottest air of the place', marks: '', example: '36 °C' },
  {
    key: 'hottest_basis',
    title: 'Where that comes from',
    marks: '',
    text: true,
    example: 'record',
    choices: ['record', 'mean-extreme', 'forecast', 'fifty-year'],
  },
  { key: 'warm_air', title: 'A warm day, by which wirings are ranked', marks: '', example: '25 °C' },
  { key: 'peak_irradiance', title: 'Strongest light on the panels', marks: '', unit: 'W/m²', example: '1000 W/m²' },
  {
    key: 'mounting',
    title: 'How air gets behind the panels',
    marks: '',
    text: true,
    example: 'open-rack',
    choices: ['open-rack', 'close-to-roof', 'propped-up', 'flat-on-ground'],
  },
  {
    key: 'code',
    title: 'Whose installation rules',
    marks: '',
    text: true,
    example: 'both',
    choices: ['NEC', 'IEC', 'both'],
  },
];

export const controllerFigures = [
  {
    key: 'name',
    title: 'Name of the controller or power station',
    marks: '',
    text: true,
    example: 'Station in the shed',
  },
  {
    key: 'type',
    title: 'How it works',
    marks: '',
    text: true,
    example: 'wide-range',
    choices: ['wide-range', 'step-down', 'step-up', 'direct-connect'],
  },
  { key: 'max_total_power', title: 'Most power over all inputs', marks: '', unit: 'W', example: '1000 W' },
  { key: 'efficiency', title: 'Efficiency', marks: '', unit: '%', example: '96 %' },
];

/**
 * What a person typed, as the set-up's reader takes it: a decimal comma becomes a point, a bare number gets the unit the
 * question asked for. Everything else is left for the reader to judge, whose complaint is shown at the field.
 */
export function asTyped(figure, typed) {
  let text = typed.trim();
  // "22,5 V" is a decimal; "1,000 W" may be a thousand, and is left for the reader to ask about.
  text = text.replace(/^([-−+]?\d+),(\d{1,2}|\d{4,})(?!\d)/, '$1.$2');
  if (figure.unit && /^[-−+]?\d+(\.\d+)?$/.test(text)) text += ` ${figure.unit}`;
  return text;
}

/** The same as a TOML value. */
export function asValue(figure, typed) {
  const text = asTyped(figure, typed);
  if (figure.plain && /^\d+$/.test(text)) return text;
  return JSON.stringify(text);
}
