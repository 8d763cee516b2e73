// Wirings in words, as reports and the command line write them.
import { app } from './app.js';
import { keyed, quoted } from './document.js';
import { withWiring } from './wiring_lines.js';

/** "PV1 = 2s1p; PV2 = unused", as reports write a wiring, as the lines of [wiring]. */
export function wiringFrom(words, firstInput) {
  const lines = ['[wiring]'];
  for (const one of words.split(';')) {
    const at = one.lastIndexOf('=');
    const name = at < 0 ? firstInput : one.slice(0, at).trim();
    lines.push(`${keyed(name)} = ${quoted(one.slice(at + 1).trim())}`);
  }
  return lines;
}

/** Lays such a wiring on the bench. */
export function useWiring(words) {
  app.store.set(withWiring(app.store.text, wiringFrom(words, app.latest.outline.setup.inputs[0].name)));
}
