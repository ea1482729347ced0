// The step sheet, read from a metre away: on the first screen of every step stands all that the
// hand acts on, as large as its distance asks, with one solid key to go on by. Measured in the
// browser on every step of the demo and the fullest ones of all starters.

import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, openBrowser, openHost, shot } from './bench.mjs';
import { type } from './hand.mjs';
import { readings } from './readings.mjs';
import { TRAINER, button, byTouch, heading, kindOf, link, see, takeIn } from './technician.mjs';

// A letter is read where it is 16 minutes of arc high: 34 px of this screen at one metre (ISO
// 9241-303 asks for 16' at the least); what is looked at from nearer may be smaller.
const LEAST = { hand: 34, target: 28, figure: 54, verdict: 34, turn: 96 };

const STARTERS = new URL('../../src/exchange/starters/', import.meta.url);

// A channel for each that its steps name.
function channels({ sections }) {
  const all = sections.flatMap(({ steps }) => steps).flatMap((step) => step['set-up']?.channel ?? []);
  const made = [...new Set(all)].map((name, index) => ({ name, frequency: `28.${300 + index} MHz` }));
  return { name: 'Made up', source: 'This test', channels: made.length ? made : TRAINER.channels.channels };
}

// A starter as it is once what is open in it is filled in: names of the board, its figures,
// limits of the document that a proof goes by, and channels.
function filled(file) {
  const { procedure } = JSON.parse(readFileSync(new URL(file, STARTERS), 'utf8'));
  const designators = new Map();
  const designated = (name) => {
    if (!designators.has(name)) designators.set(name, `X${designators.size + 1}`);
    return `"${designators.get(name)}"`;
  };
  const text = JSON.stringify(procedure).replaceAll(/"\?([^"]*)"/g, (_, name) => designated(name))
    .replaceAll(/"nominal":"0(\.0*)? /g, '"nominal":"10 ');
  const whole = { channels: channels(procedure), ...JSON.parse(text), id: procedure.id.replace('starter', 'sheet') };
  const works = whole.sections.flatMap(({ steps }) => steps).map(({ work }) => Object.values(work)[0]);
  for (const work of works) {
    if (work.target?.limit?.set === '') work.target = { fixed: { 'at-most': `10 ${work.gauge.in}` } };
  }
  return whole;
}

const PROCEDURES = [TRAINER, ...readdirSync(STARTERS).filter((file) => file.endsWith('.json')).sort().map(filled)];

// What a step has that must be in sight at once.
function needs(step) {
  const kind = kindOf(step);
  const work = step.work[kind] ?? {};
  const gauge = work.gauge ?? work.reads?.gauge;
  return {
    caution: Boolean(step.cautions?.length),
    point: Boolean(gauge),
    instrument: Boolean(gauge),
    adjuster: Boolean(work.adjuster),
    target: ['peak', 'dip'].includes(kind) || Boolean(work.target ?? work.reads),
    hold: kind === 'stop',
  };
}

const SIGHTS = {
  caution: '.caution',
  point: '.hand-point strong',
  instrument: '.hand-instrument strong',
  adjuster: '.hand-adjuster strong',
  target: '.target-line .target',
  verdict: '.verdict .word',
  figure: '.verdict .figure',
  hold: '.stop .confirm',
  confirm: '.stop button.main',
  enter: '.key-enter',
};

// Why something is not wholly in sight: not there, beyond an edge, or under something else.
const unseen = (page, names) =>
  page.evaluate(([SIGHTS, names]) =>
    names.flatMap((name) => {
      const element = document.querySelector(SIGHTS[name]);
      if (!element?.checkVisibility()) return [`${name} is not there`];
      const { left, right, top, bottom } = element.getBoundingClientRect();
      const edge = `${name} is at ${Math.round(top)} to ${Math.round(bottom)}`;
      if (left < 0 || top < 0 || right > innerWidth + 1 || bottom > innerHeight + 1) return [edge];
      // What lies under a finger for a moment is not seen.
      const over = ([x, y]) => document.elementsFromPoint(x, y).find((it) => !it.matches('.under-finger'));
      const corners = [[left + 2, top + 2], [right - 2, top + 2], [left + 2, bottom - 2], [right - 2, bottom - 2]];
      const cover = corners.map(over).find((at) => !at || !(element.contains(at) || at.contains(element)));
      return cover ? [`${edge}, under ${cover.localName}.${cover.getAttribute('class')}`] : [];
    }), [SIGHTS, names]);

// What is set smaller than it must be.
const small = (page, least) =>
  page.evaluate((least) => {
    const size = (element) => parseFloat(getComputedStyle(element).fontSize);
    const sizes = {
      hand: '.sheet-act .hands strong',
      target: '.sheet .target',
      figure: '.verdict .figure',
      verdict: '.verdict .word strong',
    };
    const texts = Object.entries(sizes).flatMap(([name, selector]) =>
      [...document.querySelectorAll(selector)]
        .filter((element) => element.checkVisibility() && size(element) < least[name])
        .map((element) => `${name} “${element.innerText}” is ${size(element)} px`));
    const marks = [...document.querySelectorAll('.turn-mark')].map((mark) => mark.getBoundingClientRect());
    return [...texts, ...marks.filter((it) => it.width < least.turn).map((it) => `turn mark of ${it.width} px`)];
  }, least);

// Blocks in the solid accent colour.
const solid = (page) =>
  page.evaluate(() => {
    const probe = document.createElement('p');
    document.body.append(probe);
    probe.style.setProperty('color', 'var(--accent)');
    const accent = getComputedStyle(probe).color;
    probe.remove();
    return [...document.querySelectorAll('body *')]
      .filter((element) => element.checkVisibility() && getComputedStyle(element).backgroundColor === accent)
      .map((element) => [element, element.getBoundingClientRect()])
      .filter(([, { width, height }]) => width * height > 400)
      .map(([element]) => element.innerText || element.className);
  });

async function opened(t, device) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  const go = (address) => page.goto(`${host.url}#/${address}`);
  return { host, browser, page, go };
}

// Starts a job by a procedure and gives the address of it.
async function begun(page, go, procedure) {
  if (procedure === TRAINER) {
    await go('');
    await button(page, 'Load the demo').tap();
    await see(heading(page, 'All steps'));
  } else {
    await takeIn(page, { type: 'halfturn-procedure', version: 3, procedure });
    await link(page, 'Jobs').tap();
    await link(page, 'Start a job').tap();
    await page.getByRole('link', { name: procedure.title }).first().tap();
    await type(page.getByLabel('Serial number', { exact: true }), 'QRC-31');
    await type(page.getByLabel('Technician', { exact: true }), 'Bench 1');
    await button(page, 'Start the job').tap();
    await page.waitForURL(/\/step\//);
  }
  return new URL(page.url()).hash.split('/').slice(1, 3).join('/');
}

// Opens what is behind a stop.
async function confirm(page, step) {
  const { reads } = step.work.stop;
  const key = button(page, 'I confirm');
  if (!reads) return (await key.count()) && key.tap();
  const hand = byTouch(page);
  const { inside } = await readings(page, reads);
  await hand.number(inside);
  await hand.enter();
}

// Presses keys without the scrolling that the driver does before each tap, and a finger does not.
async function keyed(page, digits) {
  const press = (name) => button(page, name).evaluate((key) => key.click());
  for (const key of digits.replace(/^(-)(.*)/, '$2$1')) await press(key === '-' ? 'Change the sign' : key);
}

const isPhone = (device) => device === PHONE;

// What of a step is not in sight, or too small, or solid beside something else.
async function findings(page, step, device) {
  const has = needs(step);
  const asked = (...names) => names.filter((name) => has[name]);
  const half = (name) => page.getByRole('group', { name: 'What is shown of the step' }).getByRole('button', { name });
  if (isPhone(device) && (await half('Do').count())) await half('Do').tap();
  const found = await unseen(page, asked('caution', 'point', 'instrument', 'adjuster', 'target', 'hold'));
  const key = button(page, 'I confirm');
  if (has.hold && (await key.count())) found.push(...(await unseen(page, ['confirm'])));
  if (!(await page.locator('.keys').count())) return found;
  if (isPhone(device)) await half('Measure').tap();
  if (has.point) {
    const work = Object.values(step.work)[0];
    const { inside, worse } = await readings(page, work.reads ?? work);
    await keyed(page, worse ?? inside);
    await see(page.locator('.verdict'));
  }
  const measured = has.point ? ['verdict', 'figure'] : [];
  found.push(...(await unseen(page, [...asked('point', 'instrument', 'adjuster', 'target'), ...measured, 'enter'])));
  if (!isPhone(device)) found.push(...(await small(page, LEAST)));
  const blocks = await solid(page);
  if (blocks.length > 1) found.push(`solid: ${blocks.join(', ')}`);
  if (has.point) await button(page, 'Clear the number').evaluate((key) => key.click());
  return found;
}

// All steps of the demo. Of a starter the fullest of each kind, for a shorter one takes no more room,
// and the stops on the way there; STEP=all looks at every one.
function looked({ sections }) {
  const all = sections.flatMap(({ steps }) => steps);
  const only = process.env.STEP;
  if (only === 'all' || (!only && sections === TRAINER.sections)) return all;
  if (only) return all.filter((step) => only.split(',').includes(step.id) || kindOf(step) === 'stop');
  const room = (step) => JSON.stringify([step.title, step.cautions, step['set-up'], step.work]).length;
  const fullest = new Map();
  for (const step of all) {
    const kind = JSON.stringify([kindOf(step), needs(step)]);
    if (!fullest.has(kind) || room(fullest.get(kind)) < room(step)) fullest.set(kind, step);
  }
  const chosen = new Set(fullest.values());
  return all.filter((step) => kindOf(step) === 'stop' || chosen.has(step));
}

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  for (const procedure of PROCEDURES.filter(({ title }) => title.includes(process.env.SHEET ?? ''))) {
    test(`on a ${name} steps of “${procedure.title}” have all the hand acts on in their first screen`, async (t) => {
      const { page, go } = await opened(t, device);
      const job = await begun(page, go, procedure);
      const all = [];
      for (const step of looked(procedure)) {
        await go(`${job}/step/${encodeURIComponent(step.id)}`);
        await see(heading(page, step.title));
        const found = await findings(page, step, device);
        const blocks = await solid(page);
        if (blocks.length > 1) found.push(`solid, untouched: ${blocks.join(', ')}`);
        if (found.length && process.env.LOOK) await page.screenshot({ path: `${process.env.LOOK}/${name}-${step.id}.png` });
        all.push(...found.map((it) => `${step.id}: ${it}`));
        if (kindOf(step) === 'stop') await confirm(page, step);
      }
      assert.equal(all.join('\n'), '');
    });
  }
}

// Before and after, by day and by night: SHOTS=1, with SHOTS_AS=before for a build from before.
for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`the sheet on a ${name}, for docs`, async (t) => {
    const { page, go } = await opened(t, device);
    const job = await begun(page, go, TRAINER);
    await go(`${job}/step/s-meter`);
    await see(heading(page, 'S-meter at 9'));
    for (const colorScheme of ['light', 'dark']) {
      await page.emulateMedia({ colorScheme });
      await shot(page, `sheet-${name}-${colorScheme}-${process.env.SHOTS_AS ?? 'after'}`);
    }
  });
}
