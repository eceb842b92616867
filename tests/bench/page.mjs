// The page in Chromium, from file: files dropped to sheet, with one and two band workers, beside the
// time that merely reading the scan takes there; then the example and the page's weight.
//
//     node page.mjs FOLDER [RUNS]
//
// Prints the best of RUNS runs, each in a fresh page, and leaves `page.json` in FOLDER, and the sheet
// of each number of workers as `page-sheet-N.json`.
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { PAGE, program } from '../browser/places.mjs';

const [folder, runs = '3'] = process.argv.slice(2);
const files = ['record.json', 'scan.h5', 'sensitivity.csv'].map((name) => join(folder, name));
const native = JSON.parse(readFileSync(join(folder, 'native.json'), 'utf8'));
const MIB = 1024 * 1024;

// Planted before the page's own scripts: when the files came (or the example was asked for), and when
// the sheet was first painted. It keeps the picked files for reading them alone.
const watch = () => {
  window.bench = {};
  addEventListener('change', ({ target }) => {
    window.bench.files = [...target.files];
    window.bench.asked = performance.now();
  }, true);
  addEventListener('click', () => { window.bench.asked = performance.now(); }, true);
  new MutationObserver((_, observer) => {
    if (!document.querySelector('#sheet article.sheet')) return;
    observer.disconnect();
    requestAnimationFrame(() => setTimeout(() => { window.bench.painted = performance.now(); }));
  }).observe(document, { childList: true, subtree: true });
};

const open = async (browser, workers) => {
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 } });
  const page = await context.newPage();
  await page.addInitScript(watch);
  await page.goto(`${pathToFileURL(PAGE)}#workers=${workers}`);
  await until(page, () => window.focalsheet?.ready);
  return page;
};

const until = async (page, reached) => {
  const end = Date.now() + 300_000;
  while (!(await page.evaluate(reached))) {
    const phase = await page.evaluate(() => window.focalsheet?.phase);
    if (phase === 'refused' || phase === 'unable' || Date.now() > end) throw new Error(`the page stands at ${phase}`);
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
};

// The scan read in slices of 4 MiB by a worker of its own; milliseconds, best of three.
const readAlone = (page) => page.evaluate(async () => {
  const body = `onmessage = ({ data: file }) => {
    const reader = new FileReaderSync();
    const start = performance.now();
    for (let at = 0; at < file.size; at += 4194304) reader.readAsArrayBuffer(file.slice(at, at + 4194304));
    postMessage(performance.now() - start);
  }`;
  const worker = new Worker(URL.createObjectURL(new Blob([body], { type: 'text/javascript' })));
  const file = window.bench.files.find(({ name }) => name.endsWith('.h5'));
  const times = [];
  for (let run = 0; run < 3; run++) {
    worker.postMessage(file);
    times.push(await new Promise((resolve) => { worker.onmessage = ({ data }) => resolve(data); }));
  }
  worker.terminate();
  return Math.min(...times);
});

// Memory of the engines: the pages of WebAssembly, which never shrink, summed over the workers; null
// when not all could be asked. The checksum worker may end meanwhile: it does not count.
const engineBytes = async (page, workers) => {
  const ask = (worker) => worker.evaluate(() => wasm_bindgen.initSync().memory.buffer.byteLength).catch(() => null);
  const sizes = (await Promise.all(page.workers().map(ask))).filter((size) => size !== null);
  return sizes.length > workers ? sizes.reduce((sum, size) => sum + size, 0) : null;
};

// Largest resident size of Chromium's page processes, bytes; Linux tells it, elsewhere null.
const residentBytes = async (browser) => {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  await session.detach();
  const peaks = processInfo.filter(({ type }) => type === 'renderer').map(({ id }) => {
    try {
      return 1024 * Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${id}/status`, 'utf8'))[1]);
    } catch {
      return 0;
    }
  });
  return Math.max(0, ...peaks) || null;
};

const dropped = async (browser, workers) => {
  const page = await open(browser, workers);
  await page.setInputFiles('#pick', files);
  await until(page, () => window.focalsheet.phase === 'done' && window.bench.painted);
  const engines = await engineBytes(page, workers);
  const { timings, painted } = await page.evaluate(() => ({
    timings: { ...window.focalsheet.timings },
    painted: window.bench.painted - window.bench.asked,
  }));
  await until(page, () => window.focalsheet.hashed);
  const json = await page.evaluate(() => window.focalsheet.json);
  const resident = await residentBytes(browser);
  const read = await readAlone(page);
  await page.context().close();
  return { timings, painted, read, engines, resident, json };
};

const example = async (browser) => {
  const page = await open(browser, 2);
  const ready = await page.evaluate(() => performance.now());
  await page.click('#example');
  await until(page, () => window.focalsheet.phase === 'done' && window.bench.painted);
  const sheet = await page.evaluate(() => window.bench.painted - window.bench.asked);
  await page.context().close();
  return { ready, sheet };
};

// A browser of its own for each, so that memory is that of one run; `least` tells which run counts.
const best = async (once, least) => {
  const all = [];
  for (let run = 0; run < Number(runs); run++) {
    const browser = await chromium.launch({ executablePath: program('chromium') ?? program('chromium-browser'), args: ['--no-sandbox', '--disable-gpu'] });
    try {
      all.push(await once(browser));
    } finally {
      await browser.close();
    }
  }
  return { all, ...all.reduce((a, b) => (least(b) < least(a) ? b : a)) };
};

const result = { workers: {} };
for (const workers of [1, 2]) {
  const { all, timings, painted, engines, resident, json } = await best((browser) => dropped(browser, workers), (run) => run.painted);
  const bands = (timings.bands - timings.opened) / 1000;
  const figures = {
    opened_s: timings.opened / 1000,
    bands_s: bands,
    finish_s: (timings.finished - timings.bands) / 1000,
    to_sheet_s: painted / 1000,
    read_s: Math.min(...all.map(({ read }) => read)) / 1000,
    waveforms_per_s: native.waveforms / bands,
    mb_per_s: native.bytes / 1e6 / bands,
    engines_mib: engines && engines / MIB,
    resident_mib: resident && resident / MIB,
  };
  result.workers[workers] = figures;
  writeFileSync(join(folder, `page-sheet-${workers}.json`), json);
  console.log(`page, ${workers} band worker(s): opened ${figures.opened_s.toFixed(3)} s, bands ${bands.toFixed(3)} s, finish ${figures.finish_s.toFixed(3)} s, painted after ${figures.to_sheet_s.toFixed(3)} s; reading alone ${figures.read_s.toFixed(3)} s`);
  console.log(`  ${figures.waveforms_per_s.toFixed(0)} waveforms/s, ${figures.mb_per_s.toFixed(0)} MB/s; engines ${figures.engines_mib?.toFixed(1) ?? '?'} MiB, page process ${figures.resident_mib?.toFixed(0) ?? '?'} MiB`);
}
const { ready, sheet } = await best(example, (run) => run.ready + run.sheet);
result.example = { ready_s: ready / 1000, sheet_s: sheet / 1000 };
result.page_bytes = statSync(PAGE).size;
console.log(`example: page ready after ${result.example.ready_s.toFixed(3)} s, sheet ${result.example.sheet_s.toFixed(3)} s after the click; page ${(result.page_bytes / 1e6).toFixed(2)} MB`);
writeFileSync(join(folder, 'page.json'), JSON.stringify(result));
