// A second browser engine: the page works in it from a file, and gives the same numbers.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { oneBrowser, openPage, whole } from './chromium.mjs';
import { Firefox } from './firefox.mjs';
import { demo } from './inputs.mjs';
import { PAGE, program } from './places.mjs';

const browser = oneBrowser();
const firefoxProgram = program('firefox-esr') ?? program('firefox');

const until = async (firefox, condition) => {
  const end = Date.now() + 60_000;
  while (!(await firefox.run(`return ${condition}`))) {
    assert.ok(Date.now() < end, `not reached: ${condition}; ${await firefox.run('return JSON.stringify(window.wrappedJSObject?.focalsheet ?? window.focalsheet ?? null)')}`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
};

test('Firefox gives the same numbers, from the example and from files', { skip: !firefoxProgram && 'no Firefox on the search path' }, async (t) => {
  const { path, files } = demo();
  const page = await openPage(browser);
  await page.click('#example');
  const example = (await whole(page)).json;
  await page.setInputFiles('#pick', [path, ...files]);
  const dropped = (await whole(page)).json;

  const firefox = await Firefox.start(firefoxProgram);
  try {
    await firefox.goto(String(pathToFileURL(PAGE)));
    await until(firefox, 'window.focalsheet?.ready === true');
    await firefox.click('#example');
    await until(firefox, 'window.focalsheet.hashed');
    assert.equal(await firefox.run('return window.focalsheet.json'), example);
    t.diagnostic(`Firefox, example: ${await firefox.run('return window.focalsheet.timings.finished')} ms`);
    await firefox.click('#start-over');
    await until(firefox, `window.focalsheet.phase === 'empty'`);
    await firefox.type('#pick', [path, ...files].join('\n'));
    await until(firefox, 'window.focalsheet.hashed');
    assert.equal(await firefox.run('return window.focalsheet.json'), dropped);
  } finally {
    await firefox.close();
  }
});
