// The demo's files as they are dropped: a record and all files that it names.
import assert from 'node:assert/strict';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { DEMO } from './places.mjs';

// Every text under a key `file`, wherever it stands.
const filesIn = (value) => {
  if (value === null || typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, inner]) => (key === 'file' && typeof inner === 'string' ? [inner] : filesIn(inner)));
};

const jsonFilesIn = (folder) =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return jsonFilesIn(path);
    return entry.name.endsWith('.json') ? [path] : [];
  });

// The path of the demo's record, the record, and the paths of the files that it names.
export const demo = () => {
  assert.ok(existsSync(DEMO), `no demo in ${DEMO}`);
  const records = jsonFilesIn(DEMO).filter((path) => readFileSync(path, 'utf8').includes('"focalsheet-record/'));
  records.sort((a, b) => a.length - b.length);
  assert.ok(records.length > 0, `no record in ${DEMO}`);
  const path = records.find((each) => basename(each) === 'record.json') ?? records[0];
  const record = JSON.parse(readFileSync(path, 'utf8'));
  const files = [...new Set(filesIn(record))].map((name) => join(dirname(path), name));
  return { path, record, files };
};

// A file that is not on disk, for `setInputFiles`.
export const made = (name, content) => ({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(content) });

// A file on disk as one that is not, since the two kinds cannot be dropped together.
export const copied = (path) => made(basename(path), readFileSync(path));

export const madeRecord = (record) => made('record.json', JSON.stringify(record));
