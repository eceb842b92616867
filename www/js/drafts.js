// Drafts of the record: what was typed, step by step, and the copy of it that this browser keeps.
// Text only; never a waveform.
'use strict';

const KEPT = 'focalsheet-draft:';

class Drafts {
  constructor() {
    this.forget();
  }

  // Nothing is typed; nothing kept is touched.
  forget() {
    this.past = [];
    this.now = null;
    this.future = [];
  }

  begin(text) {
    if (this.now === null) this.now = text;
  }

  push(text) {
    if (text === this.now) return;
    this.past.push(this.now);
    this.now = text;
    this.future = [];
  }

  // The draft before the present one, or after it; null where there is none.
  step(back) {
    const [from, to] = back ? [this.past, this.future] : [this.future, this.past];
    if (from.length === 0) return null;
    to.push(this.now);
    this.now = from.pop();
    return this.now;
  }

  get canUndo() {
    return this.past.length > 0;
  }

  get canRedo() {
    return this.future.length > 0;
  }
}

// Kept drafts by the names and sizes of their files. A browser that keeps nothing is none the worse.
const kept = {
  key: (files) => KEPT + JSON.stringify(files.example ? 'example' : files.list.map(({ name, size }) => [name, size]).sort()),

  put(files, text, name) {
    const about = { files: files.example ? null : files.list.map(({ name: file, size }) => [file, size]), text, name, at: Date.now() };
    try {
      localStorage.setItem(kept.key(files), JSON.stringify(about));
    } catch {
      // Full or forbidden.
    }
  },

  read(key) {
    try {
      const found = JSON.parse(localStorage.getItem(key));
      return found && typeof found.text === 'string' ? { ...found, key } : null;
    } catch {
      return null;
    }
  },

  of: (files) => kept.read(kept.key(files)),

  // The latest one.
  latest() {
    try {
      const all = Object.keys(localStorage).filter((key) => key.startsWith(KEPT)).map(kept.read).filter(Boolean);
      return all.sort((a, b) => b.at - a.at)[0] ?? null;
    } catch {
      return null;
    }
  },

  clear(key) {
    try {
      localStorage.removeItem(key);
    } catch {
      // Nothing was kept.
    }
  },
};
