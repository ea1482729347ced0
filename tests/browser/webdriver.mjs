// Chromium, Firefox and WebKit behind one interface: a small client of the W3C's WebDriver, the
// protocol that the makers of all three have agreed on, and how to start each of them.
//
//   const browser = await openEngine(t, 'firefox');
//   await browser.goto(host.url);
//   await browser.press('button', 'Load the demo');
//   await browser.see('heading', 'All steps');
//
// Things are found by their kind and the name that a person, or a screen reader, has for them.

import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { existsSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { folder } from './bench.mjs';
import { later } from './later.mjs';

const PATIENCE = 30_000;
const LOADING = 60_000; // A machine that does other work compiles slowly.
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf'; // WebDriver, 12.1
const KEYS = { Enter: '\uE007', Tab: '\uE004', PageDown: '\uE00F', PageUp: '\uE00E' }; // 17.4.2

const WEBKIT = process.env.MINIBROWSER ?? '/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser';

// How each browser is started by its maker's driver. Saved files go into `downloads`, where the
// driver can be told so. `sound` is a WAV file in place of the sound input where the browser can play
// one, true where any sound will do; without it there is none.
export const ENGINES = {
  chromium: {
    command: (port) => ['chromedriver', `--port=${port}`],
    capabilities: (downloads, sound) => ({
      browserName: 'chrome',
      'goog:chromeOptions': {
        binary: process.env.CHROMIUM ?? '/usr/bin/chromium',
        args: [
          '--headless=new', '--no-sandbox', '--disable-gpu', '--window-size=1180,900',
          ...(sound ? ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream'] : []),
          ...(typeof sound === 'string' ? [`--use-file-for-fake-audio-capture=${sound}`] : []),
        ],
        prefs: { 'download.default_directory': downloads },
      },
    }),
  },
  firefox: {
    command: (port) => [process.env.GECKODRIVER ?? 'geckodriver', `--port=${port}`],
    capabilities: (downloads, sound) => ({
      browserName: 'firefox',
      'moz:firefoxOptions': {
        binary: process.env.FIREFOX ?? '/usr/bin/firefox-esr',
        args: ['-headless', '--width=1180', '--height=900'],
        prefs: {
          'browser.download.dir': downloads,
          'browser.download.folderList': 2,
          'browser.helperApps.neverAsk.saveToDisk': 'application/json',
          // A sine of its own, from nowhere but the browser.
          ...(sound && {
            'media.navigator.streams.fake': true,
            'media.navigator.permission.disabled': true,
            'media.navigator.audio.fake_frequency': 1000,
          }),
        },
      },
    }),
  },
  webkit: {
    command: (port) => ['xvfb-run', '-a', 'WebKitWebDriver', `--port=${port}`],
    capabilities: (downloads, sound) => ({
      'webkitgtk:browserOptions': {
        binary: WEBKIT,
        args: [
          '--automation',
          ...(sound ? ['--enable-media-stream=true', '--enable-mock-capture-devices=true'] : []),
        ],
      },
    }),
  },
};

// Chromium and Firefox have to be there; WebKit is left out where it can't be had.
export const isHere = (name) => name !== 'webkit' || existsSync(WEBKIT);

async function freePort() {
  const server = createServer();
  await new Promise((done) => server.listen(0, '127.0.0.1', done));
  const { port } = server.address();
  await new Promise((done) => server.close(done));
  return port;
}

// Calls until the answer is of use, and gives it.
async function until(what, ask, patience = PATIENCE) {
  const end = Date.now() + patience;
  for (;;) {
    const answer = await ask();
    if (answer) return answer;
    assert.ok(Date.now() < end, `still not there after ${patience / 1000} s: ${what}`);
    await pause(40);
  }
}

// Firefox measures no sound where there is nothing to play any on: a server with an output that leads
// nowhere, as far as one is here. Gives what has to be known of it.
export const hasSoundServer = () => Boolean(process.env.PULSE_SERVER) || onPath('pulseaudio');
const onPath = (program) => (process.env.PATH ?? '').split(':').some((folder) => existsSync(join(folder, program)));

async function soundServer(t, folder) {
  if (process.env.PULSE_SERVER || !onPath('pulseaudio')) return {};
  const socket = join(folder, 'sound');
  const modules = ['module-null-sink', `module-native-protocol-unix socket=${socket} auth-anonymous=1`];
  const options = ['-n', '--daemonize=no', '--exit-idle-time=-1', ...modules.map((each) => `--load=${each}`)];
  const env = { ...process.env, HOME: folder, XDG_RUNTIME_DIR: folder };
  const server = spawn('pulseaudio', options, { stdio: 'ignore', env });
  server.once('error', () => {});
  later(t, () => server.kill());
  await until('a sound server', () => existsSync(socket));
  return { PULSE_SERVER: `unix:${socket}` };
}

// A driver in a process group of its own, with its browser, that goes with the test.
async function startDriver(t, engine, downloads, sound) {
  // WebKit asks the desktop for the folder of downloads, which reads it from here.
  const desktop = await folder(t);
  writeFileSync(join(desktop, 'user-dirs.dirs'), `XDG_DOWNLOAD_DIR="${downloads}"\n`);
  const port = await freePort();
  const [program, ...options] = engine.command(port);
  const driver = spawn(program, options, {
    detached: true,
    stdio: 'ignore',
    env: { ...process.env, ...(sound && (await soundServer(t, desktop))), XDG_CONFIG_HOME: desktop },
  });
  const failed = new Promise((_, fail) => driver.once('error', fail));
  failed.catch(() => {});
  later(t, async () => {
    const gone = new Promise((done) => driver.once('exit', done));
    if (driver.exitCode === null && driver.pid) {
      process.kill(-driver.pid, 'SIGTERM');
      await gone;
    }
  });
  const address = `http://127.0.0.1:${port}`;
  const ready = () => fetch(`${address}/status`).then((answer) => answer.ok, () => false);
  await Promise.race([until(`${program} on port ${port}`, ready), failed]);
  return address;
}

// One command of WebDriver; an error becomes an exception with the driver's words.
async function command(address, method, path, body) {
  const answer = await fetch(`${address}${path}`, {
    method,
    body: body && JSON.stringify(body),
    headers: { 'content-type': 'application/json' },
  });
  const { value } = await answer.json();
  if (!answer.ok) throw Object.assign(new Error(`${value.error}: ${value.message}`), { code: value.error });
  return value;
}

// Runs in the page: the shown elements of a kind with this name, or with one that holds it where
// it need not be exact, in a list's item with the text `beside`.
function named(kind, name, { exact = true, beside = '' } = {}) {
  const selectors = {
    button: 'button, label.button',
    link: 'a[href]',
    heading: 'h1, h2, h3',
    field: 'input, textarea, select',
    image: '[role=img]',
    row: 'tr',
    text: 'p, span, strong, td, dd, caption, figcaption',
  };
  const plain = (text) => text.replace(/[\s\u00a0]+/g, ' ').trim();
  const nameOf = (element) =>
    plain(element.getAttribute('aria-label') ?? element.labels?.[0]?.innerText ?? element.innerText ?? '');
  const fits = (element) => {
    const own = nameOf(element);
    return exact ? own === name : own.includes(name);
  };
  return [...document.querySelectorAll(selectors[kind])].filter(
    (element) =>
      element.getClientRects().length &&
      fits(element) &&
      (!beside || element.closest('li')?.innerText.includes(beside)),
  );
}

// Runs in the page: keeps what goes wrong in it.
function watch() {
  const problems = (globalThis.problems = []);
  const log = console.error;
  console.error = (...words) => {
    problems.push(`logged: ${words.join(' ')}`);
    log(...words);
  };
  addEventListener('error', (event) => problems.push(`thrown: ${event.message}`));
  addEventListener('unhandledrejection', (event) => problems.push(`rejected: ${event.reason}`));
  document.addEventListener('securitypolicyviolation', (event) =>
    problems.push(`policy violated: ${event.violatedDirective} ${event.blockedURI}`),
  );
}

// Whether a tap in the middle of the element would reach it. Runs in the page.
function takesTaps(element) {
  const { left, right, top, bottom } = element.getClientRects()[0] ?? {};
  return element.contains(document.elementFromPoint((left + right) / 2, (top + bottom) / 2));
}

// browser.goto(url), browser.reload()      as in the address bar
// browser.find(kind, name, options)        the first such element, as soon as it is there
// browser.see(kind, name), browser.gone(kind, name)
// browser.press(kind, name)                clicks it
// browser.write(name, text)                types into the field of this name, after emptying it
// browser.type(text), browser.key(name)    types where the focus is
// browser.choose(selector, path)           picks a file
// browser.saved(press)                     the text of the file that the press saves
// browser.offlineReady()                   waits until everything is on the device
// browser.run(function, ...values)         runs in the page
// browser.problems()                       errors since each page was loaded
// browser.version()                        its name and version
// browser.name(element), browser.role(element)   as the browser tells a screen reader
export async function openEngine(t, name, { sound } = {}) {
  const engine = ENGINES[name];
  const downloads = await folder(t);
  const address = await startDriver(t, engine, downloads, sound);
  const { sessionId, capabilities } = await command(address, 'POST', '/session', {
    capabilities: { alwaysMatch: engine.capabilities(downloads, sound) },
  });
  const say = (method, path, body) => command(address, method, `/session/${sessionId}${path}`, body);
  later(t, () => say('DELETE', ''));

  // Right after a page has gone the driver may answer with nothing at all, so what the page
  // answers comes in a list. WebKit's may also say that it could not read what came: asked once
  // more it can, and it fails here only where it never can.
  const run = async (script, ...args) => {
    const body = { script: `return [(${script})(...arguments)]`, args };
    const unread = (error) => {
      if (!error.message.includes('Could not parse script result')) throw error;
    };
    const ask = () => say('POST', '/execute/sync', body).catch(unread);
    const [answer] = await until('the page answers', ask);
    return answer;
  };
  const find = (kind, wanted, options = {}) =>
    until(`${kind} “${wanted}”`, async () => (await run(named, kind, wanted, options))[0]);
  const problems = [];
  const collect = async () => problems.push(...(await run(() => globalThis.problems?.splice(0) ?? [])));
  // Leaves the page in front for another, and waits until the app runs there.
  const load = async (leave) => {
    await collect();
    await run(() => { globalThis.isOld = true; });
    await leave();
    const started = () => !globalThis.isOld && document.documentElement.dataset.app === 'started';
    // Between two pages there is none to ask.
    await until('the app runs', () => run(started).catch(() => false), LOADING);
    await run(watch);
  };
  const on = (element, method, path, body) => say(method, `/element/${element[ELEMENT]}${path}`, body);

  return {
    downloads,
    run,
    find,
    goto: (url) => load(() => say('POST', '/url', { url })),
    // As by the key. The command of that name makes Firefox pass over the service worker.
    reload: () => load(() => run(() => { setTimeout(() => location.reload()); })),
    see: find,
    gone: (kind, wanted) =>
      until(`no ${kind} “${wanted}”`, async () => !(await run(named, kind, wanted, {})).length),
    press: async (kind, wanted, options) => {
      const element = await find(kind, wanted, options);
      // A person brings it into view first; a driver is content with behind the bar.
      await run((element) => element.scrollIntoView({ block: 'center' }), element);
      // What came only just now takes no tap yet.
      await until(`${kind} “${wanted}” to be pressed`, () => run(takesTaps, element));
      await on(element, 'POST', '/click', {});
    },
    write: async (wanted, text) => {
      const field = await find('field', wanted);
      await on(field, 'POST', '/clear', {});
      await on(field, 'POST', '/value', { text });
    },
    type: async (text) => on(await say('GET', '/element/active'), 'POST', '/value', { text }),
    key: async (key) => on(await say('GET', '/element/active'), 'POST', '/value', { text: KEYS[key] }),
    choose: async (selector, path) => {
      const input = await say('POST', '/element', { using: 'css selector', value: selector });
      await on(input, 'POST', '/value', { text: path });
    },
    saved: async (press) => {
      const known = new Set(readdirSync(downloads));
      await press();
      // While it grows, a file has another name.
      const whole = (file) => !known.has(file) && !/^\.|\.(part|crdownload|wkdownload)$/.test(file);
      const path = await until('the saved file', () => {
        const file = readdirSync(downloads).find(whole);
        return file && statSync(join(downloads, file)).size && join(downloads, file);
      });
      const text = readFileSync(path, 'utf8');
      // A later file of the same name would not be seen to be another.
      rmSync(path);
      return text;
    },
    offlineReady: () =>
      until('everything on the device', () =>
        run(() => document.documentElement.dataset.offline === 'ready'),
      ),
    problems: async () => {
      await collect();
      return problems;
    },
    name: (element) => on(element, 'GET', '/computedlabel'),
    role: (element) => on(element, 'GET', '/computedrole'),
    version: () => `${capabilities.browserName} ${capabilities.browserVersion}`,
  };
}
