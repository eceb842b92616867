// Edits in the page: from handing a text in to the changed sheet on screen. A blank of the sheet's tier
// (a stated value) and one of the maps' tier (the temperature of the water, another rate), each again
// and again, on the example and on the demo.
//
//     node edits.mjs [RUNS]
//
// Prints median, best and worst in milliseconds: shown (painted), the engine's part of it, and when the
// draws and the parts to be saved were there too.
import { demo } from '../browser/inputs.mjs';
import { inBrowser, load, openPage, settled, spread, until } from './screen.mjs';

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
    whole: window.bench.settled - window.bench.handed,
  }));
};

const open = async (browser, name) => {
  const page = await openPage(browser, watch);
  if (name === 'example') {
    await page.click('#example');
  } else {
    const { path, files } = demo();
    await page.setInputFiles('#pick', [path, ...files]);
  }
  await until(page, settled);
  return page;
};

await inBrowser(async (browser) => {
  for (const name of ['example', 'demo']) {
    const page = await open(browser, name);
    for (const { tier, path, text } of EDITS) {
      const all = [];
      for (let run = 0; run < runs; run++) all.push(await edit(page, path, text(run)));
      const of = (key) => spread(all.map((one) => one[key]));
      console.log(`${name}, ${tier} tier, ${path}: shown after ${of('shown')} ms, engine ${of('engine')} ms; all after ${of('whole')} ms; load ${load()}`);
    }
    await page.context().close();
  }
});
