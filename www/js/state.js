// Where the page stands. `window.focalsheet` shows it to tests and to the curious; nothing reads
// it back but the page itself.
'use strict';

const state = {
  // 'empty' | 'working' | 'asking' | 'done' | 'refused' | 'cancelled' | 'unable'
  phase: 'empty',
  // Band workers in use; see `Pool.wanted`.
  workers: 0,
  // Milliseconds since the files were dropped: opened, bands, finished, hashed.
  timings: {},
  // The sheet's numbers, as they would be saved; null until there are some.
  json: null,
  // Whether the files' checksums are on the sheet, so that it may be printed and saved.
  hashed: false,
  // Whether nothing of the sheet waits to be computed after an edit.
  settled: true,
  // Whether something was typed since the record was saved.
  unsaved: false,
  // Whether the engine is ready for files.
  ready: false,
};
window.focalsheet = state;

const setPhase = (phase) => {
  state.phase = phase;
  document.body.dataset.phase = phase;
  // What is asked comes first: the sheet below it is out of date, or of other files.
  byId('sheet').inert = phase === 'asking';
};

const byId = (id) => document.getElementById(id);
