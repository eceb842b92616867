// Print and save. The parts come finished from the engine; nothing is composed here.
'use strict';

const save = {
  result: null,
  record: null,

  listen() {
    const name = () => save.result.head.number.replace(/[^\w-]+/g, '-');
    byId('print').addEventListener('click', () => window.print());
    byId('save-sheet').addEventListener('click', () => save.file(`sheet-${name()}.html`, 'text/html', save.result.saved));
    byId('save-json').addEventListener('click', () => save.file(`sheet-${name()}.json`, 'application/json', save.result.json));
    byId('save-csv').addEventListener('click', () => save.file(`sheet-${name()}.csv`, 'text/csv', save.result.csv));
    byId('save-record').addEventListener('click', () => save.file('record.json', 'application/json', save.record));
    for (const id of ['save-sheet', 'save-record']) byId(id).addEventListener('click', () => save.onSaved?.());
  },

  // What can be saved now: the sheet and its numbers once the checksums are on it, the record as
  // soon as the files were read.
  refresh() {
    const whole = state.phase === 'done' && state.hashed && state.settled;
    for (const id of ['print', 'save-sheet', 'save-json', 'save-csv']) byId(id).disabled = !whole;
    byId('save-record').disabled = save.record === null;
    byId('waiting').hidden = !(state.phase === 'done' && !state.hashed);
  },

  file(name, type, text) {
    save.blob(name, new Blob([text], { type: `${type};charset=utf-8` }));
  },

  blob(name, content) {
    const address = URL.createObjectURL(content);
    const link = document.createElement('a');
    link.href = address;
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(address), 60000);
  },
};
