// Nothing leaves the page: a socket that listens on this machine hears from an ordinary page, and
// nothing at all from ours, whatever is tried inside it.
import assert from 'node:assert/strict';
import { createServer } from 'node:net';
import { test } from 'node:test';
import { oneBrowser, openPage, whole } from './chromium.mjs';

const browser = oneBrowser();

// Every way out that a script or an element has, short of leaving the page or opening another in
// a frame. Runs in the page.
const tryAll = async (port) => {
  const address = `http://127.0.0.1:${port}/`;
  const attempts = {
    fetch: () => fetch(`${address}fetch`, { mode: 'no-cors' }),
    xhr: () => {
      const request = new XMLHttpRequest();
      request.open('GET', `${address}xhr`);
      request.send();
    },
    beacon: () => navigator.sendBeacon(`${address}beacon`, 'x'),
    socket: () => new WebSocket(`ws://127.0.0.1:${port}/socket`),
    events: () => new EventSource(`${address}events`),
    module: () => import(`${address}module.js`),
    worker: () => new Worker(`${address}worker.js`),
    blobWorker: () => new Worker(URL.createObjectURL(new Blob([`fetch('${address}inner', { mode: 'no-cors' }); importScripts('${address}scripts.js')`]))),
    image: () => { new Image().src = `${address}image.png`; },
  };
  for (const [tag, attribute, more] of [
    ['script', 'src'],
    ['link', 'href', { rel: 'stylesheet' }],
    ['link', 'href', { rel: 'prefetch' }],
    ['link', 'href', { rel: 'icon' }],
    ['video', 'src'],
    ['audio', 'src'],
    ['object', 'data'],
    ['embed', 'src'],
  ]) {
    attempts[`${tag} ${more?.rel ?? ''}`] = () => document.body.append(Object.assign(document.createElement(tag), more, { [attribute]: `${address}${tag}` }));
  }
  attempts.style = () => {
    const style = document.createElement('style');
    style.textContent = `@import "${address}import.css"; @font-face { font-family: f; src: url("${address}font") } p { font-family: f; background: url("${address}ground") }`;
    document.head.append(style);
  };
  for (const attempt of Object.values(attempts)) {
    try {
      Promise.resolve(attempt()).catch(() => {});
    } catch {
      // Refused on the spot, which is as good.
    }
  }
  await new Promise((resolve) => setTimeout(resolve, 1500));
};

// Frames: their address, and a form that is sent into one. Runs in the page.
const tryFrames = async (port) => {
  const frame = Object.assign(document.createElement('iframe'), { src: `http://127.0.0.1:${port}/frame?secret` });
  const target = Object.assign(document.createElement('iframe'), { name: 'elsewhere' });
  const form = Object.assign(document.createElement('form'), { action: `http://127.0.0.1:${port}/form`, target: 'elsewhere' });
  document.body.append(frame, target, form);
  form.submit();
  await new Promise((resolve) => setTimeout(resolve, 1500));
};

// The connections that come in while `action` runs, each as the first line that it says.
const connectionsDuring = async (action) => {
  const connections = [];
  const server = createServer((socket) => {
    const place = connections.push('(nothing)') - 1;
    socket.on('error', () => {});
    socket.once('data', (bytes) => { connections[place] = bytes.toString('latin1').split('\r\n')[0]; });
    socket.end('HTTP/1.1 404 Not Found\r\nContent-Length: 0\r\nConnection: close\r\n\r\n');
  });
  await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
  try {
    await action(server.address().port);
  } finally {
    server.close();
  }
  return connections;
};

test('the same attempts do get out of an ordinary page', async (t) => {
  const page = await (await browser.now.newContext()).newPage();
  const connections = await connectionsDuring((port) => page.evaluate(tryAll, port));
  t.diagnostic(`connections from an ordinary page: ${connections.length}`);
  assert.ok(connections.length >= 5, connections.join('; '));
});

test('nothing gets out of our page', async () => {
  const page = await openPage(browser);
  await page.click('#example');
  await whole(page);
  assert.deepEqual(await connectionsDuring((port) => page.evaluate(tryAll, port)), []);
});

// Chromium opens a connection ahead of a frame's load and only then asks the policy, so that the
// far side may see that someone knocked; it must not be told anything.
test('nothing is said through a frame', async () => {
  const ordinary = await (await browser.now.newContext()).newPage();
  const said = await connectionsDuring((port) => ordinary.evaluate(tryFrames, port));
  assert.ok(said.some((line) => line.includes('secret')), said.join('; '));
  const page = await openPage(browser);
  const ours = await connectionsDuring((port) => page.evaluate(tryFrames, port));
  assert.ok(ours.every((line) => line === '(nothing)'), ours.join('; '));
});

test('strings and foreign scripts do not run', async () => {
  const page = await openPage(browser);
  await page.evaluate(() => {
    const script = document.createElement('script');
    script.textContent = 'window.strange = true';
    document.body.append(script);
    document.body.insertAdjacentHTML('beforeend', '<img src="data:," onerror="window.strange = true">');
  });
  await new Promise((resolve) => setTimeout(resolve, 300));
  assert.equal(await page.evaluate(() => window.strange), undefined);
});
