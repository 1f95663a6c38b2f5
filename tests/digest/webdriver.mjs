// Drives a browser by the WebDriver protocol (W3C), spoken directly: the same for every engine.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createServer } from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';

/** How to start each engine: its driver, with the port as scripts/setup's drivers take it, and what to ask of it. */
const ENGINES = {
  chromium: () => ({
    driver: process.env.CHROMEDRIVER ?? 'chromedriver',
    browser: {
      'goog:chromeOptions': {
        binary: process.env.CHROMIUM ?? '/usr/bin/chromium',
        args: ['--headless=new', '--no-sandbox', '--disable-dev-shm-usage', '--disable-background-networking'],
      },
    },
  }),
  firefox: () => ({
    driver: process.env.GECKODRIVER ?? 'geckodriver',
    browser: { 'moz:firefoxOptions': { binary: process.env.FIREFOX ?? '/usr/bin/firefox-esr', args: ['-headless'] } },
  }),
  // It has no mode without a display.
  webkit: () => ({
    driver: process.env.WEBKITDRIVER ?? 'WebKitWebDriver',
    browser: { 'webkitgtk:browserOptions': { binary: process.env.WEBKIT, args: ['--automation'] } },
  }),
};

async function freePort() {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address();
  server.close();
  await once(server, 'close');
  return port;
}

/**
 * Starts an engine, and its driver. Whoever starts it must close it.
 * @param {keyof typeof ENGINES} engine
 */
export async function start(engine) {
  const { driver, browser } = ENGINES[engine]();
  const port = await freePort();
  const running = spawn(driver, [`--port=${port}`], { stdio: 'ignore' });
  let gone = null;
  running.on('error', (error) => (gone = error));
  running.on('exit', (code) => (gone ??= new Error(`${driver} ended with ${code}`)));

  async function ask(method, path, body) {
    if (gone) throw gone;
    const headers = { 'Content-Type': 'application/json' };
    const response = await fetch(`http://127.0.0.1:${port}${path}`, { method, headers, body: body && JSON.stringify(body) });
    const { value } = await response.json();
    if (!response.ok) throw new Error(`${engine}: ${value.error}: ${value.message}`);
    return value;
  }
  const stop = () => void (gone ?? running.kill());

  try {
    // A busy machine starts a driver slowly.
    for (const until = Date.now() + 60_000; ; await sleep(50)) {
      const ready = await ask('GET', '/status').catch(() => false);
      if (ready?.ready) break;
      if (gone) throw gone;
      assert.ok(Date.now() < until, `${driver} is not ready after a minute`);
    }
    const { sessionId, capabilities } = await ask('POST', '/session', { capabilities: { alwaysMatch: browser } });
    const session = `/session/${sessionId}`;
    const find = async (selector) => Object.values(await ask('POST', `${session}/element`, { using: 'css selector', value: selector }))[0];
    const act = (source) => ask('POST', `${session}/actions`, { actions: [source] });
    return {
      name: `${capabilities.browserName} ${capabilities.browserVersion}`,
      /** Opens a page. @param {string} url */
      open: (url) => ask('POST', `${session}/url`, { url }),
      title: () => ask('GET', `${session}/title`),
      /** Runs the body of a function in the page, and gives what it returns. @param {string} script @param {unknown[]} args */
      run: (script, ...args) => ask('POST', `${session}/execute/sync`, { script, args }),
      /** The text of the first element that `selector` finds. @param {string} selector */
      text: async (selector) => ask('GET', `${session}/element/${await find(selector)}/text`),
      /** Clicks on the first element that `selector` finds. @param {string} selector */
      click: async (selector) => ask('POST', `${session}/element/${await find(selector)}/click`, {}),
      /** Presses and lets go with the mouse, CSS pixels from the window's corner. @param {[number, number]} place */
      tap: ([x, y]) =>
        act({ type: 'pointer', id: 'mouse', parameters: { pointerType: 'mouse' }, actions: [
          { type: 'pointerMove', duration: 0, x: Math.round(x), y: Math.round(y) },
          { type: 'pointerDown', button: 0 },
          { type: 'pointerUp', button: 0 },
        ] }),
      /** Presses keys where the keyboard is, as the protocol codes them. @param {string} keys */
      press: (keys) =>
        act({ type: 'key', id: 'keys', actions: [...keys].flatMap((value) => [{ type: 'keyDown', value }, { type: 'keyUp', value }]) }),
      async close() {
        await ask('DELETE', session).finally(stop);
      },
    };
  } catch (error) {
    stop();
    throw error;
  }
}
