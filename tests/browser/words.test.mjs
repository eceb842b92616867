// The words come from the engine, the numbers too; the scripts hold neither.
import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { test } from 'node:test';
import { oneBrowser, openPage } from './chromium.mjs';

const browser = oneBrowser();
const SCRIPTS = new URL('../../www/js/', import.meta.url);
const scripts = readdirSync(SCRIPTS).map((name) => [name, readFileSync(new URL(name, SCRIPTS), 'utf8')]);

test('every word that the page asks for is there', async () => {
  const page = await openPage(browser);
  const missing = await page.evaluate(() =>
    [...document.querySelectorAll('[data-word], [data-word-label]')]
      .map(({ dataset, textContent, ariaLabel }) => (dataset.word ? [dataset.word, textContent] : [dataset.wordLabel, ariaLabel]))
      // A key of several words cannot be an answer by chance; one of a single word may be.
      .filter(([key, text]) => !text || (key.includes('_') && text === key)));
  assert.deepEqual(missing, []);
  const asked = scripts.flatMap(([, text]) => [...text.matchAll(/words\.get\('(\w+)'\)/g)].map(([, key]) => key));
  assert.ok(asked.length > 5);
  const lacking = await page.evaluate((keys) => keys.filter((key) => !(key in words.all)), asked);
  assert.deepEqual(lacking, []);
  assert.ok((await page.locator('#outline-parts dt').count()) > 3, 'the empty sheet shows its headings');
});

test('the scripts format no numbers', () => {
  for (const [name, text] of scripts) {
    assert.doesNotMatch(text, /toFixed|toPrecision|toExponential|toLocaleString|Intl\b/, name);
    // Counts of workers, the share of a file that was read and the pixels of a quick look are no results.
    if (!['pool.js', 'hash.js', 'pick.js'].includes(name)) assert.doesNotMatch(text, /Math\./, name);
  }
});

test('the scripts make no markup but what the engine gives', () => {
  const places = scripts.flatMap(([name, text]) => [...text.matchAll(/innerHTML|outerHTML|insertAdjacentHTML|document\.write/g)].map(() => name));
  assert.deepEqual(places, ['paper.js']);
});
