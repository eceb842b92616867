// The panel with a point's waveform: which figures open it, that it stays over a fresh sheet, and that
// it fits into narrow windows.
import assert from 'node:assert/strict';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { oneBrowser, openPage, stateOf, until, whole } from './chromium.mjs';
import { DEMO, OUT } from './places.mjs';
import { begin, openExample, plain, poll, said } from './pointed.mjs';

const browser = oneBrowser();
const panel = (page) => page.locator('.point-panel');
const drawn = (page) => poll(() => panel(page).locator('canvas').count(), (count) => count === 2);
const peaks = async (page) => plain(await panel(page).locator('.point-peaks').textContent());

// The plane of the example, as ids of its figures begin.
const planeOf = (sheet) => sheet.scans.find(({ role }) => role === 'plane').id.toLowerCase().replace(/[^a-z0-9]/g, '-');

// Opens the panel of the point with which a figure begins.
const openIn = async (page, figure) => {
  const text = await begin(page, figure);
  await page.keyboard.press('Enter');
  await drawn(page);
  return text;
};

test('a place of a pressure profile opens the waveform of the plane there', async () => {
  const { page, sheet } = await openExample(browser);
  for (const axis of ['x', 'y']) {
    const text = await openIn(page, `${planeOf(sheet)}-pressures-${axis}`);
    const [, place, pc] = text.match(/^[xy] (\S+) mm: pc (\S+) MPa$/);
    const shown = await peaks(page);
    assert.ok(shown.includes(`${axis} ${place} mm`), `${shown}; said ${text}`);
    // The profile runs through the fitted peak, the waveform is that of the nearest row or column.
    const own = Number(shown.match(/pc (\S+) MPa/)[1]);
    assert.ok(Math.abs(own / Number(pc) - 1) < 0.05, `${shown}; said ${text}`);
    await page.locator('.point-panel button').press('Escape');
  }
  assert.deepEqual(page.complaints, []);
});

test('a figure without waveforms of its points promises none', async () => {
  const { page, sheet } = await openExample(browser);
  const figure = `${planeOf(sheet)}-waveform`;
  await begin(page, figure);
  const drawing = page.locator(`[data-figure="${figure}"] .drawing`);
  assert.ok(!(await drawing.evaluate(({ classList }) => classList.contains('opens'))));
  assert.equal(await page.locator(`[data-figure="${figure}"] .point-hint`).textContent(), '');
  await page.keyboard.press('Enter');
  await new Promise((resolve) => setTimeout(resolve, 400));
  assert.equal(await panel(page).count(), 0);
});

test('points of a drive curve open the waveform of their level', async () => {
  const folder = join(DEMO, 'levels');
  const names = readdirSync(folder).filter((name) => /\.(h5|csv)$/.test(name) || name === 'record.json');
  const page = await openPage(browser);
  await page.setInputFiles('#pick', names.map((name) => join(folder, name)));
  const sheet = JSON.parse((await whole(page)).json);
  const [{ rows, unit }] = sheet.drives;
  const text = await openIn(page, 'levels-1-pressures');
  const shown = await peaks(page);
  // A row of the sweep's own table: its mean over the shots, of which one is shown.
  const [, level] = shown.match(new RegExp(`drive (\\S+) ${unit}`));
  const row = rows.find((each) => each.level === Number(level));
  assert.ok(row, `${shown}; said ${text}`);
  const pc = Number(shown.match(/pc (\S+) MPa/)[1]) * 1e6;
  assert.ok(Math.abs(pc / row.pc_pa - 1) < 0.05, `${shown}; the row says ${row.pc_pa} Pa`);
  await panel(page).screenshot({ path: join(OUT, 'level-panel.png') });
  for (const [figure, has] of [['levels-1-harmonics', true], ['levels-1-wave-1', true], ['levels-1-spectra', false], ['level-fields-1-pc', true]]) {
    if ((await page.locator(`[data-figure="${figure}"]`).count()) === 0) continue;
    await begin(page, figure);
    const opens = await page.locator(`[data-figure="${figure}"] .drawing`).evaluate(({ classList }) => classList.contains('opens'));
    assert.equal(opens, has, figure);
  }
  assert.deepEqual(page.complaints, []);
});

test('the panel stays at its point when the sheet is a fresh one, and goes when the point is gone', async () => {
  const { page, sheet } = await openExample(browser);
  const figure = `${planeOf(sheet)}-pc`;
  await openIn(page, figure);
  const before = await peaks(page);
  const follows = (reached) => until(page, (state) => state.phase === 'done' && state.settled && state.hashed && reached(JSON.parse(state.json).record));
  const type = async (path, text) => {
    await page.locator(`#sheet [data-path="${path}"]`).first().focus();
    await page.keyboard.press('Control+A');
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  };
  // Each canvas is marked, so that one drawn anew is told from it.
  const mark = () => panel(page).locator('canvas').evaluateAll((all) => { for (const one of all) one.dataset.old = ''; });
  const redrawn = () => poll(() => panel(page).locator('canvas:not([data-old])').count(), (count) => count === 2);
  await mark();
  await type('site', 'tank 2');
  await follows(({ site }) => site === 'tank 2');
  await redrawn();
  assert.equal(await peaks(page), before);
  // The water acts on no pressure; the maps are computed again.
  await mark();
  await type('water.temperature_c', '25');
  await follows(({ water }) => water.temperature_c === 25);
  await redrawn();
  assert.equal((await peaks(page)).split(':')[0], before.split(':')[0]);
  assert.equal(await panel(page).evaluate(({ previousElementSibling }) => previousElementSibling.matches('.figures')), true);
  // In another language the sheet is put up anew.
  await mark();
  await page.click('#other-language');
  await redrawn();
  assert.match(await panel(page).locator('button').textContent(), /schließen/);
  assert.match(await peaks(page), /x -?\d+,\d+ mm/);
  await page.click('#start-over');
  await until(page, ({ phase }) => phase === 'empty');
  assert.equal(await panel(page).count(), 0);
  assert.equal((await stateOf(page)).phase, 'empty');
  assert.deepEqual(page.complaints, []);
});

// 683 pixels at two device pixels each are a window of 1366 at 200 % zoom.
for (const [width, height, deviceScaleFactor] of [[390, 844, 3], [683, 384, 2], [1366, 768, 1]]) {
  test(`the panel fits into the paper of a window of ${width} pixels`, async () => {
    const { page, sheet } = await openExample(browser, { viewport: { width, height }, deviceScaleFactor });
    await openIn(page, `${planeOf(sheet)}-pc`);
    const boxes = await page.evaluate(() => {
      const box = (element) => { const { left, right, width: wide, height: high } = element.getBoundingClientRect(); return { left, right, wide, high }; };
      return { paper: box(document.querySelector('#sheet article')), parts: [...document.querySelectorAll('.point-panel, .point-panel canvas, .point-panel p')].map(box) };
    });
    for (const part of boxes.parts) {
      assert.ok(part.left >= boxes.paper.left && part.right <= boxes.paper.right, JSON.stringify(boxes));
      assert.ok(part.right <= width, JSON.stringify(part));
    }
    // Drawn for 84 mm of paper, 317 pixels of CSS (1 in = 96 px): letters no smaller than nine tenths of
    // their size.
    for (const canvas of await page.locator('.point-panel canvas').evaluateAll((all) => all.map(({ offsetWidth, offsetHeight, width: dots }) => ({ offsetWidth, offsetHeight, dots })))) {
      assert.ok(canvas.offsetWidth >= 0.9 * 317, `${canvas.offsetWidth}`);
      assert.ok(canvas.offsetHeight > 100);
      assert.ok(Math.abs(canvas.dots - canvas.offsetWidth * deviceScaleFactor) <= deviceScaleFactor, 'as many dots as the screen has');
    }
    assert.ok((await page.evaluate(() => document.scrollingElement.scrollWidth - document.scrollingElement.clientWidth)) <= 0);
    await page.screenshot({ path: join(OUT, `panel-${width}.png`) });
  });
}

for (const [locale, word] of [['en-GB', /Arrow keys .*Enter .*Escape/], ['de-DE', /Pfeiltasten .*Eingabe .*Escape/]]) {
  test(`who comes by keyboard reads what the keys do, ${locale}`, async () => {
    const { page, sheet } = await openExample(browser, { locale, viewport: { width: 390, height: 844 } });
    const figure = `${planeOf(sheet)}-pc`;
    const keys = page.locator(`[data-figure="${figure}"] .point-keys`);
    assert.ok(await keys.isHidden());
    await begin(page, figure);
    const high = () => page.evaluate(() => document.scrollingElement.scrollHeight);
    const before = await high();
    await page.keyboard.press('ArrowRight');
    await keys.waitFor();
    assert.match(await keys.textContent(), word);
    const box = await keys.boundingBox();
    assert.ok(box.x >= 0 && box.x + box.width <= 390 && box.y > 0 && box.y + box.height <= 844, JSON.stringify(box));
    assert.equal(await high(), before);
    const hint = await page.locator(`[data-figure="${figure}"] .point-hint`).textContent();
    assert.match(hint, /^(Enter|Eingabe) /);
    assert.ok(await said(page, figure));
    await page.keyboard.press('Escape');
    assert.ok(await keys.isHidden());
  });
}
