// How every screen stands on a tablet, either way up, and on a phone, by day and by night: no
// barriers, nothing beside the screen, and keys that a thumb hits. Then with large text, with text
// spaced out, and by the Tab key. The criteria named are those of WCAG 2.2.

import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, UPRIGHT, barriers, openBrowser, openHost, shot } from './bench.mjs';
import { beside, covered, cutOff, dressed, everyTab, moving, small } from './sight.mjs';
import { screens } from './screens.mjs';
import { STEPS, button, see } from './technician.mjs';

const DEVICES = { tablet: TABLET, 'tablet held upright': UPRIGHT, phone: PHONE };

// 1.4.10, what a screen of 1280 px is at 400 %.
const NARROW = { viewport: { width: 320, height: 768 }, hasTouch: true };
// 1.4.12, the spacing that a reader may set.
const SPACED =
  '* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }';
// 1.4.4, what a browser's own setting of the text size does.
const LARGE = 'html { font-size: 200% !important }';

// What stands in the sources outside comments and tests, beyond ASCII; not the wide forms that
// the reader of numbers knows, the letters of languages, and what is never seen.
function signsOfTheApp() {
  const files = readdirSync('src', { recursive: true }).filter((file) => file.endsWith('.rs'));
  const shown = files.map((file) =>
    readFileSync(`src/${file}`, 'utf8').split('#[cfg(test)]')[0].replace(/\/\/.*/g, ''));
  const signs = new Set(shown.join('').match(/[^\0-\x7f\uff00-\uffff]/gu));
  return [...signs].filter((sign) => !/\p{Script=Latin}|\p{Cf}|\p{Zs}/u.test(sign) || 'ₙᵢ'.includes(sign)).join('');
}

// Visits every screen and gathers what `look` finds there, to be told all at once.
async function everyScreen(t, device, look, options) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device, ...options });
  const page = await browser.visit(host);
  const findings = [];
  for await (const screen of screens(page, host)) {
    const find = (what, list) => findings.push(...list.map((it) => `${screen.name}, ${what}: ${it}`));
    await look(page, screen, find);
  }
  assert.equal([...new Set(findings)].join('\n'), '');
}

for (const [name, device] of Object.entries(DEVICES)) {
  test(`every screen on a ${name} has no barriers, by day and by night`, (t) =>
    everyScreen(t, device, async (page, { route }, find) => {
      for (const colorScheme of ['light', 'dark']) {
        await page.emulateMedia({ colorScheme });
        find(colorScheme, await barriers(page));
      }
      if (route === 'Step') find('small', await small(page));
      find('beside', await beside(page));
    }));
}

test('every screen fits a width of 320 px, text spaced out, and text twice as large', (t) =>
  everyScreen(t, NARROW, async (page, _, find) => {
    find('at 320 px (1.4.10)', await beside(page));
    await page.setViewportSize(PHONE.viewport);
    await dressed(page, SPACED);
    find('spaced out (1.4.12)', [...(await beside(page)), ...(await cutOff(page))]);
    await page.setViewportSize(TABLET.viewport);
    await dressed(page, LARGE);
    find('twice as large (1.4.4)', [...(await beside(page)), ...(await cutOff(page))]);
    await dressed(page, '');
    await page.setViewportSize(NARROW.viewport);
  }));

test('every sign that the app has words with comes from its own fonts', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await page.evaluate((signs) => {
    const all = document.createElement('p');
    all.id = 'signs';
    all.append(signs);
    document.body.append(all);
  }, signsOfTheApp());
  await page.evaluate(() => document.fonts.ready);
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('DOM.enable');
  await devtools.send('CSS.enable');
  const { root } = await devtools.send('DOM.getDocument');
  const { nodeId } = await devtools.send('DOM.querySelector', { nodeId: root.nodeId, selector: '#signs' });
  const { fonts } = await devtools.send('CSS.getPlatformFontsForNode', { nodeId });
  const foreign = fonts.filter((font) => !font.isCustomFont);
  assert.deepEqual(foreign.map(({ familyName, glyphCount }) => `${glyphCount} from ${familyName}`), []);
});

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`the Tab key leads through every screen on a ${name}, and one sees where it is`, (t) =>
    everyScreen(t, device, async (page, _, find) =>
      find('focus (2.4.7, 2.4.11)', await everyTab(page, covered))));
}

test('nothing moves for those who asked for less motion (2.3.3)', (t) =>
  everyScreen(t, TABLET, async (page, _, find) => find('moves', await moving(page)), {
    reducedMotion: 'reduce',
  }));

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`a step with its readings on a ${name}, for the README`, async (t) => {
    const host = await openHost(t, DIST);
    const page = await (await openBrowser(t, { device })).visit(host);
    await button(page, 'Load the demo').tap();
    await page.getByRole('link', { name: STEPS[14].title }).tap();
    await see(page.getByRole('table', { name: 'Readings, newest first' }));
    await see(page.getByRole('img', { name: /^Target / }));
    // On a phone the reading lies below the instruction.
    if (name === 'phone') await page.getByText('Target', { exact: true }).evaluate((it) => it.scrollIntoView());
    await shot(page, name);
  });
}
