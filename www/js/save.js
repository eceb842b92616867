// Print and save. The parts come finished from the engine; nothing is composed here.
'use strict';

const save = {
  result: null,
  record: null,

  listen() {
    const name = () => save.result.head.number.replace(/[^\w-]+/g, '-');
    // A text that was handed in by this very click is waited for.
    const on = (id, act) => byId(id).addEventListener('click', async () => {
      await blanks.sending.catch(() => {});
      if (!byId(id).disabled) act();
    });
    on('print', () => window.print());
    on('save-sheet', () => save.file(`sheet-${name()}.html`, 'text/html', save.result.saved));
    on('save-json', () => save.file(`sheet-${name()}.json`, 'application/json', save.result.json));
    on('save-csv', () => save.file(`sheet-${name()}.csv`, 'text/csv', save.result.csv));
    on('save-record', () => save.file('record.json', 'application/json', save.record));
    for (const id of ['save-sheet', 'save-record']) on(id, () => save.onSaved?.());
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
