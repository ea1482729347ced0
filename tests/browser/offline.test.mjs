// The app without a network, and how a new version of it arrives.

import assert from 'node:assert/strict';
import { copyFile, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';
import { DIST, newerVersion, openBrowser, openHost, running } from './bench.mjs';
import { STEPS, button, byTouch, field, heading, link, read, see, startJob } from './technician.mjs';

// Asks for a newer version now instead of in an hour. Fails as the browser
// does when that version can't be had whole.
const lookForUpdate = (page) =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    await registration.update();
    const worker = registration.installing;
    if (!worker) return registration.waiting ? 'waiting' : 'none';
    return new Promise((done) => {
      worker.addEventListener('statechange', () => {
        if (worker.state === 'installed') done('waiting');
        if (worker.state === 'redundant') done('refused');
      });
    });
  });
const offered = (page) => page.waitForSelector('html[data-update=waiting]', { state: 'attached' });
const isOffered = (page) => page.evaluate(() => document.documentElement.dataset.update);
const takeUpdate = (page) =>
  page.evaluate(() => window.dispatchEvent(new Event('halfturn-take-update')));

test('after one visit the app starts at any address with the server gone', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await host.stop();

  await page.reload();
  await running(page);
  for (const address of ['#/', '#/no/such/place', '?from=somewhere#/x', 'index.html#/x']) {
    const other = await browser.open(host.url + address);
    assert.equal(await other.title(), 'Halfturn');
    await other.close();
  }

  const astray = await browser.open(`${host.url}old/bookmark#/kept`);
  assert.equal(astray.url(), `${host.url}#/kept`);
});

test('a browser that was killed starts the app with the server gone', async (t) => {
  const host = await openHost(t, DIST);
  const first = await openBrowser(t);
  await first.visit(host);
  await first.kill();
  await host.stop();

  const second = await openBrowser(t, { profile: first.profile });
  await second.open(host.url);
});

test('what was stored outlives a page that crashed', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await page.evaluate(() => localStorage.setItem('mark', '10.6920'));
  await browser.crash(page);

  const again = await browser.open(host.url);
  assert.equal(await again.evaluate(() => localStorage.getItem('mark')), '10.6920');
});

test('a new version waits, offers itself, and takes over only where asked', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  const beside = await browser.open(host.url);
  await beside.evaluate(() => (window.halfTyped = '10.69'));

  host.folder = await newerVersion(t, 'Newer');
  assert.equal(await lookForUpdate(page), 'waiting');
  await Promise.all([offered(page), offered(beside)]);

  await page.reload();
  await running(page);
  assert.equal(await page.title(), 'Halfturn', 'a reload alone changes nothing');
  await offered(page);

  await takeUpdate(page);
  await page.waitForFunction(() => document.title === 'Newer');
  assert.equal(await beside.title(), 'Halfturn');
  assert.equal(await beside.evaluate(() => window.halfTyped), '10.69', 'no tab reloads unasked');
  // What other apps hand over has a cache of its own.
  const versions = (name) => name.startsWith('halfturn ');
  const caches = (await page.evaluate(() => window.caches.keys())).filter(versions);
  assert.equal(caches.length, 1, `the old version is cleared away: ${caches}`);

  await takeUpdate(beside);
  await beside.waitForFunction(() => document.title === 'Newer');
  await host.stop();
  await page.reload();
  await running(page);
  assert.equal(await page.title(), 'Newer');
});

test('the first visit is not mistaken for an update', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await page.waitForFunction(() => navigator.serviceWorker.controller);
  assert.equal(await isOffered(page), undefined);
  const pages = host.requests.filter((path) => path === new URL(host.url).pathname);
  assert.equal(pages.length, 2, 'fetched to show and to keep, not to reload');
});

test('an update cut short leaves the old version whole', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  // Chromium logs what the host fails at.
  browser.expect(/500|Failed to (load|fetch)|integrity/);

  host.folder = await newerVersion(t, 'Newer');
  host.fails = (path) => path.endsWith('.wasm');
  assert.equal(await lookForUpdate(page), 'refused');

  await host.stop();
  await page.reload();
  await running(page);
  assert.equal(await page.title(), 'Halfturn');
  assert.equal(await isOffered(page), undefined);

  await host.start();
  host.fails = () => false;
  assert.equal(await lookForUpdate(page), 'waiting', 'the next look-up gets it whole');
});

test('a download that breaks off half way leaves the old version whole', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  browser.expect(/Failed to (load|fetch)|integrity|ERR_/);

  host.folder = await newerVersion(t, 'Newer');
  host.halves = (path) => path.endsWith('.wasm');
  assert.equal(await lookForUpdate(page), 'refused');
  await host.stop();
  await page.reload();
  await running(page);
  assert.equal(await page.title(), 'Halfturn');
});

test('a browser killed while an update downloads starts the old version offline', async (t) => {
  const host = await openHost(t, DIST);
  const first = await openBrowser(t);
  const page = await first.visit(host);
  first.expect(/Failed to (load|fetch)|ERR_/);

  host.folder = await newerVersion(t, 'Newer');
  // The program's file never comes to its end.
  const stuck = new Promise((asked) => {
    host.waits = (path) => path.endsWith('.wasm') && (asked(), true);
  });
  lookForUpdate(page).catch(() => {});
  await stuck;
  await first.kill();
  await host.stop();

  const second = await openBrowser(t, { profile: first.profile });
  const again = await second.open(host.url);
  assert.equal(await again.title(), 'Halfturn');
});

test('a job in hand goes on while an update waits, and is whole once it is taken', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  const hand = byTouch(page);
  const { gauge } = STEPS[0].work.read;
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await link(page, 'Jobs').tap();
  await startJob(hand, 'QRC-11');
  await read(hand, '0.9', gauge, 'As found', 'inside');

  host.folder = await newerVersion(t, 'Newer');
  assert.equal(await lookForUpdate(page), 'waiting');
  await see(page.getByText('A new version of the app is here.'));
  await read(hand, '0.8', gauge, 'As left', 'inside');
  await hand.number('0.7');

  await button(page, 'Use it now').tap();
  await page.waitForFunction(() => document.title.includes('Newer'));
  await running(page);
  await host.stop();
  await page.reload();
  await running(page);
  await see(heading(page, STEPS[0].title));
  assert.equal(await field(page).inputValue(), '0.7', 'what was half typed is there');
  const rows = page.getByRole('table', { name: 'Saved readings' }).getByRole('row');
  assert.equal(await rows.count(), 2);
  await hand.enter();
  await rows.filter({ hasText: '0.7 V' }).waitFor();
});

test('a half-published update, new worker beside old page, is not kept', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  browser.expect(/integrity/);

  const half = await newerVersion(t, 'Newer');
  await copyFile(join(DIST, 'index.html'), join(half, 'index.html'));
  host.folder = half;
  assert.equal(await lookForUpdate(page), 'refused');

  await host.stop();
  await page.reload();
  await running(page);
});

test('two copies on one origin keep out of each other', async (t) => {
  const host = await openHost(t, DIST, '/');
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await page.evaluate(async () => {
    const stranger = await caches.open('halfturn /elsewhere/ 0123456789abcdef');
    await stranger.put('/elsewhere/', new Response('kept'));
  });

  host.folder = await newerVersion(t, 'Newer');
  assert.equal(await lookForUpdate(page), 'waiting');
  await takeUpdate(page);
  await page.waitForFunction(() => document.title === 'Newer');
  const names = await page.evaluate(() => caches.keys());
  assert.ok(names.includes('halfturn /elsewhere/ 0123456789abcdef'), names.join());
});

test('the offline list names every file of the build', async () => {
  const worker = await readFile(join(DIST, 'sw.js'), 'utf8');
  const page = await readFile(join(DIST, 'index.html'), 'utf8');
  const linked = [...page.matchAll(/(?:href|src)="(\.\/[^"]+)"/g)].map(([, file]) => file);
  assert.ok(linked.length > 5);
  for (const file of linked) assert.ok(worker.includes(`'${file}'`), file);
});
