// The parts of the program: what is fetched when, and what is said where one can't be had.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, TABLET, openBrowser, openHost } from './bench.mjs';
import { button, heading, link, see } from './technician.mjs';

const fetched = (page) =>
  page.evaluate(() =>
    performance.getEntriesByType('resource').map(({ name }) => name.match(/split_(\w+)\.wasm$/)?.[1]).filter(Boolean),
  );

test('a part is fetched when one of its screens is first opened, with no network too', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device: TABLET });
  const page = await browser.visit(host);
  await host.stop();
  await page.reload();
  await page.waitForSelector('html[data-app=started]', { state: 'attached' });
  assert.deepEqual(await fetched(page), []);
  for (const [name, part] of [['Calculations', 'lookup'], ['Procedures', 'writing'], ['Instruments', 'desk']]) {
    await link(page, name).tap();
    await see(heading(page, name));
    assert.equal((await fetched(page)).at(-1), part);
    await page.waitForFunction((name) => document.title.startsWith(name), name);
  }
  assert.ok(!(await fetched(page)).includes('sound'));
  await page.evaluate(() => (location.hash = '#/audio'));
  await page.waitForFunction(() => document.querySelector('h1')?.textContent.includes('Audio'));
  assert.equal((await fetched(page)).at(-1), 'sound');
});

test('a screen that is not here yet is not shown, and comes once it can be had', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device: TABLET });
  browser.expect(/500|Failed to (load|fetch)|split_lookup|instantiateStreaming|HTTP status|Incorrect response/);
  host.fails = (path) => path.endsWith('split_lookup.wasm');
  const page = await browser.open(host.url);
  await link(page, 'Calculations').tap();
  await see(page.getByText('This screen is not on the device yet.'));
  await see(button(page, 'Load the demo'));
  assert.equal(await page.evaluate(() => location.hash), '#/');
  host.fails = () => false;
  await link(page, 'Calculations').tap();
  await see(heading(page, 'Calculations'));
});

test('a start at a screen that is not here yet begins with the jobs', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device: TABLET });
  browser.expect(/500|Failed to (load|fetch)|split_lookup|instantiateStreaming|HTTP status|Incorrect response/);
  host.fails = (path) => path.endsWith('split_lookup.wasm');
  const page = await browser.open(`${host.url}#/sums`);
  await see(page.getByText('This screen is not on the device yet.'));
  await see(button(page, 'Load the demo'));
});
