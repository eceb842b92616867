// Checksums of the dropped files, in a worker of their own, after the sheet is shown.
'use strict';

class Hashing {
  constructor(workshop) {
    this.workshop = workshop;
    this.known = new WeakMap();
  }

  // Calls `onHash(name, hex)` for each file, and `onShare(share)` with the share done, 0 to 1.
  async run(files, onHash, onShare) {
    let before = 0;
    let current = 0;
    const all = files.reduce((sum, file) => sum + file.size, 0) || 1;
    this.line = new Line(this.workshop, (bytes) => onShare((before + Math.min(bytes, current)) / all));
    try {
      for (const file of files) {
        current = file.size;
        if (!this.known.has(file)) this.known.set(file, await this.hash(file));
        await onHash(file.name, this.known.get(file));
        before += current;
      }
    } finally {
      this.stop();
    }
  }

  // A file that cannot be read any more was moved or changed since it was dropped.
  async hash(file) {
    try {
      return await this.line.ask('hash', file);
    } catch (error) {
      if (!(error instanceof Trap)) throw error;
      throw new Refusal([{ file: file.name, text: words.get('unreadable'), hint: words.get('unreadable_hint') }]);
    }
  }

  stop() {
    this.line?.close();
  }
}
