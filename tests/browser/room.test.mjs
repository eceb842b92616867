// Little room: nothing that is to be read is cut off, covered, or out of sight without a sign.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { oneBrowser, openPage, whole } from './chromium.mjs';
import { demo } from './inputs.mjs';

const browser = oneBrowser();

const withDemo = async (options) => {
  const page = await openPage(browser, options);
  const { path, files } = demo();
  await page.setInputFiles('#pick', [path, ...files]);
  await whole(page);
  return page;
};

for (const locale of ['en-GB', 'de-DE']) {
  test(`verdicts are whole at 390 px, each beside its name, ${locale}`, async () => {
    const page = await withDemo({ locale, viewport: { width: 390, height: 844 } });
    const table = page.locator('.verdicts');
    const { cut, rows } = await table.evaluate((all) => {
      const box = (element) => element.getBoundingClientRect();
      const scroll = all.closest('.scroll');
      return {
        cut: [...all.querySelectorAll('th, td')].filter((cell) => box(cell).right > box(scroll).right + 0.5 || cell.scrollWidth > cell.clientWidth + 1).map((cell) => cell.textContent),
        rows: [...all.querySelectorAll('tr[data-verdict]')].map((row) => {
          const [name, verdict, probability] = ['.name', '.verdict', '.probability'].map((cell) => box(row.querySelector(cell)));
          return { beside: Math.abs(name.top - verdict.top) < 2, apart: name.right <= verdict.left + 0.5, below: probability.top >= name.bottom - 0.5 };
        }),
      };
    });
    assert.deepEqual(cut, []);
    assert.ok(rows.length >= 6);
    for (const row of rows) assert.deepEqual(row, { beside: true, apart: true, below: true });
    // The head says which value is which.
    for (const head of await table.locator('thead th').all()) assert.ok(await head.isVisible());
    assert.ok(await page.locator('.judged .scroll').evaluate(({ scrollWidth, clientWidth }) => scrollWidth <= clientWidth));
  });
}

test('a list of findings that goes on ends softly, and is whole at its end', async () => {
  const page = await withDemo();
  const places = () => page.evaluate(() => {
    const foot = document.querySelector('.tray-foot');
    const edge = getComputedStyle(foot, '::before');
    const { bottom } = document.querySelector('#findings li:last-child').getBoundingClientRect();
    const { top, bottom: end } = foot.getBoundingClientRect();
    return { bottom, soft: top - parseFloat(edge.height), end, image: edge.backgroundImage, high: innerHeight };
  });
  const before = await places();
  assert.ok(before.bottom > before.soft, 'the list goes on');
  assert.match(before.image, /gradient/);
  assert.ok(before.end >= before.high, 'nothing shows below the foot');
  await page.locator('.tray').evaluate((tray) => { tray.scrollTop = tray.scrollHeight; });
  const after = await places();
  assert.ok(after.bottom <= after.soft + 0.5, `${after.bottom} above ${after.soft}`);
});

test('what the keys do does not cover the figure that it speaks of', async () => {
  const page = await withDemo();
  const drawing = page.locator('#sheet .drawing').first();
  await page.keyboard.press('Tab');
  await drawing.focus();
  await page.keyboard.press('ArrowRight');
  await page.locator('.point-said:not(:empty)').waitFor();
  const figure = page.locator('#sheet figure', { has: page.locator('.drawing') }).first();
  const keys = figure.locator('.point-keys');
  const seen = new Set();
  for (const at of [-4, 60, 300]) {
    // The figure's end this far above the window's.
    await figure.evaluate((element, far) => scrollBy(0, element.getBoundingClientRect().bottom - innerHeight + far), at);
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
    const [strip, whole] = [await keys.boundingBox(), await figure.boundingBox()];
    assert.ok(strip.height < 32, `slim: ${strip.height}`);
    const apart = strip.y >= whole.y + whole.height || strip.y + strip.height <= whole.y;
    assert.ok(apart, `${at}: ${JSON.stringify({ strip, whole })}`);
    seen.add(strip.y < 10);
  }
  assert.equal(seen.size, 2, 'above and below');
});

test('text files are named among those that can be dropped', async () => {
  for (const locale of ['en-GB', 'de-DE']) {
    const page = await openPage(browser, { locale });
    assert.match(await page.locator('#outline-drop').innerText(), /CSV, TXT, HDF5/);
  }
});
