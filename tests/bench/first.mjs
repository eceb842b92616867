// The first sheet: from asking for the example to the sheet on screen, and the page's weight.
//
//     node first.mjs [RUNS]
//
// Prints median, best and worst over fresh browsers: page ready after opening, sheet painted after the
// click, and when its last numbers stood.
import { statSync } from 'node:fs';
import { PAGE } from '../browser/places.mjs';
import { inBrowser, load, openPage, settled, spread, until } from './screen.mjs';

const runs = Number(process.argv[2] ?? 5);

// Planted before the page's own scripts: when the example was asked for, and when its sheet was painted.
const watch = () => {
  window.bench = {};
  addEventListener('click', () => { window.bench.asked = performance.now(); }, true);
  new MutationObserver((_, observer) => {
    if (!document.querySelector('#sheet article.sheet')) return;
    observer.disconnect();
    requestAnimationFrame(() => setTimeout(() => { window.bench.painted = performance.now(); }));
  }).observe(document, { childList: true, subtree: true });
};

const once = (browser) => async () => {
  const page = await openPage(browser, watch);
  const ready = await page.evaluate(() => performance.now());
  await page.click('#example');
  await until(page, () => window.bench.painted);
  await until(page, settled);
  const { painted, asked } = await page.evaluate(() => window.bench);
  const { settled: whole } = await page.evaluate(() => window.focalsheet.timings);
  await page.context().close();
  return { ready, painted: painted - asked, whole };
};

const all = [];
for (let run = 0; run < runs; run++) all.push(await inBrowser((browser) => once(browser)()));
const of = (key) => spread(all.map((one) => one[key]));
console.log(`example: page ready after ${of('ready')} ms, sheet ${of('painted')} ms after the click, all numbers after ${of('whole')} ms; load ${load()}`);
console.log(`page: ${(statSync(PAGE).size / 1e6).toFixed(3)} MB`);
