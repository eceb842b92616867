// Texts in blanks that are not taken: on paper stands what the numbers were computed with, on screen the
// tray tells of them, and undo takes them back first.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { oneBrowser, openPage, stateOf, until, whole } from './chromium.mjs';
import { OUT, program } from './places.mjs';

const browser = oneBrowser();
const skip = !program('pdftotext') && 'no pdftotext';

const blank = (page, path) => page.locator(`#sheet [data-path="${path}"]`);

const withExample = async (options = {}) => {
  const page = await openPage(browser, options);
  await page.click('#example');
  await whole(page);
  return page;
};

const record = async (page) => JSON.parse((await stateOf(page)).json).record;

const follows = async (page, reached) => {
  const end = Date.now() + 20_000;
  for (;;) {
    const state = await until(page, ({ phase, settled, hashed }) => phase === 'done' && settled && hashed);
    if (reached(JSON.parse(state.json).record)) return;
    assert.ok(Date.now() < end, `not reached: ${reached}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
};

// Types into a blank as a person does; all of it is selected when it is clicked.
const type = async (page, path, text, key) => {
  await blank(page, path).click();
  await page.keyboard.type(text);
  if (key) await page.keyboard.press(key);
};

const refuse = async (page, path, text) => {
  await type(page, path, text, 'Enter');
  await page.locator(`[id="note-${path}"]`).waitFor();
};

// Printed from outside: no event tells the page of it. Words are set apart by single spaces.
const printed = async (page, name) => {
  const path = join(OUT, `taken-${name}.pdf`);
  writeFileSync(path, await page.pdf({ format: 'A4' }));
  return execFileSync(program('pdftotext'), [path, '-'], { encoding: 'utf8', maxBuffer: 1 << 26 }).replace(/\s+/g, ' ');
};

const selected = (page) => page.evaluate(() => getSelection().toString().trim());

test('a refused text and one that is being typed are not printed; what was computed with is', { skip }, async () => {
  const page = await withExample();
  const clean = await printed(page, 'clean');
  await refuse(page, 'water.temperature_c', '777 parsec');
  await refuse(page, 'excitation.cycles', '888 furlong');
  await refuse(page, 'exposure.burst_s', '999 acres');
  await type(page, 'title', 'Half a title');
  // The page's foot holds the time of nothing: all of the paper is as it was.
  assert.equal(await printed(page, 'typing'), clean);
  // Printing took nothing away.
  assert.equal(await blank(page, 'title').innerText(), 'Half a title');
  assert.equal(await page.evaluate(() => document.activeElement.dataset.path), 'title');
  assert.equal(await blank(page, 'water.temperature_c').innerText(), '777 parsec');
  await page.emulateMedia({ media: 'print' });
  const style = await blank(page, 'title').evaluate((element) => {
    const { opacity, position } = getComputedStyle(element);
    return { opacity, position };
  });
  assert.deepEqual(style, { opacity: '0', position: 'absolute' }, 'neither frame nor caret');
  assert.ok(await page.locator('.blank-note').first().isHidden());
  await page.emulateMedia({ media: 'screen' });
  // Taken at last, it is printed.
  await page.keyboard.press('Enter');
  await follows(page, ({ title }) => title === 'Half a title');
  assert.match(await printed(page, 'title'), /Half a title/);
  assert.deepEqual(page.complaints, []);
});

test('a blank that only has the focus is printed as it was', { skip }, async () => {
  const page = await withExample();
  await type(page, 'water.temperature_c', '35,2 °C', 'Tab');
  await follows(page, ({ water }) => water.temperature_c === 35.2);
  const clean = await printed(page, 'unfocused');
  for (const path of ['water.temperature_c', 'exposure.burst_s']) {
    await blank(page, path).focus();
    assert.equal(await printed(page, 'focused'), clean, path);
    await page.locator('#paper').focus();
    assert.equal(await page.locator('.taken').count(), 0);
  }
});

for (const [locale, about] of [['en-GB', /not taken yet: 2\..*values from before/], ['de-DE', /nicht übernommen: 2\..*von vorher/]]) {
  test(`the tray tells of entries that are not taken, ${locale}`, async () => {
    const page = await withExample({ locale });
    const told = page.locator('#not-taken');
    assert.ok(await told.isHidden());
    await refuse(page, 'water.temperature_c', '777 parsec');
    await type(page, 'title', 'Half a title');
    assert.ok(await told.isVisible());
    assert.match((await told.innerText()).replace(/\s+/g, ' '), about);
    await page.keyboard.press('Escape');
    assert.match(await told.innerText(), / 1\./);
    await page.click('#not-taken-first');
    await page.waitForFunction(() => document.activeElement?.dataset.path === 'water.temperature_c', null, { timeout: 5000 });
    assert.ok(await blank(page, 'water.temperature_c').evaluate((element) => {
      const { top, bottom } = element.getBoundingClientRect();
      return top >= 0 && bottom <= innerHeight;
    }));
    await page.keyboard.type('25 °C');
    await page.keyboard.press('Enter');
    await follows(page, ({ water }) => water.temperature_c === 25);
    assert.ok(await told.isHidden());
    assert.deepEqual(page.complaints, []);
  });
}

test('undo takes a refused entry back before it steps over drafts', async () => {
  const page = await withExample();
  const { water: { temperature_c: first } } = await record(page);
  const before = await blank(page, 'excitation.cycles').innerText();
  await type(page, 'water.temperature_c', '25', 'Tab');
  await follows(page, ({ water }) => water.temperature_c === 25);
  await refuse(page, 'excitation.cycles', '45 °C');
  await page.keyboard.press('Control+Z');
  await page.locator('.blank-note').waitFor({ state: 'detached' });
  assert.equal(await blank(page, 'excitation.cycles').innerText(), before);
  assert.equal((await record(page)).water.temperature_c, 25);
  assert.ok(await page.locator('#not-taken').isHidden());
  // The blank still has the focus: a click selects all, the next one sets the caret.
  await blank(page, 'excitation.cycles').click();
  assert.equal(await selected(page), before);
  await page.keyboard.type('9');
  await page.keyboard.press('Enter');
  await follows(page, ({ excitation }) => excitation.cycles === 9);
  await page.keyboard.press('Control+Z');
  await follows(page, ({ excitation }) => excitation.cycles === 8);
  await blank(page, 'excitation.cycles').click();
  await page.keyboard.type('7');
  await page.keyboard.press('Enter');
  await follows(page, ({ excitation }) => excitation.cycles === 7);
  await page.click('#undo');
  await follows(page, ({ excitation }) => excitation.cycles === 8);
  // Typed and not handed in: the button takes that back alone.
  await type(page, 'excitation.cycles', '45 °C');
  await page.click('#undo');
  await page.locator('#not-taken').waitFor({ state: 'hidden' });
  assert.equal(await blank(page, 'excitation.cycles').innerText(), before);
  assert.equal((await record(page)).water.temperature_c, 25);
  await page.click('#undo');
  await follows(page, ({ water }) => water.temperature_c === first);
  assert.deepEqual(page.complaints, []);
});

test('a refused entry alone can be undone', async () => {
  const page = await withExample();
  const before = await blank(page, 'site').innerText();
  assert.ok(await page.locator('#undo').isDisabled());
  await refuse(page, 'excitation.cycles', '45 °C');
  await page.click('#undo');
  await page.locator('.blank-note').waitFor({ state: 'detached' });
  assert.ok(await page.locator('#undo').isDisabled());
  assert.equal(await blank(page, 'site').innerText(), before);
});

test('a refused stated value stays in its row when a row above it is taken out', async () => {
  const page = await withExample();
  const { stated } = await record(page);
  await refuse(page, 'stated[1]', '5 acres');
  const row = page.locator('.verdicts tr', { has: page.locator(`[data-path="stated[0]"]`) });
  await row.hover();
  await row.locator('.row-remove').click();
  await follows(page, (now) => now.stated.length === stated.length - 1);
  assert.equal(await blank(page, 'stated[0]').innerText(), '5 acres');
  assert.equal(await page.locator('#sheet .refused').count(), 1);
});

test('after a stated value was added, the focus is on adding another', async () => {
  const page = await withExample();
  const { stated } = await record(page);
  await page.click('#add-stated');
  await page.locator('.add-form select').selectOption('td');
  await page.locator('.add-form input').fill('5 µs ± 15 %');
  const at = await page.evaluate(() => scrollY);
  await page.keyboard.press('Enter');
  await follows(page, (now) => now.stated.length === stated.length + 1);
  assert.equal(await page.evaluate(() => document.activeElement.id), 'add-stated');
  assert.equal(await page.evaluate(() => scrollY), at);
  await page.keyboard.press('Enter');
  assert.equal(await page.evaluate(() => document.activeElement.tagName), 'SELECT');
});
