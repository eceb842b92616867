// The draft that this browser kept from earlier: offered while the sheet is empty.
'use strict';

class Offer {
  constructor(engine, files) {
    Object.assign(this, { engine, files });
    byId('draft-clear').addEventListener('click', () => {
      kept.clear(this.found.key);
      this.show();
    });
    byId('draft-open').addEventListener('click', () => this.files.tryExample());
  }

  async show() {
    this.found = kept.latest();
    if (!this.found) {
      this.hide();
      return;
    }
    const { files } = this.found;
    const lines = files ? await this.engine.ask('sizes', [files.map(([name]) => name), files.map(([, size]) => size)]) : [];
    if (!this.files.empty) return;
    byId('draft-text').textContent = words.get(files ? 'draft_files' : 'draft_example');
    byId('draft-files').replaceChildren(...lines.map((line) => made('li', '', line)));
    byId('draft-open').hidden = Boolean(files);
    byId('draft-clear').hidden = false;
    byId('draft-part').hidden = false;
  }

  // The draft of the files that were just added is filled in.
  taken() {
    byId('draft-text').textContent = words.get('draft_taken');
    byId('draft-files').replaceChildren();
    byId('draft-open').hidden = true;
    byId('draft-clear').hidden = true;
    byId('draft-part').hidden = false;
    tray.say(words.get('draft_taken'));
  }

  hide() {
    byId('draft-part').hidden = true;
  }
}
