// The one state there is: the text of the set-up, with its past and future. Kept in the browser until it is forgotten.

const slot = 'plait.set-up';
const most_steps = 200;

function kept() {
  try {
    return JSON.parse(localStorage.getItem(slot)) ?? {};
  } catch {
    return {};
  }
}

/** @param {(why: string) => void} changed is called after every change of the text. */
export function makeStore(changed) {
  const state = { text: '', name: 'set-up.toml', draft: null, past: [], future: [], ...kept() };
  let later = 0;
  const keep = () => {
    clearTimeout(later);
    later = setTimeout(keepNow, 150);
  };
  const keepNow = () => {
    clearTimeout(later);
    try {
      const { text, name, draft, past, future } = state;
      if (text === '' && !draft) localStorage.removeItem(slot);
      else
        localStorage.setItem(
          slot,
          JSON.stringify({ text, name, draft, past: past.slice(-40), future: future.slice(-40) }),
        );
    } catch {
      // A browser that keeps nothing: the page works all the same, and the save button is there.
    }
  };
  addEventListener('pagehide', keepNow);
  let stroke = null; // a drag is one step back, however many texts it passes
  return {
    get text() {
      return state.text;
    },
    get name() {
      return state.name;
    },
    get draft() {
      return state.draft;
    },
    get canUndo() {
      return state.past.length > 0;
    },
    get canRedo() {
      return state.future.length > 0;
    },
    /** Sets the text. Changes of one `stroke` (any value but null) are one step of undo. */
    set(text, { name, why = 'edit', of = null } = {}) {
      if (name) state.name = name;
      if (text === state.text) return;
      if (of === null || of !== stroke) state.past.push(state.text);
      if (state.past.length > most_steps) state.past.shift();
      stroke = of;
      state.future = [];
      state.text = text;
      keep();
      changed(why);
    },
    endStroke() {
      stroke = null;
    },
    setDraft(draft) {
      state.draft = draft;
      keep();
    },
    undo() {
      if (state.past.length === 0) return;
      state.future.push(state.text);
      state.text = state.past.pop();
      stroke = null;
      keep();
      changed('undo');
    },
    redo() {
      if (state.future.length === 0) return;
      state.past.push(state.text);
      state.text = state.future.pop();
      stroke = null;
      keep();
      changed('redo');
    },
    forget() {
      Object.assign(state, { text: '', name: 'set-up.toml', draft: null, past: [], future: [] });
      clearTimeout(later);
      try {
        localStorage.removeItem(slot);
      } catch {
        // nothing was kept
      }
      changed('forget');
    },
  };
}

const link_version = 1;

async function through(stream, bytes) {
  return new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(stream)).arrayBuffer());
}

/** The part of a link after #: version, then the set-up, deflated, in base64 for addresses. */
export async function linkPart(text) {
  const bytes = await through(
    new CompressionStream('deflate-raw'),
    new TextEncoder().encode(JSON.stringify({ setup: text })),
  );
  let code = '';
  for (const b of bytes) code += String.fromCharCode(b);
  return `p${link_version}=${btoa(code).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '')}`;
}

/** What a link's part holds. @returns {{text?: string, trouble?: string, note?: string}} */
export async function fromLinkPart(part) {
  const found = /p(\d+)=([A-Za-z0-9_-]+)\s*$/.exec(part.trim());
  if (!found) return { trouble: 'This is no link of this page. Copy all of it, from p1= to its end.' };
  if (Number(found[1]) > link_version) {
    return {
      trouble: `This link was made by a later version of this page (form ${found[1]}; this page reads form ${link_version}). Open it with that version, or ask for the set-up as a file.`,
    };
  }
  try {
    const bytes = Uint8Array.from(atob(found[2].replace(/-/g, '+').replace(/_/g, '/')), (c) => c.charCodeAt(0));
    const data = JSON.parse(new TextDecoder().decode(await through(new DecompressionStream('deflate-raw'), bytes)));
    const unknown = Object.keys(data).filter((k) => k !== 'setup');
    if (typeof data.setup !== 'string')
      return { trouble: 'This link holds no set-up that this page knows. It may come from a later version.' };
    const note =
      unknown.length > 0
        ? `The link also carries ${unknown.join(', ')}, which a later version wrote and this page does not know; it is left out.`
        : undefined;
    return { text: data.setup, note };
  } catch {
    return { trouble: 'This link is damaged: part of it is missing. Copy it again, to its very end.' };
  }
}
