// From files to the sheet, and the same sheet whatever the number of workers.
import assert from 'node:assert/strict';
import { readFileSync, statSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { test } from 'node:test';
import { oneBrowser, openPage, until, whole } from './chromium.mjs';
import { demo, made } from './inputs.mjs';
import { PAGE } from './places.mjs';

const browser = oneBrowser();

test('the page is one file of at most 2 MB', (t) => {
  const { size } = statSync(PAGE);
  t.diagnostic(`page weight: ${size} bytes`);
  assert.ok(size <= 2_000_000, `${size} bytes`);
});

test('the example gives a sheet', async (t) => {
  const page = await openPage(browser);
  await page.click('#example');
  const shown = await until(page, (state) => state.phase === 'done');
  t.diagnostic(`example: opened ${shown.timings.opened} ms, bands ${shown.timings.bands} ms, finished ${shown.timings.finished} ms`);
  const { json } = await whole(page);
  assert.equal(typeof JSON.parse(json), 'object');
  assert.ok(await page.locator('#sheet article.sheet').isVisible());
  assert.ok(await page.locator('#outline').isHidden());
  assert.ok((await page.locator('#files li').count()) > 1, 'the example names its files');
  assert.deepEqual(page.complaints, []);
});

test('a record and its files, dropped together, give a sheet with their checksums', async () => {
  const { path, files } = demo();
  const page = await openPage(browser);
  await page.setInputFiles('#pick', [path, ...files]);
  const { json } = await whole(page);
  assert.equal(await page.locator('#files li').count(), files.length + 1);
  for (const file of files) {
    const hash = createHash('sha256').update(readFileSync(file)).digest('hex');
    assert.ok(json.includes(hash), `the checksum of ${file}, as node computes it, is in the numbers`);
  }
  assert.deepEqual(page.complaints, []);
});

test('1, 2 and 7 workers give the same numbers to the last bit', async () => {
  const { path, files } = demo();
  const sheets = [];
  for (const workers of [1, 2, 7]) {
    const page = await openPage(browser, { hash: `#workers=${workers}` });
    await page.setInputFiles('#pick', [path, ...files]);
    const state = await whole(page);
    assert.equal(state.workers, workers);
    sheets.push(state.json);
    await page.context().close();
  }
  assert.equal(sheets[1], sheets[0]);
  assert.equal(sheets[2], sheets[0]);
});

test('files dropped on the paper are taken like picked ones', async () => {
  const { path, files } = demo();
  const page = await openPage(browser);
  const transfer = await page.evaluateHandle((dropped) => {
    const carried = new DataTransfer();
    for (const { name, base64 } of dropped) {
      carried.items.add(new File([Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0))], name));
    }
    return carried;
  }, [path, ...files].map((file) => ({ name: file.split('/').pop(), base64: readFileSync(file).toString('base64') })));
  await page.dispatchEvent('#paper', 'dragover', { dataTransfer: transfer });
  await page.dispatchEvent('#paper', 'drop', { dataTransfer: transfer });
  await whole(page);
  assert.equal(await page.locator('#files li').count(), files.length + 1);
});

test('a finding in the tray leads to its place on the sheet', async () => {
  const page = await openPage(browser);
  await page.click('#example');
  await whole(page);
  const count = await page.locator('#findings button').count();
  assert.ok(count > 0, 'the example has findings');
  await page.locator('#findings button').last().click();
  const focused = await page.evaluate(() => document.activeElement.closest('#sheet .finding') !== null);
  assert.ok(focused);
});

test('a name that looks like markup is shown as text', async () => {
  const page = await openPage(browser);
  const name = '<img src=x onerror=alert(1)>.h5';
  await page.setInputFiles('#pick', [made(name, 'no scan')]);
  await until(page, (state) => state.phase !== 'working' && state.phase !== 'empty');
  assert.ok((await page.locator('#files').textContent()).includes(name));
  assert.equal(await page.locator('.tray img, #notice img').count(), 0);
});

test('the whole job can be done by keyboard', async () => {
  const page = await openPage(browser);
  const reach = async (id) => {
    for (let presses = 0; presses < 40; presses++) {
      if ((await page.evaluate(() => document.activeElement.id)) === id) return;
      await page.keyboard.press('Tab');
    }
    assert.fail(`${id} cannot be reached by Tab`);
  };
  await reach('pick');
  await reach('example');
  await page.keyboard.press('Enter');
  await whole(page);
  for (const id of ['print', 'save-sheet', 'save-json', 'save-csv', 'save-record', 'start-over']) await reach(id);
  await page.keyboard.press('Enter');
  await until(page, (state) => state.phase === 'empty');
});
