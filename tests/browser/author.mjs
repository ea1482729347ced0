// A person who writes procedures on the device: every choice is a tap, text comes from the
// keyboard. Taps are counted, those into a field included.

import assert from 'node:assert/strict';
import { DIST, TABLET, openBrowser, openHost } from './bench.mjs';
import { button, heading, link, savedFile, see, seeText } from './technician.mjs';
import { type } from './hand.mjs';

// A procedure of 40 steps for an invented trainer, of kinds as alignment sheets have them.
const LOAD = {
  title: 'Dummy load on the aerial socket',
  kind: 'Hold point',
  confirm: 'A 50 Ω dummy load is on the aerial socket; I have looked.',
};
const START = [
  { title: 'Lid off, look for heat marks', kind: 'Inspect', text: 'Look at the driver and the output stage.' },
  { title: 'Supply on at 13.8 V', kind: 'Action', text: 'Volume low.', state: 'RX', mode: 'USB' },
  reads('Current at rest', 'SK2', 'meter', 'mA', '240', '40 mA'),
];
const RECEIVER = Array.from({ length: 18 }, (_, i) =>
  sets(`Oscillator ${i + 1}`, `L${i + 1}`, `TP${i + 1}`, 'counter', 'MHz', `${9 + i}.0015`, '20 Hz'),
);
const TRANSMITTER = [
  LOAD,
  ...Array.from({ length: 17 }, (_, i) => ({
    ...sets(`Level ${i + 1}`, `VR${i + 1}`, `TP${i + 21}`, 'meter', 'V', `${i + 2}.50`, '5 %'),
    state: 'TX',
  })),
  { title: 'Lid on', kind: 'Action', text: 'Four screws.', state: 'Not stated' },
];
export const SECTIONS = { Receiver: [...START, ...RECEIVER], Transmitter: TRANSMITTER };
export const FORTY = Object.values(SECTIONS).flat();

function reads(title, at, instrument, unit, value, margin) {
  return { title, kind: 'Read', at, instrument, unit, value, margin, target: 'Nominal ±' };
}

function sets(title, adjuster, at, instrument, unit, value, margin) {
  const text = `Turn ${adjuster} slowly.`;
  return { title, kind: 'Set to target', adjuster, at, instrument, unit, value, margin, text };
}

// A hand that counts.
export function author(page) {
  const hand = { page, taps: 0 };
  hand.tap = async (target) => {
    hand.taps += 1;
    await target.tap();
  };
  hand.write = async (field, text) => {
    // A field that has the focus already needs no tap.
    if (!(await field.evaluate((it) => it === document.activeElement))) await hand.tap(field);
    await type(field, text);
  };
  return hand;
}

export const field = (page, label) => page.getByRole('textbox', { name: label, exact: true });
const key = (page, label) => page.getByRole('button', { name: new RegExp(`^${label}: `) });

// Picks a name from a list, or adds it on the spot.
export async function pick(hand, label, name) {
  const { page } = hand;
  const shown = await key(page, label).getAttribute('aria-label');
  if (shown === `${label}: ${name}`) return;
  await hand.tap(key(page, label));
  const panel = page.getByRole('group', { name: `${label}, to choose from` });
  const choice = panel.getByRole('button').filter({ has: page.getByText(name, { exact: true }) });
  // What is not in sight is looked for, and added where it is new.
  if (!(await choice.count())) await hand.write(panel.getByRole('textbox'), name);
  const found = (await choice.count()) > 0;
  await hand.tap(found ? choice.first() : button(panel, `Add “${name}”`));
  await page.getByRole('button', { name: `${label}: ${name}`, exact: true }).waitFor();
}

// Presses one of a few keys, unless it is pressed.
export async function press(hand, name) {
  const chip = button(hand.page, name);
  if ((await chip.getAttribute('aria-pressed')) !== 'true') await hand.tap(chip);
}

// Writes what a step says into the step that is shown, new and blank.
export async function writeStep(hand, step) {
  const { page } = hand;
  await page.waitForFunction(() => document.activeElement?.id === 'author-title');
  if (step.title) await hand.write(field(page, 'Title'), step.title);
  await press(hand, step.kind);
  if (step.adjuster) await pick(hand, 'Adjuster', step.adjuster);
  if (step.at) await pick(hand, 'Test point', step.at);
  if (step.instrument) await pick(hand, 'Instrument', step.instrument);
  if (step.unit) await pick(hand, 'Unit', step.unit);
  if (step.target) await press(hand, step.target);
  if (step.value) await hand.write(field(page, 'Figure'), step.value);
  if (step.margin) await hand.write(field(page, 'Tolerance ±'), step.margin);
  if (step.confirm) await hand.write(field(page, 'To be confirmed'), step.confirm);
  if (step.text) await hand.write(field(page, 'What to do'), step.text);
  if (step.state) await press(hand, step.state);
  if (step.mode) await pick(hand, 'Mode', step.mode);
}

// What is shown, without what only tells how it is set.
export const plain = (text) => text.replaceAll(/[\u2068\u2069]/g, '').replaceAll('\u00a0', ' ');

// Who writes, at a fresh device.
export async function atDesk(t, device = TABLET) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  return { host, browser, page, hand: author(page) };
}

// Starts a job by the procedure that was just published.
export async function startJob(hand, serial) {
  const { page } = hand;
  await hand.tap(link(page, 'Start a job'));
  await type(page.getByLabel('Serial number', { exact: true }), serial);
  await type(page.getByLabel('Technician', { exact: true }), 'Bench 1');
  await hand.tap(button(page, 'Start the job'));
}

// From the procedures screen to a blank draft with a title.
export async function begin(hand, title) {
  const { page } = hand;
  await hand.tap(link(page, 'Procedures'));
  await hand.tap(link(page, 'Write a procedure'));
  await hand.tap(button(page, 'Blank'));
  await see(heading(page, 'A procedure without a title'));
  await hand.write(field(page, 'Title of the procedure'), title);
  await see(heading(page, title));
}

// Writes a whole procedure, section by section, and gives the taps that each step took.
export async function writeAll(hand, title, sections = SECTIONS) {
  const { page } = hand;
  await begin(hand, title);
  const taps = [];
  for (const [index, [name, steps]] of Object.entries(sections).entries()) {
    if (index > 0) await hand.tap(button(page, 'Add a section'));
    const box = field(page, `Section ${index + 1}`);
    await hand.write(box, name);
    await hand.tap(button(page, `Add a step Section ${index + 1}`));
    for (const [place, step] of steps.entries()) {
      const before = hand.taps;
      if (place > 0) await hand.tap(button(page, 'New step below'));
      await writeStep(hand, step);
      taps.push({ step, taps: hand.taps - before });
    }
    await hand.tap(link(page, 'All steps of the draft'));
    await see(heading(page, title));
  }
  return taps;
}

// Publishes the draft that is shown, and gives the procedure as it is saved in a file.
export async function publish(hand, revision) {
  const { page } = hand;
  await hand.tap(link(page, 'Publish …'));
  await hand.tap(button(page, `Publish revision ${revision}`));
  await seeText(page, `Revision ${revision}`);
  const file = await savedFile(page, () => hand.tap(button(page, 'Save as a file')));
  const { procedure } = JSON.parse(file.text);
  assert.equal(procedure.revision, revision);
  return { procedure, file };
}

// Writes one step after the other into the first section of the draft that is shown.
export async function writeSteps(hand, steps, { faults = false } = {}) {
  const { page } = hand;
  await hand.tap(button(page, 'Add a step Section 1'));
  for (const [place, { also, ...step }] of steps.entries()) {
    if (place > 0) await hand.tap(button(page, 'New step below'));
    await writeStep(hand, step);
    await also?.(hand);
  }
  if (!faults) await seeText(page, 'No errors');
  await hand.tap(link(page, 'All steps of the draft'));
}

// The row of an entry of the lists, by its name.
export const row = (page, name) => page.locator('.entry-key').filter({ has: page.getByText(name, { exact: true }) });

// Opens the form of an entry, unless it is open.
export async function openRow(hand, name) {
  const key = row(hand.page, name).first();
  if ((await key.getAttribute('aria-expanded')) === 'false') await hand.tap(key);
}

// Writes a designator for everything in a list whose name waits for one.
export async function designate(page, letter = 'Q') {
  const open = page.locator('.entry-key').filter({ has: page.getByText(/^\?/) });
  await open.first().waitFor();
  for (let count = await open.count(); count > 0; count -= 1) {
    const key = open.first();
    if ((await key.getAttribute('aria-expanded')) === 'false') await key.tap();
    const box = page.getByRole('textbox', { name: /^Name/ });
    await type(box, `${letter}${count}`);
    await box.blur();
  }
  assert.equal(await open.count(), 0);
}

// Puts a role onto the list of instruments of the draft that is shown, and goes back to that.
export async function giveRole(hand, role) {
  const { page } = hand;
  await hand.tap(link(page, 'Adjusters, test points, instruments'));
  const name = field(page, 'New instrument by its role, such as counter');
  await hand.write(name, role);
  await hand.tap(page.locator('form').filter({ has: name }).getByRole('button', { name: 'Add' }));
  await hand.tap(link(page, 'All steps of the draft'));
}

// Puts a pad onto the shelf.
export async function shelve(hand, { name, role, loss, within }) {
  const { page } = hand;
  await hand.tap(link(page, 'Add an instrument'));
  await hand.write(field(page, 'Name'), name);
  await hand.write(field(page, 'Role'), role);
  await hand.write(field(page, 'Loss or ratio'), loss);
  await hand.write(field(page, 'Known within ±'), within);
  await hand.tap(button(page, 'Save'));
  await seeText(page, `${name} is saved`);
}
