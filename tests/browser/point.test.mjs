// Pointing at figures, the waveform of a point, figures saved singly.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { oneBrowser } from './chromium.mjs';
import { OUT } from './places.mjs';
import { begin, openExample, plain, poll, said } from './pointed.mjs';

const browser = oneBrowser();
const opened = (options) => openExample(browser, options);

// `x 0.40 mm, y -0.20 mm: pc 5.213 MPa` as numbers.
const numbers = (text) => {
  const found = text.match(/^x (\S+) mm, y (\S+) mm: pc (\S+) MPa$/);
  assert.ok(found, text);
  return found.slice(1).map(Number);
};

// The plane of the example and its map of pc.
const planeOf = (sheet) => {
  const pc = sheet.quantities.find(({ id, value, scan }) => id === 'pc' && value !== null && sheet.scans.find((s) => s.id === scan)?.role === 'plane');
  assert.ok(pc, 'the example has a plane with pc');
  return { pc, figure: `${pc.scan.toLowerCase().replace(/[^a-z0-9]/g, '-')}-pc` };
};

test('the keyboard begins at the largest pressure and goes point by point', async () => {
  const { page, sheet } = await opened();
  const { pc, figure } = planeOf(sheet);
  const first = numbers(await begin(page, figure));
  // The largest value of the grid cannot stand above the fitted peak by more than the fit corrects.
  const uncorrected = pc.value_uncorrected ?? pc.value;
  assert.ok(Math.abs(first[2] * 1e6 / uncorrected - 1) < 0.05, `${first[2]} MPa, the sheet says ${uncorrected} Pa`);
  await page.keyboard.press('ArrowRight');
  const next = numbers(await poll(() => said(page, figure), (text) => text !== '' && numbers(text)[0] !== first[0]));
  assert.ok(next[0] > first[0] && next[1] === first[1]);
  assert.ok(next[2] <= first[2] + 1e-9, 'it began at the largest');
  await page.keyboard.press('ArrowUp');
  const above = numbers(await poll(() => said(page, figure), (text) => text !== '' && numbers(text)[1] !== first[1]));
  assert.ok(above[1] > first[1] && above[0] === next[0]);
  await page.keyboard.press('Escape');
  await poll(() => said(page, figure), (text) => text === '');
  assert.equal(await page.locator('.point-mark').count(), 0);
  assert.deepEqual(page.complaints, []);
});

test('the mouse shows what the keyboard shows, with a mark there that is not printed', async () => {
  const { page, sheet } = await opened();
  const { figure } = planeOf(sheet);
  const byKey = await begin(page, figure);
  const mark = await page.locator('.point-mark').boundingBox();
  await page.keyboard.press('Escape');
  await poll(() => said(page, figure), (text) => text === '');
  await page.mouse.move(mark.x + mark.width / 2, mark.y + mark.height / 2);
  assert.equal(await poll(() => said(page, figure), (text) => text !== ''), byKey);
  await page.emulateMedia({ media: 'print' });
  for (const part of ['.point-mark', '.figure-words']) assert.ok(await page.locator(part).first().isHidden(), part);
  await page.emulateMedia({ media: 'screen' });
  await page.mouse.move(2, 2);
  await poll(() => said(page, figure), (text) => text === '');
});

test('a click draws waveform and spectrum at device resolution and says pc and pr', async () => {
  const { page, sheet } = await opened({ deviceScaleFactor: 2 });
  const { figure } = planeOf(sheet);
  const drawing = page.locator(`[data-figure="${figure}"] .drawing`);
  const [, , map] = numbers(await begin(page, figure));
  const at = await page.locator('.point-mark').boundingBox();
  await page.mouse.click(at.x + at.width / 2, at.y + at.height / 2);
  await poll(() => page.locator('.point-panel canvas').count(), (count) => count === 2);
  const text = plain(await page.locator('.point-peaks').textContent());
  const [, pc, pr] = text.match(/pc (\S+) MPa, pr (\S+) MPa/).map(Number);
  // Two computations of the same waveform: the map's in single precision, the point's in double.
  assert.ok(Math.abs(pc / map - 1) < 1e-3, `${pc} MPa, the map says ${map} MPa`);
  assert.ok(pr > 0);
  const drawn = await page.locator('.point-panel canvas').evaluateAll((all) => all.map((canvas) => {
    const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
    let inked = 0;
    let accent = 0;
    for (let i = 0; i < data.length; i += 4) {
      if (data[i + 3] > 0) inked++;
      if (data[i + 3] > 200 && data[i + 2] > data[i] + 40) accent++;
    }
    return { inked, accent, wide: canvas.width, shown: canvas.getBoundingClientRect().width, label: canvas.getAttribute('aria-label') };
  }));
  for (const { inked, accent, wide, shown, label } of drawn) {
    assert.ok(inked > 1000 && accent > 200, `${inked} and ${accent} pixels`);
    assert.ok(Math.abs(wide - 2 * shown) <= 2, `${wide} pixels over ${shown}`);
    assert.ok(plain(label).includes(`pc ${String(text.match(/pc (\S+)/)[1])}`));
  }
  await page.locator('.point-panel').screenshot({ path: join(OUT, 'point-panel.png') });
  await page.emulateMedia({ media: 'print' });
  assert.ok(await page.locator('.point-panel').isHidden());
  await page.emulateMedia({ media: 'screen' });
  await page.locator('.point-panel button').press('Escape');
  assert.equal(await page.locator('.point-panel').count(), 0);
  assert.ok(await drawing.evaluate((element) => element === document.activeElement));
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await poll(() => page.locator('.point-panel canvas').count(), (count) => count === 2);
  await page.locator('.point-panel button').click();
  assert.equal(await page.locator('.point-panel').count(), 0);
  assert.deepEqual(page.complaints, []);
});

test('a figure is saved as the SVG of the saved sheet, and as PNG of 300 dots per inch', async () => {
  const { page, sheet } = await opened();
  const { figure } = planeOf(sheet);
  const row = page.locator(`[data-figure="${figure}"]`);
  const save = async (button, from = page) => {
    const [file] = await Promise.all([from.waitForEvent('download'), button.press('Enter')]);
    return readFileSync(await file.path());
  };
  const svg = (await save(row.locator('.figure-save button').first())).toString('utf8');
  const fault = await page.evaluate((text) => new DOMParser().parseFromString(text, 'image/svg+xml').querySelector('parsererror')?.textContent ?? null, svg);
  assert.equal(fault, null);
  assert.ok(svg.includes('<title ') && svg.includes('<desc ') && svg.includes('sans-serif'));
  const saved = (await save(page.locator('#save-sheet'))).toString('utf8');
  assert.ok(saved.includes(svg.trim()), 'the saved sheet has the same figure');
  assert.ok(!saved.includes('figure-save') || saved.indexOf('figure-save') < saved.indexOf('<body'), 'and no words to save it');
  const png = await save(row.locator('.figure-save button').nth(1));
  const mm = (side) => Number(svg.match(new RegExp(`${side}="([\\d.]+)mm"`))[1]);
  // PNG (W3C Recommendation, 2003), 11.2.2 IHDR and 11.3.5.3 pHYs.
  assert.equal(png.readUInt32BE(16), Math.round(mm('width') / 25.4 * 300));
  assert.equal(png.readUInt32BE(20), Math.round(mm('height') / 25.4 * 300));
  const density = png.indexOf('pHYs');
  assert.ok(Math.abs(png.readUInt32BE(density + 4) * 0.0254 - 300) < 0.02);
  const loads = await page.evaluate(async (bytes) => {
    const image = await createImageBitmap(new Blob([new Uint8Array(bytes)], { type: 'image/png' }));
    return image.width;
  }, [...png]);
  assert.equal(loads, png.readUInt32BE(16));
  assert.deepEqual(page.complaints, []);
});

test('in German the point is said with a decimal comma', async () => {
  const { page, sheet } = await opened({ locale: 'de-DE' });
  const { figure } = planeOf(sheet);
  const text = await begin(page, figure);
  assert.match(text, /^x -?\d+,\d+ mm, y -?\d+,\d+ mm: pc \d+,\d+ MPa$/);
  await page.keyboard.press('Enter');
  await poll(() => page.locator('.point-panel canvas').count(), (count) => count === 2);
  assert.match(await page.locator('.point-panel button').textContent(), /schließen/);
});
