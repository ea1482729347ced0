// The whole visit of a set, from booking it in without a procedure to the sheet that answers the
// fault that was reported. By real taps and keys, on a tablet and on a phone; the page is killed
// on the way.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, openBrowser, openHost, running } from './bench.mjs';
import { uncovered } from './hand.mjs';
import {
  TRAINER, button, byTouch, heading, labelled, link, picks, savedFile, see, seeStatus, seeText, shortProcedure, takeIn,
  toTheTask,
} from './technician.mjs';

const DEVICES = { tablet: TABLET, phone: PHONE };

const PROOF = shortProcedure('proof', 'Proof of the trainer', [
  { id: 'load', title: 'Dummy load on', work: { stop: { confirm: 'The dummy load is on.' } } },
  {
    id: 'driver',
    title: 'Rail at the driver, proved',
    'set-up': { mode: 'USB', channel: '20' },
    work: {
      read: {
        gauge: { at: 'TP1', with: 'meter', in: 'V' },
        target: { fixed: { between: { low: '8.5 V', high: '9.5 V' } } },
      },
    },
  },
]);

const SET = {
  Make: 'Quillmere Radio Club',
  Model: 'Trainer',
  'Serial number': 'QRC-31',
  'Fault reported': 'No power on USB',
  Technician: 'Bench 1',
};

async function bookedIn(t, device) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  const hand = byTouch(page);
  await takeIn(page, { type: 'halfturn-procedure', version: 3, procedure: PROOF });
  // Another job is in hand before.
  await link(page, 'Jobs').tap();
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await link(page, 'Jobs').tap();
  await link(page, 'Book a set in').tap();
  for (const [label, text] of Object.entries(SET)) await hand.write(labelled(page, label), text);
  await button(page, 'Start the job').tap();
  await see(heading(page, 'All steps'));
  return { page, hand, host };
}

const toSteps = async (page) => {
  await link(page, 'All steps').first().tap();
  await see(heading(page, 'All steps'));
};

for (const [name, device] of Object.entries(DEVICES)) {
  test(`a set is booked in without a procedure, and its fault is traced, cured and handed over (${name})`, async (t) => {
    const { page, hand } = await bookedIn(t, device);
    await seeText(page, 'This job has no steps yet.');

    await link(page, 'Add a step of your own').tap();
    await button(page, 'Add it and go there').tap();
    await seeText(page, 'Say what it is');
    await hand.write(labelled(page, 'What'), 'Rail at the driver');
    await hand.write(labelled(page, 'Where'), 'R47');
    await hand.write(labelled(page, 'Mode'), 'USB');

    // What is typed is there after the page was killed.
    await page.reload();
    await running(page);
    assert.equal(await labelled(page, 'What').inputValue(), 'Rail at the driver');
    await picks(page, /^Unit/, /^V\b/);
    await hand.write(labelled(page, 'Limit'), 'about nine');
    await seeText(page, 'That is no limit in V');
    await hand.write(labelled(page, 'Limit'), '8.5 to 9.5');
    await seeText(page, /Inside is: 8\.5/);
    await button(page, 'Add it and go there').tap();
    await see(heading(page, 'Rail at the driver'));
    await seeText(page, 'USB');
    await hand.number('0.2');
    await hand.enter();
    await see(page.getByRole('table', { name: 'Readings, newest first' }));
    await seeStatus(page, 'outside');

    await toTheTask(page);
    await link(page, 'Faults').tap();
    await seeText(page, 'No fault is in the log yet.');
    await seeText(page, 'No power on USB');
    await hand.write(labelled(page, 'Symptom as seen on the bench'), 'No rail at the driver');
    await picks(page, /^Readings that show it/, /Rail at the driver/);
    await hand.write(labelled(page, 'Cause'), 'C47 shorted');
    await button(page, 'Found, not cured').tap();
    await button(page, 'Save the record').tap();
    await seeText(page, 'Reported fault, found, not cured');

    // It is mended, and read again.
    await page.goBack();
    await see(heading(page, 'Rail at the driver'));
    await uncovered(page);
    await hand.number('9.1');
    await hand.enter();
    await seeText(page, '9.1');
    await toSteps(page);

    await link(page, 'Take on a procedure').tap();
    await page.getByRole('link', { name: PROOF.title }).tap();
    await button(page, 'Take it on').tap();
    await see(heading(page, 'Dummy load on'));
    await button(page, 'I confirm').tap();
    await seeStatus(page, 'done');
    await button(page, 'Next').tap();
    await see(heading(page, 'Rail at the driver, proved'));
    await uncovered(page);
    await hand.number('9.0');
    await hand.enter();
    await seeStatus(page, 'done');

    await page.reload();
    await running(page);
    await toTheTask(page);
    await link(page, 'Faults').tap();
    await button(page, 'Edit').tap();
    await hand.write(labelled(page, 'Cure'), 'C47 replaced');
    await picks(page, /^Readings after the cure/, /proved/);
    await button(page, 'Cured').tap();
    await button(page, 'Save the record').tap();
    await seeText(page, 'The readings named for the cure are inside their limits.');

    await toSteps(page);
    // Once procedures have come to the job, each part says whose it is.
    await seeText(page, 'Proof of the trainer, revision 1');
    await see(heading(page, 'Added at the bench'));
    await link(page, 'Report').tap();
    for (const said of [
      /The reported fault is cured, as the technician says\. Cause: .?C47 shorted.?\./,
      /Proof of the trainer.?, revision 1, taken on/,
      'Added at the bench',
    ]) {
      await seeText(page, said);
    }
  });
}

test('what was taken on is taken back after a question, and the job stands as before', async (t) => {
  const { page } = await bookedIn(t, TABLET);
  await link(page, 'Take on a procedure').tap();
  await page.getByRole('link', { name: PROOF.title }).tap();
  await button(page, 'Take it on').tap();
  await see(heading(page, 'Dummy load on'));
  await uncovered(page);
  await button(page, 'Undo').tap();
  await seeText(page, '“Proof of the trainer” taken on');
  await uncovered(page);
  await button(page, 'Undo it').tap();
  await see(heading(page, 'All steps'));
  await seeText(page, 'This job has no steps yet.');
});

test('a procedure that the job has is not offered again', async (t) => {
  const { page } = await bookedIn(t, TABLET);
  await link(page, 'Take on a procedure').tap();
  await page.getByRole('link', { name: PROOF.title }).tap();
  await button(page, 'Take it on').tap();
  await see(heading(page, 'Dummy load on'));
  await toSteps(page);
  await link(page, 'Take on a procedure').tap();
  await see(page.getByRole('link', { name: TRAINER.title }));
  assert.equal(await page.getByRole('link', { name: PROOF.title }).count(), 0);
});

test('a part is wanted, ordered and fitted, the owner asked, and the list of jobs says what each waits for', async (t) => {
  const { page, hand } = await bookedIn(t, PHONE);
  await link(page, 'Parts and the owner').tap();
  await seeText(page, 'No part is wanted yet.');
  await hand.write(labelled(page, 'Part'), 'Electrolytic 470 µF');
  await hand.write(labelled(page, 'Order number'), 'EL-470');
  await hand.write(labelled(page, 'Count'), 'two');
  await button(page, 'Save the part').tap();
  await seeText(page, 'Type the count as a whole number');
  await hand.write(labelled(page, 'Count'), '2');
  // What is typed outlives the page.
  await page.reload();
  await running(page);
  assert.equal(await labelled(page, 'Part').inputValue(), 'Electrolytic 470 µF');
  await button(page, 'Ordered').tap();
  await button(page, 'Save the part').tap();
  await seeText(page, '2 × Electrolytic 470 µF (EL-470), ordered');
  await hand.write(labelled(page, 'Question'), 'Renew it for 40?');
  await button(page, 'Save the question').tap();
  await see(labelled(page, 'Answer'));

  await link(page, 'Jobs').tap();
  await seeText(page, 'Waiting for parts and for the owner');
  await link(page, 'What to order').tap();
  await seeText(page, '2 × Electrolytic 470 µF (EL-470), ordered');
  const table = await savedFile(page, () => button(page, 'Save as a table').tap());
  assert.match(table.text, /Electrolytic 470 µF,EL-470,2,ordered,/);
  await page.getByRole('link', { name: /QRC-31/ }).tap();

  await hand.write(labelled(page, 'Answer'), 'Yes');
  await button(page, 'Save the answer').tap();
  await button(page, 'Record the fitting').tap();
  await see(heading(page, 'Parts and changes'));
  assert.equal(await labelled(page, 'Fitted').inputValue(), '2 × Electrolytic 470 µF');
  await button(page, 'Save the change').tap();
  await toSteps(page);
  await link(page, 'Parts and the owner').tap();
  await seeText(page, '2 × Electrolytic 470 µF (EL-470), fitted');
  await link(page, 'Jobs').tap();
  await seeText(page, 'Booked in, no steps yet');
  assert.equal(await page.getByText('Waiting for').count(), 0);
});

test('a set is collected once its job is signed off, and the list of jobs says by whom', async (t) => {
  const { page, hand } = await bookedIn(t, TABLET);
  await link(page, 'Add a step of your own').tap();
  await button(page, 'Look at something').tap();
  await hand.write(labelled(page, 'What'), 'The case');
  await button(page, 'Add it and go there').tap();
  await button(page, 'Sound as built').tap();
  await seeStatus(page, 'done');
  await toSteps(page);
  await link(page, 'Sign off').tap();
  // The fault that was reported has no answer: that is said, and keeps nobody from signing off.
  await seeText(page, 'The record does not say whether the reported fault was found.');
  await button(page, 'Sign off the job').tap();
  await see(heading(page, 'Signed off'));
  await hand.write(labelled(page, 'Who takes the set home'), 'The owner’s son');
  await button(page, 'Record that it was collected').tap();
  await seeText(page, 'Collected by The owner’s son');
  await link(page, 'Jobs').tap();
  await seeText(page, 'Collected by The owner’s son');
});

test('a set that was here before brings its details along, but for what is typed', async (t) => {
  const { page, hand } = await bookedIn(t, TABLET);
  await link(page, 'Jobs').tap();
  await link(page, 'Book a set in').tap();
  await hand.write(labelled(page, 'Serial number'), 'QRC-31');
  await hand.write(labelled(page, 'Owner'), 'Shelf 2');
  await button(page, 'Fill in from the last visit of Quillmere Radio Club Trainer QRC-31').tap();
  const values = ['Make', 'Model', 'Owner', 'Fault reported'].map((name) => labelled(page, name).inputValue());
  // The fault is this visit's own.
  assert.deepEqual(await Promise.all(values), [SET.Make, SET.Model, 'Shelf 2', '']);
  await button(page, 'Start it with a photo').tap();
  await see(heading(page, 'Photos'));
});

test('what two tabs write into one record is told, not written over', async (t) => {
  const { page, hand } = await bookedIn(t, TABLET);
  await link(page, 'Faults').tap();
  await hand.write(labelled(page, 'Symptom as seen on the bench'), 'Deaf');
  await button(page, 'Save the record').tap();
  await button(page, 'Edit').tap();
  const other = await page.context().newPage();
  await other.goto(page.url());
  await running(other);
  await button(other, 'Edit').tap();
  await byTouch(other).write(labelled(other, 'Cause'), 'C12 open');
  await button(other, 'Save the record').tap();
  await seeText(other, 'C12 open');

  await see(page.getByText('C12 open'));
  await hand.write(labelled(page, 'Stage or part'), 'First mixer');
  await button(page, 'Save the record').tap();
  await seeText(page, 'Another page changed this meanwhile');
  await see(page.getByText('C12 open'));
  await button(page, 'Save the record').tap();
  await seeText(page, 'First mixer');
  assert.equal(await page.getByText('C12 open').count(), 0);
});

test('what was answered, fitted and added is put right where it stands', async (t) => {
  const { page, hand } = await bookedIn(t, TABLET);
  await link(page, 'Parts and the owner').tap();
  await hand.write(labelled(page, 'Question'), 'Renew it for 40?');
  await button(page, 'Save the question').tap();
  await hand.write(labelled(page, 'Answer'), 'Yse');
  await button(page, 'Save the answer').tap();
  await seeText(page, /^Yse/);
  await button(page, 'Edit').tap();
  await hand.write(labelled(page, 'Answer'), 'Yes, up to 50');
  await button(page, 'Save the answer').tap();
  await seeText(page, /^Yes, up to 50/);
  assert.equal(await page.getByText('Yse').count(), 0);

  await hand.write(labelled(page, 'Part'), 'Electrolytic 470 nF');
  await button(page, 'Save the part').tap();
  await button(page, 'Record the fitting').tap();
  await button(page, 'Save the change').tap();
  await button(page, 'Edit').tap();
  await see(heading(page, 'Edit this change'));
  await hand.write(labelled(page, 'Fitted'), 'Electrolytic 470 µF');
  // What is typed is there after the page was killed.
  await page.reload();
  await running(page);
  await button(page, 'Edit').tap();
  assert.equal(await labelled(page, 'Fitted').inputValue(), 'Electrolytic 470 µF');
  await button(page, 'Save').tap();
  await see(page.locator('.changes').getByText('Electrolytic 470 µF'));
  assert.equal(await page.getByText('470 nF').count(), 0);
  await see(heading(page, 'Record part or change'));

  await toSteps(page);
  await link(page, 'Add a step of your own').tap();
  await hand.write(labelled(page, 'What'), 'Rail');
  await hand.write(labelled(page, 'Where'), 'R47');
  await picks(page, /^Unit/, /^V\b/);
  await hand.write(labelled(page, 'Limit'), '13,8 to 14,2');
  await seeText(page, 'a comma may mean two things');
  await hand.write(labelled(page, 'Limit'), '13.8 to 14.2');
  await button(page, 'Add it and go there').tap();
  await see(heading(page, 'Rail'));
  await uncovered(page);
  await hand.number('13.6');
  await hand.enter();
  await seeStatus(page, 'outside');
  await toTheTask(page);
  await link(page, 'Edit this step').tap();
  await hand.write(labelled(page, 'Limit'), '13.5 to 14.2');
  await button(page, 'Save').tap();
  await see(heading(page, 'Rail'));
  await seeStatus(page, 'done');
});

test('what the work comes to is printed on the report, from the rate of the settings and the minutes typed', async (t) => {
  const { page, hand, host } = await bookedIn(t, PHONE);
  await page.goto(`${host.url}#/settings`);
  await hand.write(labelled(page, 'Currency'), 'EUR');
  await hand.write(labelled(page, 'Rate per hour in EUR'), '48.00');
  await link(page, 'Jobs').tap();
  await link(page, 'Book a set in').tap();
  await hand.write(labelled(page, 'Serial number'), 'QRC-32');
  assert.equal(await labelled(page, 'Rate per hour in EUR').inputValue(), '48.00');
  await page.locator('details.more > summary').first().tap();
  await hand.write(labelled(page, 'Working time in minutes'), 'an hour');
  await button(page, 'Start the job').tap();
  await seeText(page, 'Type the minutes as a whole number');
  await hand.write(labelled(page, 'Working time in minutes'), '75');
  await hand.write(labelled(page, 'Agreed price in EUR'), '50');
  await button(page, 'Start the job').tap();
  await see(heading(page, 'All steps'));
  await link(page, 'Report').tap();
  await seeText(page, /Work: 1.h.15.min as stated, at 48\.00.EUR an hour/);
  await seeText(page, /60\.00.EUR/);
  await seeText(page, 'Price agreed with the owner');
});
