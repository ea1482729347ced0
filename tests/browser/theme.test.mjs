// Light and dark: as the device is set or as it was chosen, from the first paint on; paper stays
// light; and figures and verdicts of the step sheet are told from their ground by 7:1.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, openBrowser, openHost, running } from './bench.mjs';
import { button, byTouch, heading, link, see, toTheKeys, toTheTask } from './technician.mjs';

const PAPER = { light: 'rgb(246, 244, 238)', dark: 'rgb(21, 25, 28)' };
const shows = async (page, theme) => {
  await page.waitForFunction((theme) => (document.documentElement.dataset.theme ?? 'device') === theme, theme);
  return paper(page);
};
const paper = (page) => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
const choose = (page, theme) => page.getByRole('radio', { name: theme, exact: true }).tap();

async function opened(t, device = TABLET) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  return { host, browser, page };
}

test('the theme follows the device until one is chosen, which is kept', async (t) => {
  const { browser, host, page } = await opened(t);
  await link(page, 'Settings').tap();
  for (const device of ['light', 'dark']) {
    await page.emulateMedia({ colorScheme: device });
    assert.equal(await paper(page), PAPER[device], 'as the device');
    for (const theme of ['light', 'dark']) {
      const name = theme === 'light' ? 'Light' : 'Dark';
      await choose(page, name);
      assert.equal(await shows(page, theme), PAPER[theme], `${theme} on a ${device} device`);
      assert.equal(
        await page.evaluate(() => getComputedStyle(document.documentElement).colorScheme),
        theme,
      );
      await page.reload();
      await running(page);
      assert.equal(await paper(page), PAPER[theme], 'after a reload');
      assert.ok(await page.getByRole('radio', { name, exact: true }).isChecked());
    }
    // Another page of the app follows.
    const other = await browser.open(host.url);
    await other.emulateMedia({ colorScheme: device });
    await page.bringToFront();
    await choose(page, 'As the device');
    assert.equal(await shows(page, 'device'), PAPER[device]);
    assert.equal(await shows(other, 'device'), PAPER[device], 'in another page of the app');
    await other.close();
  }
});

test('no other theme is seen at the start', async (t) => {
  const { browser, host, page } = await opened(t);
  await page.emulateMedia({ colorScheme: 'light' });
  await link(page, 'Settings').tap();
  await choose(page, 'Dark');
  await shows(page, 'dark');
  await page.waitForSelector('html[data-saved=yes]', { state: 'attached' });
  // Looks before each frame that is painted, from the first on.
  await browser.context.addInitScript(() => {
    globalThis.seen = [];
    const look = () => {
      if (document.styleSheets.length) {
        globalThis.seen.push(getComputedStyle(document.documentElement).backgroundColor);
      }
      if (globalThis.seen.length < 40) requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  const again = await browser.open(host.url);
  await again.waitForFunction(() => globalThis.seen.length >= 40);
  const seen = new Set(await again.evaluate(() => globalThis.seen));
  assert.deepEqual([...seen], [PAPER.dark]);
  const colours = await again.$$eval('meta[name=theme-color]', (all) => all.map((meta) => meta.content));
  assert.deepEqual([...new Set(colours)], ['#15191c'], 'the frame of the browser as well');
});

test('paper stays light', async (t) => {
  const { page } = await opened(t);
  await button(page, 'Load the demo').tap();
  await link(page, 'Settings').tap();
  await choose(page, 'Dark');
  await shows(page, 'dark');
  await page.goBack();
  await link(page, 'Report').tap();
  await see(page.locator('article.report'));
  const look = () =>
    page.evaluate(() => {
      const of = (selector) => getComputedStyle(document.querySelector(selector));
      return [of('article.report').color, of('article.report .band').fill, of(':root').getPropertyValue('--paper')];
    });
  assert.notEqual((await look())[0], 'rgb(0, 0, 0)', 'dark on the screen');
  await page.emulateMedia({ media: 'print' });
  assert.deepEqual(await look(), ['rgb(0, 0, 0)', 'rgb(207, 227, 228)', '#ffffff']);
});

// Figures and verdicts, and what they are read beside.
const READ = [
  '.hands strong',
  '.target-line .target',
  '.target-line .target-from',
  '.verdict .figure',
  '.verdict .figure small',
  '.verdict .word',
  '.verdict .word strong',
  '.verdict .way',
  '.verdict .indicated',
  '.taken th',
  '.taken td',
  '.proved strong',
  '.proved p',
  '.aim',
  '.aim strong',
  '.step-status .status',
  '.several-reading',
  '.entry-line input',
  '.keys button',
];

// Texts that are told from what is behind them by less than 7:1 (WCAG 2.2, 1.4.6).
const faint = (page) =>
  page.evaluate((READ) => {
    const canvas = Object.assign(document.createElement('canvas'), { width: 1, height: 1 });
    const context = canvas.getContext('2d', { willReadFrequently: true });
    // In whichever way the browser writes a colour.
    const rgba = (colour) => {
      context.clearRect(0, 0, 1, 1);
      context.fillStyle = colour;
      context.fillRect(0, 0, 1, 1);
      const [r, g, b, a] = context.getImageData(0, 0, 1, 1).data;
      return { r, g, b, a: a / 255 };
    };
    const over = (top, below) =>
      Object.fromEntries(['r', 'g', 'b'].map((c) => [c, top[c] * top.a + below[c] * (1 - top.a)]));
    const ground = (element) => {
      const layers = [];
      for (let at = element; at; at = at.parentElement) {
        const colour = rgba(getComputedStyle(at).backgroundColor);
        layers.push(colour);
        if (colour.a === 1) break;
      }
      return layers.reverse().reduce((below, layer) => over(layer, below), { r: 255, g: 255, b: 255 });
    };
    const luminance = ({ r, g, b }) => {
      const [x, y, z] = [r, g, b].map((c) => c / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
      return 0.2126 * x + 0.7152 * y + 0.0722 * z;
    };
    const ratio = (element) => {
      const below = ground(element);
      const [a, b] = [over(rgba(getComputedStyle(element).color), below), below].map(luminance);
      return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    };
    return READ.flatMap((selector) =>
      [...document.querySelectorAll(selector)]
        .filter((element) => element.checkVisibility() && !element.disabled)
        .map((element) => [element, ratio(element)])
        .map(([element, ratio]) => ({
          selector,
          text: (element.innerText ?? '').slice(0, 30).replace(/\s+/g, ' '),
          ratio: Math.floor(ratio * 100) / 100,
        })));
  }, READ);

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`figures and verdicts have 7:1 on a ${name}, by day and by night`, async (t) => {
    const { page } = await opened(t, device);
    await button(page, 'Load the demo').tap();
    await link(page, 'Continue').tap();
    await see(heading(page, 'S-meter at 9'));
    const hand = byTouch(page);
    const found = new Set();
    const seen = new Map();
    const look = async (state) => {
      for (const half of [toTheTask, toTheKeys]) {
        await half(page);
        for (const colorScheme of ['light', 'dark']) {
          await page.emulateMedia({ colorScheme });
          for (const { selector, text, ratio } of await faint(page)) {
            const least = seen.get(`${colorScheme} ${selector}`) ?? 99;
            seen.set(`${colorScheme} ${selector}`, Math.min(least, ratio));
            if (ratio < 7) found.add(`${colorScheme}, ${state}: ${selector} “${text}” has ${ratio}`);
          }
        }
      }
    };
    await look('untouched');
    await hand.number('-70.1');
    await look('outside, typed');
    await hand.enter();
    await see(page.locator('.taken'));
    await look('outside');
    await hand.number('-73.2');
    await look('inside, typed');
    await hand.enter();
    await look('inside');
    await page.getByRole('button', { name: /^Record as left: / }).tap();
    await see(page.locator('.proved'));
    await look('left');
    t.diagnostic([...seen].map(([what, ratio]) => `${what} ${ratio}`).join(', '));
    assert.equal([...found].join('\n'), '');
    assert.ok(['.verdict .figure', '.verdict .word', '.taken td', '.proved p'].every((it) => seen.has(`dark ${it}`)));
  });
}
