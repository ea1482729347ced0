// Random taps and keys over all screens: no panic, no error in the console, whatever is pressed.
//
//   STEPS=20000 SEED=2 tools/figures monkey     so many, another way

import { PHONE, TABLET, openBrowser, openHost } from '../browser/bench.mjs';
import { addresses, few, goTo, stocked } from '../browser/everywhere.mjs';
import { seeded } from './statistics.mjs';

const SEED = Number(process.env.SEED ?? 1);
// After so many actions it starts from another screen, so that it doesn't stay in one corner.
const STRETCH = 25;

const KEYS = [
  ...'0123456789.,-', 'Enter', 'Enter', 'Escape', 'Tab', 'Tab', 'Shift+Tab', 'Space', 'PageDown',
  'PageUp', 'ArrowDown', 'ArrowUp', 'ArrowLeft', 'ArrowRight', 'Home', 'End', 'Backspace',
  'Control+a', 'Control+z', 'Delete', '?', 'n', 'm', 'µ', 'k',
];
const TEXTS = [
  '10.6920', '-3,5 kHz', '1e9', 'QRC-07', '≥ 5', '   ', '7.5 V ± 0.2 V', '😀\u202e', '2026-02-30',
  '1 26.965\n2 26.975', 'x'.repeat(300), '999999999999999999999999',
];

export async function measure({ dist, quick, t }) {
  const steps = quick ? 500 : Number(process.env.STEPS ?? 20_000);
  const half = steps / 2;
  const found = [];
  for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
    found.push(...(await roam({ dist, t, device, steps: half })).map((fault) => `${name}, ${fault}`));
  }
  return [{
    figure: 'Errors found by random taps and keys',
    value: found.length,
    unit: `in ${steps}`,
    goal: '0',
    met: found.length === 0,
    how: `seed ${SEED}, half on a tablet, half on a phone; console, uncaught errors, the banner of a stopped app`,
    wrong: found.length ? found.slice(0, 10).join('; ') : undefined,
  }];
}

async function roam({ dist, t, device, steps }) {
  const random = seeded(SEED);
  const pick = (all) => all[Math.floor(random() * all.length)];
  const host = await openHost(t, dist);
  const browser = await openBrowser(t, { device });
  const faults = [];
  let trail = [];
  const note = (text) => faults.push(`${text} after ${trail.join(' > ')}`);
  browser.expect(/./); // Told of by this measure itself.
  browser.context.on('console', (message) => message.type() === 'error' && note(message.text()));
  browser.context.on('weberror', (error) => note(String(error.error())));
  browser.context.on('dialog', (dialog) => dialog.dismiss());
  let page = await browser.visit(host);
  await stocked(page);
  const screens = await addresses(page, few(12));
  for (let number = 0; number < steps; number += 1) {
    if (number % STRETCH === 0) {
      const address = pick(screens);
      trail = [`#${number} ${address}`];
      await goTo(page, address);
    }
    const action = pick([tap, tap, tap, press, press, type]);
    trail.push(await action(page, pick, random));
    // A press may have opened another page, as printing does, or left this one.
    for (const other of browser.context.pages()) if (other !== page) await other.close();
    if (await page.locator('#stopped').isVisible()) {
      note('the app has stopped');
      await page.reload();
    }
    if (number % 1000 === 999) console.error(`monkey: ${number + 1} actions, ${faults.length} faults`);
  }
  await browser.close();
  return faults;
}

// Presses something that can be pressed, wherever it is on the page, or just any point.
async function tap(page, pick, random) {
  const { width, height } = page.viewportSize();
  const anywhere = { x: random() * width, y: random() * height, name: 'anywhere' };
  const target = await page.evaluate((share) => {
    const open = document.querySelector('dialog[open]') ?? document;
    const all = [...open.querySelectorAll('button, a[href], input, select, summary, textarea, label')];
    const shown = all.filter((each) => each.checkVisibility());
    const one = shown[Math.floor(share * shown.length)];
    if (!one) return null;
    one.scrollIntoView({ block: 'center' });
    const { x, y, width, height } = one.getBoundingClientRect();
    const name = (one.getAttribute('aria-label') ?? one.textContent).trim().slice(0, 30);
    return { x: x + width / 2, y: y + height / 2, name };
  }, random());
  const { x, y, name } = (random() < 0.9 && target) || anywhere;
  await page.touchscreen.tap(x, y);
  return `tap ${name}`;
}

async function press(page, pick) {
  const key = pick(KEYS);
  await page.keyboard.press(key).catch(() => page.keyboard.insertText(key));
  return key;
}

async function type(page, pick) {
  const text = pick(TEXTS);
  await page.keyboard.insertText(text);
  return `type ${text.slice(0, 12)}`;
}
