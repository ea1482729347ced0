// What a key costs at a step: the digit that makes a number, whose verdict is shown before it is
// entered, and Enter, which also writes it down. Counted in what the page's main thread computes
// until the verdict is painted, against the least that a page can do for a key (`bare`); and what
// a reading costs in a long job against a short one. Real keys, by turns in one run.

import assert from 'node:assert/strict';
import { fileURLToPath } from 'node:url';
import { TABLET, openBrowser, openHost, running } from '../browser/bench.mjs';
import { STEPS, button, byTouch, field, heading, isRead, link, see, startJob } from '../browser/technician.mjs';
import { interleaved, median } from './statistics.mjs';
import { between, traced, watchKeys } from './timeline.mjs';

const BARE = fileURLToPath(new URL('bare', import.meta.url));
const RATIO = 1.1;
const FEW = 20;
// As many are read at the step where it is measured, in both jobs: only the rest is longer.
const HERE = 20;

export async function measure({ dist, quick, t }) {
  const [rounds, many] = quick ? [2, 60] : [60, 2000];
  const [host, bareHost] = [await openHost(t, dist), await openHost(t, BARE)];
  const pages = {
    app: await step(t, host, 0),
    bare: await watched(t, (browser) => browser.open(bareHost.url)),
    few: await step(t, host, FEW),
    many: await step(t, host, many),
  };
  const entered = { app: [], bare: [], few: [], many: [] };
  const turn = (name) => (round) => enter(pages[name], entered[name], round);
  const turns = Object.fromEntries(Object.keys(pages).map((name) => [name, turn(name)]));
  await interleaved(quick ? 1 : 5, turns);
  const marks = await tracedAll(pages, () => interleaved(rounds, turns));
  for (const [name, count] of [['app', 0], ['few', FEW], ['many', many]]) {
    await isStored(pages[name], count, entered[name]);
  }
  const took = (name, from, to) => {
    const found = between(marks[name], from, to).map(({ cpu }) => cpu);
    assert.equal(found.length, rounds, `${name}: each key was seen from ${from} to ${to}`);
    return median(found);
  };
  const against = (figure, [one, other], [from, to], goal, how) => {
    const [more, less] = [took(one, from, to), took(other, from, to)];
    const value = more / less;
    return {
      figure,
      value: value.toFixed(2),
      unit: '×',
      ...(goal && { goal: `≤ ${goal} ×`, met: value <= goal }),
      how: `${more.toFixed(2)} and ${less.toFixed(2)} ms of the main thread, medians of ${rounds}, by turns; ${how}`,
    };
  };
  const bare = 'to the painted verdict, against a page of a field and one text';
  const long = `in a job of ${many} readings against one of ${FEW}`;
  return [
    against(`From the last digit ${bare}`, ['app', 'bare'], DIGIT, undefined, 'script, style, layout, paint'),
    against(`From Enter ${bare}`, ['app', 'bare'], ENTER, undefined, 'the other page keeps nothing'),
    against(`From Enter to the painted verdict, ${long}`, ['many', 'few'], ENTER, RATIO, 'what is stored, and the verdict'),
    against(`Saving a reading, ${long}`, ['many', 'few'], SAVED, RATIO, 'from Enter until the row is there and all is on the disk'),
  ];
}

const DIGIT = ['digit-came', 'digit-painted'];
const ENTER = ['enter-came', 'enter-painted'];
const SAVED = ['enter-came', 'saved'];

async function watched(t, open) {
  const browser = await openBrowser(t, { device: TABLET });
  await browser.context.addInitScript(watchKeys);
  return open(browser);
}

// A page at the first step of the demo's procedure, in a job that has so many readings.
async function step(t, host, readings) {
  const page = await watched(t, (browser) => browser.visit(host));
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await link(page, 'Jobs').tap();
  await startJob(byTouch(page), 'QRC-999');
  await kept(page);
  if (!readings) return page;
  const steps = STEPS.filter(isRead).map(({ id, work }) => [id, Object.values(work)[0].gauge.in]);
  await page.evaluate(lengthen, [readings, HERE, steps]);
  await page.reload();
  await running(page);
  await see(field(page));
  await kept(page);
  return page;
}

const kept = (page) => page.waitForSelector('html[data-saved=yes]', { state: 'attached' });

// Runs in the page: lengthens the log of the job in hand, as an earlier version would have left it.
function lengthen([readings, here, [first, ...others]]) {
  const key = Object.keys(localStorage).find((it) => it.startsWith('halfturn:job:') && location.hash.includes(it.split(':')[2]));
  const { procedure, log } = JSON.parse(localStorage.getItem(key));
  const events = log.map(({ check, ...event }) => event);
  let { seq, at } = events.at(-1);
  for (let count = 0; count < readings; count += 1) {
    const [step, scale] = count < here ? first : others[count % others.length];
    const value = `0.${String(1000 + (count % 9000))} ${scale}`;
    [seq, at] = [seq + 1, at + 1000];
    events.push({ id: `r${String(count).padStart(15, '0')}`, seq, at, did: { reading: { step, phase: 'try', value } } });
  }
  localStorage.setItem(key, JSON.stringify({ procedure, log: events }));
}

// Traces all pages while something is done.
async function tracedAll(pages, act) {
  const marks = {};
  const all = Object.entries(pages).reduce(
    (inner, [name, page]) => async () => (marks[name] = await traced(page, inner)),
    act,
  );
  await all();
  return marks;
}

// Types a reading, each number another, and enters it.
async function enter(page, entered, round) {
  const digits = `0.${String(1000 + ((round + entered.length) % 9000))}`;
  await page.locator('#reading').focus();
  for (const digit of digits.slice(0, -1)) await page.keyboard.press(digit);
  await page.waitForTimeout(100);
  await press(page, 'digit', digits.at(-1), '.verdict-typed');
  await page.waitForTimeout(100);
  await press(page, 'enter', 'Enter', '.verdict:not(.verdict-typed)');
  entered.push(digits);
  // To look meanwhile would be counted as work of the page.
  await page.waitForTimeout(400);
  await page.evaluate(() => performance.mark('saved'));
  // The bare page has no rows and nowhere to keep them.
  if (!(await page.locator('.bench').count())) return;
  await see(page.locator('table.taken tr').first().filter({ hasText: digits }));
  await kept(page);
}

// Presses a key and waits until its frame is painted, which has to show the verdict.
async function press(page, name, key, shows) {
  await page.evaluate((it) => (globalThis.watched = it), name);
  await page.keyboard.press(key);
  do await page.waitForTimeout(100);
  while (await page.evaluate(() => globalThis.watched));
  assert.equal(await page.locator(shows).count(), 1, `${name}: ${shows} is shown`);
}

// Whatever was put off, the log has all that was entered, in its order.
async function isStored(page, before, entered) {
  const values = await page.evaluate(() => {
    const key = Object.keys(localStorage).find((it) => it.startsWith('halfturn:job:') && location.hash.includes(it.split(':')[2]));
    const { log } = JSON.parse(localStorage.getItem(key));
    return log.flatMap(({ did }) => (did.reading ? [did.reading.value] : []));
  });
  assert.equal(values.length, before + entered.length, 'each reading is stored once');
  assert.deepEqual(values.slice(before).map((value) => value.split(' ')[0]), entered);
}
