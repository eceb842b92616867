// Starts Chromium and opens the built page in it, as a file.
import assert from 'node:assert/strict';
import { after, before } from 'node:test';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { PAGE, program } from './places.mjs';

const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

// One browser for the tests of a file: `browser.now` from the first test to the last.
export const oneBrowser = () => {
  const browser = { now: null };
  before(async () => {
    const executablePath = program('chromium') ?? program('chromium-browser') ?? program('google-chrome');
    assert.ok(executablePath, 'the browser tests need Chromium on the search path');
    browser.now = await chromium.launch({ executablePath, args: FLAGS });
  });
  after(() => browser.now?.close());
  return browser;
};

// Opens the page in a context of its own, ready for files. What the page complains of is kept in
// `page.complaints`. `plant` runs in the page before its own scripts; `hash` is the address's.
export const openPage = async (browser, { plant, hash = '', ...options } = {}) => {
  const context = await browser.now.newContext({ viewport: { width: 1366, height: 768 }, ...options });
  const page = await context.newPage();
  page.complaints = [];
  page.on('pageerror', (error) => page.complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') page.complaints.push(message.text());
  });
  if (plant) await page.addInitScript(plant);
  await page.goto(`${pathToFileURL(PAGE)}${hash}`);
  await until(page, (state) => state.ready);
  return page;
};

export const stateOf = (page) => page.evaluate(() => ({ ...window.focalsheet }));

// Polls the page's state until `reached` holds, and returns it. (Waiting inside the page would
// need eval, which its policy forbids.)
export const until = async (page, reached, seconds = 60) => {
  const end = Date.now() + seconds * 1000;
  for (;;) {
    const state = await stateOf(page);
    if (reached(state)) return state;
    assert.ok(Date.now() < end, `not reached within ${seconds} s: ${reached}; the page says ${JSON.stringify({ ...state, json: undefined })}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
};

// The sheet is shown and complete.
export const whole = (page) => until(page, (state) => state.phase === 'done' && state.hashed);

// The page still does its work: the example gives a sheet.
export const stillWorks = async (page) => {
  await page.click('#example');
  await whole(page);
  assert.ok(await page.locator('#sheet article.sheet').isVisible());
};
