// The workers: one judges what is on the page, one searches and reads logs. A worker that falls over is replaced, with
// every file it had; the page and what was typed stay.

const limit_ms = { judge: 30000, search: 180000 };

function fromText(source) {
  const url = URL.createObjectURL(new Blob([source], { type: 'text/javascript' }));
  const worker = new Worker(url);
  URL.revokeObjectURL(url);
  return worker;
}

class Engine {
  constructor(name, source, code, ready = null) {
    this.name = name;
    this.source = source;
    this.code = code;
    this.files = {};
    this.waiting = new Map();
    this.next = 1;
    this.worker = null;
    this.ready = ready; // a worker of this source that was started before
  }

  /** Lays files on the worker's shelf, and on that of every worker after it. */
  put(files) {
    Object.assign(this.files, files);
    if (this.worker) this.send('put', { files });
  }

  start() {
    this.worker = this.ready ?? fromText(this.source);
    this.ready = null;
    this.worker.onmessage = ({ data }) => {
      const wait = this.waiting.get(data.id);
      this.waiting.delete(data.id);
      if (!wait) return;
      clearTimeout(wait.clock);
      if (data.fault === undefined) wait.resolve(data.reply);
      else this.fall(data.fault, wait);
    };
    this.worker.onerror = (e) => this.fall(e.message ?? 'the worker stopped');
    this.post('open', { code: this.code }).catch(() => {});
    if (Object.keys(this.files).length > 0) this.post('put', { files: this.files }).catch(() => {});
  }

  post(verb, message) {
    return new Promise((resolve, reject) => {
      const id = this.next++;
      const clock = setTimeout(() => this.fall('it took too long'), limit_ms[this.name]);
      this.waiting.set(id, { resolve, reject, clock });
      this.worker.postMessage({ id, verb, message });
    });
  }

  send(verb, message) {
    if (!this.worker) this.start();
    return this.post(verb, message);
  }

  /** Ends the worker: whoever waits for it gets the reason, and the next request gets a new one. */
  fall(why, first) {
    this.worker?.terminate();
    this.worker = null;
    const all = [...(first ? [first] : []), ...this.waiting.values()];
    this.waiting.clear();
    for (const wait of all) {
      clearTimeout(wait.clock);
      wait.reject(new Error(why));
    }
  }
}

/** The two workers. `parts` are the texts that the page carries. */
export function engines(parts) {
  const judge = new Engine('judge', parts.worker, parts.module, parts.ready);
  const search = new Engine('search', parts.worker, parts.module);
  let pending = null;
  let busy = false;

  // Only the newest question is worth an answer: what was asked while the worker was busy is overtaken.
  const turn = async () => {
    if (busy || !pending) return;
    const { message, resolve, reject } = pending;
    pending = null;
    busy = true;
    try {
      resolve(await judge.send('judge', message));
    } catch (e) {
      reject(e);
    }
    busy = false;
    turn();
  };
  return {
    judge: (message) =>
      new Promise((resolve, reject) => {
        pending?.resolve(null);
        pending = { message, resolve, reject };
        turn();
      }),
    check: (args, options) => judge.send('run', { args, options }),
    run: (args, options) => search.send('run', { args, options }),
    stop: () => search.fall('stopped'),
    put(files) {
      judge.put(files);
      search.put(files);
    },
    warm: () => judge.worker ?? judge.start(),
  };
}
