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

  // How many workers to use: one less than the machine has cores, one to six; tests may ask for
  // another number with `#workers=7` in the address.
  static wanted() {
    const asked = Number(new URLSearchParams(location.hash.slice(1)).get('workers'));
    if (Number.isInteger(asked) && asked >= 1 && asked <= 16) return asked;
    return Math.max(1, Math.min((navigator.hardwareConcurrency || 2) - 1, 6));
  }

  // Works through `bands` ([scan, index] each). `setup` is what the workers need to know first:
  // the inputs and the plan. Calls `onPart(band, part)`, or `onSkip(band)` for a band that broke
  // two workers.
  async run(bands, setup, onPart, onSkip) {
    const round = { queue: bands.values(), setup, onPart, onSkip, stopped: false };
    this.round = round;
    const count = Math.min(state.workers, bands.length);
    await Promise.all(Array.from({ length: count }, (_, place) => this.work(place, round)));
    if (round.stopped) throw new Ended();
  }

  async work(place, round) {
    try {
      await this.prepare(place, round.setup);
      for (const band of round.queue) {
        if (round.stopped) return;
        const part = await this.attempt(place, band, round.setup);
        if (part) round.onPart(band, part);
        else round.onSkip(band);
      }
    } catch (error) {
      // The others need not go on for nothing.
      round.stopped = true;
      throw error;
    }
  }

  // A band's result; null when two workers broke on it.
  async attempt(place, band, setup) {
    for (let tries = 0; tries < 2; tries++) {
      try {
        return await this.lines[place].ask('band', band);
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

  // No band is sent any more.
  stop() {
    if (this.round) this.round.stopped = true;
  }

  // Cuts off whoever is still busy.
  cut() {
    for (const line of this.lines) if (line?.busy) line.close();
  }
}
