// The files that were dropped or picked. A file of the same name takes the place of the earlier.
'use strict';

class Files {
  // `onChange` is called after every change that a person made.
  constructor(onChange) {
    this.onChange = onChange;
    this.list = [];
    this.example = false;
    this.isOther = true;
    this.listen();
  }

  get empty() {
    return !this.example && this.list.length === 0;
  }

  add(files) {
    if (files.length === 0) return;
    this.example = false;
    // Another record among them takes the place of what was typed.
    this.isOther = this.list.length === 0 || files.some(({ name }) => name.toLowerCase().endsWith('.json'));
    const named = new Map(files.map((file) => [file.name, file]));
    this.list = this.list.filter(({ name }) => !named.has(name)).concat([...named.values()]);
    this.onChange();
  }

  remove(name) {
    this.isOther = this.list.length === 1;
    this.list = this.list.filter((file) => file.name !== name);
    this.onChange();
  }

  tryExample() {
    this.isOther = true;
    this.list = [];
    this.example = true;
    this.onChange();
  }

  clear() {
    this.isOther = true;
    this.list = [];
    this.example = false;
    this.onChange();
  }

  listen() {
    const pick = byId('pick');
    pick.addEventListener('change', () => {
      const files = [...pick.files];
      // So that the same file can be picked again after it was changed on disk.
      pick.value = '';
      this.add(files);
    });
    const carriesFiles = (event) => event.dataTransfer?.types.includes('Files');
    addEventListener('dragover', (event) => {
      if (!carriesFiles(event)) return;
      event.preventDefault();
      event.dataTransfer.dropEffect = 'copy';
      document.body.classList.add('dragging');
    });
    addEventListener('dragleave', (event) => {
      if (!event.relatedTarget) document.body.classList.remove('dragging');
    });
    addEventListener('drop', async (event) => {
      if (!carriesFiles(event)) return;
      event.preventDefault();
      document.body.classList.remove('dragging');
      this.add(await Files.dropped(event.dataTransfer));
    });
  }

  // The files of a drop, those in a dropped folder among them (not of folders inside it).
  static async dropped(transfer) {
    const folders = [...transfer.items].map((item) => item.webkitGetAsEntry?.()).filter((entry) => entry?.isDirectory);
    const names = new Set(folders.map(({ name }) => name));
    const files = [...transfer.files].filter(({ name }) => !names.has(name));
    for (const folder of folders) {
      const reader = folder.createReader();
      for (;;) {
        const entries = await new Promise((resolve, reject) => reader.readEntries(resolve, reject));
        if (entries.length === 0) break;
        for (const entry of entries.filter(({ isFile }) => isFile)) {
          files.push(await new Promise((resolve, reject) => entry.file(resolve, reject)));
        }
      }
    }
    return files;
  }
}
