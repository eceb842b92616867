// Points of figures, as the tests reach and read them.
import assert from 'node:assert/strict';
import { openPage, whole } from './chromium.mjs';

// The page with the example's sheet, and the sheet's numbers.
export const openExample = async (browser, options) => {
  const page = await openPage(browser, options);
  await page.click('#example');
  const { json } = await whole(page);
  return { page, sheet: JSON.parse(json) };
};

export const plain = (text) => text.replaceAll('\u00a0', ' ').replaceAll('−', '-');

// What is said of the point that is shown in a figure.
export const said = async (page, figure) => plain(await page.locator(`[data-figure="${figure}"] .point-said`).textContent());

export const poll = async (get, good) => {
  const end = Date.now() + 20000;
  for (;;) {
    const value = await get();
    if (good(value)) return value;
    assert.ok(Date.now() < end, `still ${JSON.stringify(value)}`);
    await new Promise((resolve) => setTimeout(resolve, 30));
  }
};

// Goes to a figure by keyboard; the point it begins with. Whether a focus given by a script shows
// at once is the browser's choice; the first arrow key does.
export const begin = async (page, figure) => {
  await page.locator(`[data-figure="${figure}"] .drawing`).focus();
  await new Promise((resolve) => setTimeout(resolve, 600));
  if ((await said(page, figure)) === '') await page.keyboard.press('ArrowLeft');
  return poll(() => said(page, figure), (text) => text !== '');
};
