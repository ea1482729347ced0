// The app can be put on a device and started from there: what the browser itself says to that,
// what the manifest promises, and that each promise is kept.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';
import { DIST, PHONE, openBrowser, openHost, running } from './bench.mjs';

const manifest = JSON.parse(await readFile(join(DIST, 'manifest.webmanifest'), 'utf8'));

test('Chromium has nothing against installing it', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device: PHONE });
  const page = await browser.visit(host);
  const devtools = await browser.context.newCDPSession(page);
  const { errors } = await devtools.send('Page.getAppManifest');
  assert.deepEqual(errors, []);
  const { installabilityErrors } = await devtools.send('Page.getInstallabilityErrors');
  // The profile of a test counts as a private window, and that alone is no fault of the app.
  const faults = installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito');
  assert.deepEqual(faults, []);
});

// What Web App Manifest (W3C) calls for, and what browsers ask before they offer to install.
test('the manifest names the app, its start and its looks', () => {
  for (const member of ['name', 'short_name', 'description', 'lang']) assert.ok(manifest[member], member);
  // Without one its start is its name, so that two copies under one origin are two apps.
  assert.equal(manifest.id, undefined);
  assert.ok(manifest.short_name.length <= 12, 'a home screen shows about twelve letters');
  assert.equal(manifest.display, 'standalone');
  const page = new URL('https://host/folder/');
  const [scope, start] = [manifest.scope, manifest.start_url].map((it) => new URL(it, page).href);
  assert.ok(start.startsWith(scope), 'the start lies in the scope');
  for (const colour of [manifest.theme_color, manifest.background_color]) assert.match(colour, /^#[0-9a-f]{6}$/);
});

// The size that a PNG states in its first chunk (PNG, W3C, 11.2.1).
async function sizeOf(src) {
  const bytes = await readFile(join(DIST, src));
  assert.equal(bytes.toString('latin1', 1, 4), 'PNG', src);
  return `${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`;
}

test('the icons are there in the sizes they claim, one of them fit for any mask', async () => {
  const drawn = manifest.icons.filter(({ type }) => type === 'image/png');
  for (const { src, sizes } of drawn) assert.equal(await sizeOf(src), sizes, src);
  const plain = drawn.filter(({ purpose = 'any' }) => purpose === 'any').map(({ sizes }) => sizes);
  for (const size of ['192x192', '512x512']) assert.ok(plain.includes(size), size);
  assert.ok(drawn.some(({ purpose }) => purpose === 'maskable'));
});

test('its start answers 200 with no network', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device: PHONE });
  const page = await browser.visit(host);
  await page.reload(); // From here on the service worker answers.
  await running(page); // A page that is left while it loads its program says that it can't.
  await host.stop();
  const start = new URL(manifest.start_url, new URL('manifest.webmanifest', host.url)).href;
  const answer = await page.goto(start);
  assert.equal(answer.status(), 200);
  assert.ok(answer.fromServiceWorker());
});

test('the notices of all that is in the app are on the device', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await page.reload();
  await running(page);
  await host.stop();
  await page.goto(`${host.url}#/settings`);
  await page.getByRole('link', { name: 'Show the licences' }).click();
  await page.getByRole('heading', { name: 'Licences', level: 1 }).waitFor();
  const text = await page.locator('body').innerText();
  // What the app itself asks for stands for all that this brings along.
  const manifest = await readFile(new URL('../../Cargo.toml', import.meta.url), 'utf8');
  const [, wanted] = manifest.match(/\n\[dependencies\]\n([^]*?)\n\[/);
  const names = [...wanted.matchAll(/^([a-z0-9_-]+) = /gm)].map(([, name]) => name);
  assert.ok(names.length > 15, names.join());
  for (const name of names) assert.match(text, new RegExp(`^${name} v[0-9.]+.*: .+`, 'm'), name);
  for (const words of ['Permission is hereby granted', 'Apache License', 'SIL OPEN FONT LICENSE', 'UNICODE LICENSE']) {
    assert.ok(text.toUpperCase().includes(words.toUpperCase()), words);
  }
  await page.getByRole('link', { name: 'Back to the app' }).click();
  await page.getByRole('heading', { name: 'Files' }).waitFor();
});

test('the data screen says whether the app is wholly on the device', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await page.goto(`${host.url}#/settings`);
  await page.getByText('The app is on this device and starts offline.').waitFor();
  await page.evaluate(async () => {
    const [name] = (await caches.keys()).filter((each) => each.startsWith('halfturn '));
    await (await caches.open(name)).delete('./icons/icon-512.png');
  });
  await host.stop();
  await page.reload();
  await page.getByText('The app is not wholly on this device').waitFor();
});
