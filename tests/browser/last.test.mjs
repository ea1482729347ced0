// The step that was left is on the screen before the program is there, and keeps what is typed.
//
// The program is held back by the page until a test lets it go, so that all of it happens however
// quick the machine is.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, openBrowser, openHost, running } from './bench.mjs';
import { button, byTouch, heading, link, see, startJob } from './technician.mjs';

const held = () => {
  const { instantiateStreaming } = WebAssembly;
  const wait = new Promise((done) => (globalThis.letGo = done));
  WebAssembly.instantiateStreaming = async (...all) => {
    if (sessionStorage.getItem('held')) await wait;
    return instantiateStreaming.apply(WebAssembly, all);
  };
};

// A step of the demo, with no network from here on.
async function step(t, device = TABLET) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  await browser.context.addInitScript(held);
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await link(page, 'Jobs').tap();
  await startJob(byTouch(page), 'QRC-11');
  await page.waitForSelector('#reading', { state: 'attached' });
  await host.stop();
  return { browser, page, url: host.url };
}

// Leaves the page and comes back, the program held.
async function comeBack(page) {
  await page.evaluate(() => sessionStorage.setItem('held', 'yes'));
  await page.reload({ waitUntil: 'commit' });
  await page.waitForFunction(() => window.halfturnLast && document.readyState !== 'loading');
}

const isShown = (page) => page.evaluate(() => Boolean(document.querySelector('#last #reading')));

async function letGo(page) {
  await page.evaluate(() => {
    sessionStorage.removeItem('held');
    globalThis.letGo();
  });
  await running(page);
  assert.equal(await page.locator('#last').count(), 0);
  assert.equal(await page.locator('#reading').count(), 1);
}

test('digits typed and tapped before the program is there stand in its field, none twice', async (t) => {
  const { page } = await step(t);
  const before = await page.locator('main h1').textContent();
  await comeBack(page);
  await page.waitForSelector('#last #reading');
  assert.equal(await page.locator('#last main h1').textContent(), before);
  assert.equal(await page.evaluate(() => document.activeElement.id), 'reading');
  await page.keyboard.press('0');
  await page.keyboard.press('.');
  await page.locator('#last button.key', { hasText: '4' }).first().tap();
  await page.keyboard.press('2');
  await letGo(page);
  assert.equal(await page.locator('#reading').inputValue(), '0.42');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'reading');
  await see(page.getByText('Inside').first());
  await page.keyboard.press('Enter');
  await see(page.getByRole('row', { name: /0\.42/ }).first());
});

test('what stood in the field goes on where it was', async (t) => {
  const { page } = await step(t);
  await page.keyboard.press('0');
  await page.keyboard.press('.');
  await comeBack(page);
  await page.waitForSelector('#last #reading');
  await page.keyboard.press('7');
  await letGo(page);
  assert.equal(await page.locator('#reading').inputValue(), '0.7');
});

test('on a phone the app begins with the half that was shown, so that a finger goes on where it was', async (t) => {
  const { page } = await step(t, PHONE);
  const pane = () => page.evaluate(() => document.querySelector('[data-pane]').dataset.pane);
  await button(page, 'Measure').tap();
  assert.equal(await pane(), 'measure');
  await comeBack(page);
  await page.waitForSelector('#last #reading');
  assert.equal(await pane(), 'measure');
  await page.locator('#last button.key', { hasText: '4' }).first().tap();
  await letGo(page);
  assert.equal(await pane(), 'measure');
  assert.equal(await page.locator('#reading').inputValue(), '4');
});

test('numbers sent by Enter are entered one by one, in their order', async (t) => {
  const { page } = await step(t);
  await comeBack(page);
  await page.waitForSelector('#last #reading');
  await page.keyboard.type('0.41');
  await page.keyboard.press('Enter');
  await page.keyboard.type('0.42');
  await page.locator('#last button.key-enter').tap();
  await page.keyboard.type('0.4');
  await letGo(page);
  for (const figure of ['0.41', '0.42']) await see(page.getByRole('row', { name: new RegExp(figure.replace('.', '\\.')) }).first());
  assert.equal(await page.locator('table.taken tbody tr').count(), 2);
  assert.equal(await page.locator('#reading').inputValue(), '0.4');
});

test('a unit that is tapped before the program is there is the unit of the number', async (t) => {
  const { page } = await step(t);
  await comeBack(page);
  await page.waitForSelector('#last #reading');
  await page.locator('#last .scale-key', { hasText: /^mV$/ }).tap();
  await page.keyboard.type('400');
  await letGo(page);
  await see(page.getByText('Inside').first());
  await page.keyboard.press('Enter');
  await see(page.getByRole('row', { name: /400 mV/ }).first());
});

test('a verdict of what stood there before is not shown beside what is typed', async (t) => {
  const { page } = await step(t);
  await page.keyboard.type('7');
  await see(page.getByText('(not entered)').first());
  await comeBack(page);
  await page.waitForSelector('#last #reading');
  const isSeen = () => page.locator('#last').getByText('(not entered)').first().isVisible();
  assert.equal(await isSeen(), true);
  await page.keyboard.press('2');
  assert.equal(await isSeen(), false);
  await letGo(page);
});

const CHANGES = {
  'another page wrote into the job': () => {
    const key = Object.keys(localStorage).find((it) => it.startsWith('halfturn:job:') && location.hash.includes(it.slice(13)));
    localStorage.setItem(key, `${localStorage.getItem(key)} `);
  },
  'another page changed a setting': () => localStorage.setItem('halfturn:device', '{"theme":"dark"}'),
  'it is from long ago': () => {
    const kept = JSON.parse(localStorage.getItem('halfturn-last'));
    localStorage.setItem('halfturn-last', JSON.stringify({ ...kept, at: kept.at - 11 * 60 * 1000 }));
  },
  'the clock was set back': () => {
    const kept = JSON.parse(localStorage.getItem('halfturn-last'));
    localStorage.setItem('halfturn-last', JSON.stringify({ ...kept, at: kept.at + 60 * 1000 }));
  },
  'it is of another version': () => {
    const kept = JSON.parse(localStorage.getItem('halfturn-last'));
    localStorage.setItem('halfturn-last', JSON.stringify({ ...kept, version: '/other/' }));
  },
};

for (const [why, change] of Object.entries(CHANGES)) {
  test(`nothing is shown that may not hold: ${why}`, async (t) => {
    const { browser, page, url } = await step(t);
    const address = await page.evaluate(() => location.hash);
    await page.evaluate(() => sessionStorage.setItem('held', 'yes'));
    // The licences are a page of the same address that runs nothing of the app.
    await page.goto(`${url}licences.html`);
    assert.ok(await page.evaluate(() => localStorage.getItem('halfturn-last')), 'a picture was kept');
    await page.evaluate((hash) => history.replaceState(null, '', `licences.html${hash}`), address);
    await page.evaluate(change);
    await page.goto(`${url}${address}`, { waitUntil: 'commit' });
    await page.waitForFunction(() => window.halfturnLast && document.readyState !== 'loading');
    assert.equal(await isShown(page), false);
    assert.equal(await page.evaluate(() => localStorage.getItem('halfturn-last')), null);
    await letGo(page);
    assert.ok(browser);
  });
}

test('unchanged, it is shown after another page of the address too', async (t) => {
  const { page, url } = await step(t);
  const address = await page.evaluate(() => location.hash);
  await page.evaluate(() => sessionStorage.setItem('held', 'yes'));
  await page.goto(`${url}licences.html`);
  await page.goto(`${url}${address}`, { waitUntil: 'commit' });
  await page.waitForSelector('#last #reading');
  await letGo(page);
});

test('a step where time runs is not kept', async (t) => {
  const { page } = await step(t);
  await page.evaluate(() => document.querySelector('main').insertAdjacentHTML('beforeend', '<p role="timer">2:00</p>'));
  await comeBack(page);
  assert.equal(await isShown(page), false);
  await letGo(page);
});

test('another step than the one that was left gets none of the digits', async (t) => {
  const { page } = await step(t);
  await comeBack(page);
  await page.waitForSelector('#last #reading');
  await page.keyboard.press('8');
  await page.evaluate(() => (location.hash = `${location.hash.replace(/step\/.*/, 'steps')}`));
  await page.evaluate(() => {
    sessionStorage.removeItem('held');
    globalThis.letGo();
  });
  await running(page);
  await see(heading(page, 'All steps'));
  await page.goBack();
  await page.waitForSelector('#reading', { state: 'attached' });
  assert.equal(await page.locator('#reading').inputValue(), '');
});
