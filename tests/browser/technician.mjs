// A technician at the bench: what a person does with the app, by touch or by keys, and what
// that person then sees. Works any procedure, one function a kind of step.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { pinReadings, readings } from './readings.mjs';
import { type, uncovered } from './hand.mjs';

const ofDemo = (name) => JSON.parse(readFileSync(new URL(`../../src/exchange/demo/${name}`, import.meta.url), 'utf8'));
export const TRAINER = ofDemo('trainer.json').procedure;
const KIT = ofDemo('kit.json');
export const STEPS = TRAINER.sections.flatMap(({ steps }) => steps);
export const kindOf = ({ work }) => (typeof work === 'string' ? work : Object.keys(work)[0]);
export const isRead = ({ work }) => Object.values(work)[0].gauge !== undefined;

// The cell behind a step in its table of readings, to which the app goes on by itself.
export function followed({ id }, { tables = [], sections } = TRAINER) {
  const cells = tables.map((table) => table.cells.flat().filter(Boolean)).find((all) => all.includes(id)) ?? [];
  const next = cells[cells.indexOf(id) + 1];
  return sections.flatMap(({ steps }) => steps).find((step) => step.id === next);
}

// What the club's analyser shows of so many watts, behind what stands in the path: in dBm, which
// is what it is known in.
export function behind({ path }, watts) {
  const { loss } = KIT.find(({ role }) => role === path.through[0]);
  return (10 * Math.log10(Number(watts) * 1000) - parseFloat(loss.by)).toFixed(1);
}

// Everything shown is found by the name that a person, or a screen reader, has for it.
// A procedure of so many steps with one instrument, `meter`, and one test point, `TP1`.
export const shortProcedure = (id, title, steps) => ({
  id,
  title,
  revision: 1,
  covers: 'Club trainers',
  instruments: [{ role: 'meter', needs: 'any' }],
  'test-points': [{ ref: 'TP1', where: 'supply rail' }],
  sections: [{ title: 'On the bench', steps }],
});

export const button = (page, name) => page.getByRole('button', { name, exact: true });
export const labelled = (page, name) => page.getByLabel(name, { exact: true });
export const link = (page, name) => page.getByRole('link', { name, exact: true });
export const heading = (page, name) => page.getByRole('heading', { name, exact: true });
export const see = (locator) => locator.first().waitFor();
export const seeText = (page, text) => see(page.getByText(text));
export const field = (page) => page.getByRole('textbox', { name: /^Reading, / });

// A number as the app prints it.
const printed = (digits, { in: scale }) => `${digits.replace('-', '\u2212')} ${scale}`;

const KEY_NAMES = { '-': 'Change the sign' };

// A phone shows one half of a step at a time: the keys are in the second.
export async function toTheKeys(page) {
  const half = page.locator('.panes').getByRole('button', { name: 'Measure', exact: true });
  if ((await half.isVisible()) && (await half.getAttribute('aria-pressed')) === 'false') await half.tap();
}

// The same to what is to be done, with the ways that lead on from there.
export async function toTheTask(page) {
  const half = page.locator('.panes').getByRole('button', { name: 'Do', exact: true });
  if ((await half.isVisible()) && (await half.getAttribute('aria-pressed')) === 'false') await half.tap();
}

// A finger: buttons are tapped, numbers come from the app's own keys.
export function byTouch(page) {
  return {
    page,
    press: (target) => target.tap(),
    number: async (digits) => {
      await toTheKeys(page);
      // The sign key flips what is there already.
      for (const key of digits.replace(/^(-)(.*)/, '$2$1')) {
        await button(page, KEY_NAMES[key] ?? key).tap();
      }
    },
    // A step that asks a second time has a second field with its own.
    enter: () => button(page.locator('form').filter({ has: field(page) }), 'Enter').tap(),
    write: (box, text) => type(box, text),
    next: () => button(page, 'Next').tap(),
    back: () => button(page, 'Back').tap(),
  };
}

// Keys alone; PageDown and PageUp are also what page-turner pedals send.
export function byKeys(page) {
  const press = (key) => page.keyboard.press(key);
  // Tabs on until the focus is there, and looks whether it can be seen.
  const reach = async (target) => {
    await target.waitFor();
    for (let tabs = 0; tabs < 80; tabs += 1) {
      const [here, outline] = await target.evaluate((element) => [
        element === document.activeElement,
        getComputedStyle(element).outlineStyle,
      ]);
      if (here) return assert.notEqual(outline, 'none', `the focus is visible on ${target}`);
      await press('Tab');
    }
    assert.fail(`no key leads to ${target}`);
  };
  return {
    page,
    press: async (target) => {
      await reach(target);
      await press('Enter');
    },
    number: (digits) => page.keyboard.type(digits),
    enter: () => press('Enter'),
    write: async (box, text) => {
      await reach(box);
      await type(box, text);
    },
    next: () => press('PageDown'),
    back: () => press('PageUp'),
  };
}

// Intake of a set, from the jobs screen on, to the first step of the demo's procedure.
export async function startJob(hand, serial) {
  const { page } = hand;
  await hand.press(link(page, 'Start a job'));
  await hand.press(page.getByRole('link', { name: TRAINER.title }));
  const set = {
    Make: 'Quillmere Radio Club',
    Model: '28 MHz trainer',
    'Serial number': serial,
    Owner: 'Loan shelf 2',
    'Fault reported': 'Deaf on the upper channels',
    Technician: 'Bench 1',
  };
  for (const [label, text] of Object.entries(set)) {
    await hand.write(page.getByLabel(label, { exact: true }), text);
  }
  await hand.press(button(page, 'Start the job'));
  await see(heading(page, STEPS[0].title));
}

// Enters a reading and looks whether it is on the screen, as saved.
export async function read(hand, digits, gauge, phase, verdict = '') {
  const { page } = hand;
  await hand.number(digits);
  await seeText(page, '(not entered)');
  await hand.enter();
  await seeSaved(page, phase, printed(digits, gauge), verdict);
  assert.equal(await field(page).inputValue(), '', 'the field is free for the next reading');
}

const seeSaved = (page, ...texts) =>
  texts.reduce(
    (row, hasText) => row.and(page.getByRole('row').filter({ hasText })),
    page.getByRole('table', { name: 'Readings, newest first' }).getByRole('row').first(),
  ).waitFor();

// Makes the last reading the one that the step is left at.
export async function leave(hand, digits, gauge) {
  const value = printed(digits, gauge);
  // The key names the corrected result, which an instrument's correction sets apart from this.
  await hand.press(hand.page.getByRole('button', { name: /^Record as left: / }));
  await seeSaved(hand.page, 'As left', value);
  return `${digits} ${gauge.in}`;
}

// How a reading outside is said, whichever limit it is beyond.
export const OUTSIDE = /(over the upper|under the lower) limit/;

// Found outside where it can be, corrected the way the screen says, and left inside.
async function adjust(hand, work) {
  const { inside, worse } = await readings(hand.page, work);
  if (worse) {
    await read(hand, worse, work.gauge, 'As found', OUTSIDE);
    await seeText(hand.page, /The reading must (rise|fall)/);
    // A reading with the tool in is no reading to leave it at.
    const out = button(hand.page, 'Tool out');
    if (await out.count()) await hand.press(out);
    await read(hand, inside, work.gauge, 'Try', 'inside');
  } else {
    await read(hand, inside, work.gauge, 'As found');
  }
  return leave(hand, inside, work.gauge);
}

async function take(hand, work, step) {
  const { page } = hand;
  const { gauge } = work;
  const { inside } = await readings(page, work);
  if (gauge.path) {
    const digits = behind(gauge, inside);
    await read(hand, digits, { in: 'dBm' }, 'As found');
    return `${digits} dBm`;
  }
  if (step && followed(step)) {
    await hand.number(inside);
    await seeText(page, '(not entered)');
    await hand.enter();
  } else {
    await read(hand, inside, gauge, 'As found');
  }
  return `${inside} ${gauge.in}`;
}

function confirmStop(hand, { reads }) {
  return reads ? take(hand, reads) : confirm('I confirm')(hand);
}

const confirm = (name) => (hand) => hand.press(button(hand.page, name));

// Every pin is measured, and then the socket is ticked.
async function wireUp(hand, socket) {
  for (const { digits, said } of pinReadings(socket)) {
    await hand.number(digits);
    await hand.enter();
    await seeText(hand.page, said);
  }
  await hand.press(button(hand.page, 'Done'));
}

const WORK = {
  read: take,
  set: adjust,
  peak: adjust,
  dip: adjust,
  inspect: confirm('Sound as built'),
  fit: confirm('Fitted'),
  wire: confirm('Fitted and checked'),
  tick: confirm('Done'),
  socket: wireUp,
  stop: confirmStop,
  // It follows from the steps that it repeats.
  repeat: () => {},
};

// Does what the step in front wants and sees that it is done. `left` takes what it was left at.
export async function work(hand, step, left) {
  const kind = kindOf(step);
  await see(heading(hand.page, step.title));
  left[step.id] = await WORK[kind](hand, step.work[kind], step);
  if (kind !== 'repeat' && !followed(step)) await seeStatus(hand.page, 'done');
}

// Goes on to the step behind one of the demo that was worked.
export async function goOn(hand, step) {
  const next = STEPS[STEPS.indexOf(step) + 1];
  if (kindOf(step) === 'repeat') return onwards(hand.page, hand.next, next.title);
  return followed(step) ? see(heading(hand.page, next.title)) : hand.next();
}

// What was turned moved what earlier steps had left, such as the other side of a null: each of them
// wants one more look. Goes there from the end of the job, finds each as it was left, and comes back.
export async function lookAgain(hand, left) {
  const { page } = hand;
  const moved = page.getByRole('link', { name: 'recheck' });
  await see(heading(page, 'Outstanding'));
  for (let still = await moved.count(); still > 0; still -= 1) {
    const number = /\d+/.exec(await moved.first().innerText());
    const step = STEPS[number - 1];
    const { gauge } = step.work[kindOf(step)];
    await hand.press(moved.first());
    await see(heading(page, step.title));
    await seeStatus(page, 'recheck');
    await read(hand, left[step.id].split(' ')[0], gauge, 'As left');
    await seeStatus(page, 'done');
    await hand.press(link(page, 'All steps'));
    await hand.press(link(page, 'Sign off'));
    await see(heading(page, still > 1 ? 'Outstanding' : 'Signature'));
  }
}

// Presses Next or Back, and once more where it is said that something is left open.
export async function onwards(page, press, title) {
  await press();
  const open = page.getByText('once more leaves it so');
  await see(heading(page, title).or(open));
  if (await open.count()) {
    // A press that follows at once is a bounce.
    await uncovered(page);
    await press();
  }
  await see(heading(page, title));
}

export const seeStatus = (page, word) =>
  page.locator('article header').getByText(word, { exact: true }).waitFor();

// Hands a file to the app as a person does, by the file chooser.
export async function chooseFile(page, file) {
  const chooser = page.waitForEvent('filechooser');
  await page.getByText('Choose a file', { exact: true }).tap();
  await (await chooser).setFiles(file);
}

// Brings in all that is offered of a document.
export async function takeIn(page, document) {
  await link(page, 'Files').tap();
  const buffer = Buffer.from(JSON.stringify(document));
  await chooseFile(page, { name: 'job.json', mimeType: 'application/json', buffer });
  await button(page, 'Import selected').tap();
  await seeText(page, /imported\./);
}

// What a press on this button saves: the name of the file and its text.
export async function savedFile(page, save) {
  const download = page.waitForEvent('download');
  await save();
  const file = await download;
  return { name: file.suggestedFilename(), text: readFileSync(await file.path(), 'utf8') };
}

// Everything stored, to compare.
export const stored = (page) =>
  page.evaluate(() => Object.fromEntries(Object.entries(localStorage).sort()));

// Picks from a list that opens below a key.
export async function picks(page, key, choice) {
  await page.getByRole('button', { name: key }).first().tap();
  await page.locator('.picker-panel').getByRole('button', { name: choice }).first().tap();
}
