// The page and the saved sheet for everyone: rules of WCAG 2.1 AA as axe-core tests them, and no
// sideways scrolling of the page at a usual laptop, at 200 % zoom of it and on a phone.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { oneBrowser, openPage, until, whole } from './chromium.mjs';
import { made } from './inputs.mjs';
import { OUT } from './places.mjs';

const browser = oneBrowser();
const AXE = { content: readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8') };

// What axe-core finds serious or critical, a line each.
const grave = (page) =>
  page.evaluate(async () => {
    const { violations } = await window.axe.run(document, { resultTypes: ['violations'] });
    return violations
      .filter(({ impact }) => ['serious', 'critical'].includes(impact))
      .flatMap(({ id, nodes }) => nodes.map(({ target, any }) => `${id}: ${target.join(' ')} ${any[0]?.message ?? ''}`));
  });

const clear = async (page, where) => assert.deepEqual(await grave(page), [], where);

const withExample = async (options) => {
  const page = await openPage(browser, options);
  await page.click('#example');
  await whole(page);
  return page;
};

const savedFrom = async (page) => {
  const [download] = await Promise.all([page.waitForEvent('download'), page.click('#save-sheet')]);
  const path = join(OUT, `access-${download.suggestedFilename()}`);
  await download.saveAs(path);
  return String(pathToFileURL(path));
};

test('axe-core finds faults where there are some', async () => {
  const page = await openPage(browser, { plant: AXE });
  await page.evaluate(() => { document.body.append(document.createElement('button')); });
  assert.ok((await grave(page)).some((line) => line.startsWith('button-name')));
});

test('nothing serious on the empty page, in the sheet, while typing and in the saved sheet', async () => {
  const page = await openPage(browser, { plant: AXE, reducedMotion: 'reduce' });
  await clear(page, 'empty');
  await page.click('#example');
  await whole(page);
  await clear(page, 'example');
  await page.locator('#sheet [data-path="device.serial"]').first().click();
  await page.keyboard.type('9');
  await clear(page, 'typing');
  await page.keyboard.press('Escape');
  // Out of date: greyed, and still to be read.
  for (const tier of ['sheet', 'map']) {
    await page.evaluate((tier) => { document.body.dataset.stale = tier; }, tier);
    await clear(page, `stale ${tier}`);
  }
  await page.evaluate(() => { delete document.body.dataset.stale; });
  const reader = await page.context().newPage();
  await reader.addInitScript(AXE);
  await reader.goto(await savedFrom(page));
  await clear(reader, 'saved');
  // On a phone wide tables move in regions of their own, which a key must reach.
  await reader.setViewportSize({ width: 390, height: 844 });
  await clear(reader, 'saved, narrow');
});

test('nothing serious where something stands in the way', async () => {
  const page = await openPage(browser, { plant: AXE });
  await page.setInputFiles('#pick', made('scan.h5', ''));
  await until(page, (state) => state.phase === 'refused');
  await clear(page, 'refused');
});

// WCAG 2.1, 1.4.10: 200 % zoom of 1366 pixels is a viewport of 683.
for (const [width, height] of [[1366, 768], [683, 384], [390, 844]]) {
  for (const locale of ['en-GB', 'de-DE']) {
    test(`the page does not scroll sideways at ${width} pixels, ${locale}`, async () => {
      const page = await withExample({ viewport: { width, height }, locale });
      const wider = (each) => each.evaluate(() => document.scrollingElement.scrollWidth - document.scrollingElement.clientWidth);
      assert.ok((await wider(page)) <= 0, 'page');
      const reader = await page.context().newPage();
      await reader.goto(await savedFrom(page));
      assert.ok((await wider(reader)) <= 0, 'saved sheet');
    });
  }
}

test('tables have heads, figures have words, headings come in order', async () => {
  const page = await withExample();
  const faults = await page.locator('#sheet').evaluate((sheet) => {
    const faults = [];
    for (const table of sheet.querySelectorAll('table')) {
      if (!table.querySelector('thead th[scope="col"]')) faults.push(`no head: ${table.textContent.slice(0, 60)}`);
      for (const head of table.querySelectorAll('th:not([scope])')) faults.push(`no scope: ${head.textContent}`);
    }
    for (const figure of sheet.querySelectorAll('figure')) {
      const words = figure.querySelector('[role="img"], [role="application"]')?.getAttribute('aria-label') ?? '';
      if (words.trim().split(/\s+/).length < 3) faults.push(`no words: ${figure.id}`);
    }
    let last = 0;
    for (const heading of sheet.querySelectorAll('h1, h2, h3, h4')) {
      const level = Number(heading.tagName[1]);
      if (level > last + 1) faults.push(`${heading.tagName} after h${last}: ${heading.textContent}`);
      last = level;
    }
    return faults;
  });
  assert.deepEqual(faults, []);
});

test('a key leads past the tray, and whatever it reaches is marked', async () => {
  const page = await withExample();
  await page.locator('body').evaluate(() => document.activeElement?.blur());
  await page.evaluate(() => window.getSelection().removeAllRanges());
  await page.locator('.skip').focus();
  assert.ok((await page.locator('.skip').boundingBox()).width > 20, 'seen when reached');
  await page.keyboard.press('Enter');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'paper');
  const unmarked = [];
  for (let step = 0; step < 25; step += 1) {
    await page.keyboard.press('Tab');
    const bare = await page.evaluate(() => {
      const { activeElement } = document;
      const { outlineStyle } = getComputedStyle(activeElement);
      return outlineStyle === 'none' ? activeElement.outerHTML.slice(0, 100) : '';
    });
    if (bare) unmarked.push(bare);
  }
  assert.deepEqual(unmarked, []);
});
