// Steps as published tests have them: a stop that a reading opens, steps that are repeated until
// they hold, and the settings of generator and analyser. Written and worked key by key.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, openBrowser, openHost } from './bench.mjs';
import { author, begin, field, pick, press, publish } from './author.mjs';
import { button, byKeys, heading, link, savedFile, see, seeStatus, seeText } from './technician.mjs';
import { type } from './hand.mjs';

const plain = (text) => text.replaceAll(/[\u2068\u2069]/g, '').replaceAll('\u00a0', ' ');

async function atDesk(t, device = TABLET) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  return { host, page, hand: author(page) };
}

async function startJob(hand, serial) {
  const { page } = hand;
  await hand.tap(link(page, 'Start a job'));
  await type(page.getByLabel('Serial number', { exact: true }), serial);
  await type(page.getByLabel('Technician', { exact: true }), 'Bench 1');
  await hand.tap(button(page, 'Start the job'));
}

const reading = (page) => page.getByRole('textbox', { name: /^Reading, / });

async function enter(page, digits) {
  await type(reading(page), digits);
  await page.keyboard.press('Enter');
}

const verdict = async (page) => plain(await page.locator('.stop .when').innerText());

async function writeStop(hand) {
  const { page } = hand;
  await hand.tap(button(page, 'Add a step Section 1'));
  await page.waitForFunction(() => document.activeElement?.id === 'author-title');
  await hand.write(field(page, 'Title'), 'Discharge the reservoir');
  await press(hand, 'Stop');
  await hand.write(field(page, 'To be confirmed'), 'The reservoir capacitor is discharged.');
  assert.equal(await field(page, 'Highest figure').count(), 0, 'by hand, nothing is read');
  await press(hand, 'By a reading inside');
  await pick(hand, 'Test point', 'TP1');
  await pick(hand, 'Instrument', 'meter');
  await pick(hand, 'Unit', 'V');
  await hand.write(field(page, 'Highest figure'), '10');
  assert.equal(await button(page, 'By the plan').count(), 0, 'a stop has a figure of its own');
  await hand.tap(button(page, 'New step below'));
  await page.waitForFunction(() => document.activeElement?.id === 'author-title');
  await hand.write(field(page, 'Title'), 'Change the capacitor');
  await press(hand, 'Tick');
  await hand.tap(link(page, 'All steps of the draft'));
}

test('a stop with a reading: written, closed while it is outside, opened by a reading on the limit, ended by a break, on the sheet', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Club trainer, supply');
  await writeStop(hand);
  await seeText(page, 'No faults');
  const { procedure } = await publish(hand, 1);
  const [stop] = procedure.sections[0].steps;
  assert.deepEqual(stop.work.stop, {
    confirm: 'The reservoir capacitor is discharged.',
    reads: {
      gauge: { at: 'TP1', with: 'meter', in: 'V' },
      target: { fixed: { 'at-most': '10 V' } },
    },
  });

  await startJob(hand, 'QRC-70');
  const keys = byKeys(page);
  await see(heading(page, 'Discharge the reservoir'));
  await seeText(page, 'A reading inside its limits confirms this, and nothing else does.');
  assert.equal(await button(page, 'I confirm').count(), 0);
  assert.equal(await button(page, 'As found').count(), 0);
  assert.ok(await button(page, 'Waive').isDisabled());
  await enter(page, '32.1');
  await seeStatus(page, 'outside');
  assert.equal(await verdict(page), '32.1 V is outside: this stop stays closed. Read again once it is inside.');
  // Next says that it is not confirmed, and what is below stays closed.
  await keys.next();
  await seeText(page, 'This stop is not confirmed.');
  await page.waitForTimeout(400);
  await keys.next();
  await see(heading(page, 'Change the capacitor'));
  assert.ok(await button(page, 'Done').isDisabled());
  await link(page, 'Go to the stop').tap();

  await enter(page, '10.0');
  await seeStatus(page, 'done');
  assert.match(await verdict(page), /^Confirmed by 10\.0 V, /);
  await keys.next();
  await see(heading(page, 'Change the capacitor'));
  await button(page, 'Done').tap();
  await seeStatus(page, 'done');

  // After a break it has to be read again.
  await link(page, 'All steps').tap();
  await button(page, 'Take a break').tap();
  await seeText(page, 'The break is in the log.');
  await page.getByRole('link', { name: /Discharge the reservoir/ }).tap();
  await see(heading(page, 'Discharge the reservoir'));
  await seeStatus(page, 'confirm again');
  assert.match(await verdict(page), /^Confirmed .* There was a break since: look again\.$/);
  await enter(page, '4.2');
  await seeStatus(page, 'done');


  await link(page, 'All steps').tap();
  await link(page, 'Report').tap();
  await seeText(page, 'confirmed by');
  const csv = await savedFile(page, () => page.getByRole('button', { name: /spreadsheet|table/i }).first().tap());
  const rows = csv.text.split('\r\n').filter((row) => row.includes('Discharge the reservoir'));
  assert.equal(rows.length, 3);
});
