// One visit of a set from the counter to the counter, on a tablet and on a phone: booked in without
// a procedure and with a photo, its fault traced along the signal's path by what is advised, a part
// ordered and fitted the next day, proved by a procedure that is taken on, and handed over on one
// sheet that answers the fault. The browser is killed twice on the way.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, openBrowser, openHost, running } from './bench.mjs';
import { uncovered } from './hand.mjs';
import { drawBoard } from './boards.mjs';
import {
  button, byTouch, heading, labelled, link, picks, see, seeStatus, seeText, shortProcedure, takeIn,
  toTheTask,
} from './technician.mjs';

const DEVICES = { tablet: TABLET, phone: PHONE };

const PROOF = shortProcedure('proof', 'Proof of the trainer', [
  { id: 'load', title: 'Loudspeaker load on', work: { stop: { confirm: 'The load is on.' } } },
  {
    id: 'audio',
    title: 'Audio output',
    'set-up': { mode: 'AM', channel: '20', signal: 'rx' },
    work: {
      read: {
        gauge: { at: 'TP1', with: 'meter', in: 'V rms' },
        target: { fixed: { 'at-least': '2.0 V rms' } },
      },
    },
  },
]);

const SET = {
  Make: 'Quillmere Radio Club',
  Model: 'Trainer',
  'Serial number': 'QRC-44',
  'Fault reported': 'No sound',
  Technician: 'Bench 1',
};

const FAULT = 'Audio output stage';

const safe = (page) => page.waitForSelector('html[data-saved=yes]', { state: 'attached' });

// The battery goes flat, and the tablet is started again where it was.
async function killed(t, { browser, page, device }) {
  await safe(page);
  const address = page.url();
  await browser.kill();
  const next = await openBrowser(t, { device, profile: browser.profile });
  const again = await next.open(address);
  await safe(again);
  return { browser: next, page: again, device, hand: byTouch(again) };
}

// The stages in the order of the signal, and the one whose places hold what is advised.
async function advised(page) {
  const stages = await page.locator('.trace .trace-head strong').allInnerTexts();
  const stage = await page.locator('.trace-next .term').innerText();
  const place = await page.locator('.trace-place').innerText();
  return { at: stages.indexOf(stage), fault: stages.indexOf(FAULT), place };
}

async function traceTheFault(page) {
  let looks = 0;
  while ((await page.locator('.trace-next').count()) > 0) {
    assert.ok(looks < 14, 'the fault is found');
    const { at, fault, place } = await advised(page);
    const own = /^(DC|Control voltage)/.test(place);
    const bad = own ? at === fault : fault <= at;
    const before = await page.locator('.trace-mark').count();
    await button(page, bad ? 'Not as expected' : 'As expected').tap();
    await page.locator('.trace-mark').nth(before).waitFor();
    looks += 1;
    // A second tap within the cover of the first is none.
    await uncovered(page);
  }
  return looks;
}

for (const [name, device] of Object.entries(DEVICES)) {
  test(`a set goes from the counter to the counter in one job (${name})`, async (t) => {
    const host = await openHost(t, DIST);
    const browser = await openBrowser(t, { device });
    let at = { browser, device, page: await browser.visit(host) };
    at.hand = byTouch(at.page);
    await takeIn(at.page, { type: 'halfturn-procedure', version: 3, procedure: PROOF });

    // Booked in, with a photo.
    await link(at.page, 'Jobs').tap();
    await link(at.page, 'Book a set in').tap();
    for (const [label, text] of Object.entries(SET)) await at.hand.write(labelled(at.page, label), text);
    const jpeg = await drawBoard(at.page);
    await button(at.page, 'Start it with a photo').tap();
    await see(heading(at.page, 'Photos'));
    const chooser = at.page.waitForEvent('filechooser');
    await at.page.getByText('Choose a picture', { exact: true }).tap();
    await (await chooser).setFiles({ name: 'case.jpg', mimeType: 'image/jpeg', buffer: jpeg });
    await see(at.page.locator('.photograph'));
    await link(at.page, 'All steps').first().tap();

    // The fault is traced along the path, by what is advised.
    await link(at.page, 'Find the fault').tap();
    await button(at.page, 'Audio: 15 stages').tap();
    await see(heading(at.page, 'Look next'));
    const looks = await traceTheFault(at.page);
    assert.ok(looks <= 8, `${looks} looks`);
    await seeText(at.page, new RegExp(`^${FAULT}: about 9\\d of 100$`));
    at = await killed(t, at);
    await seeText(at.page, new RegExp(`^${FAULT}: about 9\\d of 100$`));

    // A figure at that place, read in a step of its own.
    await button(at.page, `Edit ${FAULT}`).tap();
    await at.hand.write(at.page.locator('#trace-at-0'), 'TP9');
    await at.page.locator('#trace-unit-0').tap();
    await at.hand.write(at.page.locator('.picker-panel').getByRole('textbox'), 'V rms');
    await at.page.locator('.picker-panel').getByRole('button', { name: /^V rms/ }).first().tap();
    await at.hand.write(at.page.locator('#trace-limit-0'), 'at least 2');
    await seeText(at.page, /Inside is: /);
    await button(at.page, 'Save the stage').tap();
    await button(at.page, 'TP9: Audio after the output stage').tap();
    await button(at.page, 'Read it').tap();
    await see(heading(at.page, 'Audio after the output stage'));
    await at.hand.number('0.04');
    await at.hand.enter();
    await seeStatus(at.page, 'outside');
    await toTheTask(at.page);
    await link(at.page, 'Find the fault').tap();
    await button(at.page, 'Write it into the fault record').tap();
    await see(heading(at.page, 'Faults'));
    assert.equal(await labelled(at.page, 'Stage or part').inputValue(), FAULT);
    await at.hand.write(labelled(at.page, 'Symptom as seen on the bench'), 'No sound at any volume');
    await at.hand.write(labelled(at.page, 'Cause'), 'Coupling capacitor open');
    await button(at.page, 'Found, not cured').tap();
    await button(at.page, 'Save the record').tap();
    await seeText(at.page, 'Reported fault, found, not cured');

    // The part is ordered, and the job waits.
    await link(at.page, 'All steps').first().tap();
    await link(at.page, 'Parts and the owner').tap();
    await at.hand.write(labelled(at.page, 'Part'), 'Electrolytic 470 µF');
    await button(at.page, 'Ordered').tap();
    await button(at.page, 'Save the part').tap();
    await seeText(at.page, 'Electrolytic 470 µF, ordered');
    await link(at.page, 'Jobs').tap();
    await seeText(at.page, 'Waiting for parts');
    at = await killed(t, at);
    await at.page.getByRole('link', { name: /QRC-44/ }).first().tap();

    // The next day it is fitted.
    await link(at.page, 'All steps').first().tap();
    await link(at.page, 'Parts and the owner').tap();
    await button(at.page, 'Record the fitting').tap();
    await see(heading(at.page, 'Parts and changes'));
    await button(at.page, 'Save the change').tap();
    await link(at.page, 'All steps').first().tap();
    await link(at.page, 'Find the fault').tap();
    await seeText(at.page, /looks from before don.t count any more/);
    await link(at.page, 'All steps').first().tap();
    await at.page.getByRole('link', { name: 'Audio after the output stage' }).tap();
    await at.hand.number('2.4');
    await at.hand.enter();
    await seeStatus(at.page, 'done');
    await link(at.page, 'All steps').first().tap();

    // It is proved by a procedure that is taken on.
    await link(at.page, 'Take on a procedure').tap();
    await at.page.getByRole('link', { name: PROOF.title }).tap();
    await button(at.page, 'Take it on').tap();
    await button(at.page, 'I confirm').tap();
    await seeStatus(at.page, 'done');
    await button(at.page, 'Next').tap();
    await see(heading(at.page, 'Audio output'));
    await uncovered(at.page);
    await at.hand.number('2.41');
    await at.hand.enter();
    await seeStatus(at.page, 'done');
    await toTheTask(at.page);
    await link(at.page, 'Faults').tap();
    await button(at.page, 'Edit').tap();
    await at.hand.write(labelled(at.page, 'Cure'), 'Capacitor renewed');
    await picks(at.page, /^Readings after the cure/, /Audio output/);
    await button(at.page, 'Cured').tap();
    await button(at.page, 'Save the record').tap();
    await seeText(at.page, 'The readings named for the cure are inside their limits.');

    // It goes home on one sheet.
    await link(at.page, 'All steps').first().tap();
    await link(at.page, 'Sign off').tap();
    await button(at.page, 'Sign off the job').tap();
    await see(heading(at.page, 'Signed off'));
    await at.hand.write(labelled(at.page, 'Who takes the set home'), 'The owner');
    await button(at.page, 'Record that it was collected').tap();
    await seeText(at.page, 'Collected by The owner');
    await at.page.goto(at.page.url().replace(/finish$/, 'report'));
    await running(at.page);
    for (const said of [
      /The reported fault is cured, as the technician says\. Cause: .?Coupling capacitor open.?\./,
      /Proof of the trainer.?, revision 1, taken on/,
      'Where the fault was looked for',
      'Added at the bench',
    ]) {
      await seeText(at.page, said);
    }
    assert.equal(await at.page.locator('.report-photos img').count(), 1);
  });
}

// A job with the path begun, and one look taken along it.
async function atThePath(t, path) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await link(page, 'Book a set in').tap();
  await byTouch(page).write(labelled(page, 'Model'), 'Trainer');
  await button(page, 'Start the job').tap();
  await link(page, 'Find the fault').tap();
  await button(page, path).tap();
  return page;
}

test('a look is taken back though the path changed since that was asked', async (t) => {
  const page = await atThePath(t, 'Audio: 15 stages');
  await button(page, 'As expected').tap();
  await see(page.locator('.trace-mark'));
  await uncovered(page);
  await button(page, 'Undo').tap();
  await seeText(page, /the look at .+, as expected/);
  await uncovered(page);
  await button(page, 'Sound').tap();
  await see(heading(page, 'Look here'));
  await uncovered(page);
  await button(page, 'Undo it').tap();
  await page.waitForFunction(() => !document.querySelector('.trace-mark'));
});

test('a second tap and a key held down take no look that nobody took', async (t) => {
  const page = await atThePath(t, 'Supply: 15 stages');
  const key = button(page, 'As expected');
  const { x, y, width, height } = await key.boundingBox();
  await page.touchscreen.tap(x + width / 2, y + height / 2);
  await page.waitForTimeout(120);
  await page.touchscreen.tap(x + width / 2, y + height / 2);
  await page.waitForTimeout(600);
  assert.equal(await page.locator('.trace-mark').count(), 1);
  await key.focus();
  for (let held = 0; held < 12; held += 1) {
    await page.keyboard.down('Enter');
    await page.waitForTimeout(40);
  }
  await page.keyboard.up('Enter');
  await page.waitForTimeout(600);
  assert.equal(await page.locator('.trace-mark').count(), 2);
});

test('a keyed path asks for its load first, owes nothing before, and is taken up again', async (t) => {
  const page = await atThePath(t, 'Transmitter: 24 stages');
  await see(heading(page, 'First confirm'));
  assert.equal(await button(page, 'As expected').count(), 0);
  await button(page, 'I confirm').tap();
  await see(heading(page, 'Look next'));
  await uncovered(page);
  await button(page, 'Not as expected').tap();
  await see(page.locator('.trace-mark'));
  await button(page, 'Another path').tap();
  await button(page, 'Audio: 15 stages').tap();
  await see(heading(page, 'Audio'));
  await button(page, 'Another path').tap();
  await button(page, 'Transmitter: 24 stages, 1 look').tap();
  await see(heading(page, 'Transmitter'));
  assert.equal(await page.locator('.trace-mark').count(), 1);
  await link(page, 'All steps').first().tap();
  await seeText(page, '1 of 1 done');
});
