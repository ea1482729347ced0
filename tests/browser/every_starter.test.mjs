// Every starter as a technician uses it: what is open in it is filled in, it is published, a job on
// it is worked step by step by touch, signed off, and its sheet asked what an inspector asks.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { atDesk, designate, field, pick, plain, publish, shelve, startJob } from './author.mjs';
import {
  button, byTouch, followed, heading, isRead, kindOf, link, onwards, see, seeText,
} from './technician.mjs';
import { pinReadings, readings } from './readings.mjs';
import { type } from './hand.mjs';

// Puts onto the shelf what signals pass, of a loss as good as none: where it is not known, nothing is
// judged.
async function shelvePaths(page, hand, { title, sections }) {
  const works = sections.flatMap(({ steps }) => steps).map(({ work }) => Object.values(work)[0]);
  const roles = new Set(works.flatMap((work) => work?.gauge?.path?.through ?? []));
  if (!roles.size) return;
  await hand.tap(link(page, 'Instruments'));
  for (const role of roles) {
    await shelve(hand, { name: `Bench ${role}`, role, loss: '0.001 dB', within: '0.001 dB' });
  }
  await hand.tap(link(page, 'Procedures'));
  await hand.tap(page.getByRole('link', { name: title }).first());
}

// The names of all starters, as the screen lists them.
async function names(t) {
  const { page, hand } = await atDesk(t);
  await hand.tap(link(page, 'Procedures'));
  await hand.tap(link(page, 'Write a procedure'));
  const keys = page.getByRole('button', { name: /^Use template: / });
  await see(keys);
  return keys.evaluateAll((all) => all.map((key) => key.getAttribute('aria-label').replace('Use template: ', '')));
}

// The channels of a licence, which no table that comes along has.
const LICENSED = 'lowest 151.0000\nmiddle 155.0000\nhighest 159.0000';

async function keepChannels(page, hand) {
  await hand.tap(link(page, 'Calculations'));
  await hand.tap(link(page, 'Channel tables'));
  await hand.tap(page.getByText('A table of your own', { exact: true }));
  await type(field(page, 'Name of the table'), 'As licensed');
  await type(field(page, 'Where it is from'), 'the licence');
  await type(field(page, 'Channels'), LICENSED);
  await hand.tap(button(page, 'Save the table'));
}

// What only the list of a draft's steps has.
const outline = (page) => link(page, 'Publish …');

// Fills in what a starter leaves open, fault by fault.
async function fillIn(page, hand) {
  const backToTheDraft = async () => {
    await hand.tap(link(page, 'All steps of the draft'));
    await see(outline(page));
  };
  if (await page.getByRole('link', { name: /has no channel table/ }).count()) {
    await hand.tap(link(page, 'Frequency plan'));
    await pick(hand, 'Channels', 'As licensed');
    await backToTheDraft();
  }
  const waiting = page.getByRole('link', { name: /wait for their designators/ });
  if (await waiting.count()) {
    await hand.tap(link(page, 'Adjusters, test points, instruments'));
    await designate(page);
    await backToTheDraft();
  }
  const missing = page.getByRole('link', { name: /Its target is missing/ });
  while (await missing.count()) {
    await hand.tap(missing.first());
    await page.waitForFunction(() => document.activeElement?.tagName === 'INPUT');
    await type(field(page, 'Figure'), '10.0000');
    await backToTheDraft();
  }
  await seeText(page, 'No errors');
}

const CONFIRM = {
  inspect: 'Sound as built',
  fit: 'Fitted',
  wire: 'Fitted and checked',
  tick: 'Done',
  stop: 'I confirm',
};

// What the instrument of a step shows inside of its limits, typed on the app's own keys.
async function read(hand, work) {
  const { page } = hand;
  const { inside } = await readings(page, work);
  await hand.number(inside);
  await seeText(page, '(not entered)');
  await hand.enter();
  const left = page.getByRole('button', { name: /^Record as left: / });
  if (!['set', 'peak', 'dip'].includes(work.kind)) return;
  // What was left before is left again with the reading itself.
  const saved = page.getByRole('table', { name: 'Readings, newest first' }).getByRole('row');
  await see(left.or(saved.filter({ hasText: 'As left' })));
  if (await left.count()) await hand.press(left);
}

// Every pin of a socket in every state, then the socket.
async function pins(hand, socket) {
  for (const { digits, said } of pinReadings(socket)) {
    await hand.number(digits);
    await hand.enter();
    await seeText(hand.page, said);
  }
  await hand.press(button(hand.page, 'Done'));
}

// Does what the step in front wants.
async function work(hand, step) {
  const { page } = hand;
  const kind = kindOf(step);
  const what = step.work[kind];
  if (isRead(step)) return read(hand, { ...what, kind });
  if (kind === 'stop' && what.reads) return read(hand, what.reads);
  if (kind === 'socket') return pins(hand, what);
  if (kind !== 'repeat') await hand.press(button(page, CONFIRM[kind]));
}

// One more pass over the steps that one repeats, in which nothing moves; back at that step.
async function again(hand, procedure, step) {
  const { page } = hand;
  const steps = procedure.sections.flatMap((section) => section.steps);
  const at = (id) => steps.findIndex((each) => each.id === id);
  const { from, to } = step.work.repeat;
  const repeated = steps.slice(at(from), at(to) + 1);
  await hand.press(page.getByRole('button', { name: /^Begin pass 2 / }));
  for (const [index, each] of repeated.entries()) {
    await see(heading(page, each.title));
    await work(hand, each);
    await onwards(page, hand.next, (repeated[index + 1] ?? step).title);
  }
}

// Cells whose limits follow from a later one may turn out to be outside once that is read: behind
// the last cell the app goes back to them, and they are read again, now with limits in sight.
async function reread(hand, procedure, step) {
  const { page } = hand;
  const tables = (procedure.tables ?? []).map((table) => table.cells.flat().filter(Boolean));
  const cells = tables.find((all) => all.includes(step.id));
  if (!cells || followed(step, procedure)) return;
  const steps = procedure.sections.flatMap((section) => section.steps);
  const shown = async () => {
    await page.waitForTimeout(400);
    const title = await page.getByRole('heading', { level: 1 }).innerText();
    return steps.findIndex((each) => each.title === title && cells.includes(each.id));
  };
  const again = new Set();
  let at = await shown();
  while (at >= 0 && steps[at] !== step && !again.has(at)) {
    again.add(at);
    await work(hand, steps[at]);
    at = await shown();
  }
  // From the last of them the table is leafed through, its other cells being done.
  for (; at >= 0 && steps[at] !== step; at += 1) await onwards(page, hand.next, steps[at + 1].title);
}

// Waives nothing and leaves nothing: looks once more at what later turns moved.
async function lookAgain(hand, procedure) {
  const { page } = hand;
  const steps = procedure.sections.flatMap((section) => section.steps);
  const moved = page.getByRole('link', { name: 'recheck' });
  const atTheEnd = () => see(heading(page, 'Outstanding').or(heading(page, 'Signature')));
  await atTheEnd();
  for (let most = steps.length; (await moved.count()) && most > 0; most -= 1) {
    const number = /\d+/.exec(await moved.first().innerText());
    const step = steps[number - 1];
    await hand.press(moved.first());
    await see(heading(page, step.title));
    await read(hand, { ...step.work[kindOf(step)], kind: kindOf(step) });
    await hand.press(link(page, 'All steps'));
    await hand.press(link(page, 'Sign off'));
    await atTheEnd();
  }
  assert.equal(await moved.count(), 0, 'nothing is to be looked at again');
}

// What an inspector finds beside every reading on the sheet.
async function inspect(page, procedure) {
  await see(page.locator('table.report-readings'));
  // Each row, behind what stands once above it for its section.
  const rows = await page.locator('table.report-readings tbody').evaluateAll((all) => all.flatMap((body) => {
    const [head, ...rows] = [...body.rows].map((row) => row.innerText);
    return rows.map((row) => `${row}\n${head}`);
  }));
  const sheet = rows.map(plain);
  const steps = procedure.sections.flatMap((section) => section.steps);
  const inTables = new Set((procedure.tables ?? []).flatMap((table) => table.cells.flat(2)));
  const single = steps.filter((step) => isRead(step) && !inTables.has(step.id));
  for (const step of single) {
    const row = sheet.find((text) => text.startsWith(step.title));
    assert.ok(row, `${step.id} is on the sheet`);
    const { mode, channel, supply, settings = {} } = step['set-up'] ?? {};
    for (const said of [mode, channel, supply, ...Object.values(settings)]) {
      if (said) assert.ok(row.includes(said.replaceAll('\u00a0', ' ')), `${step.id}: ${said} in ${row}`);
    }
    const { gauge } = Object.values(step.work)[0];
    assert.ok(row.includes(gauge.with), `${step.id}: ${gauge.with}`);
  }
  return single.length;
}

async function through(t, name) {
  const { page, hand } = await atDesk(t);
  await keepChannels(page, hand);
  await hand.tap(link(page, 'Procedures'));
  await hand.tap(link(page, 'Write a procedure'));
  await hand.tap(button(page, `Use template: ${name}`));
  await see(outline(page));
  await fillIn(page, hand);
  const { procedure } = await publish(hand, 1);
  await shelvePaths(page, hand, procedure);
  await startJob(hand, 'QRC-31');

  const finger = byTouch(page);
  const steps = procedure.sections.flatMap((section) => section.steps);
  for (const [index, step] of steps.entries()) {
    const here = heading(page, step.title);
    await see(here);
    await work(finger, step);
    if (kindOf(step) === 'repeat') await again(finger, procedure, step);
    const next = steps[index + 1];
    await reread(finger, procedure, step);
    if (next && !followed(step, procedure)) await onwards(page, finger.next, next.title);
  }
  await finger.press(link(page, 'All steps'));
  await finger.press(link(page, 'Sign off'));
  await lookAgain(finger, procedure);
  await finger.press(button(page, 'Sign off the job'));
  await see(heading(page, 'Signed off'));
  await finger.press(link(page, 'All steps'));
  await finger.press(link(page, 'Report'));
  const count = await inspect(page, procedure);
  t.diagnostic(`${name}: ${steps.length} steps, ${count} single readings`);
}

// Proofs of one service by other rules have the same steps but for their limits: the first of them
// is walked, all of them natively (`tests/every_starter.rs`), and here too with STARTER=all.
const SERVICES = ['27 MHz: proof', 'FM land mobile', 'Marine VHF', 'Airband AM', 'HF transceiver'];

function walked(all) {
  const only = process.env.STARTER;
  if (only) return all.filter((name) => only === 'all' || name.includes(only));
  const service = (name) => SERVICES.find((each) => name.startsWith(each)) ?? name;
  return all.filter((name) => all.find((each) => service(each) === service(name)) === name);
}

test('every starter is published, worked through, signed off and its sheet answers for each reading', async (t) => {
  const all = await names(t);
  assert.ok(all.length >= 6, all.join());
  for (const name of walked(all)) {
    await t.test(name, (t) => through(t, name));
  }
});
