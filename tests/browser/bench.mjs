// What every browser test stands on: the built app, a browser with a profile
// that outlives it, and a watch that fails the test when a request leaves the
// app's origin, the page's security policy is violated or an error is logged.
//
//   test('…', async (t) => {
//     const host = await openHost(t, DIST);
//     const browser = await openBrowser(t, { device: TABLET });
//     const page = await browser.visit(host);
//     …
//   });

import assert from 'node:assert/strict';
import { readFileSync, readlinkSync } from 'node:fs';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { execFileSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { later } from './later.mjs';

export { openHost } from './host.mjs';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
export const DIST = process.env.DIST ?? join(ROOT, 'dist');

export const TABLET = { viewport: { width: 1180, height: 820 }, hasTouch: true };
export const UPRIGHT = { viewport: { width: 820, height: 1180 }, hasTouch: true };
export const PHONE = {
  viewport: { width: 390, height: 844 },
  deviceScaleFactor: 2,
  hasTouch: true,
  isMobile: true,
};

const ARGUMENTS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  // Nothing but this machine can be reached, whatever the page tries.
  '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1',
];

// A temporary folder that goes with the test.
export async function folder(t) {
  const path = await mkdtemp(join(tmpdir(), 'halfturn-'));
  later(t, () => rm(path, { recursive: true, force: true, maxRetries: 5 }));
  return path;
}

// browser.visit(host)    opens the app, waits until it runs and works offline
// browser.open(url)      opens a page and waits until the app runs
// browser.expect(regex)  problems that match are what this test is about
// browser.crash(page)    ends the page's process, as a tablet short of memory does
// browser.kill()         ends the whole browser, as a flat battery does
// browser.close()        ends it in order
//
// To go on with what a killed or closed browser had stored, hand its `profile`
// to the next one. A crashed page loses nothing it stored. A killed browser
// does: Chromium writes storage to disk up to some seconds late, whatever a
// page does about it.
//
// The device speaks British English, as our words are written; `locale` asks for another language.
export async function openBrowser(t, { device = TABLET, profile, flags = [], ...options } = {}) {
  profile ??= await folder(t);
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [...ARGUMENTS, ...flags],
    locale: 'en-GB',
    ...device,
    ...options,
  });
  const browser = { context, profile };

  const problems = [];
  const expected = [];
  const origins = new Set();
  context.on('console', (message) => {
    if (message.type() === 'error') problems.push(`logged: ${message.text()}`);
  });
  context.on('weberror', (error) => problems.push(`thrown: ${error.error()}`));
  context.on('request', (request) => {
    const { protocol, origin } = new URL(request.url());
    const local = ['about:', 'blob:', 'data:'].includes(protocol);
    if (!local && !origins.has(origin)) problems.push(`request left: ${request.url()}`);
  });
  await context.addInitScript(() =>
    document.addEventListener('securitypolicyviolation', (event) =>
      console.error(`policy violated: ${event.violatedDirective} ${event.blockedURI}`),
    ),
  );

  browser.expect = (...patterns) => expected.push(...patterns);
  browser.problems = () => problems.filter((text) => !expected.some((it) => it.test(text)));
  browser.open = async (url) => {
    origins.add(new URL(url).origin);
    const page = await context.newPage();
    await page.goto(url);
    await running(page);
    return page;
  };
  browser.visit = async (host) => {
    const page = await browser.open(host.url);
    await page.waitForSelector('html[data-offline=ready]', { state: 'attached' });
    return page;
  };
  browser.crash = async (page) => {
    const devtools = await context.newCDPSession(page);
    const crashed = page.waitForEvent('crash');
    devtools.send('Page.crash').catch(() => {}); // Nobody is left to answer.
    await crashed;
  };
  browser.close = () => context.close();
  browser.kill = async () => {
    // The lock in a profile names the process that holds it: 'host-number'.
    const lock = readlinkSync(join(profile, 'SingletonLock'));
    process.kill(Number(lock.split('-').pop()), 'SIGKILL');
    await context.close().catch(() => {});
  };

  later(t, async () => {
    await browser.close();
    assert.deepEqual(browser.problems(), [], 'no error, no violation, no request elsewhere');
  });
  return browser;
}

// Waits until the app has started on this page.
export const running = (page) => page.waitForSelector('html[data-app=started]', { state: 'attached' });

// A copy of the build that counts as a newer version: its title says so. Made
// with the build's own script, so that its service worker is a real one.
export async function newerVersion(t, title) {
  const copy = join(await folder(t), 'dist');
  await cp(DIST, copy, { recursive: true });
  const page = join(copy, 'index.html');
  const text = await readFile(page, 'utf8');
  await writeFile(page, text.replace(/<title>.*?<\/title>/, `<title>${title}</title>`));
  execFileSync('sh', ['tools/service-worker.sh'], {
    cwd: ROOT,
    env: { ...process.env, STAGE: copy },
  });
  return copy;
}

// Keeps a picture for the README when SHOTS is set; otherwise a run leaves the
// work tree as it was.
export async function shot(page, name) {
  if (process.env.SHOTS) await page.screenshot({ path: join(ROOT, 'docs', `${name}.png`) });
}

// Rules of axe-core that are off unless asked for: one of WCAG 2.2 (2.5.8), and one that compares
// names with what is seen (2.5.3).
const RULES = { 'target-size': { enabled: true }, 'label-content-name-mismatch': { enabled: true } };

// The accessibility rules of axe-core that the page breaks, one line each.
export async function barriers(page) {
  if (!(await page.evaluate(() => globalThis.axe))) {
    // Evaluated by the driver, since the page itself may not take in scripts.
    await page.evaluate(readFileSync(join(ROOT, 'node_modules/axe-core/axe.min.js'), 'utf8'));
  }
  const violations = await page.evaluate(async (rules) => {
    const { axe } = globalThis;
    const { violations } = await axe.run({ rules, resultTypes: ['violations'] });
    // What lies partly under keys that stay in place looks small until one scrolls.
    const isSmall = async (target) => {
      document.querySelector(target).scrollIntoView({ block: 'center' });
      const again = await axe.run({ include: [[target]] }, { runOnly: ['target-size'] });
      return again.violations.length > 0;
    };
    const found = [];
    for (const { id, help, nodes } of violations) {
      const targets = nodes.map(({ target }) => target.join(' '));
      const kept = [];
      for (const target of targets) {
        if (id !== 'target-size' || (await isSmall(target))) kept.push(target);
      }
      found.push({ id, help, nodes: kept });
    }
    return found;
  }, RULES);
  return violations.flatMap(({ id, help, nodes }) => nodes.map((node) => `${id}: ${help} (${node})`));
}
