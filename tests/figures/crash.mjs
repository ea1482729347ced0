// Readings are typed while, at random moments, the page is crashed or the whole browser killed.
// Whatever the screen had called saved must be there afterwards, and the store must be whole.
//
// Of all else that is called done, `done.mjs` is the same.
//
//   CRASHES=500 tools/figures crash     that many trials; SEED=… repeats another series

import assert from 'node:assert/strict';
import { setTimeout as sleep } from 'node:timers/promises';
import { TABLET, openBrowser, openHost } from '../browser/bench.mjs';
import { STEPS, button, byTouch, field, heading, link, savedFile, see, startJob } from '../browser/technician.mjs';
import { killGroup } from './ending.mjs';
import { seeded } from './statistics.mjs';

const SEED = Number(process.env.SEED ?? 1);
// The table of a job grows with each trial, so each so many trials begin another.
const TRIALS_A_JOB = 10;
const LONGEST = 2000;

export async function measure({ dist, quick, t }) {
  const trials = quick ? 10 : Number(process.env.CRASHES ?? 500);
  const series = {
    t,
    host: await openHost(t, dist),
    random: seeded(SEED),
    // What the screen said is saved, by job; and in the job in hand.
    said: new Map(),
    now: new Set(),
    typed: 0,
    saved: 0,
    lost: { 'page crashed': [], 'browser killed': [] },
    count: { 'page crashed': 0, 'browser killed': 0 },
    damaged: [],
  };
  await startBrowser(series);
  for (let number = 0; number < trials; number += 1) {
    if (number % TRIALS_A_JOB === 0) await nextJob(series, `QRC-${100 + number}`);
    const how = series.random() < 0.5 ? 'page crashed' : 'browser killed';
    await interrupt(series, how);
    await lookAgain(series, how, number);
    if (number % 25 === 24) progress(series, number + 1);
  }
  await compareAll(series);
  await series.browser.close();
  // A series in which hardly anything was called saved would prove nothing.
  assert.ok(series.saved >= trials / 2, `only ${series.saved} readings were called saved`);
  return rows(series, trials);
}

const progress = ({ saved, lost }, done) =>
  console.error(`crash: ${done} trials, ${saved} readings called saved, lost ${JSON.stringify(
    Object.fromEntries(Object.entries(lost).map(([how, all]) => [how, all.length])),
  )}`);

async function startBrowser(series) {
  series.browser = await openBrowser(series.t, { device: TABLET, profile: series.browser?.profile });
  const { context } = series.browser;
  series.browser.expect(/./); // What a dying browser logs is no matter here.
  await context.exposeBinding('screenSaid', (_, values) => values.forEach((it) => series.heard?.(it)));
  // Tells of each row in the table of saved readings as soon as it is marked as on the disk.
  await context.addInitScript(() => {
    const told = new Set();
    const look = () => {
      const rows = document.querySelectorAll('table.taken tr[data-saved=true] td.number');
      const fresh = [...rows].map((row) => row.textContent).filter((text) => !told.has(text));
      fresh.forEach((text) => told.add(text));
      if (fresh.length) globalThis.screenSaid(fresh);
    };
    const watch = () => new MutationObserver(look).observe(document.body, {
      childList: true,
      subtree: true,
      attributeFilter: ['data-saved'],
    });
    document.addEventListener('DOMContentLoaded', watch);
  });
  series.page = await series.browser.open(series.host.url);
}

async function nextJob(series, serial) {
  const { page } = series;
  const demo = button(page, 'Load the demo');
  await link(page, 'Jobs').tap();
  await see(demo.or(link(page, 'Start a job')));
  if (await demo.count()) {
    await demo.tap();
    await see(heading(page, 'All steps'));
    await link(page, 'Jobs').tap();
  }
  await startJob(byTouch(page), serial);
  series.now = new Set();
  series.said.set(serial, series.now);
  series.address = new URL(page.url()).hash;
}

// Types readings until page or browser is gone, at a moment of its own.
async function interrupt(series, how) {
  series.heard = (value) => {
    series.saved += series.now.has(value) ? 0 : 1;
    series.now.add(value);
  };
  const moment = series.random() * LONGEST;
  const typing = type(series).catch(() => {});
  await sleep(moment);
  series.heard = undefined;
  if (how === 'page crashed') {
    await series.browser.crash(series.page);
    // Only a closed page ends what still waits for an answer of it.
    await series.page.close();
  } else {
    await killGroup(series.browser);
  }
  series.count[how] += 1;
  await typing;
}

async function type(series) {
  const { page } = series;
  await field(page).focus();
  for (;;) {
    series.typed += 1;
    // Inside the first step's limit, and no value twice in a job.
    const value = `0.${String(series.typed % 10_000).padStart(4, '0')}`;
    await page.keyboard.press('Control+a');
    await page.keyboard.type(value);
    await page.keyboard.press('Enter');
    await sleep(series.random() * 200);
  }
}

async function lookAgain(series, how, number) {
  if (how === 'browser killed') await startBrowser(series);
  else series.page = await series.browser.open(series.host.url);
  const { page } = series;
  // The start leads back to the step; where the step is lost as well, so is all in it.
  if (new URL(page.url()).hash !== series.address) {
    await page.evaluate((hash) => (location.hash = hash), series.address);
  }
  // What the storage lacks comes out of the journal, a moment after the start.
  await page.waitForSelector('html[data-saved=yes]', { state: 'attached' });
  const there = await heading(page, STEPS[0].title).waitFor({ timeout: 5000 }).then(() => true, () => false);
  // The table shows the latest readings until all are asked for.
  const all = button(page, /^Show all \d+ readings$/);
  if (there && (await all.count())) await all.tap();
  const rows = page.locator('table.taken td.number');
  const kept = new Set(there ? await rows.allTextContents() : []);
  const lost = [...series.now].filter((value) => !kept.has(value));
  lost.forEach((value) => series.now.delete(value));
  series.lost[how].push(...lost);
  if (lost.length) console.error(`crash: trial ${number}, ${how}: lost ${lost.join(', ')}`);
  await noteDamage(series, number);
  if (!there) await nextJob(series, `QRC-${100 + number}-again`);
}

async function noteDamage(series, number) {
  const alerts = await series.page.getByRole('alert').allTextContents();
  if (alerts.length) series.damaged.push(`trial ${number}: ${alerts.join(' ')}`);
}

// All jobs once more, from a backup: every reading that was there after its crash still is.
async function compareAll(series) {
  const { page } = series;
  await link(page, 'Files').tap();
  await see(heading(page, 'Files'));
  if (await page.getByText("can't be read").count()) series.damaged.push('the data screen lists it');
  const file = await savedFile(page, () => button(page, 'Save a backup').tap());
  for (const { log } of JSON.parse(file.text).backup.jobs) {
    const serial = log.find(({ did }) => did.opened)?.did.opened.set.serial;
    const values = new Set(log.flatMap(({ did }) => did.reading?.value ?? []));
    const said = series.said.get(serial) ?? new Set();
    const lost = [...said].filter((text) => !values.has(text.replace('\u00a0', ' ')));
    if (lost.length) series.damaged.push(`${serial} lacks ${lost.join(', ')} in the backup`);
    series.said.delete(serial);
  }
  for (const [serial, said] of series.said) {
    if (said.size) series.damaged.push(`${serial} is not in the backup`);
  }
}

function rows({ typed, saved, lost, count, damaged }, trials) {
  const how = `seed ${SEED}, at a random moment of up to ${LONGEST / 1000} s of typing`;
  const all = Object.values(lost).flat().length;
  return [
    { figure: 'Crashes', value: trials, how: `${typed} readings typed, ${saved} of them called saved before the end; ${how}` },
    ...Object.keys(lost).map((kind) => ({
      figure: `Readings lost that the screen called saved, ${kind}`,
      value: lost[kind].length,
      unit: `in ${count[kind]}`,
      goal: '0',
      met: lost[kind].length === 0,
      how: kind === 'page crashed' ? 'DevTools Page.crash' : 'SIGKILL to the whole process group',
    })),
    {
      figure: 'Starts that found the store damaged',
      value: damaged.length,
      goal: '0',
      met: damaged.length === 0,
      how: 'alerts on the screen; all jobs compared in a backup at the end',
      wrong: all + damaged.length ? `${all} readings lost; ${damaged.join('; ') || 'store whole'}` : undefined,
    },
  ];
}
