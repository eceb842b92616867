// The page against the command line, and the engine's own checks inside the page.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { oneBrowser, openPage, whole } from './chromium.mjs';
import { demo } from './inputs.mjs';
import { OUT } from './places.mjs';

const PROGRAM = process.env.FOCALSHEET ?? fileURLToPath(new URL('../../target/release/focalsheet', import.meta.url));
const REFERENCE = process.env.FOCALSHEET_REFERENCE;

const browser = oneBrowser();

// Smallest magnitudes that matter, by unit: the floor of the comparison.
const FLOOR = { Pa: 1e3, 'Pa2 s': 1e-3, 'Pa/Hz^0.5': 1e-3, 'J/m2': 1e-3, s: 1e-8, rad: 0.1, 'W/m2': 1e-3, Hz: 1e3, 1: 0.1, dB: 1, m: 1e-4, m2: 1e-8, W: 1e-6, Vpp: 1, 'Pa/Vpp': 1e2 };

const bySheet = (record, name) => {
  const out = join(OUT, name);
  execFileSync(PROGRAM, ['report', record, '--out', out], { stdio: 'pipe' });
  return JSON.parse(readFileSync(join(out, 'sheet.json'), 'utf8'));
};

const byPage = async (paths) => {
  const page = await openPage(browser);
  await page.setInputFiles('#pick', paths);
  const { json } = await whole(page);
  await page.context().close();
  return JSON.parse(json);
};

const compare = (page, line) => {
  const key = ({ scan, id, time_base: base }) => `${scan} ${id} ${base}`;
  assert.deepEqual(page.quantities.map(key), line.quantities.map(key));
  assert.deepEqual(page.findings.map(({ code }) => code), line.findings.map(({ code }) => code));
  assert.equal(page.number, line.number);
  let largest = 0;
  page.quantities.forEach((quantity, index) => {
    const other = line.quantities[index];
    assert.equal(quantity.value === null, other.value === null, key(quantity));
    assert.equal(quantity.unit in FLOOR, true, quantity.unit);
    if (quantity.value === null) return;
    // Where a top is flat, its place follows the last digits: ten nanometres.
    const floor = /_peak/.test(quantity.id) ? 1e-2 : FLOOR[quantity.unit];
    const off = Math.abs(quantity.value - other.value) / Math.max(Math.abs(other.value), floor);
    largest = Math.max(largest, off);
    assert.ok(off <= 1e-6, `${key(quantity)}: ${quantity.value} against ${other.value}`);
  });
  return largest;
};

test('page and command line give the same sheet', async (t) => {
  const { path, files } = demo();
  const largest = compare(await byPage([path, ...files]), bySheet(path, 'by-line'));
  t.diagnostic(`largest difference: ${largest}`);
});

test('ten drive levels with monitors and check sources give the same sheet', async () => {
  const folder = join(dirname(demo().path), 'levels');
  const files = readdirSync(folder).filter((name) => /\.(h5|csv)$/.test(name) || name === 'record.json');
  const page = await byPage(files.map((name) => join(folder, name)));
  const line = bySheet(join(folder, 'record.json'), 'levels-by-line');
  compare(page, line);
  assert.equal(page.drives.length, 1);
  assert.ok(page.bubbles.some(({ monitor, shots }) => monitor !== null && shots.some(({ marked }) => marked)));
  assert.deepEqual(page.drives[0].rows.map(({ scan, used }) => [scan, used]), line.drives[0].rows.map(({ scan, used }) => [scan, used]));
  assert.deepEqual(page.bubbles.map(({ shots }) => shots.map(({ marked }) => marked)), line.bubbles.map(({ shots }) => shots.map(({ marked }) => marked)));
});

test('the measured reference record gives its peaks in the page too', { skip: !(REFERENCE && existsSync(REFERENCE)) && 'no reference record' }, async () => {
  const names = readdirSync(REFERENCE).filter((name) => /\.(json|csv)$/.test(name));
  const sheet = await byPage(names.map((name) => join(REFERENCE, name)));
  compare(sheet, bySheet(join(REFERENCE, 'record.json'), 'reference-by-line'));
  // Before the correction for what noise adds to a peak, which that propagation lacks.
  const value = (name) => {
    const { value: after, value_uncorrected: before, corrections } = sheet.quantities.find(({ id }) => id === name);
    return corrections.length > 0 ? before : after;
  };
  // PyDynamic 2.5.1's own propagation of this record: pc 4.205, pr 2.685 MPa.
  assert.ok(Math.abs(value('pc') / 4.205e6 - 1) < 2e-3, `pc ${value('pc')}`);
  assert.ok(Math.abs(value('pr') / 2.685e6 - 1) < 2e-3, `pr ${value('pr')}`);
});

const FOREIGN = process.env.FOCALSHEET_FOREIGN;
const foreign = FOREIGN && existsSync(FOREIGN) ? readdirSync(FOREIGN) : [];

test('files that one reader reads for all workers give the same sheet', { skip: foreign.length === 0 && 'no foreign scans' }, async (t) => {
  for (const name of foreign) {
    const folder = join(FOREIGN, name);
    const files = readdirSync(folder).filter((file) => !file.startsWith('.')).map((file) => join(folder, file));
    const page = await byPage(files);
    const largest = compare(page, bySheet(join(folder, 'record.json'), `foreign-${name}`));
    assert.ok(page.findings.some(({ code }) => code === 'layout-proposed'), name);
    // What was proposed stands in the record of the sheet.
    assert.ok(page.record.scans[0].layout.waveforms, name);
    t.diagnostic(`${name}: largest difference ${largest}`);
  }
});

test('the engine holds its own checks inside the page', async () => {
  const page = await openPage(browser);
  const lines = await page.evaluate(() => window.focalsheet.check());
  assert.ok(lines.length >= 8);
  assert.deepEqual(lines.filter(({ ok }) => !ok), []);
});
