// The same plane in every format through the page, from file: time, rate, memory, cancelling.
//
//     node formats.mjs FOLDER [NAME…]
//
// FOLDER holds the folders of make_formats.py. Every sheet is compared with that of the program on the
// same files. Ends with status 1 where they differ, never because of a time.
import { spawnSync } from 'node:child_process';
import { readFileSync, readdirSync, rmSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { PAGE, program } from '../browser/places.mjs';

const [folder, ...names] = process.argv.slice(2);
const native = process.env.FOCALSHEET ?? 'target/release/focalsheet';
const MIB = 1024 * 1024;
const HOUR = 3_600_000;
// Agreement of page and program on every number, relative.
const TOLERANCE = 1e-6;

const until = async (page, reached, limit = HOUR) => {
  const end = Date.now() + limit;
  for (;;) {
    const value = await page.evaluate(reached);
    if (value) return value;
    const phase = await page.evaluate(() => window.focalsheet?.phase);
    if (phase === 'refused' || phase === 'unable' || Date.now() > end) {
      throw new Error(`the page stands at ${phase}: ${await page.evaluate(() => document.querySelector('#problems')?.innerText.slice(0, 600))}`);
    }
    await new Promise((done) => setTimeout(done, 20));
  }
};

// Memory of all engines: WebAssembly memories never shrink, so what they have is what they had at most.
const memories = async (page) => {
  const ask = (worker) => worker.evaluate(() => wasm_bindgen.initSync().memory.buffer.byteLength).catch(() => 0);
  const sizes = await Promise.all(page.workers().map(ask));
  return sizes.reduce((sum, size) => sum + size, 0);
};

const open = async (browser) => {
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 } });
  const page = await context.newPage();
  await page.goto(pathToFileURL(PAGE).href);
  await until(page, () => window.focalsheet?.ready);
  return page;
};

const quantities = (json) => new Map(JSON.parse(json).quantities.filter(({ value }) => value !== null).map(({ scan, id, value }) => [`${scan} ${id}`, value]));

const compare = (ours, theirs) => {
  let worst = 0;
  for (const [key, value] of theirs) {
    if (!ours.has(key)) return Infinity;
    const scale = Math.max(Math.abs(value), 1e-12);
    // Positions of the peak are differences of coordinates: against a millimetre.
    worst = Math.max(worst, Math.abs(ours.get(key) - value) / (/ [xyz]_peak/.test(key) ? 1e-3 : scale));
  }
  return ours.size === theirs.size ? worst : Infinity;
};

const reading = (page) => page.evaluate(async () => {
  const body = `onmessage = ({ data: file }) => {
    const reader = new FileReaderSync();
    const start = performance.now();
    for (let at = 0; at < file.size; at += 4194304) reader.readAsArrayBuffer(file.slice(at, at + 4194304));
    postMessage(performance.now() - start);
  }`;
  const worker = new Worker(URL.createObjectURL(new Blob([body], { type: 'text/javascript' })));
  const file = [...window.picked].sort((a, b) => b.size - a.size)[0];
  const answer = new Promise((done) => { worker.onmessage = ({ data }) => done(data); });
  worker.postMessage(file);
  const time = await answer;
  worker.terminate();
  return time;
});

const once = async (name) => {
  const place = resolve(folder, name);
  const files = readdirSync(place).filter((file) => !file.startsWith('sheet')).map((file) => join(place, file));
  const scan = files.find((file) => /scan\./.test(file));
  const bytes = statSync(scan).size;
  const out = join(place, 'sheet');
  rmSync(out, { recursive: true, force: true });
  const start = process.hrtime.bigint();
  spawnSync(native, ['report', join(place, 'record.json'), '--out', out]);
  const seconds = Number(process.hrtime.bigint() - start) / 1e9;
  const browser = await chromium.launch({ executablePath: program('chromium') ?? program('chromium-browser'), args: ['--no-sandbox', '--disable-gpu'] });
  try {
    const page = await open(browser);
    await page.evaluate(() => {
      window.seen = [];
      addEventListener('change', ({ target }) => { window.picked = [...target.files]; }, true);
      const line = document.querySelector('#progress-text');
      const said = document.querySelector('#said');
      new MutationObserver(() => {
        for (const { textContent } of [line, said]) {
          if (textContent && window.seen.at(-1) !== textContent) window.seen.push(textContent);
        }
      }).observe(document.querySelector('aside'), { childList: true, subtree: true, characterData: true });
    });
    await page.setInputFiles('#pick', files);
    await until(page, () => window.focalsheet.phase === 'done');
    const memory = await memories(page);
    const timings = await page.evaluate(() => ({ ...window.focalsheet.timings }));
    const seen = await page.evaluate(() => window.seen);
    await until(page, () => window.focalsheet.hashed);
    const json = await page.evaluate(() => window.focalsheet.json);
    const alone = await reading(page).catch(() => null);
    const worst = compare(quantities(json), quantities(readFileSync(join(out, 'sheet.json'), 'utf8')));
    await page.context().close();
    const s = (ms) => (ms / 1000).toFixed(2);
    console.log(
      `${name.padEnd(16)} ${(bytes / 1e6).toFixed(0).padStart(5)} MB  program ${seconds.toFixed(2)} s  page: open ${s(timings.opened)} bands ${s(timings.bands - timings.opened)} sheet ${s(timings.finished)} s`
      + `  ${(bytes / 1e3 / timings.finished).toFixed(0)} MB/s  reading alone ${alone === null ? '?' : s(alone)} s  engines ${(memory / MIB).toFixed(0)} MiB  worst difference ${worst.toExponential(1)}  ${seen.filter((line) => /MiB/.test(line)).length} lines on reading, “${seen.filter((line) => /left/.test(line)).at(-2) ?? ''}”`,
    );
    return worst <= TOLERANCE;
  } finally {
    await browser.close();
  }
};

// Cancelling while the largest file is worked on: the time until every engine is still.
const cancelled = async (name) => {
  const place = resolve(folder, name);
  const files = readdirSync(place).filter((file) => !file.startsWith('sheet')).map((file) => join(place, file));
  const browser = await chromium.launch({ executablePath: program('chromium') ?? program('chromium-browser'), args: ['--no-sandbox', '--disable-gpu'] });
  try {
    const page = await open(browser);
    await page.setInputFiles('#pick', files);
    await until(page, () => window.focalsheet.phase === 'working');
    await new Promise((done) => setTimeout(done, 1200));
    const time = await page.evaluate(async () => {
      const start = performance.now();
      document.querySelector('#cancel').click();
      while (window.focalsheet.phase === 'working') await new Promise((done) => setTimeout(done, 1));
      return performance.now() - start;
    });
    console.log(`${name.padEnd(16)} cancelled after ${time.toFixed(0)} ms`);
  } finally {
    await browser.close();
  }
};

let good = true;
const all = names.length ? names : readdirSync(folder).filter((name) => statSync(join(folder, name)).isDirectory());
for (const name of all) good = (await once(name)) && good;
for (const name of all) if (/time-first|packed|deflated|text/.test(name)) await cancelled(name);
process.exit(good ? 0 : 1);
