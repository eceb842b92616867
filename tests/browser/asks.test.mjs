// Explanations of quantities: by key, by pointer and by touch, on the page and in the saved sheet.
import assert from 'node:assert/strict';
import { join } from 'node:path';
import { test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { oneBrowser } from './chromium.mjs';
import { OUT } from './places.mjs';
import { openExample, poll } from './pointed.mjs';

const browser = oneBrowser();

// The sheet saved from the page, opened by itself, where scripts are switched off.
const saved = async (page, options) => {
  const [download] = await Promise.all([page.waitForEvent('download'), page.click('#save-sheet')]);
  const path = join(OUT, `asks-${download.suggestedFilename()}`);
  await download.saveAs(path);
  const context = await browser.now.newContext({ viewport: { width: 1366, height: 768 }, ...options });
  const reader = await context.newPage();
  await reader.goto(String(pathToFileURL(path)));
  return reader;
};

// The box of what is shown of an explanation: the places of the window that belong to its name without
// lying on it. Null where there is none.
const bubble = (name) =>
  name.evaluate((element) => {
    const own = [...element.getClientRects()];
    const over = (x, y) => own.some((box) => x >= box.left - 1 && x <= box.right + 1 && y >= box.top - 1 && y <= box.bottom + 1);
    const found = { left: Infinity, right: -Infinity, top: Infinity, bottom: -Infinity };
    for (let y = 1; y < innerHeight; y += 3) {
      for (let x = 1; x < innerWidth; x += 3) {
        if (document.elementFromPoint(x, y) !== element || over(x, y)) continue;
        found.left = Math.min(found.left, x);
        found.right = Math.max(found.right, x);
        found.top = Math.min(found.top, y);
        found.bottom = Math.max(found.bottom, y);
      }
    }
    return found.right - found.left > 60 ? found : null;
  });

const shown = (page) =>
  page.evaluate(() => [...document.querySelectorAll('.asks')].filter((name) => getComputedStyle(name, '::after').content !== 'none').length);

const whereAll = (page) =>
  page.evaluate(() => [...document.querySelectorAll('.sheet tr, .sheet .part')].map((part) => part.getBoundingClientRect().top + scrollY));

// The explanation stands in the window, whole, and nothing moved for it.
const fits = async (page, name, wide) => {
  await name.scrollIntoViewIfNeeded();
  // Parts that came near are laid out.
  await new Promise((resolve) => setTimeout(resolve, 300));
  const before = await whereAll(page);
  await name.focus();
  assert.equal(await shown(page), 1);
  const box = await bubble(name);
  const text = await name.getAttribute('aria-description');
  assert.ok(box, `nothing is shown: ${text}`);
  assert.ok(box.left > 3 && box.right < wide - 3, JSON.stringify(box));
  // Letters of 8.5 points and more: no explanation is a single line, none is cut off at the foot.
  const area = (box.right - box.left) * (box.bottom - box.top);
  assert.ok(area > text.length * 70, `${area} pixels for ${text.length} letters`);
  assert.deepEqual(await whereAll(page), before, 'nothing moves');
};

test('names of quantities have their explanation wherever they stand, once and with its source', async () => {
  const { page } = await openExample(browser);
  // What is judged is left out of the headline, which may then have no row.
  for (const [table, least] of [['.headline', 0], ['.verdicts', 1], ['.quantities:not(.headline)', 1]]) {
    const rows = await page.locator(`#sheet ${table} tbody .name`).count();
    assert.ok(rows >= least, table);
    assert.equal(await page.locator(`#sheet ${table} tbody .name .asks[aria-description]`).count(), rows, table);
  }
  const texts = await page.locator('#sheet .asks').evaluateAll((all) => all.map((name) => name.getAttribute('aria-description')));
  for (const text of texts) assert.match(text, /\. Source: .+\.$/);
  assert.equal(await page.locator('#sheet .asks[title], #sheet .asks [title], #sheet .name[title]').count(), 0, 'no second one by the browser');
});

for (const [width, height] of [[1366, 768], [683, 384], [390, 844]]) {
  test(`it fits into a window of ${width} pixels and moves nothing`, async () => {
    const { page } = await openExample(browser, { viewport: { width, height } });
    const reader = await saved(page, { viewport: { width, height }, javaScriptEnabled: false });
    for (const sheet of [page, reader]) {
      const names = sheet.locator('.sheet .asks');
      const count = await names.count();
      for (const at of [0, 8, count - 1]) await fits(sheet, names.nth(at), width);
      await sheet.screenshot({ path: join(OUT, `asks-${sheet === page ? 'page' : 'saved'}-${width}.png`) });
      assert.ok((await sheet.evaluate(() => document.scrollingElement.scrollWidth - document.scrollingElement.clientWidth)) <= 0);
    }
  });
}

test('the pointer shows one after a moment, and only that; Escape puts it away', async () => {
  const { page } = await openExample(browser);
  const names = page.locator('#sheet .quantities:not(.headline) .asks');
  await names.nth(0).click();
  assert.ok(await bubble(names.nth(0)));
  await names.nth(2).hover();
  const box = await poll(() => bubble(names.nth(2)), Boolean);
  assert.equal(await shown(page), 1, 'the other one gives way');
  // WCAG 2.1, 1.4.13: the pointer may go over to it, and it can be put away without moving.
  await page.mouse.move((box.left + box.right) / 2, box.top + 10, { steps: 6 });
  await page.mouse.move(box.right - 20, box.top + 10, { steps: 6 });
  assert.ok(await bubble(names.nth(2)));
  await page.keyboard.press('Escape');
  assert.equal(await shown(page), 0);
  await page.mouse.move(3, 3);
  await names.nth(2).hover();
  await poll(() => bubble(names.nth(2)), Boolean);
  // A key goes before a pointer that rests somewhere.
  await page.keyboard.press('Tab');
  assert.ok(await bubble(names.nth(1)), 'the next one');
  assert.equal(await shown(page), 1);
  await page.keyboard.press('Escape');
  assert.equal(await shown(page), 0);
  await page.mouse.move(3, 3);
  assert.equal(await shown(page), 0, 'put away as long as it has the focus');
  await page.keyboard.press('Tab');
  assert.ok(await bubble(names.nth(2)));
  assert.deepEqual(page.complaints, []);
});

test('a tap shows it in the saved sheet without any script, another closes it; paper shows none', async () => {
  const { page } = await openExample(browser);
  const reader = await saved(page, { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, javaScriptEnabled: false });
  const names = reader.locator('.asks');
  await names.nth(1).tap();
  assert.ok(await poll(() => bubble(names.nth(1)), Boolean));
  await reader.emulateMedia({ media: 'print' });
  assert.equal(await shown(reader), 0);
  await reader.emulateMedia({ media: 'screen' });
  await reader.locator('h1').first().tap();
  await poll(() => shown(reader), (count) => count === 0);
});

// ARIA 1.3, aria-description; HTML-AAM: dfn is a term.
test('assistive technology is told name and explanation apart', async () => {
  const { page } = await openExample(browser);
  const name = page.locator('#sheet .asks').first();
  await name.focus();
  const cdp = await page.context().newCDPSession(page);
  const { result } = await cdp.send('Runtime.evaluate', { expression: 'document.activeElement' });
  const { nodes } = await cdp.send('Accessibility.getPartialAXTree', { objectId: result.objectId, fetchRelatives: false });
  const [own] = nodes.filter(({ ignored }) => !ignored);
  assert.equal(own.role.value, 'term');
  assert.equal(own.description.value, await name.getAttribute('aria-description'));
  const head = await page.locator('#sheet .headline tbody .name, #sheet .verdicts tbody .name').first().ariaSnapshot();
  assert.ok(!head.includes(own.description.value.slice(0, 30)), head);
});
