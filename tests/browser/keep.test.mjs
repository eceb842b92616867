// Print and save.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { oneBrowser, openPage, until, whole } from './chromium.mjs';
import { demo } from './inputs.mjs';
import { OUT, program } from './places.mjs';
import { planted } from './planted.mjs';

const browser = oneBrowser();

const withExample = async () => {
  const page = await openPage(browser);
  await page.click('#example');
  await whole(page);
  return page;
};

// Presses the word and returns the path of the file that is saved.
const saved = async (page, id) => {
  const [download] = await Promise.all([page.waitForEvent('download'), page.click(id)]);
  const path = join(OUT, download.suggestedFilename());
  await download.saveAs(path);
  return path;
};

test('the saved sheet reads without script and without the page', async () => {
  const page = await withExample();
  const path = await saved(page, '#save-sheet');
  // What the page adds for editing and pointing is not of the sheet.
  const shown = await page.locator('#sheet').evaluate((sheet) => {
    for (const control of sheet.querySelectorAll('button, .figure-words')) control.remove();
    // Parts out of sight are not laid out, and have no inner text.
    for (const part of sheet.querySelectorAll('.part')) part.style.contentVisibility = 'visible';
    return sheet.innerText;
  });

  const text = readFileSync(path, 'utf8');
  assert.match(text, /<meta http-equiv="Content-Security-Policy" content="default-src 'none'/);
  for (const [opening] of text.matchAll(/<script[^>]*>/gi)) assert.match(opening, /type="application\/json"/);

  const context = await browser.now.newContext({ javaScriptEnabled: false, viewport: { width: 1366, height: 768 } });
  const reader = await context.newPage();
  await reader.goto(String(pathToFileURL(path)));
  const words = (each) => each.split(/\s+/).filter(Boolean).join(' ');
  assert.equal(words(await reader.locator('article.sheet').innerText()), words(shown));
});

test('the saved numbers are those of the page', async () => {
  const page = await withExample();
  const { json } = await whole(page);
  assert.equal(readFileSync(await saved(page, '#save-json'), 'utf8'), json);
  assert.ok(readFileSync(await saved(page, '#save-csv'), 'utf8').split('\n').length > 1);
});

test('the record is saved as it was used, and gives the same sheet again', async () => {
  const { path, files } = demo();
  const page = await openPage(browser);
  await page.setInputFiles('#pick', [path, ...files]);
  await whole(page);
  const record = await saved(page, '#save-record');
  assert.equal(JSON.parse(readFileSync(record, 'utf8')).schema, 'focalsheet-record/1');
  const shown = await page.locator('#sheet').innerText();
  await page.click('#start-over');
  await until(page, (state) => state.phase === 'empty');
  await page.setInputFiles('#pick', [record, ...files]);
  await whole(page);
  const quantities = (text) => text.split('\n').filter((line) => /MPa|mm/.test(line)).join('\n');
  assert.equal(quantities(await page.locator('#sheet').innerText()), quantities(shown));
});

test('printing and saving wait for the checksums, and the page says so', async () => {
  const { path, files } = demo();
  const page = await openPage(browser, { plant: planted });
  await page.evaluate(() => { window.planted.lost = (call) => call === 'hash'; });
  await page.setInputFiles('#pick', [path, ...files]);
  await until(page, (state) => state.phase === 'done');
  assert.ok(await page.locator('#waiting').isVisible());
  for (const id of ['#print', '#save-sheet', '#save-json', '#save-csv']) assert.ok(await page.locator(id).isDisabled(), id);
});

test('print gives pages of paper with the sheet and nothing else', { skip: !program('pdftotext') && 'no pdftotext' }, async (t) => {
  const page = await withExample();
  const path = join(OUT, 'sheet.pdf');
  writeFileSync(path, await page.pdf({ preferCSSPageSize: true, format: 'A4' }));
  const text = execFileSync(program('pdftotext'), ['-layout', path, '-'], { encoding: 'utf8' });
  const pages = text.split('\f').length - 1;
  t.diagnostic(`pages: ${pages}`);
  assert.ok(pages > 1, `${pages} pages`);
  const heading = (await page.locator('#sheet h1').first().innerText()).trim().split(/\s+/)[0];
  assert.ok(text.includes(heading), 'the heading is printed');
  for (const id of ['#save-sheet', '#example', '#start-over']) {
    const word = await page.locator(id).innerText();
    assert.ok(!text.includes(word), `“${word}” belongs to the tray`);
  }
});
