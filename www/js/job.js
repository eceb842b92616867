// One run from files to sheet: open, bands, finish, checksums. A job that is no longer wanted
// falls silent.
'use strict';

// How long a cancelled worker may take to come back with its band, in milliseconds.
const PATIENCE = 150;
// The progress line is worded anew this often, in milliseconds.
const WORDED_EVERY = 150;

// Not a failure: something has to be answered before there can be a sheet.
class Asking extends Error {
  constructor(opened) {
    super();
    this.opened = opened;
  }
}

class Job {
  // `record` takes the place of the files' own.
  constructor({ engine, pool, hashing }, files, { record, onOpen, onAsk } = {}) {
    Object.assign(this, { engine, pool, hashing, files, onOpen, onAsk });
    this.inputs = { example: files.example, files: [...files.list], record };
    this.since = performance.now();
    this.alive = true;
  }

  // Stops sending; cuts off whoever is still busy after a moment.
  async stop() {
    this.alive = false;
    this.pool.stop();
    this.hashing.stop();
    if (this.pool.busy || this.engine.busy) await new Promise((resolve) => setTimeout(resolve, PATIENCE));
    this.pool.cut();
    this.engine.cut();
  }

  async run() {
    state.timings = {};
    state.hashed = false;
    state.settled = true;
    delete document.body.dataset.stale;
    state.json = null;
    setPhase('working');
    paper.hideProblems();
    pick.hide();
    tray.hideFindings();
    tray.showProgress(words.get('reading'));
    tray.say(words.get('reading'));
    this.engine.onStep = (text) => this.alive && state.phase === 'working' && tray.say(text);
    try {
      const opened = await this.open();
      await this.bands(opened);
      await this.finish();
      await this.hash();
    } catch (error) {
      if (this.alive) this.refuse(error);
    }
  }

  mark(step) {
    if (!this.alive) throw new Ended();
    state.timings[step] = performance.now() - this.since;
  }

  async open() {
    const record = await this.engine.load(this.inputs);
    const opened = await this.engine.tell('open');
    this.mark('opened');
    this.opened = opened;
    save.record = opened.record ?? null;
    save.refresh();
    const asks = !opened.ok && (opened.picks.length > 0 || opened.missing.length > 0);
    this.showFiles(asks ? [] : opened.problems);
    if (asks) throw new Asking(opened);
    if (!opened.ok) throw new Refusal(opened.problems);
    // The band workers are given the record that the engine proposed, where none was dropped.
    const used = record && { ...record, text: record.text ?? opened.record };
    this.setup = { inputs: { ...this.inputs, record: used }, plan: opened.plan };
    this.onOpen?.(opened);
    return opened;
  }

  showFiles(problems) {
    const { files } = this.opened ?? { files: [] };
    tray.showFiles(this.inputs.files, files, problems, (name) => this.files.remove(name));
  }

  async bands({ scans }) {
    const bands = scans.flatMap(({ bands: count }, scan) => Array.from({ length: count }, (_, index) => [scan, index]));
    const share = scans.map(({ points, bands: count }) => points / count);
    const all = scans.reduce((sum, { points }) => sum + points, 0);
    let done = 0;
    this.bandsSince = performance.now();
    let worded = 0;
    const kept = [];
    // Hands something to the engine; the job waits for all of it in the end.
    const keep = (call, argument) => {
      const told = this.engine.tell(call, argument);
      told.catch(() => {});
      kept.push(told);
    };
    const step = (scan) => {
      done += share[scan];
      if (!this.alive || performance.now() - worded < WORDED_EVERY) return;
      worded = performance.now();
      this.word(done, all);
    };
    await this.pool.run(bands, {
      setup: this.setup,
      read: (band) => (scans[band[0]].reader ? this.engine.ask('raw', band) : null),
      onPart: ([scan, index], part) => {
        if (!this.alive) return;
        keep('accept', [scan, index, part]);
        step(scan);
      },
      onSkip: ([scan, index]) => {
        if (!this.alive) return;
        keep('skip', [scan, index]);
        step(scan);
      },
    });
    await Promise.all(kept);
    this.mark('bands');
  }

  async word(done, all) {
    const seconds = (performance.now() - this.bandsSince) / 1000;
    const text = await this.engine.ask('progress', [done, all, seconds]).catch(() => null);
    if (text !== null && this.alive && state.phase === 'working') tray.showProgress(text, done / all);
  }

  async finish() {
    tray.showProgress(words.get('finishing'));
    const result = await this.engine.ask('finish', true);
    this.mark('finished');
    state.settled = false;
    setPhase('done');
    tray.hideProgress();
    tray.say(words.get('done'));
    this.show(result);
    this.show(await this.engine.ask('finish'));
    this.mark('settled');
    state.settled = true;
  }

  // The checksums go on the sheet, which is then complete.
  async hash() {
    if (this.inputs.files.length > 0) {
      await this.hashing.run(
        this.inputs.files,
        (name, hex) => this.engine.tell('set_hash', [name, hex]),
        (share) => this.alive && tray.showProgress(words.get('hashing'), share),
      );
      if (!this.alive) return;
      tray.hideProgress();
      this.show(await this.engine.ask('finish'));
    }
    this.mark('hashed');
    state.hashed = true;
    save.refresh();
  }

  // Another language was chosen: the roles of the files are said anew, and the sheet where it is there.
  async speak() {
    if (!this.opened) return;
    this.opened.files = await this.engine.ask('file_roles');
    this.showFiles([]);
    if (state.phase === 'done') this.show(await this.engine.ask('finish'));
  }

  show(result) {
    if (!this.alive) return;
    // What is saved comes with the last of the draws.
    if (result.settled) {
      state.json = result.json;
      save.result = result;
    }
    // The tray first: it asks for its place, and the sheet is not laid out for that.
    tray.showFindings(result.findings);
    tray.showCompared(result.compared);
    paper.showSheet(result);
    if (result.stale) document.body.dataset.stale = result.stale;
    else delete document.body.dataset.stale;
    save.refresh();
  }

  // What has to be told first: how a file is read, or which files belong to a saved sheet.
  ask({ picks, missing, problems }) {
    setPhase('asking');
    tray.hideProgress();
    if (missing.length > 0) paper.showProblems(words.get('saved_files'), missing.map((text) => ({ file: '', text, hint: '' })));
    else this.onAsk?.(picks, problems);
    save.refresh();
  }

  refuse(error) {
    if (error instanceof Asking) {
      this.ask(error.opened);
      return;
    }
    const trapped = [{ file: '', text: words.get('trapped'), hint: words.get('trapped_hint') }];
    const problems = error instanceof Refusal ? error.problems : trapped;
    if (!(error instanceof Refusal)) console.error(error);
    setPhase('refused');
    this.showFiles(problems);
    tray.hideProgress();
    paper.showProblems(words.get('refused'), problems);
    save.refresh();
  }
}
