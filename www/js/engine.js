// The engine worker, and what is needed to put another in its place: a journal of all that it was
// told since the files were laid in. One call at a time.
'use strict';

class Engine {
  constructor(workshop) {
    this.workshop = workshop;
    this.line = this.newLine();
    this.journal = [];
    this.last = Promise.resolve();
    this.round = 0;
  }

  // `onStep`, where somebody set it, hears how far a long call is.
  newLine() {
    return new Line(this.workshop, (step) => this.onStep?.(step));
  }

  // Asks for something that leaves the engine as it is.
  ask(call, argument) {
    return this.inTurn(() => this.twice(call, argument));
  }

  // Tells something that the engine, or its successor, has to know later on.
  tell(call, argument) {
    return this.inTurn(async () => {
      const value = await this.twice(call, argument);
      this.journal.push([call, argument]);
      return value;
    });
  }

  // Begins anew with other files.
  load(inputs) {
    return this.inTurn(async () => {
      this.journal = [];
      const record = await this.twice('load', inputs);
      this.journal.push(['load', { ...inputs, record }]);
      return record;
    });
  }

  get busy() {
    return this.line.busy;
  }

  // Cuts off whatever it does and what waits for its turn; a successor takes its place when it is
  // asked again.
  cut() {
    this.round += 1;
    if (this.busy) this.line.close();
  }

  inTurn(step) {
    const { round } = this;
    const turn = this.last.then(() => {
      if (round !== this.round) throw new Ended();
      return step();
    });
    this.last = turn.catch(() => {});
    return turn;
  }

  // A worker that breaks off is replaced, and the successor asked once more.
  async twice(call, argument) {
    if (this.line.closed) await this.replace();
    try {
      return await this.line.ask(call, argument);
    } catch (error) {
      if (!(error instanceof Trap)) throw error;
      await this.replace();
      return this.line.ask(call, argument);
    }
  }

  async replace() {
    this.line.close();
    this.line = this.newLine();
    for (const [call, argument] of this.journal) await this.line.ask(call, argument);
  }
}
