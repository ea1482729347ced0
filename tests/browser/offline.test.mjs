// The app without a network, and how a new version of it arrives.

import assert from 'node:assert/strict';
import { copyFile, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';
import { DIST, newerVersion, openBrowser, openHost, running } from './bench.mjs';
import { STEPS, button, byTouch, field, heading, link, read, see, startJob } from './technician.mjs';

// Looks for a newer version now, as when the page comes back into sight, instead of in an hour.
// What came of it: 'none', 'waiting', or 'refused' where it can't be had whole.
const lookForUpdate = async (page) => {
  const looked = () => page.waitForSelector('html[data-looked]', { state: 'attached' });
  await looked(); // The look at the start is over.
  await page.evaluate(() => {
    delete document.documentElement.dataset.looked;
    document.dispatchEvent(new Event('visibilitychange'));
  });
  await looked();
  return page.evaluate(() => document.documentElement.dataset.looked);
};
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
  await see(page.getByText('Update ready.'));
  await read(hand, '0.8', gauge, 'As left', 'inside');
  await hand.number('0.7');

  await button(page, 'Update now').tap();
  await page.waitForFunction(() => document.title.includes('Newer'));
  await running(page);
  await host.stop();
  await page.reload();
  await running(page);
  await see(heading(page, STEPS[0].title));
  assert.equal(await field(page).inputValue(), '0.7', 'what was half typed is there');
  const rows = page.getByRole('table', { name: 'Readings, newest first' }).getByRole('row');
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

// What a host answers for a worker's script while it is written there: nothing at all, or a part
// that ends between two statements.
const SCRIPT = /\/sw(-[0-9a-f]{16})?\.js$/;
const EMPTY = (path) => (SCRIPT.test(path) ? '' : undefined);
const begunOf = async (folder) => {
  const text = await readFile(join(folder, 'sw.js'), 'utf8');
  const begun = text.slice(0, text.indexOf('\n\n', text.indexOf('FILES') + 200));
  return (path) => (SCRIPT.test(path) ? begun : undefined);
};

test('a worker’s script that is empty or cut is not registered, and the app goes on starting', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  const newer = await newerVersion(t, 'Newer');
  host.folder = newer;
  for (const says of [EMPTY, await begunOf(newer)]) {
    host.says = says;
    assert.equal(await lookForUpdate(page), 'refused');
    assert.equal(await isOffered(page), undefined);
  }
  // With its last page gone, whatever waited would take over.
  await page.close();
  await host.stop();
  const again = await browser.open(host.url);
  assert.equal(await again.title(), 'Halfturn');

  await host.start();
  host.says = () => undefined;
  assert.equal(await lookForUpdate(again), 'waiting');
});

test('a worker’s script that was cut is refused by the browser, wherever the cut is', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  browser.expect(/sw\.js|ServiceWorker/);
  const page = await browser.visit(host);
  const script = await readFile(join(DIST, 'sw.js'), 'utf8');
  const ends = [...script.matchAll(/;\n/g)].map(({ index }) => index + 2);
  for (const end of [ends[0], ends[ends.length >> 1], ends.at(-2), script.lastIndexOf('\n\n')]) {
    host.says = (path) => (SCRIPT.test(path) ? script.slice(0, end) : undefined);
    const register = () => navigator.serviceWorker.register('./sw.js').then(() => 'taken', () => 'refused');
    assert.equal(await page.evaluate(register), 'refused', `cut at ${end}`);
  }
});

test('a first visit to a host with an empty worker’s script claims nothing, and mends itself', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  host.says = EMPTY;
  const page = await browser.open(host.url);
  await page.waitForSelector('html[data-looked=refused]', { state: 'attached' });
  assert.equal(await page.evaluate(() => document.documentElement.dataset.offline), undefined);
  host.says = () => undefined;
  await lookForUpdate(page);
  await page.waitForSelector('html[data-offline=ready]', { state: 'attached' });
});

// Registers the worker as versions did that knew it by its plain name.
async function registerPlainly(browser, host) {
  browser.expect(/request left|404/); // That page is not the app.
  const page = await browser.context.newPage();
  await page.goto(`${host.url}manifest.webmanifest`);
  await page.evaluate(() => navigator.serviceWorker.register('./sw.js'));
  await page.waitForFunction(async () => (await navigator.serviceWorker.getRegistration()).active);
  await page.close();
}

// The browser looks at the address of the worker that it has, and takes whatever runs.
test('an empty worker that the browser installed by itself is replaced, not offered', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  host.says = EMPTY;
  await page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update());
  await page.waitForSelector('html[data-offline=lacking]', { state: 'attached' });
  assert.equal(await isOffered(page), undefined);
  host.says = () => undefined;
  await page.waitForSelector('html[data-offline=ready]', { state: 'attached' });
  await page.close();
  await host.stop();
  await browser.open(host.url);
});

test('an empty worker that has taken over is replaced at the next start', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  host.says = EMPTY;
  await registerPlainly(browser, host);
  host.says = () => undefined;
  const app = await browser.visit(host);
  await host.stop();
  await app.reload();
  await running(app);
});

test('a device that knows the worker by its plain name moves to the one named by what it holds', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  await registerPlainly(browser, host);
  const app = await browser.visit(host);
  const named = async () => {
    const { active } = await navigator.serviceWorker.getRegistration();
    return /sw-[0-9a-f]{16}\.js$/.test(active?.scriptURL);
  };
  await app.waitForFunction(named);
  assert.equal(await isOffered(app), undefined, 'the same version is no news');
});

// The one cache of the app, or all of them.
const kept = (page) =>
  page.evaluate(async () => (await caches.keys()).filter((name) => name.startsWith('halfturn ')));
const spoil = (page, ending, body) =>
  page.evaluate(
    async ([ending, body]) => {
      const names = (await caches.keys()).filter((name) => name.startsWith('halfturn '));
      for (const name of names) {
        const cache = await caches.open(name);
        for (const request of await cache.keys()) {
          if (!request.url.endsWith(ending)) continue;
          if (body === undefined) await cache.delete(request);
          else await cache.put(request, new Response(body));
        }
      }
    },
    [ending, body],
  );

test('a file that is gone or damaged on the device is noticed at the start and mended', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  for (const body of [undefined, 'not a picture']) {
    await spoil(page, 'icon-512.png', body);
    await page.reload();
    await page.waitForSelector('html[data-offline=ready]', { state: 'attached' });
    const size = await page.evaluate(async () => (await (await caches.match('./icons/icon-512.png')).blob()).size);
    assert.equal(size, (await readFile(join(DIST, 'icons/icon-512.png'))).length);
  }
});

test('while a file can’t be mended the page says so, and mends it once the network is back', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await spoil(page, 'icon-512.png');
  await host.stop();
  await page.reload();
  await running(page);
  await page.waitForSelector('html[data-offline=lacking]', { state: 'attached' });
  await host.start();
  await lookForUpdate(page);
  await page.waitForSelector('html[data-offline=ready]', { state: 'attached' });
});

test('a new version that lost a file leaves the start to the old one until it is whole', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  host.folder = await newerVersion(t, 'Newer');
  assert.equal(await lookForUpdate(page), 'waiting');
  await page.evaluate(async () => {
    const names = (await caches.keys()).filter((name) => name.startsWith('halfturn '));
    const cache = await caches.open(names.at(-1));
    for (const request of await cache.keys()) if (request.url.endsWith('.wasm')) await cache.delete(request);
  });
  await host.stop();
  await Promise.all([page.waitForEvent('load'), takeUpdate(page)]);
  await running(page);
  assert.equal(await page.title(), 'Halfturn');
  assert.equal((await kept(page)).length, 2, 'what can serve is kept');

  await host.start();
  await lookForUpdate(page);
  await page.waitForSelector('html[data-offline=ready]', { state: 'attached' });
  await page.reload();
  await running(page);
  assert.equal(await page.title(), 'Newer');
  assert.equal((await kept(page)).length, 1);
});

test('an update that is refused leaves nothing behind', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  browser.expect(/500|Failed to (load|fetch)|integrity/);
  host.folder = await newerVersion(t, 'Newer');
  host.fails = (path) => path.endsWith('.wasm');
  assert.equal(await lookForUpdate(page), 'refused');
  assert.equal((await kept(page)).length, 1);
});

test('what an update that was killed half way left behind is cleared away', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  const [name] = await kept(page);
  await page.evaluate((name) => caches.open(name), name.replace(/[0-9a-f]+$/, '0123456789abcdef'));
  await page.reload();
  await page.waitForSelector('html[data-offline=ready]', { state: 'attached' });
  assert.deepEqual(await kept(page), [name]);
});

for (const missing of [/\/app-\w+\/start\.js$/, /\/app-\w+\/halfturn\.js$/, /\/app-\w+\/halfturn_bg\.wasm$/]) {
  test(`a first visit without ${missing} says that the app could not start`, async (t) => {
    const host = await openHost(t, DIST);
    const browser = await openBrowser(t);
    browser.expect(/500|request left|Failed to fetch|HTTP status/);
    host.fails = (path) => missing.test(path);
    const page = await browser.context.newPage();
    await page.goto(host.url);
    const sentence = page.getByText('Halfturn could not start');
    await page.waitForFunction(() => getComputedStyle(document.getElementById('unable')).visibility === 'visible');
    assert.ok(await sentence.isVisible());
  });
}

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
