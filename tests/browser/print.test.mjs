// The printed sheet: its structure page by page, on A4 and US Letter, in both languages.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { oneBrowser, openPage, whole } from './chromium.mjs';
import { copied, demo, madeRecord } from './inputs.mjs';
import { OUT, program } from './places.mjs';

const browser = oneBrowser();
const skip = !program('pdftotext') && 'no pdftotext';

// ISO 216, and ANSI/ASME Y14.1 for Letter; in points of 1/72 inch.
const SIZES = { A4: [595.3, 841.9], Letter: [612, 792] };
const WORDS = {
  'en-GB': { page: (n, all) => `Page ${n} of ${all}`, caution: 'Values in tissue', signature: 'Checked by' },
  'de-DE': { page: (n, all) => `Seite ${n} von ${all}`, caution: 'Werte im Gewebe', signature: 'Geprüft von' },
};
// Between what the demo has and what it may grow to; common practice, no source.
const FEWEST = 12;
const MOST = 30;

const pdftotext = (...options) => execFileSync(program('pdftotext'), options, { encoding: 'utf8', maxBuffer: 1 << 26 });

// Words of each page with their boxes.
const boxesOf = (path) =>
  pdftotext('-bbox', path, '-').split('<page ').slice(1).map((page) => ({
    size: page.match(/width="([\d.]+)" height="([\d.]+)"/).slice(1).map(Number),
    words: [...page.matchAll(/<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)<\/word>/g)]
      .map(([, ...parts]) => ({ box: parts.slice(0, 4).map(Number), text: parts[4] })),
  }));

// Two words of which one is printed over the other. Boxes hold room above and below the letters, so
// that lines may share a little of it. A text with its rim is there twice, at one place.
const ACROSS_PT = 1.5;
const DOWN_PT = 3;
const overprinted = (words) => {
  const down = [...words].sort((a, b) => a.box[1] - b.box[1]);
  for (const [at, { box, text }] of down.entries()) {
    for (const other of down.slice(at + 1)) {
      if (other.box[1] > box[3] - DOWN_PT) break;
      const across = Math.min(box[2], other.box[2]) - Math.max(box[0], other.box[0]);
      const both = Math.min(box[3], other.box[3]) - other.box[1];
      const middle = ([, top, , bottom]) => (top + bottom) / 2;
      const same = Math.abs(other.box[0] - box[0]) < 0.1 && Math.abs(middle(other.box) - middle(box)) < 0.5;
      const twice = other.text === text && same;
      if (!twice && across > ACROSS_PT && both > DOWN_PT) return `“${text}” and “${other.text}”`;
    }
  }
  return null;
};

const print = async (page, format, name) => {
  const path = join(OUT, `${name}-${format}.pdf`);
  writeFileSync(path, await page.pdf({ format }));
  return path;
};

const check = (path, format, words, number) => {
  const pages = boxesOf(path);
  const texts = pdftotext('-layout', path, '-').split('\f').slice(0, -1);
  assert.equal(pages.length, texts.length);
  for (const [index, { size, words: printed }] of pages.entries()) {
    const where = `${format}, page ${index + 1}`;
    const [width, height] = SIZES[format];
    assert.ok(Math.abs(size[0] - width) < 1 && Math.abs(size[1] - height) < 1, `${where}: ${size}`);
    for (const { box, text } of printed) {
      // 18 mm at the sides, less half a millimetre for overhanging letters.
      const side = (17.5 / 25.4) * 72;
      assert.ok(box[0] >= side && box[2] <= width - side && box[1] >= 0 && box[3] <= height, `${where}: “${text}” at ${box}`);
    }
    assert.ok(texts[index].includes(words.page(index + 1, pages.length)), `${where}: no page number`);
    assert.ok(texts[index].includes(number), `${where}: no sheet number`);
    assert.equal(overprinted(printed), null, `${where}: one over the other`);
    // The frame alone would be a page for nothing.
    assert.ok(printed.length > 40, `${where}: ${printed.length} words`);
  }
  assert.ok(texts[0].includes(words.caution) && texts[0].includes(words.signature), `${format}: the front's foot is on page 1`);
  // The foot's type is 7.5 pt everywhere: a table too wide would make the browser print smaller.
  const foot = pages.map(({ words: printed }) => printed.filter(({ text }) => text === 'Focalsheet').at(-1).box);
  for (const box of foot) assert.ok(Math.abs(box[3] - box[1] - (foot[0][3] - foot[0][1])) < 0.05);
  return pages.length;
};

const sheetNumber = (page) => page.locator('#sheet .front').evaluate((front) => front.innerText.match(/\b[0-9A-F]{4}-[0-9A-F]{4}\b/)[0]);

for (const [locale, words] of Object.entries(WORDS)) {
  test(`the demo on paper, ${locale}`, { skip }, async (t) => {
    const { path, files } = demo();
    const page = await openPage(browser, { locale });
    await page.setInputFiles('#pick', [path, ...files]);
    await whole(page);
    const number = await sheetNumber(page);
    for (const format of Object.keys(SIZES)) {
      const pages = check(await print(page, format, `demo-${locale}`), format, words, number);
      t.diagnostic(`${format}: ${pages} pages`);
      assert.ok(pages >= FEWEST && pages <= MOST, `${pages} pages`);
    }
    // Nothing is wider than the text of A4 (174 mm): Chromium would print all of it smaller.
    await page.emulateMedia({ media: 'print' });
    await page.setViewportSize({ width: Math.floor((174 / 25.4) * 96), height: 931 });
    assert.ok((await page.evaluate(() => document.scrollingElement.scrollWidth - document.scrollingElement.clientWidth)) <= 0);
  });

  // Long names, thirteen stated values of which most are undecided, a range that clips.
  test(`an ugly record on paper, ${locale}`, { skip }, async () => {
    const { record, files } = demo();
    record.title = 'Yearly field check of the treatment head after the repair of the bath and the exchange of the amplifier, protocol 117-B';
    record.site = 'Institute of measurement with a long name, building 14, basement, tank 3 beside the lift';
    record.device.description = 'treatment head with a description that does not end soon, type ABC-1234567890-XYZ-revision-17';
    record.device.serial = '00000000000000000000000000012-ABCDEFGHIJKLMN';
    record.sensor.full_scale_v = 0.12;
    const origin = 'data sheet of the maker, issue C, with the annex of the acceptance test of the year before, page 14';
    const taken = new Set(record.stated.map(({ quantity }) => quantity));
    const more = ['width_y_6', 'area_6', 'area_6_pc', 'width_x_3', 'width_y_3', 'width_x_12', 'width_y_12'].filter((id) => !taken.has(id));
    for (const quantity of more.slice(0, 13 - record.stated.length)) {
      const [value, unit] = quantity.startsWith('area') ? [2e-6, 'm2'] : [1.5e-3, 'm'];
      record.stated.push({ quantity, scan: 'focal-plane', medium: 'water', value, unit, tolerance: { lower: -0.2, upper: 0.2, relative: true } });
    }
    for (const each of record.stated) each.origin = origin;
    assert.equal(record.stated.length, 13);
    const page = await openPage(browser, { locale });
    await page.setInputFiles('#pick', [madeRecord(record), ...files.map(copied)]);
    await whole(page);
    const number = await sheetNumber(page);
    assert.ok((await page.locator('#sheet .finding.unfit').count()) > 0, 'the scan is unfit');
    for (const format of Object.keys(SIZES)) check(await print(page, format, `ugly-${locale}`), format, words, number);
  });
}

test('what is told by colour on paper is told by words and shapes too', async () => {
  const css = readFileSync(new URL('../../www/css/sheet.css', import.meta.url), 'utf8');
  assert.match(css, /print-color-adjust: exact/);
  const page = await openPage(browser);
  await page.click('#example');
  await whole(page);
  const bare = await page.locator('#sheet').evaluate((sheet) =>
    [...sheet.querySelectorAll('.finding .gravity, td.verdict')]
      .filter((each) => !each.querySelector('svg.mark') || !each.querySelector('strong')?.textContent.trim())
      .map((each) => each.textContent));
  assert.deepEqual(bare, []);
});
