// A line to one worker: ask, and a promise of the answer comes back.
'use strict';

// The engine cannot go on with what it was given, and says why.
class Refusal extends Error {
  constructor(problems) {
    super(problems.map(({ text }) => text).join(' '));
    this.problems = problems;
  }
}
// The worker's engine broke off; that worker must not be asked again.
class Trap extends Error {}
// The line was cut by us.
class Ended extends Error {}

class Line {
  // `workshop` holds what every worker starts from: the script's address, the compiled module.
  constructor(workshop, onStep) {
    this.open = new Map();
    this.next = 0;
    this.worker = new Worker(workshop.script);
    // A step is no answer: how far a long call is.
    this.worker.onmessage = ({ data }) => (data.step === undefined ? this.answer(data) : onStep?.(data.step));
    this.worker.onerror = (event) => {
      event.preventDefault();
      this.close(new Trap(event.message));
    };
    this.ask('start', [workshop.module, language.tag]).catch(() => {});
  }

  get busy() {
    return this.open.size > 0;
  }

  // Buffers in `transfer` are handed over, not copied.
  ask(call, argument, transfer = []) {
    return new Promise((resolve, reject) => {
      if (this.closed) {
        reject(this.closed);
        return;
      }
      const id = this.next++;
      this.open.set(id, { resolve, reject });
      this.worker.postMessage({ id, call, argument }, transfer);
    });
  }

  answer({ id, value, problems, trap }) {
    if (trap) {
      this.close(new Trap(trap));
      return;
    }
    const { resolve, reject } = this.open.get(id);
    this.open.delete(id);
    if (problems) reject(new Refusal(problems));
    else resolve(value);
  }

  // Cuts the line; whatever is still open is answered with the reason.
  close(reason = new Ended()) {
    if (this.closed) return;
    this.closed = reason;
    this.worker.terminate();
    for (const { reject } of this.open.values()) reject(reason);
    this.open.clear();
  }
}
