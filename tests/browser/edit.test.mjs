// Blanks of the sheet, typed into where they stand: units, questions, undo, drafts, and the numbers
// that follow.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { oneBrowser, openPage, stateOf, until, whole } from './chromium.mjs';
import { copied, made } from './inputs.mjs';
import { DEMO, OUT } from './places.mjs';

const browser = oneBrowser();
const EXAMPLE = join(DEMO, 'example');
const FILES = ['focal-plane.h5', 'axial-line.csv', 'sensitivity.csv'].map((name) => copied(join(EXAMPLE, name)));
const RECORD = readFileSync(join(EXAMPLE, 'record.json'), 'utf8');

// The blank's line, with the text as it was typed.
const line = (page, path) => page.locator('#sheet dd', { has: page.locator(`[data-path="${path}"]`) });

const blank = (page, path) => page.locator(`#sheet [data-path="${path}"]`);

const withExample = async () => {
  const page = await openPage(browser);
  await page.click('#example');
  await whole(page);
  return page;
};

const numbers = async (page) => JSON.parse((await stateOf(page)).json);

// Types a text into a blank by keyboard and hands it in.
const type = async (page, path, text, key = 'Enter') => {
  await blank(page, path).focus();
  await page.keyboard.press('Control+A');
  if (text === '') await page.keyboard.press('Delete');
  else await page.keyboard.type(text);
  await page.keyboard.press(key);
};

// The sheet follows an edit: the record on it holds what `reached` asks for.
const follows = async (page, reached) => {
  await until(page, (state) => state.phase === 'done' && state.settled && state.hashed);
  const end = Date.now() + 20_000;
  for (;;) {
    const state = await stateOf(page);
    const sheet = JSON.parse(state.json);
    if (state.settled && state.hashed && state.phase === 'done' && reached(sheet.record)) return sheet;
    assert.ok(Date.now() < end, `not reached: ${reached}; ${JSON.stringify({ ...state, json: undefined })}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
};

test('a blank is filled in by keyboard, and the sheet follows', async (t) => {
  const page = await withExample();
  const before = await numbers(page);
  await type(page, 'water.temperature_c', '35,2 °C', 'Tab');
  const after = await follows(page, (record) => record.water.temperature_c === 35.2);
  const { timings } = await stateOf(page);
  t.diagnostic(`temperature of the example: engine ${timings.engine} ms, shown after ${timings.edited} ms`);
  // Speed of sound in water at 35.2 °C by Marczak (1997), table of the paper near 35 °C: 1519.8 m/s; value
  // from memory.
  assert.ok(Math.abs(after.conditions.sound_speed_m_per_s - 1520.1) < 1, after.conditions.sound_speed_m_per_s);
  assert.notEqual(after.conditions.sound_speed_m_per_s, before.conditions.sound_speed_m_per_s);
  assert.match(await blank(page, 'water.temperature_c').innerText(), /35\.2/);
  assert.match(await line(page, 'water.temperature_c').innerText(), /35\.2\s°C 35,2 °C/, 'as it was typed');
  const label = await blank(page, 'water.temperature_c').getAttribute('aria-label');
  assert.equal(label, 'Temperature');
  assert.equal(await blank(page, 'water.temperature_c').getAttribute('role'), 'textbox');
  await type(page, 'site', 'tank 2', 'Tab');
  await follows(page, (record) => record.site === 'tank 2');
  const sheet = await stateOf(page);
  t.diagnostic(`site of the example: engine ${sheet.timings.engine} ms, shown after ${sheet.timings.edited} ms`);
  assert.deepEqual(page.complaints, []);
});

test('what is not stated is clicked, all of it selected, and typed', async () => {
  const page = await withExample();
  const empty = blank(page, 'exposure.burst_s');
  assert.match(await empty.getAttribute('class'), /blank/);
  await empty.click();
  await page.keyboard.press('Control+A');
  await page.keyboard.type('5 ms');
  await page.keyboard.press('Enter');
  await follows(page, (record) => record.exposure?.burst_s === 0.005);
});

test('Escape leaves a blank as it was', async () => {
  const page = await withExample();
  const before = await blank(page, 'site').innerText();
  await type(page, 'site', 'elsewhere', 'Escape');
  assert.equal(await blank(page, 'site').innerText(), before);
  assert.equal((await stateOf(page)).unsaved, false);
});

test('an ambiguous number is asked, not guessed', async () => {
  const page = await withExample();
  await type(page, 'excitation.repetition_hz', '1,500 Hz');
  const note = page.locator('.blank-note');
  await note.waitFor();
  assert.deepEqual(await note.locator('button').allInnerTexts(), ['1.5 Hz', '1500 Hz']);
  assert.equal((await numbers(page)).record.excitation.repetition_hz, 100);
  await note.locator('button').nth(1).click();
  await follows(page, (record) => record.excitation.repetition_hz === 1500);
  assert.equal(await page.locator('.blank-note').count(), 0);
  assert.match(await line(page, 'excitation.repetition_hz').innerText(), /1,500 Hz/);
});

test('a unit that does not fit stays in its blank with those that do', async () => {
  const page = await withExample();
  await type(page, 'device.radius_of_curvature_m', '45 °C');
  const note = page.locator('.blank-note');
  await note.waitFor();
  assert.match(await note.innerText(), /mm/);
  assert.equal(await blank(page, 'device.radius_of_curvature_m').innerText(), '45 °C');
  assert.equal(await blank(page, 'device.radius_of_curvature_m').getAttribute('aria-invalid'), 'true');
  await type(page, 'device.radius_of_curvature_m', '4.6 cm');
  await follows(page, (record) => record.device.radius_of_curvature_m === 0.046);
  assert.equal(await page.locator('.blank-note').count(), 0);
});

test('undo and redo go through the drafts', async () => {
  const page = await withExample();
  const { json } = await whole(page);
  await type(page, 'water.temperature_c', '25');
  await follows(page, (record) => record.water.temperature_c === 25);
  await type(page, 'excitation.cycles', '9');
  const both = await follows(page, (record) => record.excitation.cycles === 9);
  await page.locator('#paper').focus();
  await page.keyboard.press('Control+Z');
  await follows(page, (record) => record.excitation.cycles === 8);
  await page.click('#undo');
  const back = await follows(page, (record) => record.water.temperature_c === 21.4);
  const first = JSON.parse(json);
  assert.deepEqual(back.quantities, first.quantities);
  assert.ok(await page.locator('#undo').isDisabled());
  await page.locator('#paper').focus();
  await page.keyboard.press('Control+Shift+Z');
  await page.click('#redo');
  const again = await follows(page, (record) => record.excitation.cycles === 9);
  assert.deepEqual(again.quantities, both.quantities);
});

test('the numbers are those of a fresh run with the edited record', async () => {
  const page = await openPage(browser);
  await page.setInputFiles('#pick', [made('record.json', RECORD), ...FILES]);
  await whole(page);
  await type(page, 'water.temperature_c', '30,5 °C');
  await follows(page, (record) => record.water.temperature_c === 30.5);
  await type(page, 'sensor.u_gain', '2 % (k=2)');
  await follows(page, (record) => record.sensor.u_gain?.value === 0.02);
  await type(page, 'stated[0]', '8,2 MPa ± 10 %');
  await follows(page, (record) => record.stated[0].value === 8.2);
  await type(page, 'excitation.frequency_hz', '1.49 MHz');
  await follows(page, (record) => record.excitation.frequency_hz === 1.49e6);
  const edited = await whole(page);
  const [download] = await Promise.all([page.waitForEvent('download'), page.click('#save-record')]);
  const path = join(OUT, 'edited-record.json');
  await download.saveAs(path);
  assert.equal((await stateOf(page)).unsaved, false);
  const fresh = await openPage(browser);
  await fresh.setInputFiles('#pick', [made('record.json', readFileSync(path)), ...FILES]);
  assert.equal((await whole(fresh)).json, edited.json);
});

test('a changed stated value is judged anew and printed above the signatures', async () => {
  const page = await withExample();
  const verdicts = ({ verdicts: all }) => all.map(({ outcome }) => outcome);
  const before = await numbers(page);
  await type(page, 'stated[0]', '20 MPa ± 5 %');
  const after = await follows(page, (record) => record.stated[0].value === 20);
  assert.notDeepEqual(verdicts(after), verdicts(before));
  assert.equal(after.verdicts[0].outcome, 'does-not-conform');
  assert.match(await page.locator('.changes').innerText(), /peak compressional pressure/);
  // One more, and one less.
  const rows = page.locator('.verdicts tbody tr[data-verdict]');
  const count = await rows.count();
  await page.click('#add-stated');
  await page.locator('.add-form select').selectOption('td');
  await page.locator('.add-form input').fill('5 µs ±15 %');
  await page.keyboard.press('Enter');
  const added = await follows(page, (record) => record.stated.length === before.record.stated.length + 1);
  assert.deepEqual(added.record.stated.at(-1), { quantity: 'td', value: 5, unit: 'µs', tolerance: { lower: -0.15, upper: 0.15, relative: true } });
  assert.equal(await rows.count(), count + 1);
  await rows.last().hover();
  await rows.last().locator('.row-remove').click();
  await follows(page, (record) => record.stated.length === before.record.stated.length);
  assert.equal(await rows.count(), count);
});

test('a draft is kept over a reload, offered, taken up and cleared', async () => {
  const page = await openPage(browser);
  page.on('dialog', (dialog) => dialog.accept());
  await page.setInputFiles('#pick', [made('record.json', RECORD), ...FILES]);
  await whole(page);
  await type(page, 'site', 'tank 7');
  await follows(page, (record) => record.site === 'tank 7');
  assert.equal((await stateOf(page)).unsaved, true);
  await page.reload();
  await until(page, (state) => state.ready);
  const offer = page.locator('#draft-part');
  await offer.waitFor();
  assert.match(await offer.innerText(), /focal-plane\.h5 \([\d.]+\s[kM]B\)/);
  const keptText = await page.evaluate(() => JSON.stringify({ ...localStorage }));
  assert.ok(keptText.length < 20_000, 'text only');
  // Other files are not mixed up with it.
  await page.setInputFiles('#pick', [made('record.json', RECORD.replace('VT20-0138', 'VT20-01')), ...FILES]);
  await follows(page, (record) => record.site.startsWith('Quillmere'));
  await page.click('#start-over');
  await page.setInputFiles('#pick', [made('record.json', RECORD), ...FILES]);
  await follows(page, (record) => record.site === 'tank 7');
  await page.click('#clear-draft');
  assert.ok(await page.locator('#clear-draft').isHidden());
  assert.equal(await page.evaluate(() => Object.keys(localStorage).length), 0);
});

test('blanks are reached and seen by keyboard, also in a narrow window', async () => {
  const page = await withExample();
  for (const viewport of [{ width: 1366, height: 768 }, { width: 600, height: 800 }]) {
    await page.setViewportSize(viewport);
    const first = page.locator('#sheet [data-path]').first();
    await first.focus();
    const outline = await first.evaluate((element) => getComputedStyle(element).outlineStyle);
    assert.notEqual(outline, 'none');
    await page.keyboard.press('Tab');
    const path = await page.evaluate(() => document.activeElement.dataset.path);
    assert.ok(path, 'Tab goes to the next blank');
    const wide = await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth + 1);
    assert.ok(wide, `no sideways scrolling at ${viewport.width}`);
  }
  const printed = await page.evaluate(() => [...document.querySelectorAll('.row-remove, .add-stated')].length);
  assert.ok(printed > 0);
  await page.emulateMedia({ media: 'print' });
  assert.ok(await page.locator('.add-stated').isHidden());
  assert.ok(await page.locator('.row-remove').first().isHidden());
});

// Cells as a spreadsheet copies them.
const paste = (page, table) => page.locator('.add-form input').evaluate((input, text) => {
  const clipboardData = new DataTransfer();
  clipboardData.setData('text/plain', text);
  input.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
}, table);

test('stated values are pasted as a table, by the names of the trade', async () => {
  const page = await withExample();
  const { record: { stated } } = await numbers(page);
  await page.click('#add-stated');
  const head = 'quantity\tvalue\tunit\ttolerance\n';
  const good = 'peak negative pressure\t2,1\tMPa\t±15 %\n';
  await paste(page, `${head}${good}loudness\t3\tMPa\t±10 %\n`);
  const note = page.locator('.add-form .problem-row');
  await note.waitFor();
  assert.equal(await note.count(), 1, 'only the row that is wrong is told');
  assert.match(await note.innerText(), /line 3.*“loudness”/);
  assert.deepEqual((await numbers(page)).record.stated, stated, 'half a table is not taken');
  await paste(page, `${head}${good}p+\t2.4\tMPa\t\n`);
  const after = await follows(page, (record) => record.stated?.length === stated.length + 2);
  assert.deepEqual(after.record.stated.slice(-2).map(({ quantity, value }) => [quantity, value]), [['pr', 2.1], ['pc', 2.4]]);
  assert.deepEqual(after.verdicts.slice(-2).map(({ quantity }) => quantity), ['pr', 'pc']);
  await page.click('#undo');
  await follows(page, (record) => record.stated.length === stated.length);
  // One by one: the other name is in the list, under its first letters.
  await page.click('#add-stated');
  await page.locator('.add-form select').focus();
  await page.keyboard.type('peak neg', { delay: 20 });
  assert.equal(await page.locator('.add-form select').inputValue(), 'pr');
  await page.locator('.add-form input').fill('2.2 MPa ± 20 %');
  await page.keyboard.press('Enter');
  const one = await follows(page, (record) => record.stated.length === stated.length + 1);
  assert.equal(one.record.stated.at(-1).quantity, 'pr');
  assert.deepEqual(page.complaints, []);
});
