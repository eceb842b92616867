// Edits of the record: told to the engine, followed by as much computing as they ask for, kept as
// drafts.
'use strict';

// Local time as the record writes it.
const now = () => new Date(Date.now() - new Date().getTimezoneOffset() * 60000).toISOString().slice(0, 19);

// What is out of date is greyed when its successor takes longer than this, in milliseconds.
const GREYED_AFTER = 150;

class Editor {
  // `reload` runs a whole job with a record; `show` puts a result on the paper.
  constructor(engine, { reload, show }) {
    Object.assign(this, { engine, reload, show });
    this.drafts = new Drafts();
    this.turn = 0;
    this.reset();
  }

  // Other files: nothing is typed yet.
  reset() {
    this.drafts.forget();
    blanks.open.clear();
    this.files = null;
    this.name = '';
    this.edited = false;
    this.setUnsaved(false);
    this.refresh();
  }

  // A job opened its files.
  opened(files, { draft, record_name: name }) {
    this.files = files;
    this.name = name;
    this.drafts.begin(draft);
    this.refresh();
  }

  // The record for a job on these files: the kept draft of the same files, or what was typed so far.
  recordFor(files) {
    const found = kept.of(files);
    if (found && !this.edited) {
      this.drafts.forget();
      this.edited = true;
      this.setUnsaved(true);
      this.onTaken?.();
      return { text: found.text, name: found.name, edited: true };
    }
    return this.edited && this.drafts.now !== null ? { text: this.drafts.now, name: this.name, edited: true } : undefined;
  }

  // A draft that the page made with a person's answers.
  take(files, text) {
    this.reset();
    Object.assign(this, { files, edited: true });
    this.drafts.begin(text);
    this.setUnsaved(true);
    kept.put(files, text, '');
    this.refresh();
  }

  fill(path, text, reading = '') {
    return this.change('edit', [path, text, reading, now()]);
  }

  addStated(quantity, text, reading = '') {
    return this.change('add_stated', [quantity, text, reading, now()]);
  }

  pasteStated(text) {
    return this.change('paste_stated', [text, now()]);
  }

  remove(path) {
    return this.change('remove', [path, now()]);
  }

  async change(call, argument) {
    if (state.phase !== 'done') return { ok: false, readings: [], problem: { text: words.get('wait'), hint: '' } };
    this.told = this.engine.tell(call, argument);
    const line = await this.told;
    if (line.ok && call === 'edit') blanks.open.delete(argument[0]);
    if (line.ok && call === 'remove') blanks.moveUp(argument[0]);
    if (line.ok && line.draft !== this.drafts.now) {
      this.drafts.push(line.draft);
      await this.follow(line);
    }
    return line;
  }

  // An edit that the page made with a person's answers.
  takeDraft(text) {
    return this.change('set_draft', text);
  }

  async step(back) {
    // What is being handed in is the latest step.
    await blanks.answered();
    if (back && blanks.takeBack()) return;
    // What stands in a sheet's way may be undone too.
    if (!['done', 'refused', 'cancelled'].includes(state.phase)) return;
    const text = this.drafts.step(back);
    if (text === null) return;
    this.refresh();
    const line = await this.engine.tell('set_draft', text);
    if (line.ok) await this.follow(line);
  }

  // Computes what the edit asks for. The sheet that is there is greyed meanwhile where it is out of date.
  async follow({ tier, record }) {
    const turn = ++this.turn;
    this.edited = true;
    this.setUnsaved(true);
    save.record = record;
    kept.put(this.files, this.drafts.now, this.name);
    this.refresh();
    if (tier === 'read') return this.reload();
    state.settled = false;
    // What comes at once need not be greyed.
    const late = setTimeout(() => {
      document.body.dataset.stale = tier || 'sheet';
    }, GREYED_AFTER);
    const since = performance.now();
    for (const later of [true, false]) {
      const result = await this.engine.ask('finish', later).finally(() => clearTimeout(late));
      if (turn !== this.turn) return;
      if (result.again) return this.reload();
      if (later) state.timings.engine = performance.now() - since;
      state.settled = result.settled;
      this.show(result);
      if (later) state.timings.edited = performance.now() - since;
    }
  }

  setUnsaved(unsaved) {
    this.unsaved = unsaved;
    state.unsaved = unsaved;
  }

  clearKept() {
    if (this.files) kept.clear(kept.key(this.files));
    this.refresh();
  }

  // The words at the tray's foot.
  refresh() {
    const asking = state.phase === 'asking';
    byId('undo').disabled = asking || !(this.drafts.canUndo || blanks.untaken().length > 0);
    byId('redo').disabled = asking || !this.drafts.canRedo;
    byId('clear-draft').hidden = !(this.files && kept.of(this.files));
  }

  listen() {
    byId('undo').addEventListener('click', () => this.step(true));
    byId('redo').addEventListener('click', () => this.step(false));
    byId('clear-draft').addEventListener('click', () => this.clearKept());
    addEventListener('keydown', (event) => {
      const redo = event.shiftKey || event.key.toLowerCase() === 'y';
      if (!(event.ctrlKey || event.metaKey) || !['z', 'y'].includes(event.key.toLowerCase())) return;
      // Inside a text that is being typed the browser's own undo works.
      if (blanks.typing || event.target.matches?.('input')) return;
      event.preventDefault();
      this.step(!redo);
    });
    addEventListener('beforeunload', (event) => {
      if (this.unsaved) event.preventDefault();
    });
  }
}
