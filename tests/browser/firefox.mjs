// Drives Firefox by its Marionette protocol (WebDriver commands as JSON over a local socket), so
// that no further package is needed.
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const wait = (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds));

export class Firefox {
  static async start(program) {
    const profile = mkdtempSync(join(tmpdir(), 'focalsheet-firefox-'));
    const settings = ['marionette.port", 0', 'datareporting.policy.dataSubmissionEnabled", false', 'app.update.enabled", false', 'network.captive-portal-service.enabled", false', 'network.connectivity-service.enabled", false', 'browser.shell.checkDefaultBrowser", false', 'toolkit.telemetry.enabled", false'];
    writeFileSync(join(profile, 'user.js'), settings.map((setting) => `user_pref("${setting});\n`).join(''));
    const firefox = new Firefox();
    firefox.profile = profile;
    firefox.process = spawn(program, ['--headless', '--marionette', '--no-remote', '--profile', profile], { stdio: 'ignore', env: { ...process.env, HOME: profile } });
    await firefox.connect();
    await firefox.ask('WebDriver:NewSession', {});
    return firefox;
  }

  async connect() {
    for (let tries = 0; tries < 300; tries++) {
      await wait(100);
      try {
        const port = Number(readFileSync(join(this.profile, 'MarionetteActivePort'), 'utf8'));
        await new Promise((resolve, reject) => {
          this.socket = connect(port, '127.0.0.1', resolve).on('error', reject);
        });
        this.listen();
        return;
      } catch {
        // Not listening yet.
      }
    }
    throw new Error('Firefox did not open its Marionette port');
  }

  // Messages are `length:JSON`; an answer is [1, id, error, value].
  listen() {
    this.open = new Map();
    let bytes = Buffer.alloc(0);
    this.socket.on('data', (chunk) => {
      bytes = Buffer.concat([bytes, chunk]);
      for (;;) {
        const colon = bytes.indexOf(':');
        if (colon < 0) return;
        const end = colon + 1 + Number(bytes.subarray(0, colon));
        if (bytes.length < end) return;
        const message = JSON.parse(bytes.subarray(colon + 1, end));
        bytes = bytes.subarray(end);
        if (!Array.isArray(message)) continue;
        const [, id, error, value] = message;
        const { resolve, reject } = this.open.get(id);
        this.open.delete(id);
        if (error) reject(new Error(`${error.error}: ${error.message}`));
        else resolve(value);
      }
    });
  }

  ask(command, parameters) {
    this.next = (this.next ?? 0) + 1;
    const id = this.next;
    const text = JSON.stringify([0, id, command, parameters]);
    return new Promise((resolve, reject) => {
      this.open.set(id, { resolve, reject });
      this.socket.write(`${Buffer.byteLength(text)}:${text}`);
    });
  }

  goto(url) {
    return this.ask('WebDriver:Navigate', { url });
  }

  // The value of a function's body, run in the page.
  async run(script) {
    return (await this.ask('WebDriver:ExecuteScript', { script, args: [], sandbox: null, newSandbox: false })).value;
  }

  async element(css) {
    const { value } = await this.ask('WebDriver:FindElement', { using: 'css selector', value: css });
    return Object.values(value)[0];
  }

  async click(css) {
    await this.ask('WebDriver:ElementClick', { id: await this.element(css) });
  }

  async type(css, text) {
    await this.ask('WebDriver:ElementSendKeys', { id: await this.element(css), text });
  }

  async close() {
    const ended = new Promise((resolve) => this.process.once('exit', resolve));
    await this.ask('Marionette:Quit', { flags: ['eForceQuit'] }).catch(() => this.process.kill());
    await ended;
    this.socket.destroy();
    rmSync(this.profile, { recursive: true, force: true, maxRetries: 5 });
  }
}
