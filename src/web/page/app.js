// What all parts of the page share: the one state, the workers, and how something is said.
import { byId, el, put } from './dom.js';
import { engines } from './engine.js';

const { worker, shipped, ready } = globalThis.plaitParts; // unpacked by boot.js
delete globalThis.plaitParts;

export const app = {
  shipped,
  engine: engines({ worker, ready, module: byId('part-module').textContent }),
  store: null, // made by main.js
  latest: null, // the last set-up that could be read: {outline, check, text}
  complaints: null, // of the text as it is
  view: 'check',
  answers: {}, // of every question, by command and option
  tables: {}, // logs, sweeps, weather, by name
  dropped: {}, // panel and controller files that a set-up asked for, by basename
  others: {}, // set-ups to stand beside this one
  catalogue: { files: {}, without: false }, // panels and controllers for a question about many; without those of the set-up
  times: { opened: performance.now(), first: null, judge: [], turn: [] },
  refresh() {}, // set by main.js
};
globalThis.plaitTimes = app.times;
app.engine.warm();

let sayLater = 0;
export function say(words, after = 0) {
  clearTimeout(sayLater);
  sayLater = setTimeout(() => (byId('live').textContent = words), after);
}
export function notice(...children) {
  byId('notice').hidden = children.length === 0;
  put(
    byId('notice'),
    ...children,
    children.length > 0 ? el('button', { type: 'button', class: 'small', onclick: () => notice() }, 'Close') : null,
  );
}
export function fault(error) {
  if (error?.message === 'stopped') return;
  byId('fault').hidden = false;
  put(
    byId('fault'),
    `The calculation fell over (${error?.message ?? error}). What you typed is all still here. Try again, or change the last figure; if it happens again, save the set-up and send it in with a report. `,
    el(
      'button',
      { type: 'button', class: 'small', onclick: () => ((byId('fault').hidden = true), app.refresh()) },
      'Try again',
    ),
  );
}

export const today = () => {
  const now = new Date();
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, '0')}-${String(now.getDate()).padStart(2, '0')}`;
};
