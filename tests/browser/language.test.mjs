// The page's language: the browser's at first, then the one that was chosen, kept for the next time.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { oneBrowser, openPage, stateOf, until, whole } from './chromium.mjs';

const browser = oneBrowser();

const lang = (page) => page.locator('html').getAttribute('lang');
const article = (page) => page.locator('#sheet article.sheet');
const other = (page) => page.locator('#other-language');

// Values of quantities by id and scan: they do not depend on the language.
const values = async (page) =>
  JSON.parse((await stateOf(page)).json).quantities.map(({ id, scan, value }) => [id, scan, value]);

test('a German browser is answered in German, with decimal comma', async () => {
  const page = await openPage(browser, { locale: 'de-AT' });
  assert.equal(await lang(page), 'de');
  assert.equal(await page.locator('#example').textContent(), 'Beispiel ausprobieren');
  assert.equal(await other(page).textContent(), 'English');
  assert.equal(await other(page).getAttribute('lang'), 'en');
  await page.click('#example');
  await whole(page);
  assert.equal(await article(page).getAttribute('lang'), 'de');
  const text = await article(page).innerText();
  assert.match(text, /in Wasser bei 21,4\s°C/);
  assert.match(text, /\d,\d+\s+±\s+\d,\d+/);
  assert.doesNotMatch(text, /\d\.\d+\s+±/);
  assert.deepEqual(page.complaints, []);
});

test('the word at the foot switches the page and the sheet, and the choice is kept', async () => {
  const page = await openPage(browser, { locale: 'en-GB' });
  assert.equal(await lang(page), 'en');
  await page.click('#example');
  await whole(page);
  const before = await values(page);
  assert.match(await article(page).innerText(), /in water at 21\.4\s°C/);
  await other(page).click();
  await page.locator('#sheet article.sheet[lang="de"]').waitFor();
  await until(page, (state) => state.phase === 'done');
  assert.equal(await lang(page), 'de');
  assert.deepEqual(await values(page), before);
  assert.match(await page.locator('#files').innerText(), /Ebene quer zum Schallbündel/);
  assert.match(await page.locator('#print').textContent(), /drucken/);
  await page.reload();
  await until(page, (state) => state.ready);
  assert.equal(await lang(page), 'de', 'kept');
  // And back, with the keyboard, on the empty sheet.
  await other(page).focus();
  await page.keyboard.press('Enter');
  await page.locator('html[lang="en"]').waitFor();
  assert.equal(await page.locator('#outline-parts dt').first().textContent(), 'The field at a glance');
  assert.deepEqual(page.complaints, []);
});

test('what stands in the way is said in the language that is chosen', async () => {
  const page = await openPage(browser, { locale: 'fr-FR' });
  assert.equal(await lang(page), 'en', 'English where there is no other');
  await page.setInputFiles('#pick', { name: 'scan.h5', mimeType: 'application/octet-stream', buffer: Buffer.alloc(0) });
  await until(page, (state) => state.phase === 'refused');
  const english = await page.locator('#problems').innerText();
  await other(page).click();
  await page.locator('html[lang="de"]').waitFor();
  const end = Date.now() + 20_000;
  for (;;) {
    const text = await page.locator('#problems').innerText();
    if (text !== english && text !== '') {
      assert.match(text, /Datei|Scan/);
      break;
    }
    assert.ok(Date.now() < end, text);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  assert.deepEqual(page.complaints, []);
});
