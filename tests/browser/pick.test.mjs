// A file of somebody's own, without a record: from the drop to the sheet by keyboard alone; and a saved
// sheet that is dropped again.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { oneBrowser, openPage, stateOf, until, whole } from './chromium.mjs';
import { TRUTH, bare, headed } from './foreign.mjs';
import { copied, made } from './inputs.mjs';
import { DEMO, OUT } from './places.mjs';

const browser = oneBrowser();
const EXAMPLE = join(DEMO, 'example');
const FILES = ['focal-plane.h5', 'axial-line.csv', 'sensitivity.csv'].map((name) => copied(join(EXAMPLE, name)));

const asked = (page) => until(page, (state) => state.phase === 'asking');
const input = (page, key) => page.locator(`#pick-form input[data-key="${key}"]`);

// Types into the question that has the focus after so many steps of Tab; no pointer.
const answer = async (page, key, text) => {
  for (let steps = 0; steps < 60; steps++) {
    if ((await page.evaluate(() => document.activeElement.dataset?.key)) === key) {
      await page.keyboard.press('Control+A');
      await page.keyboard.type(text);
      return;
    }
    await page.keyboard.press('Tab');
  }
  assert.fail(`${key} is not reached by Tab`);
};

const pc = (json) => JSON.parse(json).quantities.find(({ id }) => id === 'pc').value;

// The generator's own peak lies on a sample of the middle point. What is measured is taken between
// the samples and through the low-pass that follows the noise: the bound is the design's for pc.
const near = (json) => assert.ok(Math.abs(pc(json) / TRUTH.peak_pa - 1) < 0.005, `pc ${pc(json)} of ${TRUTH.peak_pa}`);

// Typed into a blank of the sheet, which is marked whole when it gets the focus.
const type = async (page, path, text) => {
  await page.locator(`#sheet [data-path="${path}"]`).first().focus();
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
};

// The sheet of a record that holds what `reached` asks for.
const sheetWith = async (page, reached) => {
  const state = await until(page, ({ phase, settled, hashed, json }) =>
    phase === 'done' && settled && hashed && reached(JSON.parse(json ?? '{"record":{}}').record));
  return JSON.parse(state.json);
};

const value = ({ quantities }, id) => quantities.find((q) => q.id === id).value;
const scale = ({ scans }) => scans?.[0].layout.volts.scale;

test('a table with headings is confirmed, answered and evaluated, by keyboard alone', async () => {
  const page = await openPage(browser);
  await page.setInputFiles('#pick', made('my-scan.csv', headed()));
  await asked(page);
  assert.match(await page.locator('#pick-form').innerText(), /X pos.*coordinate x/);
  assert.equal(await input(page, 'x').inputValue(), '1 mm');
  assert.equal(await input(page, 'volts').inputValue(), '', 'what cannot be guessed is asked');
  await answer(page, 'volts', '1 mV');
  await page.locator('.pick-map').waitFor();
  assert.match(await page.locator('.pick-preview').innerText(), /441 of 441 points.*5\.00 mm along x by 5\.00 mm along y; the loudest goes from [−-]80\.0 mV to 80\.0 mV/);
  await answer(page, 'sensor.response', '40 mV/MPa');
  await answer(page, 'excitation.frequency_hz', '1.5 MHz');
  await answer(page, 'excitation.cycles', '12');
  await answer(page, 'excitation.repetition_hz', '100 Hz');
  await answer(page, 'water.temperature_c', '21.4');
  await page.keyboard.press('Enter');
  const { json } = await whole(page);
  near(json);
  const { record } = JSON.parse(json);
  assert.equal(record.scans[0].layout.volts.unit, 'mV');
  assert.equal(record.excitation.frequency_hz, 1.5e6);
  assert.ok(await page.locator('#print').isEnabled());
  assert.deepEqual(page.complaints, []);
});

test('what was typed outlives another reading of the file', async () => {
  const page = await openPage(browser);
  await page.setInputFiles('#pick', made('my-scan.csv', headed()));
  await asked(page);
  await input(page, 'volts').fill('1 mV');
  await input(page, 'sensor.response').fill('40 mV/MPa');
  await input(page, 'sensor.response.uncertainty').fill('± 10 % (k=2)');
  await input(page, 'excitation.frequency_hz').fill('1.5 MHz');
  await page.click('.pick-take');
  const first = await whole(page);
  assert.match(await page.locator('#section-conditions').textContent(), /40\smV\/MPa, 10\s% \(k\s=\s2\)/);
  await page.locator('#sheet [data-path="device.serial"]').first().click();
  await page.keyboard.type('17');
  await page.keyboard.press('Enter');
  await until(page, (state) => state.settled && JSON.parse(state.json ?? '{}').record?.device?.serial === '17');
  await page.click('#pick-again');
  await asked(page);
  await input(page, 'volts').fill('-2 mV');
  await page.click('.pick-take');
  const second = await sheetWith(page, (record) => scale(record) === -2);
  const { record, findings } = second;
  assert.equal(record.device.serial, '17');
  assert.deepEqual(record.changes.map(({ field, old, new: now }) => [field, old, now]).at(-1), ['scans[0].layout.volts.scale', 1, -2]);
  assert.match(await page.locator('#sheet .front').innerText(), /1 → −?-?2/);
  assert.equal(record.scans[0].layout.volts.scale, -2);
  // Turned over: the larger peak is now the rarefactional one, or as large.
  assert.ok(Math.abs(value(second, 'pr') / (2 * value(JSON.parse(first.json), 'pc')) - 1) < 0.01);
  assert.ok(findings.length > 0);
});

test('another reading can be left as it was, and undone like any edit', async () => {
  const page = await openPage(browser);
  await page.setInputFiles('#pick', made('my-scan.csv', headed()));
  await asked(page);
  await input(page, 'volts').fill('1 mV');
  await input(page, 'sensor.response').fill('40 mV/MPa');
  await input(page, 'excitation.frequency_hz').fill('1.5 MHz');
  await page.click('.pick-take');
  await whole(page);
  await type(page, 'device.serial', '17');
  const first = await sheetWith(page, ({ device }) => device?.serial === '17');
  const before = await stateOf(page);
  const shown = await page.locator('#sheet').innerText();
  await page.click('#pick-again');
  await asked(page);
  assert.equal(await input(page, 'volts').inputValue(), '1 mV', 'as it is read now');
  assert.equal(await page.locator('#sheet').evaluate((sheet) => sheet.inert), true);
  assert.ok(await page.locator('#print').isDisabled(), 'what may be out of date is not printed');
  assert.ok(await page.locator('#undo').isDisabled());
  await input(page, 'volts').fill('-2 mV');
  await page.focus('.pick-leave');
  await page.keyboard.press('Enter');
  const after = await until(page, ({ phase }) => phase === 'done');
  assert.deepEqual([after.json, after.timings], [before.json, before.timings], 'nothing was computed anew');
  assert.equal(await page.locator('#sheet').innerText(), shown);
  assert.ok(await page.locator('#print').isEnabled());
  assert.equal(await page.locator('#pick-form').isVisible(), false);
  // Taken, undone, and taken again.
  await page.click('#pick-again');
  await asked(page);
  assert.equal(await input(page, 'volts').inputValue(), '1 mV');
  await input(page, 'volts').fill('-2 mV');
  await page.click('.pick-take');
  const turned = await sheetWith(page, (record) => scale(record) === -2);
  assert.equal(turned.record.device.serial, '17');
  assert.ok(Math.abs(value(turned, 'pr') / (2 * value(first, 'pc')) - 1) < 0.01);
  await page.click('#undo');
  const back = await sheetWith(page, (record) => scale(record) === 1);
  assert.deepEqual(back.quantities, first.quantities);
  assert.deepEqual(back.record, first.record);
  await page.click('#redo');
  const again = await sheetWith(page, (record) => scale(record) === -2);
  assert.deepEqual(again.quantities, turned.quantities);
  assert.deepEqual(page.complaints, []);
});

test('sensitivity and unit of the samples are typed on the sheet; German', async () => {
  const page = await openPage(browser, { locale: 'de-DE' });
  await page.setInputFiles('#pick', made('my-scan.csv', headed()));
  await asked(page);
  await input(page, 'volts').fill('1 mV');
  await page.click('.pick-take');
  await whole(page);
  await type(page, 'sensor.response', '40 mV/MPa, 12 % (k=2)');
  const first = await sheetWith(page, ({ sensor }) => sensor?.response?.mv_per_mpa === 40);
  assert.equal(first.record.sensor.response.uncertainty.value, 0.12);
  near(JSON.stringify(first));
  await type(page, 'scans[0].layout.volts', '0,5 mV');
  const half = await sheetWith(page, (record) => scale(record) === 0.5);
  assert.ok(Math.abs(value(half, 'pc') / (0.5 * value(first, 'pc')) - 1) < 1e-9);
  const fields = half.record.changes.map(({ field }) => field);
  assert.deepEqual(fields, ['sensor.response.mv_per_mpa', 'sensor.response.uncertainty', 'scans[0].layout.volts.scale']);
  await page.click('#pick-again');
  await asked(page);
  assert.equal(await input(page, 'volts').inputValue(), '0,5 mV', 'what the sheet changed is what is offered');
  await page.click('.pick-leave');
  await type(page, 'sensor.response', '40 Pfund');
  assert.match(await page.locator('#sheet .blank-note').first().innerText(), /mV\/MPa/);
  assert.deepEqual(page.complaints, []);
});

test('bare counts with indices are asked for what they are; German', async () => {
  const page = await openPage(browser, { locale: 'de-DE' });
  await page.setInputFiles('#pick', made('bare.csv', bare()));
  await asked(page);
  assert.match(await page.locator('#pick-form').innerText(), /Gitters von 21 × 21/);
  await input(page, 'x').fill('0,25 mm');
  await input(page, 'y').fill('0,25 mm');
  await input(page, 'dt').fill('50 MHz');
  await input(page, 'volts').fill('5 Pfund');
  assert.match(await page.locator('#pick-form .blank-note:not(:empty)').first().innerText(), /mV/);
  await input(page, 'volts').fill('0,1 mV');
  await page.locator('.pick-map').waitFor();
  await input(page, 'sensor.response').fill('40 nV/Pa');
  await input(page, 'excitation.frequency_hz').fill('1,5 MHz');
  await page.click('.pick-take');
  const { json } = await whole(page);
  near(json);
  assert.deepEqual(page.complaints, []);
});

test('a saved sheet brings back what was typed, asks for its files, and is compared', async () => {
  const page = await openPage(browser);
  await page.setInputFiles('#pick', [made('record.json', readFileSync(join(EXAMPLE, 'record.json'))), ...FILES]);
  const first = await whole(page);
  const [download] = await Promise.all([page.waitForEvent('download'), page.click('#save-sheet')]);
  const path = join(OUT, 'again.html');
  await download.saveAs(path);
  const html = readFileSync(path, 'utf8');
  const again = await openPage(browser);
  await again.setInputFiles('#pick', made('again.html', html));
  await asked(again);
  assert.match(await again.locator('#notice').innerText(), /focal-plane\.h5 \([\d.]+\s[kM]B\)/);
  await again.setInputFiles('#pick', FILES);
  const { json } = await whole(again);
  assert.deepEqual(JSON.parse(json).record, JSON.parse(first.json).record);
  assert.match(await again.locator('#saved-lines').innerText(), /^All \d+ quantities agree/);
  // Other numbers in the saved data are told one by one.
  const touched = html.replace(/("quantities": \[\s*\{\s*"id": "pc",[^]*?"value": )[\d.e+]+/, (_, before) => `${before}1234567`);
  assert.notEqual(touched, html);
  const other = await openPage(browser);
  await other.setInputFiles('#pick', [made('other.html', touched), ...FILES]);
  await whole(other);
  assert.match(await other.locator('#saved-lines').innerText(), /^1 of \d+ quantities differ/);
});

test('hostile saved sheets are refused in words', async () => {
  const block = (text) => `<script type="application/json" id="focalsheet-sheet">${text}</script>`;
  const cases = [
    ['<html>nothing</html>', /no saved sheet/],
    [block('{"schema":'), /damaged/],
    [block('['.repeat(1e5)), /damaged/],
    [block('{"schema":"other/1","record":{}}'), /not a sheet/],
  ];
  for (const [text, said] of cases) {
    const page = await openPage(browser);
    await page.setInputFiles('#pick', made('sheet.html', `<script>document.title = 'evil'</script>${text}`));
    await until(page, (state) => state.phase === 'refused');
    assert.match(await page.locator('#notice').innerText(), said);
    assert.notEqual(await page.title(), 'evil');
    assert.deepEqual(page.complaints, []);
  }
});
