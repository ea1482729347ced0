// What a screen reader is told: the names of fields and keys in each kind of step, verdicts as
// they fall, where one is after each move, and questions that hold the focus. WCAG 2.2, 1.3.1,
// 2.4.2, 2.4.3, 4.1.2 and 4.1.3.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, openBrowser, openHost } from './bench.mjs';
import { byKeys, button, heading, see, seeText } from './technician.mjs';

async function withDemo(t) {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t)).visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  const job = new URL(page.url()).hash.split('/')[2];
  const step = async (id) => {
    await page.goto(`${host.url}#/job/${job}/step/${id}`);
    await see(page.locator('h1'));
  };
  return { page, step, job };
}

// A step of each kind that takes something, and the names of what takes it.
const NAMES = [
  ['reservoir', 'textbox', 'Reading, volts DC, target at most 1.0 V'],
  ['rail-8', 'textbox', 'Reading, volts DC, target 8.00 V ± 4 %'],
  ['synth-am', 'textbox', 'Reading, megahertz, target 19.300000 MHz ± 20 Hz'],
  ['rx-front', 'textbox', 'Reading, millivolts RMS, target peak'],
  ['rx-if', 'textbox', 'Reading, dBm, target peak, at least 20.0 dBm'],
  ['acc-socket', 'textbox', 'Reading, volts DC, pin 1 in AM, due at most 0.05 V'],
  ['synth-am', 'button', 'MHz, megahertz'],
  ['synth-am', 'button', 'Delete the last character'],
  ['synth-am', 'button', 'Void 19.300012 MHz'],
  ['synth-am', 'group', 'Where the tool is'],
  ['synth-am', 'table', 'Readings, newest first'],
  ['synth-am', 'img', 'Target 19.300000 MHz ± 20 Hz; latest reading 19.300012 MHz, 8 Hz inside, 12 Hz high'],
  ['acc-socket', 'button', 'Pin 3 in AM: due 8.0 V ± 5 % 8.01 V 0.39 V inside, 0.01 V high'],
  ['cores', 'textbox', 'Observation'],
  ['cores', 'group', 'Finding'],
  ['cores', 'img', /^Steps done: \d+ of 56$/],
  ['cores', 'navigation', 'Step'],
];

test('fields and keys have names that say what they are for, and in what unit', async (t) => {
  const { page, step } = await withDemo(t);
  for (const [id, role, name] of NAMES) {
    await step(id);
    await see(page.getByRole(role, { name, exact: true }).first()).catch(() => assert.fail(`${id}: no ${role} “${name}”`));
  }
});

const status = (page, text) => page.getByRole('status').filter({ hasText: text });

test('a verdict is said once the reading is entered, and not while it is typed', async (t) => {
  const { page, step } = await withDemo(t);
  await step('s-meter');
  // A region that comes with its text is not read out: it has to be there before.
  const said = await page.locator('.reading [role=status].unseen').elementHandle();
  const before = await said.innerText();
  await byKeys(page).number('-70');
  await seeText(page, '(not entered)');
  assert.equal(await said.innerText(), before);
  await page.keyboard.press('Enter');
  await see(status(page, /^Try −70 dBm: .* over the upper limit.*The reading must fall/));
  assert.ok(await said.evaluate((region) => region.isConnected), 'the same region as before');
});

test('a complaint is said, and its field says that it is wrong', async (t) => {
  const { page, step } = await withDemo(t);
  await step('s-meter');
  await byKeys(page).number('1..2');
  await page.keyboard.press('Enter');
  await see(page.getByRole('alert').filter({ hasText: 'more than one decimal sign' }));
  const field = page.getByRole('textbox', { name: /^Reading, / });
  assert.equal(await field.getAttribute('aria-invalid'), 'true');
  const complaint = page.locator(`#${await field.getAttribute('aria-describedby')}`);
  await complaint.getByText('more than one decimal sign').waitFor();
});

test('a step that is done says so, and what is taken back is told', async (t) => {
  const { page, step } = await withDemo(t);
  await step('s-meter');
  const keys = byKeys(page);
  await keys.number('-73.3');
  await keys.enter();
  await keys.press(button(page, 'Record as left: −73.3 dBm'));
  await see(page.locator('header [role=status]').getByText('done'));
  await button(page, 'Undo').tap();
  await see(page.locator('[aria-live=polite]').getByText(/^Undone: /));
});

test('each screen names the page, and keys go on from its heading', async (t) => {
  const { page, step, job } = await withDemo(t);
  const go = (address) => page.evaluate((address) => { location.hash = address; }, address);
  for (const [address, title] of [
    ['#/data', 'Files · Halfturn'],
    ['#/', 'Halfturn'],
    [`#/job/${job}/steps`, 'All steps · Halfturn'],
    ['#/sums', 'Calculations · Halfturn'],
  ]) {
    await page.evaluate(() => document.activeElement.blur());
    await go(address);
    await page.waitForFunction((title) => document.title === title, title);
    await see(page.locator('h1:focus'));
  }
  await step('synth-am');
  await page.waitForFunction(() => document.title === 'Synthesiser on AM and FM · Halfturn');
  await see(page.locator('#reading:focus'));
});

test('a question holds the focus, Escape leaves it, and the focus returns to what asked', async (t) => {
  const { page, step } = await withDemo(t);
  await step('s-meter');
  const note = button(page, 'Note');
  await note.focus();
  await page.keyboard.press('Enter');
  const dialog = page.getByRole('dialog', { name: 'A note on this step' });
  await dialog.waitFor();
  for (let tabs = 0; tabs < 8; tabs += 1) {
    const outside = await dialog.evaluate(
      (dialog) => ![document.body, dialog].includes(document.activeElement) && !dialog.contains(document.activeElement),
    );
    assert.ok(!outside, 'nothing behind the question takes the focus');
    await page.keyboard.press('Tab');
  }
  await page.keyboard.press('Escape');
  await dialog.waitFor({ state: 'hidden' });
  assert.ok(await note.evaluate((button) => button === document.activeElement));
});

test('where the answer puts out of use what asked, keys go on from the heading', async (t) => {
  const { page, step } = await withDemo(t);
  await step('s-meter');
  const keys = byKeys(page);
  await keys.press(button(page, 'Waive'));
  await keys.write(page.getByRole('textbox', { name: 'Waive this step' }), 'Not agreed yet.');
  await keys.press(button(page, 'Waive the step'));
  await see(page.locator('h1:focus'));
});
