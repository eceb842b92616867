// Edits in the page: from handing a text in to the changed sheet on screen. A blank of the sheet's tier
// (a stated value) and one of the maps' tier (the temperature of the water, another rate), each again
// and again, on the example and on the demo.
//
//     node edits.mjs [RUNS]
//
// Prints median, best and worst in milliseconds: shown (painted), and the engine's part of it; then how
// long the draws and the parts to be saved took after that.
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { demo } from '../browser/inputs.mjs';
import { PAGE, program } from '../browser/places.mjs';

const runs = Number(process.argv[2] ?? 10);
const EDITS = [
  { tier: 'sheet', path: 'stated[0]', text: (run) => `${8 + run / 10} MPa ± 20 %` },
  { tier: 'sheet', path: 'site', text: (run) => `tank ${run}` },
  { tier: 'map', path: 'water.temperature_c', text: (run) => `${25 + run / 2} °C` },
  { tier: 'map', path: 'excitation.repetition_hz', text: (run) => `${110 + run} Hz` },
];

// Planted before the page's own scripts: when a text was handed in, and when the sheet that follows from
// it was first painted.
const watch = () => {
  const bench = { handed: 0, shown: 0 };
  window.bench = bench;
  addEventListener('keydown', ({ key }) => {
    if (key !== 'Enter') return;
    delete window.focalsheet.timings.edited;
    Object.assign(bench, { handed: performance.now(), shown: 0, settled: 0 });
  }, true);
  const look = () => {
    const { timings, settled } = window.focalsheet ?? {};
    if (!timings?.edited) return;
    const now = () => requestAnimationFrame(() => setTimeout(() => {
      if (!bench.shown) bench.shown = performance.now();
    }));
    if (!bench.shown) now();
    if (settled && !bench.settled) bench.settled = performance.now();
  };
  new MutationObserver(look).observe(document, { childList: true, subtree: true, attributes: true, characterData: true });
};

const until = async (page, reached, argument) => {
  const end = Date.now() + 120_000;
  while (!(await page.evaluate(reached, argument))) {
    const phase = await page.evaluate(() => window.focalsheet?.phase);
    if (phase === 'refused' || phase === 'unable' || Date.now() > end) throw new Error(`the page stands at ${phase}`);
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
};

const settled = () => {
  const { phase, hashed, settled: all } = window.focalsheet;
  return phase === 'done' && hashed && all;
};

// The numbers follow: the record on the sheet says what was typed.
const follows = (text) => JSON.stringify(JSON.parse(window.focalsheet.json).record).includes(text);

const edit = async (page, path, text) => {
  await page.locator(`#sheet [data-path="${path}"]`).focus();
  await page.keyboard.press('Control+A');
  await page.keyboard.insertText(text);
  await page.keyboard.press('Enter');
  await until(page, () => window.bench.shown && window.bench.settled);
  await until(page, settled);
  if (!(await page.evaluate(follows, text))) throw new Error(`${path}: the numbers do not follow ${text}`);
  return page.evaluate(() => ({
    shown: window.bench.shown - window.bench.handed,
    engine: window.focalsheet.timings.engine,
    later: window.bench.settled - window.bench.shown,
  }));
};

const inOrder = (times) => [...times].sort((a, b) => a - b);
const spread = (times) => {
  const all = inOrder(times);
  return { median: all[Math.floor(all.length / 2)], best: all[0], worst: all.at(-1) };
};
const load = () => {
  try {
    return readFileSync('/proc/loadavg', 'utf8').split(' ')[0];
  } catch {
    return '?';
  }
};

const browser = await chromium.launch({ executablePath: program('chromium') ?? program('chromium-browser'), args: ['--no-sandbox', '--disable-gpu'] });
try {
  for (const name of ['example', 'demo']) {
    const context = await browser.newContext({ viewport: { width: 1366, height: 768 } });
    const page = await context.newPage();
    await page.addInitScript(watch);
    await page.goto(pathToFileURL(PAGE).href);
    await until(page, () => window.focalsheet?.ready);
    if (name === 'example') {
      await page.click('#example');
    } else {
      const { path, files } = demo();
      await page.setInputFiles('#pick', [path, ...files]);
    }
    await until(page, settled);
    for (const { tier, path, text } of EDITS) {
      const all = [];
      for (let run = 0; run < runs; run++) all.push(await edit(page, path, text(run)));
      const [shown, engine, later] = ['shown', 'engine', 'later'].map((key) => spread(all.map((one) => one[key])));
      const words = ({ median, best, worst }) => `${median.toFixed(0)} (${best.toFixed(0)} to ${worst.toFixed(0)})`;
      console.log(`${name}, ${tier} tier, ${path}: shown after ${words(shown)} ms, engine ${words(engine)} ms; the rest ${words(later)} ms later; load ${load()}`);
    }
    await context.close();
  }
} finally {
  await browser.close();
}
