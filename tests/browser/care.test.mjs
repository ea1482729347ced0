// Looking after the set while it is worked on, as a person does it: what comes off goes back,
// breaks end what was made safe, waits run on, sockets are measured pin by pin.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, barriers, openBrowser, openHost } from './bench.mjs';
import {
  button, byKeys, byTouch, chooseFile, field, heading, link, see, seeStatus, seeText,
  toTheKeys,
} from './technician.mjs';
import { type } from './hand.mjs';
import { pinReadings } from './readings.mjs';

const volts = (nominal) => ({
  around: {
    nominal: `${nominal} V`,
    below: { absolute: '500 mV' },
    above: { absolute: '500 mV' },
  },
});

const pin = (name, signal, rx, tx) => ({
  pin: name,
  signal,
  from: 'Tuner board',
  colour: 'grey',
  expects: [{ state: 'RX', tolerance: volts(rx) }, { state: 'TX', tolerance: volts(tx) }],
});

const SOCKET = {
  name: 'SK4',
  with: 'meter',
  pins: [pin('1', 'Supply', '8.0', '8.0'), pin('2', 'Keying', '5.0', '0.0'), pin('3', 'Bias', '2.0', '2.0')],
};

const STEPS = [
  {
    id: 'open',
    title: 'Open the case',
    'takes-off': [
      { what: 'Volume knob', where: 'front, left', orientation: 'mark at seven', note: 'felt ring behind it' },
      { what: 'Bottom cover' },
    ],
    work: 'tick',
  },
  { id: 'load', title: 'Dummy load', work: { stop: { confirm: 'The dummy load is on.' } } },
  {
    id: 'power',
    title: 'Carrier power',
    cautions: ['The output stage gets hot.'],
    needs: ['load'],
    work: { read: { gauge: { at: 'SK1', with: 'meter', in: 'W' }, target: { fixed: { between: { low: '3.6 W', high: '4.4 W' } } } } },
  },
  { id: 'warm', title: 'Warm up', wait: 5, work: 'tick' },
  {
    id: 'socket',
    title: 'Fit the remote socket',
    work: { socket: SOCKET },
  },
  {
    id: 'part',
    title: 'Filter capacitor',
    work: { fit: { out: '10 µF, 16 V', in: '22 µF, 25 V', why: 'Hum on receive' } },
  },
  { id: 'close', title: 'Close the case', 'puts-back': ['Volume knob'], work: 'tick' },
];

const PROCEDURE = {
  type: 'halfturn-procedure',
  version: 1,
  procedure: {
    id: 'qrc-care',
    title: 'Care of the trainer',
    revision: 1,
    covers: 'Club trainers',
    'test-points': [{ ref: 'SK1', where: 'aerial socket' }],
    instruments: [{ role: 'meter', needs: 'any' }],
    sections: [{ title: 'On the bench', steps: STEPS }],
  },
};

// A job by the procedure above, at its first step.
async function atBench(t, options) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, options);
  const page = await browser.visit(host);
  if (options?.clock) await page.clock.install();
  const hand = options?.keys ? byKeys(page) : byTouch(page);
  await hand.press(link(page, 'Open a file'));
  const buffer = Buffer.from(JSON.stringify(PROCEDURE));
  await bring(page, hand, { name: 'care.json', mimeType: 'application/json', buffer });
  await hand.press(link(page, 'Jobs'));
  await hand.press(link(page, 'Start a job'));
  await hand.press(page.getByRole('link', { name: PROCEDURE.procedure.title }));
  await hand.write(page.getByLabel('Make', { exact: true }), 'Quillmere Radio Club');
  await hand.write(page.getByLabel('Technician', { exact: true }), 'Bench 1');
  await hand.press(button(page, 'Start the job'));
  await see(heading(page, STEPS[0].title));
  return { host, browser, page, hand };
}

async function bring(page, hand, file) {
  if (hand.press === byKeys(page).press) return;
  await chooseFile(page, file);
  await button(page, 'Import selected').tap();
  await seeText(page, '1 item imported.');
}

async function goTo(page, title) {
  await link(page, 'All steps').tap();
  await page.getByRole('link', { name: title }).tap();
  await see(heading(page, title));
}

const counter = (page, count) => link(page, `${count} off, removed parts`);
const item = (page, name) => page.getByRole('listitem').filter({ hasText: name });

async function tick(page, name = 'Done') {
  await button(page, name).tap();
  await seeStatus(page, 'done');
}

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`what comes off goes back before the job is signed off, on a ${name}`, async (t) => {
    const { page } = await atBench(t, { device });
    await seeText(page, 'Remove');
    await seeText(page, 'front, left, mark at seven, felt ring behind it');
    await see(counter(page, 0));
    await tick(page);
    await counter(page, 2).tap();
    await seeText(page, '2 parts off.');
    await button(page, 'Probe left clipped on').tap();
    await type(page.getByLabel('Something else'), 'Screening can');
    await type(page.getByLabel('Where it belongs'), 'over the oscillator');
    await type(page.getByLabel('Which way round'), 'notch to the rear');
    await button(page, 'Add to the list').tap();
    await seeText(page, '4 parts off.');
    // The latest comes first: that is the way they go back.
    const list = await page.locator('.off-list li strong').allInnerTexts();
    assert.deepEqual(list, ['Screening can', 'Probe left clipped on', 'Bottom cover', 'Volume knob']);
    await seeText(page, 'notch to the rear');
    assert.deepEqual(await barriers(page), []);

    await button(page, 'Refitted: Probe left clipped on').tap();
    await button(page, 'Leave off: Screening can').tap();
    await type(page.getByRole('textbox', { name: 'Reason' }), 'Bent; a new one is on order.');
    await button(page, 'Leave off').tap();
    await seeText(page, 'stays off: Bent; a new one is on order.');
    await seeText(page, '2 parts off.');
  });
}

test('a margin is said, and a repeat outside holds the step whatever the mean', async (t) => {
  const { page, hand } = await atBench(t);
  await tick(page);
  await button(page, 'Next').tap();
  await tick(page, 'I confirm');
  await button(page, 'Next').tap();
  const word = () => page.locator('.verdict .word').innerText();
  const plain = async () => (await word()).replaceAll('\u00a0', ' ');
  await hand.number('4.0');
  assert.equal(await plain(), '0.4 W inside (not entered)');
  await hand.enter();
  await seeStatus(page, 'done');
  assert.equal(await plain(), '0.4 W inside');
  await button(page, 'Repeat').tap();
  await hand.number('4.5');
  await hand.enter();
  await seeStatus(page, 'outside');
  assert.equal(await plain(), '0.1 W over the upper limit');
  await seeText(page, 'One of them, 4.5 W, decides: 0.1 W over the upper limit.');
});

const reply = (page, question, answer) =>
  page.getByRole('group', { name: question }).getByLabel(answer, { exact: true }).check();

test('a break ends a stop, and what needs it says so', async (t) => {
  const { page } = await atBench(t);
  await tick(page);
  await button(page, 'Next').tap();
  await tick(page, 'I confirm');
  await link(page, 'All steps').tap();
  await button(page, 'Pause (hold points lapse)').tap();
  await seeText(page, 'Pause logged. Re-confirm hold point 2: what is below it is locked.');
  await seeText(page, 're-confirm');
  // The job can't be signed off over it, and the last screen claims nothing that did not happen.
  await link(page, 'Sign off').tap();
  await seeText(page, 'Hold point 2 was not confirmed again, and there was no work below it since.');
  await page.evaluate(() => { location.hash = location.hash.replace(/finish$/, 'report'); });
  await page.getByRole('row').filter({ hasText: 'lapsed in a pause' }).waitFor();
  await page.goBack();
  await page.goBack();
  await page.getByRole('link', { name: 'Carrier power' }).tap();
  await seeText(page, 'Paused: re-confirm hold point 2.');
  assert.equal(await field(page).count(), 0);
  await link(page, 'hold point 2').tap();
  await see(heading(page, 'Dummy load'));
  await seeText(page, 'The dummy load is on.');
  await seeText(page, 'Paused since: re-confirm.');
  await button(page, 'Next').tap();
  await seeText(page, 'This hold point is not re-confirmed since the pause. Next once more leaves it so.');
  await button(page, 'Re-confirm').tap();
  await button(page, 'Re-confirm').waitFor({ state: 'detached' });
  await button(page, 'Next').tap();
  await see(heading(page, 'Carrier power'));
  await see(field(page));
});

test('a job left for more than half an hour had a break', async (t) => {
  const { page } = await atBench(t, { clock: true });
  await tick(page);
  await button(page, 'Next').tap();
  await tick(page, 'I confirm');
  await page.clock.fastForward('29:00');
  await link(page, 'All steps').tap();
  await see(heading(page, 'All steps'));
  assert.equal(await page.getByText('No entry for more than half an hour').count(), 0);
  await link(page, 'Jobs').tap();
  await page.clock.fastForward('02:00');
  await page.getByRole('link', { name: 'Quillmere Radio Club' }).tap();
  await seeText(page, 'No entry for more than half an hour: pause logged.');
  await see(heading(page, 'Carrier power'));
  await seeText(page, 'Paused: re-confirm');
});

test('a wait runs on while other steps are done, also through a reload', async (t) => {
  const { page } = await atBench(t, { clock: true });
  await tick(page);
  await button(page, 'Next').tap();
  await tick(page, 'I confirm');
  await goTo(page, 'Warm up');
  await seeText(page, 'Timer not started.');
  await button(page, 'Start timer').tap();
  await seeText(page, /^(5:00|4:5\d) left$/);
  await goTo(page, 'Carrier power');
  const line = page.locator('.wait-line');
  await line.getByText(/^4:5\d left$|^5:00 left$/).waitFor();
  await page.clock.fastForward('02:00');
  await line.getByText(/^2:5\d left$/).waitFor();
  await page.reload();
  await line.getByText(/^2:[45]\d left$/).waitFor();
  assert.deepEqual(await barriers(page), []);
  await page.clock.fastForward('03:00');
  await line.getByRole('status').getByText('Time’s up.').waitFor();
  await line.getByRole('link', { name: 'Step 4, Warm up' }).tap();
  await see(heading(page, 'Warm up'));
  await page.getByRole('status').getByText('Time’s up.').waitFor();
  // Again and early: said, not forbidden.
  await button(page, 'Restart timer').tap();
  await seeText(page, 'Timer still running.');
  await tick(page);
});

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`a socket is measured pin by pin, and swapped lines stand out, on a ${name}`, async (t) => {
    const { page, hand } = await atBench(t, { device });
    await tick(page);
    await button(page, 'Next').tap();
    await tick(page, 'I confirm');
    await goTo(page, 'Fit the remote socket');
    await toTheKeys(page);
    await seeText(page, '6 readings are still to be taken.');
    // State by state, the next pin by itself. Supply and bias are crossed.
    for (const digits of ['2.0', '5.1', '8.1']) {
      await hand.number(digits);
      await hand.enter();
    }
    await seeText(page, 'Pins 1 and 3 look swapped: each reads what the other should.');
    assert.deepEqual(await barriers(page), []);
    // Put right, both are measured again.
    await page.getByRole('button', { name: /^Pin 1 in RX/ }).tap();
    await hand.number('8.0');
    await hand.enter();
    await page.getByRole('button', { name: /^Pin 3 in RX/ }).tap();
    await hand.number('2.1');
    await hand.enter();
    await see(button(page, 'Pin 3 in RX: due 2.0 V ± 500 mV 2.1 V 0.4 V inside, 0.1 V high'));
    for (const digits of ['0.0', '0.0', '2.0']) {
      await hand.number(digits);
      await hand.enter();
    }
    await seeText(page, 'Pin 1 is outside in TX.');
    // A tick says nothing of the pins, and going on says what is open.
    await seeStatus(page, 'outside');
    await button(page, 'Done').tap();
    await seeText(page, /^Ticked .*\. The step stays open: outside\.$/);
    await button(page, 'Next').tap();
    await seeText(page, /Pin 1 is outside in TX\..* The step stays open\. Next once more leaves it so\.$/);
  });
}

test('a part fitted is a change with what was agreed, and the finished job shows all of it', async (t) => {
  const { page, hand } = await atBench(t);
  await tick(page);
  await button(page, 'Next').tap();
  await tick(page, 'I confirm');
  await button(page, 'Next').tap();
  await hand.number('4.0');
  await hand.enter();
  await seeStatus(page, 'done');
  await goTo(page, 'Filter capacitor');
  assert.equal(await page.getByLabel('Fitted').inputValue(), '22 µF, 25 V');
  await reply(page, 'Did the owner agree to it?', 'Yes');
  await reply(page, 'Reversible?', 'No');
  await reply(page, 'May it affect type approval?', 'Yes');
  await seeText(page, 'is for your local rules to say');
  assert.deepEqual(await barriers(page), []);
  await tick(page, 'Fitted');
  await seeText(page, '10 µF, 16 V → 22 µF, 25 V');
  // Taking the tick back and fitting again lists nothing twice.
  await button(page, 'Undo').tap();
  await seeStatus(page, 'open');
  await reply(page, 'Did the owner agree to it?', 'Yes');
  await reply(page, 'Reversible?', 'No');
  await reply(page, 'May it affect type approval?', 'Yes');
  await tick(page, 'Fitted');
  assert.equal(await page.getByText('10 µF, 16 V → 22 µF, 25 V').count(), 1);

  await goTo(page, 'Warm up');
  await tick(page);
  await goTo(page, 'Fit the remote socket');
  await button(page, 'Done').tap();
  await seeStatus(page, 'open');
  for (const { digits, said } of pinReadings(SOCKET)) {
    await hand.number(digits);
    await hand.enter();
    await seeText(page, said);
  }
  await seeStatus(page, 'done');
  await goTo(page, 'Close the case');
  await seeText(page, 'Refit');
  await tick(page);
  await button(page, 'Next').tap();
  await see(heading(page, 'Not refitted'));
  await seeText(page, 'Refit each, or give a reason');
  assert.equal(await button(page, 'Sign off the job').count(), 0);
  await link(page, 'To the removed parts').tap();
  await button(page, 'Refitted: Bottom cover').tap();
  await seeText(page, 'No part is off.');
  await page.goBack();
  await button(page, 'Sign off the job').tap();
  await see(heading(page, 'Signed off'));
  for (const text of ['Reassembly', 'Volume knob', 'the owner agreed; not reversible; may affect type approval', 'SK4', '6 of 6 readings, all inside']) {
    await seeText(page, text);
  }
  assert.deepEqual(await barriers(page), []);
});

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`a substitute is checked and kept with its change, on a ${name}`, async (t) => {
    const { page } = await atBench(t, { device });
    await link(page, 'Record part or change').tap();
    await seeText(page, 'Nothing was changed so far.');
    await link(page, 'Substitution check').tap();
    // Nothing known is no verdict, and nothing is handed on.
    await seeText(page, 'Nothing to say yet');
    assert.equal(await page.getByText('falls short').count(), 0);
    assert.equal(await link(page, 'Attach to the change').count(), 0);
    const fill = async (label, old, substitute) => {
      await type(page.getByLabel(`${label}, of the one that comes out`), old);
      await type(page.getByLabel(`${label}, of the one that goes in`), substitute);
    };
    await fill('Breakdown voltage', '35', '30');
    await seeText(page, 'To attach this to a change, fill in the type number of both.');
    assert.equal(await link(page, 'Attach to the change').count(), 0);
    await fill('Type number', 'Old driver', 'Spare');
    await fill('Max. current', '500 mA', '1');
    await fill('P at case 25 °C', '10', '12');
    await fill('Tj max', '150', '125');
    await fill('Pin-out, left to right', 'ecb', 'bce');
    // The same legs of another kind would go into no hole.
    await seeText(page, 'The kind or the order of the legs is not stated for both.');
    for (const side of ['comes out', 'goes in']) {
      await page.getByLabel(`Kind, of the one that ${side}`).selectOption('NPN');
    }
    await type(page.getByLabel(/^Case temperature in the set/), '85 V');
    await seeText(page, 'V does not belong here: use °C.');
    assert.equal(await link(page, 'Attach to the change').count(), 0);
    await type(page.getByLabel(/^Case temperature in the set/), '85');
    await seeText(page, 'The weak one is its breakdown voltage.');
    await seeText(page, 'weaker by 400 mW');
    await seeText(page, 'It must be turned round');
    assert.deepEqual(await barriers(page), []);
    await page.reload();
    await link(page, 'Attach to the change').tap();
    assert.equal(await page.getByLabel('Fitted').inputValue(), 'Spare');
    await seeText(page, '“Spare” for “Old driver” at a case of 85 °C');
    await type(page.getByLabel('Why'), 'The old one is no longer made');
    await button(page, 'Save the change').tap();
    await seeText(page, 'Old driver → Spare');
    await seeText(page, 'The weak one is its breakdown voltage. It must be turned round');
    // What was not asked is not said.
    assert.equal(await page.locator('.changes').getByText(/owner|reversible|approval/).count(), 0);
  });
}
