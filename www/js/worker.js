// Runs in every worker, after the glue script: the engine worker, the band workers and the hash
// worker are the same program and differ only in what they are asked.
'use strict';

// A record larger than this is none.
const RECORD_BYTES = 4 * 1024 * 1024;
// Files are hashed in slices of this size, so that memory stays small whatever a file's size.
// A saved sheet is read up to this size.
const SHEET_BYTES = 96 * 1024 * 1024;
const SLICE_BYTES = 4 * 1024 * 1024;

let session = null;

const freshSession = () => {
  if (session) session.free();
  session = new wasm_bindgen.Session();
};

// The record among the dropped files: the JSON file that says it is one, else the only one.
const recordAmong = (files) => {
  const reader = new FileReaderSync();
  const candidates = [];
  for (const file of files) {
    if (!file.name.toLowerCase().endsWith('.json') || file.size > RECORD_BYTES) continue;
    try {
      candidates.push({ file, text: reader.readAsText(file) });
    } catch {
      // Left to the engine, which says of every file whether it can be read.
    }
  }
  const says = candidates.find(({ text }) => text.includes('"focalsheet-record'));
  return says ?? (candidates.length === 1 ? candidates[0] : null);
};

// A saved sheet; of one that is too long the end is missing, and the engine says so.
const textOf = (file) => new FileReaderSync().readAsText(file.slice(0, SHEET_BYTES));

const calls = {
  start([module, tag]) {
    wasm_bindgen.initSync({ module });
    freshSession();
    session.set_language(tag);
  },

  // Lays in the files, in a session of its own; says which record is used, for other workers.
  load({ example, files, record }) {
    freshSession();
    if (example) {
      session.example();
      if (record) session.set_edited(record.text, record.name);
      return record ?? null;
    }
    let used = record;
    let recordFile = null;
    const sheetFile = files.find(({ name }) => /\.html?$/i.test(name));
    const saved = sheetFile && session.set_saved(textOf(sheetFile), sheetFile.name);
    if (!used && saved && !recordAmong(files)) used = { text: saved, name: 'record.json', edited: true };
    if (!used) {
      const found = recordAmong(files);
      recordFile = found ? found.file : null;
      used = { text: found ? found.text : undefined, name: found ? found.file.name : '' };
    }
    for (const file of files) {
      if (file !== recordFile && file !== sheetFile && file.name !== used.name) session.add_file(file.name, file);
    }
    if (used.edited) session.set_edited(used.text, used.name);
    else session.set_record(used.text, used.name);
    return used;
  },

  band: ([scan, index]) => session.band(scan, index),
  raw: ([scan, index]) => session.raw(scan, index),
  band_of: ([scan, index, waveforms]) => session.band_of(scan, index, waveforms),
  accept: ([scan, index, part]) => session.accept(scan, index, part),
  skip: ([scan, index]) => session.skip(scan, index),
  progress: ([done, all, seconds]) => session.progress(done, all, seconds),
  open: () => session.open(),
  resume: (plan) => session.resume(plan),
  finish: (later) => session.finish(Boolean(later)),
  edit: ([path, text, reading, when]) => session.edit(path, text, reading, when),
  add_stated: ([quantity, text, reading, when]) => session.add_stated(quantity, text, reading, when),
  paste_stated: ([text, when]) => session.paste_stated(text, when),
  remove: ([path, when]) => session.remove(path, when),
  preview: (answers) => session.preview(answers),
  pick_again: () => session.pick_again(),
  picked: ([answers, when]) => session.picked(answers, when),
  set_draft: (text) => session.set_draft(text),
  sizes: ([names, bytes]) => session.sizes(names, new Float64Array(bytes)),
  set_hash: ([name, hex]) => session.set_hash(name, hex),
  words: () => session.words(),
  set_language: (tag) => session.set_language(tag),
  file_roles: () => session.file_roles(),
  figure_svg: (figure) => session.figure_svg(figure) ?? null,
  point_at: ([figure, u, v]) => session.point_at(figure, u, v),
  point_from: ([figure, place, step]) => session.point_from(figure, place, step),
  point_wave: ([figure, place, width]) => session.point_wave(figure, place, width),
  selfcheck: () => session.selfcheck(),

  // SHA-256 of a file; tells how far it is after every slice.
  hash(file) {
    const reader = new FileReaderSync();
    const hasher = new wasm_bindgen.Hasher();
    for (let at = 0; at < file.size; at += SLICE_BYTES) {
      hasher.update(new Uint8Array(reader.readAsArrayBuffer(file.slice(at, at + SLICE_BYTES))));
      postMessage({ step: at + SLICE_BYTES });
    }
    const hex = hasher.hex();
    hasher.free();
    return hex;
  },
};

self.onmessage = ({ data: { id, call, argument } }) => {
  try {
    const value = calls[call](argument);
    postMessage({ id, value }, ArrayBuffer.isView(value) ? [value.buffer] : []);
  } catch (error) {
    // The engine refuses with a list of problems; anything else leaves it in an unknown state.
    const refused = error && Array.isArray(error.problems);
    postMessage({ id, problems: refused ? error.problems : null, trap: refused ? null : String(error) });
  }
};
