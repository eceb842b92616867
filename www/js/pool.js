// The band workers. Each has one band at a time; the next goes to whoever is free. The bands
// follow from the scans alone, so their number and results do not depend on the workers.
'use strict';

class Pool {
  constructor(workshop) {
    this.workshop = workshop;
    this.lines = [];
    this.round = null;
  }

  get busy() {
    return this.lines.some((line) => line?.busy);
  }

  // How many workers to use: as many as the machine has cores, one to six; the engine has little to do
  // meanwhile. Tests may ask for another number with `#workers=7` in the address.
  static wanted() {
    const asked = Number(new URLSearchParams(location.hash.slice(1)).get('workers'));
    if (Number.isInteger(asked) && asked >= 1 && asked <= 16) return asked;
    return Math.max(1, Math.min(navigator.hardwareConcurrency || 2, 6));
  }

  // Works through `bands` ([scan, index] each). `setup` is what the workers need to know first:
  // the inputs and the plan. `read(band)` gives the waveforms of a band that workers do not read
  // themselves (in order: such files are dear to read in any other), null for the others. Calls
  // `onPart(band, part)`, or `onSkip(band)` for a band that broke two workers.
  async run(bands, { setup, read, onPart, onSkip }) {
    const round = { queue: bands.values(), setup, read, onPart, onSkip, stopped: false };
    this.round = round;
    const count = Math.min(state.workers, bands.length);
    await Promise.all(Array.from({ length: count }, (_, place) => this.work(place, round)));
    if (round.stopped) throw new Ended();
  }

  async work(place, round) {
    try {
      await this.prepare(place, round.setup);
      let next = this.next(round);
      while (next) {
        if (round.stopped) return;
        const { band, waveforms } = next;
        // Read ahead, while this one is computed.
        next = this.next(round);
        const part = await this.attempt(place, band, waveforms, round);
        if (part) round.onPart(band, part);
        else round.onSkip(band);
      }
    } catch (error) {
      // The others need not go on for nothing.
      round.stopped = true;
      throw error;
    }
  }

  next(round) {
    const { value: band, done } = round.queue.next();
    if (done) return null;
    const waveforms = round.read(band);
    // Told where it is awaited.
    waveforms?.catch(() => {});
    return { band, waveforms };
  }

  // A band's result; null when two workers broke on it.
  async attempt(place, band, waveforms, { setup, read }) {
    for (let tries = 0; tries < 2; tries++) {
      try {
        const given = await (tries === 0 ? waveforms : read(band));
        if (!given) return await this.lines[place].ask('band', band);
        return await this.lines[place].ask('band_of', [...band, given], [given.buffer]);
      } catch (error) {
        if (!(error instanceof Trap)) throw error;
        await this.prepare(place, setup);
      }
    }
    return null;
  }

  // Lays the files and the plan into a worker, a new one where there is none that works.
  async prepare(place, { inputs, plan }) {
    if (!this.lines[place] || this.lines[place].closed) this.lines[place] = new Line(this.workshop);
    await this.lines[place].ask('load', inputs);
    await this.lines[place].ask('resume', plan);
  }

  // New workers from now on.
  renew() {
    for (const line of this.lines) line?.close();
  }

  // No band is sent any more.
  stop() {
    if (this.round) this.round.stopped = true;
  }

  // Cuts off whoever is still busy.
  cut() {
    for (const line of this.lines) if (line?.busy) line.close();
  }
}
