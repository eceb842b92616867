// What the benches of the page on screen share.
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { PAGE, program } from '../browser/places.mjs';

// Runs something in a browser of its own.
export const inBrowser = async (run) => {
  const executablePath = program('chromium') ?? program('chromium-browser');
  const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu'] });
  try {
    return await run(browser);
  } finally {
    await browser.close();
  }
};

// The page in a context of its own, ready for files; `plant` runs before its own scripts.
export const openPage = async (browser, plant) => {
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 } });
  const page = await context.newPage();
  await page.addInitScript(plant);
  await page.goto(pathToFileURL(PAGE).href);
  await until(page, () => window.focalsheet?.ready);
  return page;
};

// Asks the page until it says yes. (Waiting inside it would need eval, which its policy forbids.)
export const until = async (page, reached) => {
  const end = Date.now() + 120_000;
  while (!(await page.evaluate(reached))) {
    const phase = await page.evaluate(() => window.focalsheet?.phase);
    if (phase === 'refused' || phase === 'unable' || Date.now() > end) throw new Error(`the page stands at ${phase}`);
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
};

// All numbers stand.
export const settled = () => {
  const { phase, hashed, settled: all } = window.focalsheet;
  return phase === 'done' && hashed && all;
};

// Median, with the best and the worst.
export const spread = (times) => {
  const all = [...times].sort((a, b) => a - b);
  const [median, best, worst] = [all[Math.floor(all.length / 2)], all[0], all.at(-1)].map((time) => time.toFixed(0));
  return `${median} (${best} to ${worst})`;
};

// Load of the machine over the last minute; not known everywhere.
export const load = () => {
  try {
    return readFileSync('/proc/loadavg', 'utf8').split(' ')[0];
  } catch {
    return '?';
  }
};
