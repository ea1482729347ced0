// Random taps and real keys over all screens. Whatever is done: no panic, no error in the console,
// no control comes under the finger, the keypad stays where it is, the focus is somewhere, and what
// was typed is what stands there, also after a reload where a draft is kept.
//
//   STEPS=20000 SEED=2 tools/figures monkey     so many, another way

import { PHONE, TABLET, openBrowser, openHost, running } from '../browser/bench.mjs';
import { UNTIL_A_BUTTON, addresses, few, goTo, stocked } from '../browser/everywhere.mjs';
import { tapAt } from '../browser/hand.mjs';
import { seeded } from './statistics.mjs';
import { typed, watch } from './watch.mjs';

const SEED = Number(process.env.SEED ?? 1);
// After so many actions it starts from another screen, so that it doesn't stay in one corner.
const STRETCH = 25;

const KEYS = [
  ...'0123456789.,-', 'Enter', 'Enter', 'Escape', 'Tab', 'Tab', 'Shift+Tab', 'Space', 'PageDown',
  'PageUp', 'ArrowDown', 'ArrowUp', 'ArrowLeft', 'ArrowRight', 'Home', 'End', 'Backspace',
  'Control+a', 'Control+z', 'Delete', '?', 'n', 'm', 'k',
];
const TEXTS = [
  '10.6920', '-3,5 kHz', '1e9', 'QRC-07', '≥ 5', '   ', '7.5 V ± 0.2 V', '😀', '2026-02-30',
  'x'.repeat(40), '999999999999999999999999', 'the dummy load is on; I have looked.',
];
// Screens whose fields are kept from the first letter on.
const KEPT = /^#\/(job\/[^/]+\/step\/|author\/|start\/|kit\/|sums\/)/;

const KINDS = {
  error: 'Errors, panics',
  finger: 'Controls that came under the finger',
  keypad: 'Keypads that moved',
  focus: 'Focus lost',
  typed: 'Fields that hold something else than was typed',
  kept: 'Drafts lost by a reload',
};
// What no hand would notice is counted, and is no fault: a browser that is busy now and then says
// that its caret is where it was before.
const TOLD = { caret: 'Texts that went in whole, but not where the caret was said to be' };

export async function measure({ dist, quick, t }) {
  const steps = quick ? 500 : Number(process.env.STEPS ?? 20_000);
  const found = [];
  for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
    const faults = await roam({ dist, t, device, steps: steps / 2 });
    found.push(...faults.map(({ kind, text }) => ({ kind, text: `${name}, ${text}` })));
  }
  return Object.entries({ ...KINDS, ...TOLD }).map(([kind, figure]) => {
    const those = found.filter((fault) => fault.kind === kind);
    const row = { figure, value: those.length, unit: `in ${steps}` };
    const told = { ...row, how: 'the same actions' };
    if (kind in TOLD) return told;
    return {
      ...row,
      goal: '0',
      met: those.length === 0,
      how: `random real taps and keys, seed ${SEED}, half on a tablet, half on a phone`,
      wrong: those.length ? those.slice(0, 10).map(({ text }) => text).join('; ') : undefined,
    };
  });
}

async function roam({ dist, t, device, steps }) {
  const random = seeded(SEED);
  const pick = (all) => all[Math.floor(random() * all.length)];
  const host = await openHost(t, dist);
  const browser = await openBrowser(t, { device });
  await browser.context.addInitScript(watch);
  const faults = [];
  let trail = [];
  const note = (kind, text) => {
    const told = `${text} after ${trail.join(' > ')}`;
    faults.push({ kind, text: told });
    if (process.env.TELL) console.error(`${kind}: ${told}`);
  };
  browser.expect(/./); // Told of by this measure itself.
  // A page that is left while it starts is not read to its end: the program is cut off, and of the
  // manifest nothing has come.
  const isCutOff = (text) => /loading was aborted|^Manifest: Line: 1, column: 1,/.test(text);
  const tell = (text) => isCutOff(text) || note('error', text);
  browser.context.on('console', (message) => message.type() === 'error' && tell(message.text()));
  browser.context.on('weberror', (error) => tell(String(error.error())));
  browser.context.on('dialog', (dialog) => dialog.dismiss());
  const page = await browser.visit(host);
  await stocked(page);
  const screens = await addresses(page, few(12));
  const hand = { page, pick, random, note };
  for (let number = 0; number < steps; number += 1) {
    if (number % STRETCH === 0) {
      const address = pick(screens);
      trail = [`#${number} ${address}`];
      await goTo(page, address);
      await settled(page);
    }
    const action = pick([tap, tap, tap, tap, press, press, type, type]);
    await action(hand, (what) => trail.push(what)).catch(async (error) => {
      if (!isLeaving(error)) throw error;
      trail.push('left the page');
      await comeBack(page, host.url);
    });
    // A press may have opened another page, as printing does, or left this one.
    for (const other of browser.context.pages()) if (other !== page) await other.close();
    if (await page.locator('#stopped').isVisible()) {
      note('error', 'the app has stopped');
      await page.reload();
      await running(page);
    }
    if (number % 1000 === 999) console.error(`monkey: ${number + 1} actions, ${faults.length} faults`);
  }
  await browser.close();
  return faults;
}

// What leads to another page may still be on its way there.
async function comeBack(page, url) {
  const isBusy = (error) => error.message.includes('interrupted by another navigation');
  for (let go = 0; go < 5; go += 1) {
    const isThere = await page.goto(url).then(() => true, (error) => {
      if (!isBusy(error)) throw error;
      return false;
    });
    if (isThere) break;
  }
  await running(page);
}

const settled = (page) => page.evaluate(() => window.monkey.settled());

// An action may load the page anew, or lead to another one, such as that of the licences: there
// is nothing to compare then.
const isLeaving = (error) => /context was destroyed|navigat|window\.monkey/i.test(error.message);

// Does something between two looks at the page, and notes what they find.
async function between({ page, note }, point, act) {
  await page.evaluate((point) => window.monkey.before(point), point);
  await act();
  await settled(page);
  for (const [kind, text] of await page.evaluate(() => window.monkey.after())) note(kind, text);
}

// Presses something that can be pressed, wherever it is on the page, or just any point.
async function tap(hand, tell) {
  const { page, random } = hand;
  const { width, height } = page.viewportSize();
  const anywhere = { x: random() * width, y: random() * height, name: 'anywhere' };
  const target = await page.evaluate((share) => {
    const open = document.querySelector('dialog[open]') ?? document;
    // A list that a browser opens over the page takes the keys that come next; keys reach it too.
    const all = [...open.querySelectorAll('button, a[href], input, summary, textarea, label')];
    const shown = all.filter((each) => each.checkVisibility());
    const one = shown[Math.floor(share * shown.length)];
    if (!one) return null;
    one.scrollIntoView({ block: 'center' });
    const { x, y, width, height } = one.getBoundingClientRect();
    const name = (one.getAttribute('aria-label') ?? one.textContent).trim().slice(0, 30);
    const digit = one.matches('.keypad .key') && /^[0-9.,]$/.test(name) ? name : null;
    const before = digit && document.getElementById('reading')?.value;
    return { x: x + width / 2, y: y + height / 2, name, digit, before };
  }, random());
  const it = (random() < 0.9 && target) || anywhere;
  tell(`tap ${it.name}`);
  await between(hand, { x: it.x, y: it.y }, () => tapAt(page, it.x, it.y));
  if (it.digit) {
    const value = await page.evaluate(() => window.monkey.valueOf('reading'));
    if (value !== it.before + it.digit) hand.note('typed', `“${it.before}” and ${it.digit} became “${value}”`);
  }
}

async function press(hand, tell) {
  const key = hand.pick(KEYS);
  tell(key);
  await between(hand, null, () => hand.page.keyboard.press(key));
}

// Whether a text went into a field whole, wherever.
const wentIn = (field, text, stands) =>
  [...`${field.value} `].some((_, at) => stands === typed({ ...field, start: at, end: at }, text));

// Types a text key by key, and now and then loads the page again.
async function type(hand, tell) {
  const { page, pick, random, note } = hand;
  const text = pick(TEXTS);
  const reloads = random() < 0.1;
  const field = await page.evaluate(() => window.monkey.field());
  tell(`type ${text.slice(0, 12)}`);
  await between(hand, null, () => page.keyboard.type(text));
  const place = await page.evaluate(() => window.monkey.place());
  if (!field?.id || place !== field.place) return;
  const due = typed(field, text);
  const value = () => page.evaluate((id) => window.monkey.valueOf(id), field.id);
  const stands = await value();
  if (stands !== due) {
    const kind = wentIn(field, text, stands) ? 'caret' : 'typed';
    note(kind, `#${field.id} holds “${stands}”, not “${due}”`);
  }
  if (!reloads || !KEPT.test(place) || UNTIL_A_BUTTON.test(field.id)) return;
  tell('reload');
  await page.reload();
  await running(page);
  await settled(page);
  const again = await value();
  if (again !== stands) note('kept', `#${field.id} holds “${again}”, not “${stands}”`);
}
