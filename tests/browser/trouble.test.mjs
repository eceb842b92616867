// Cancelling, workers that break, and files that are wrong: the page says what is the matter and
// goes on working.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { oneBrowser, openPage, stateOf, stillWorks, until, whole } from './chromium.mjs';
import { copied, demo, made, madeRecord } from './inputs.mjs';
import { PAGE } from './places.mjs';
import { planted } from './planted.mjs';

const browser = oneBrowser();

const example = async (page) => {
  await page.click('#example');
  return (await whole(page)).json;
};

test('cancel stops the work, and it can be started again', async () => {
  const page = await openPage(browser, { plant: planted });
  await page.evaluate(() => { window.planted.delay = 400; });
  await page.click('#example');
  await until(page, (state) => state.timings.opened > 0);
  await page.click('#cancel');
  await until(page, (state) => state.phase === 'cancelled', 2);
  assert.ok(await page.locator('#sheet article').count() === 0);
  await page.evaluate(() => { window.planted.delay = 0; });
  await page.click('#again');
  await whole(page);
});

test('a worker that does not come back is cut off when cancelled', async () => {
  const page = await openPage(browser, { plant: planted });
  await page.evaluate(() => { window.planted.lost = (call) => call === 'band'; });
  await page.click('#example');
  await until(page, (state) => state.timings.opened > 0);
  await new Promise((resolve) => setTimeout(resolve, 300));
  assert.equal((await stateOf(page)).phase, 'working');
  await page.click('#cancel');
  await until(page, (state) => state.phase === 'cancelled', 2);
  assert.ok((await page.evaluate(() => window.planted.cut)) > 0, 'a worker was terminated');
  await page.evaluate(() => { window.planted.lost = () => false; });
  await stillWorks(page);
});

test('other files while one job runs: only the last one counts', async () => {
  const page = await openPage(browser, { plant: planted });
  const expected = await example(page);
  await page.evaluate(() => { window.planted.delay = 50; });
  await page.setInputFiles('#pick', [made('no-scan.bin', 'nothing')]);
  await page.click('#example');
  await page.click('#start-over');
  await page.click('#example');
  assert.equal((await whole(page)).json, expected);
});

test('a band that breaks its worker once is computed by another', async () => {
  const page = await openPage(browser, { plant: planted });
  const expected = await example(page);
  await page.evaluate(() => {
    let times = 0;
    window.planted.trap = (call, argument) => call === 'band' && argument[1] === 0 && times++ === 0;
  });
  assert.equal(await example(page), expected);
});

test('a band that breaks two workers becomes a finding', async () => {
  const page = await openPage(browser, { plant: planted });
  await example(page);
  const told = page.locator('#findings li', { hasText: 'could not be computed' });
  assert.equal(await told.count(), 0);
  await page.evaluate(() => {
    let scan = null;
    window.planted.trap = (call, argument) => {
      if (call !== 'band' || argument[1] !== 0) return false;
      scan ??= argument[0];
      return argument[0] === scan;
    };
  });
  await example(page);
  assert.ok((await told.count()) > 0);
});

for (const call of ['open', 'accept', 'finish']) {
  test(`an engine that breaks once at ${call} is replaced without loss`, async () => {
    const page = await openPage(browser, { plant: planted });
    const expected = await example(page);
    await page.evaluate((broken) => {
      let times = 0;
      window.planted.trap = (asked) => asked === broken && times++ === 1;
    }, call);
    assert.equal(await example(page), expected);
    assert.equal(await example(page), expected);
  });
}

test('an engine that always breaks ends in a message, not in a blank page', async () => {
  const page = await openPage(browser, { plant: planted });
  await page.evaluate(() => { window.planted.trap = (call) => call === 'finish'; });
  await page.click('#example');
  await until(page, (state) => state.phase === 'refused');
  assert.ok(await page.locator('#notice').isVisible());
  assert.ok(await page.locator('#outline').isVisible());
  await page.evaluate(() => { window.planted.trap = () => false; });
  await stillWorks(page);
});

// Drops the files, and returns what the page says once it has refused them.
const refusal = async (page, files) => {
  await page.setInputFiles('#pick', files);
  await until(page, (state) => state.phase === 'refused');
  assert.ok(await page.locator('#notice').isVisible());
  return page.locator('#notice').innerText();
};

test('a file that the record names but that was not dropped is named, and can be added', async () => {
  const { path, files } = demo();
  const page = await openPage(browser);
  const [missing, ...rest] = files;
  const said = await refusal(page, [path, ...rest]);
  assert.ok(said.includes(missing.split('/').pop()), said);
  await page.setInputFiles('#pick', [missing]);
  await whole(page);
  assert.ok(await page.locator('#notice').isHidden());
  await stillWorks(page);
});

test('all wrong keys of a record are named at once, with the nearest right ones', async () => {
  const { record, files } = demo();
  const page = await openPage(browser);
  const said = await refusal(page, [madeRecord({ ...record, devise: {}, titel: 'x' }), ...files.map(copied)]);
  for (const word of ['devise', 'device', 'titel', 'title']) assert.ok(said.includes(word), `${word}: ${said}`);
  await stillWorks(page);
});

test('a record that is not JSON is refused', async () => {
  const { files } = demo();
  const page = await openPage(browser);
  const said = await refusal(page, [made('record.json', '{"schema": "focalsheet-record/1",,}'), ...files.map(copied)]);
  assert.ok(said.includes('record.json'), said);
  await stillWorks(page);
});

test('an empty file is named', async () => {
  const { path, record, files } = demo();
  const page = await openPage(browser);
  const empty = record.scans[0].file;
  const rest = files.filter((file) => !file.endsWith(empty));
  await page.setInputFiles('#pick', [path, ...rest]);
  await until(page, (state) => state.phase === 'refused');
  const said = await refusal(page, [made(empty.split('/').pop(), '')]);
  assert.ok(said.includes(empty.split('/').pop()), said);
  await stillWorks(page);
});

test('a browser that lacks what the page needs is told so, without script too', async () => {
  const lacking = await (await browser.now.newContext()).newPage();
  await lacking.addInitScript(() => { delete window.DecompressionStream; });
  await lacking.goto(String(pathToFileURL(PAGE)));
  await until(lacking, (state) => state.phase === 'unable');
  assert.ok(await lacking.locator('#unable').isVisible());

  const scriptless = await (await browser.now.newContext({ javaScriptEnabled: false })).newPage();
  await scriptless.goto(String(pathToFileURL(PAGE)));
  assert.match(await scriptless.locator('noscript').innerText(), /\w+ \w+/);
});
