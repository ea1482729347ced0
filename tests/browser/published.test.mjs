// Steps as published tests have them: a stop that a reading opens, steps that are repeated until
// they hold, and the settings of generator and analyser. Written and worked key by key.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { PHONE, TABLET, barriers } from './bench.mjs';
import {
  atDesk, begin, field, pick, plain, press, publish, startJob, writeSteps,
} from './author.mjs';
import {
  button, byKeys, heading, link, savedFile, see, seeStatus, seeText, toTheKeys, toTheTask,
} from './technician.mjs';
import { type, uncovered } from './hand.mjs';

const reading = (page) => page.getByRole('textbox', { name: /^Reading, / });

async function enter(page, digits) {
  await toTheKeys(page);
  await type(reading(page), digits);
  await page.keyboard.press('Enter');
}

const verdict = async (page) => plain(await page.locator('.stop .when').innerText());

async function writeStop(hand) {
  const { page } = hand;
  await hand.tap(button(page, 'Add a step Section 1'));
  await page.waitForFunction(() => document.activeElement?.id === 'author-title');
  await hand.write(field(page, 'Title'), 'Discharge the reservoir');
  await press(hand, 'Hold point');
  await hand.write(field(page, 'To be confirmed'), 'The reservoir capacitor is discharged.');
  assert.equal(await field(page, 'Highest figure').count(), 0, 'by hand, nothing is read');
  await press(hand, 'By a reading inside');
  await pick(hand, 'Test point', 'TP1');
  await pick(hand, 'Instrument', 'meter');
  await pick(hand, 'Unit', 'V');
  await hand.write(field(page, 'Highest figure'), '10');
  assert.equal(await button(page, 'Frequency plan').count(), 0, 'a stop has a figure of its own');
  await hand.tap(button(page, 'New step below'));
  await page.waitForFunction(() => document.activeElement?.id === 'author-title');
  await hand.write(field(page, 'Title'), 'Change the capacitor');
  await press(hand, 'Action');
  await hand.tap(link(page, 'All steps of the draft'));
}

test('a stop with a reading: written, closed while it is outside, opened by a reading on the limit, ended by a break, on the sheet', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Club trainer, supply');
  await writeStop(hand);
  await seeText(page, 'No errors');
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
  await seeText(page, 'Only a reading inside its limits confirms this.');
  assert.equal(await button(page, 'I confirm').count(), 0);
  assert.equal(await button(page, 'As found').count(), 0);
  assert.ok(await button(page, 'Waive').isDisabled());
  await enter(page, '32.1');
  await seeStatus(page, 'outside');
  assert.equal(await verdict(page), '32.1 V is outside: hold point stays closed. Read again once it is inside.');
  assert.deepEqual(await barriers(page), []);
  // Next says that it is not confirmed, and what is below stays closed.
  await keys.next();
  await seeText(page, 'This hold point is not confirmed.');
  await uncovered(page);
  await keys.next();
  await see(heading(page, 'Change the capacitor'));
  assert.ok(await button(page, 'Done').isDisabled());
  await link(page, 'hold point 1').tap();

  await enter(page, '10.0');
  await seeStatus(page, 'done');
  assert.match(await verdict(page), /^Confirmed by 10\.0 V, /);
  await keys.next();
  await see(heading(page, 'Change the capacitor'));
  await button(page, 'Done').tap();
  await seeStatus(page, 'done');

  // After a break it has to be read again.
  await link(page, 'All steps').tap();
  await button(page, 'Pause (hold points lapse)').tap();
  await seeText(page, 'Pause logged.');
  await page.getByRole('link', { name: /Discharge the reservoir/ }).tap();
  await see(heading(page, 'Discharge the reservoir'));
  await seeStatus(page, 're-confirm');
  assert.match(await verdict(page), /^Confirmed .* Paused since: re-confirm\.$/);
  await enter(page, '4.2');
  await seeStatus(page, 'done');


  await link(page, 'All steps').tap();
  await link(page, 'Report').tap();
  await seeText(page, 'confirmed by');
  const csv = await savedFile(page, () => page.getByRole('button', { name: /spreadsheet|table/i }).first().tap());
  const rows = csv.text.split('\r\n').filter((row) => row.includes('Discharge the reservoir'));
  assert.equal(rows.length, 3);
});

async function writeSet(hand, title, adjuster, at) {
  const { page } = hand;
  await page.waitForFunction(() => document.activeElement?.id === 'author-title');
  await hand.write(field(page, 'Title'), title);
  await press(hand, 'Set to target');
  await pick(hand, 'Adjuster', adjuster);
  await pick(hand, 'Test point', at);
  await pick(hand, 'Instrument', 'meter');
  await pick(hand, 'Unit', 'V');
  await hand.write(field(page, 'Figure'), '5.0');
  await hand.write(field(page, 'Tolerance ±'), '0.2 V');
}

async function writeEnds(hand) {
  const { page } = hand;
  await hand.tap(button(page, 'Add a step Section 1'));
  await writeSet(hand, 'Low end', 'VR1', 'TP1');
  await hand.tap(button(page, 'New step below'));
  await writeSet(hand, 'High end', 'VR2', 'TP2');
  await hand.tap(button(page, 'New step below'));
  await page.waitForFunction(() => document.activeElement?.id === 'author-title');
  await hand.write(field(page, 'Title'), 'Both ends');
  await press(hand, 'Repeat');
  await choose(hand, 'From step', '1 Low end');
  await choose(hand, 'To step', '2 High end');
  await hand.write(field(page, 'Most passes'), '3');
}

// Picks a step by number and title.
async function choose(hand, label, name) {
  const { page } = hand;
  await hand.tap(page.getByRole('button', { name: new RegExp(`^${label}: `) }));
  const panel = page.getByRole('group', { name: `${label}, to choose from` });
  await hand.tap(panel.getByRole('button', { name }).first());
  await see(page.getByRole('button', { name: `${label}: ${name}`, exact: true }));
}

// One adjustment: where it is found, a try, and the same as left.
async function adjust(page, found, left) {
  await enter(page, found);
  await enter(page, left);
  await button(page, `Record as left: ${left} V`).tap();
}

const shows = async (page) => plain(await page.locator('.passes .shows').innerText());
const readings = async (page) => (await page.locator('.passes-table tbody tr').allInnerTexts())
  .map((row) => plain(row).split(/[\t\n]+/).map((it) => it.trim()));

// Both ends set for the first time, and on to the step that repeats them.
async function firstPass(page) {
  const keys = byKeys(page);
  await see(heading(page, 'Low end'));
  await adjust(page, '4.2', '5.0');
  await keys.next();
  await see(heading(page, 'High end'));
  await adjust(page, '4.6', '5.0');
  await keys.next();
  return keys;
}

test('repeat until: written, led pass by pass by one key, held by a reading outside, done when all are inside in one pass, on sheet and in the table', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Club trainer, both ends');
  await writeEnds(hand);
  await hand.tap(link(page, 'All steps of the draft'));
  await seeText(page, 'No errors');
  const { procedure } = await publish(hand, 1);
  const [low, high, again] = procedure.sections[0].steps;
  assert.deepEqual(again.work.repeat, { from: low.id, to: high.id, passes: 3 });

  await startJob(hand, 'QRC-71');
  const keys = await firstPass(page);
  await see(heading(page, 'Both ends'));
  await seeText(page, 'Repeat steps 1 to 2 until all of them are inside in one pass, in 3 passes at most.');
  assert.match(await shows(page), /^Not yet: step 2 was turned after step 1 was read/);

  // One key leads to the first of them, which is open again.
  await page.keyboard.press('Enter');
  await see(heading(page, 'Low end'));
  await seeStatus(page, 'recheck');
  await seeText(page, 'Recheck: pass 2.');
  await enter(page, '5.4');
  await seeStatus(page, 'outside');
  await enter(page, '5.1');
  await button(page, 'Record as left: 5.1 V').tap();
  await keys.next();
  await see(heading(page, 'High end'));
  await seeStatus(page, 'recheck');
  await enter(page, '4.9');
  await seeStatus(page, 'done');
  await link(page, 'Repeated by step 3').tap();
  await see(heading(page, 'Both ends'));
  await seeStatus(page, 'done');
  assert.equal(await shows(page), 'It holds in this pass.');
  assert.deepEqual(await barriers(page), []);
  assert.deepEqual(await readings(page), [
    ['1 Low end', '5.0 V', 'began at 4.2 V', '5.1 V', 'began at 5.4 V'],
    ['2 High end', '5.0 V', 'began at 4.6 V', '4.9 V'],
  ]);

  await link(page, 'All steps').tap();
  await link(page, 'Report').tap();
  await seeText(page, 'Gone through until they held');
  await seeText(page, 'It holds in this pass.');
  const csv = await savedFile(page, () => page.getByRole('button', { name: /spreadsheet|table/i }).first().tap());
  const table = csv.text.trim().split('\r\n').map((row) => row.split(','));
  const place = table[0].indexOf('pass');
  const rows = table.slice(1).map((row) => row[place]);
  assert.deepEqual(rows, ['1', '1', '1', '1', '1', '1', '2', '2', '2', '2']);
});

test('behind the last pass the step says so, and only a reason settles it', async (t) => {
  const { page, hand } = await atDesk(t, PHONE);
  await begin(hand, 'Club trainer, both ends');
  await writeEnds(hand);
  await hand.write(field(page, 'Most passes'), '2');
  await hand.tap(link(page, 'All steps of the draft'));
  await publish(hand, 1);
  await startJob(hand, 'QRC-72');
  const keys = await firstPass(page);
  await button(page, 'Begin pass 2 at step 1').tap();
  await see(heading(page, 'Low end'));
  await enter(page, '5.6');
  await seeStatus(page, 'outside');
  await uncovered(page);
  await keys.next();
  await uncovered(page);
  await keys.next();
  await see(heading(page, 'High end'));
  await enter(page, '5.0');
  await keys.next();
  await see(heading(page, 'Both ends'));
  assert.match(await shows(page), /^Not yet: step 1 is outside\. This is the last pass that there may be/);
  assert.equal(await page.getByRole('button', { name: /^Begin pass/ }).count(), 0);
  assert.deepEqual(await barriers(page), []);
  await button(page, 'Waive').tap();
  await type(page.getByRole('textbox', { name: /Waive this step/ }), 'The core is at its end');
  await button(page, 'Waive the step').tap();
  await seeStatus(page, 'waived');
});

async function writeAudio(hand) {
  const { page } = hand;
  await hand.tap(button(page, 'Add a step Section 1'));
  await page.waitForFunction(() => document.activeElement?.id === 'author-title');
  await hand.write(field(page, 'Title'), 'Audio at a strong signal');
  await press(hand, 'Read');
  await pick(hand, 'Test point', 'SK2');
  await pick(hand, 'Instrument', 'meter');
  await pick(hand, 'Unit', 'V');
  await press(hand, 'At least');
  await hand.write(field(page, 'Lowest figure'), '1.5');
  await hand.tap(page.getByText('Load, generator and analyser', { exact: true }));
  for (const [name, text] of [
    ['Load', '8 Ω'],
    ['Generator frequency', '28.400 MHz'],
    ['Generator level', '-47 dBm'],
    ['Modulation', 'FM'],
    ['Depth or deviation', '1.5 kHz'],
    ['Modulation tone', '1 kHz'],
  ]) await hand.write(field(page, name), text);
  await hand.tap(button(page, 'New step below'));
  await page.waitForFunction(() => document.activeElement?.id === 'author-title');
  await hand.write(field(page, 'Title'), 'Audio at a weak signal');
  await hand.write(field(page, 'Lowest figure'), '1.2');
  // The step goes on from how the one before leaves the bench.
  assert.equal(await field(page, 'Modulation tone').inputValue(), '1 kHz');
  await hand.tap(field(page, 'Load'));
  await hand.write(field(page, 'Generator level'), '-107 dBm');
}

for (const [name, device] of [['a tablet', TABLET], ['a phone', PHONE]]) {
  test(`the settings of the generator are fields of the step on ${name}: what changed is shown as changed, and each reading has them on sheet and table`, async (t) => {
    const { page, hand } = await atDesk(t, device);
    await begin(hand, 'Club trainer, audio');
    await writeAudio(hand);
    await hand.tap(link(page, 'All steps of the draft'));
    await seeText(page, 'No errors');
    const { procedure } = await publish(hand, 1);
    const [, weak] = procedure.sections[0].steps;
    assert.deepEqual(weak['set-up'].settings, {
      load: '8 Ω',
      'generator-frequency': '28.400 MHz',
      'generator-level': '-107 dBm',
      modulation: 'FM',
      'modulation-depth': '1.5 kHz',
      'modulation-tone': '1 kHz',
    });

    await startJob(hand, 'QRC-73');
    const keys = byKeys(page);
    await see(heading(page, 'Audio at a strong signal'));
    await enter(page, '2.0');
    await keys.next();
    await see(heading(page, 'Audio at a weak signal'));
    await toTheTask(page);
    const setUp = page.locator('.set-up');
    assert.deepEqual(
      (await setUp.locator('tr').allInnerTexts()).map((row) => plain(row).replaceAll(/\s+/g, ' ').trim()),
      ['Generator level -107 dBm was -47 dBm'],
    );
    assert.match(plain(await page.locator('.unchanged').innerText()), /Load 8 Ω · Generator frequency 28\.400 MHz · Modulation FM/);
    await enter(page, '1.3');
    await link(page, 'All steps').tap();
    await link(page, 'Report').tap();
    await see(page.getByText(/Generator level.{1,3}-107 dBm/));
    const csv = await savedFile(page, () => page.getByRole('button', { name: /spreadsheet|table/i }).first().tap());
    const table = csv.text.trim().split('\r\n').map((row) => row.split(','));
    const place = table[0].indexOf('generator level');
    assert.deepEqual(table.slice(1).map((row) => row[place]), ["'-47 dBm", "'-107 dBm"]);
  });
}

// Two adjusters of one null: each of them a dip of the same reading.
const nullBy = (title, adjuster) => ({
  title,
  kind: 'Dip',
  adjuster,
  at: 'TP1',
  instrument: 'scope',
  unit: 'mV p-p',
  state: 'TX',
  mode: 'USB',
  also: async (hand) => {
    await press(hand, 'At most');
    await hand.write(field(hand.page, 'Highest figure'), '8');
  },
});

async function writeTwoTones(hand) {
  const { page } = hand;
  await writeSteps(hand, [
    {
      title: 'Two-tone power', kind: 'Read', at: 'SK1', instrument: 'power-meter', unit: 'W PEP',
      target: 'Nominal ±', value: '20', margin: '1 dB', state: 'TX', mode: 'USB',
      also: async () => {
        await hand.tap(page.getByText('Load, generator and analyser', { exact: true }));
        await hand.write(field(page, 'Load'), '50 Ω');
        await hand.write(field(page, 'Modulation tone'), '700 Hz and 1900 Hz');
      },
    },
    nullBy('Null by the resistor', 'R1'),
    nullBy('Null by the trimmer', 'C1'),
    {
      kind: 'Repeat',
      also: async () => {
        await choose(hand, 'From step', '2 Null by the resistor');
        await choose(hand, 'To step', '3 Null by the trimmer');
        // Without a title it is called by what it repeats.
        await see(heading(page, 'Repeat steps 2 to 3'));
      },
    },
    {
      title: 'SINAD at a weak signal', kind: 'Read', at: 'SK2', instrument: 'audio-analyser', unit: 'dB SINAD',
      target: 'At least', state: 'RX', mode: 'FM',
      also: async () => {
        await hand.write(field(page, 'Lowest figure'), '12');
        await hand.write(field(page, 'Generator level'), '0.25 µV PD');
        await hand.write(field(page, 'Load'), '8 Ω');
        await hand.write(field(page, 'Modulation tone'), '1 kHz');
      },
    },
  ]);
}

// The readings of the job on the screen as the table for spreadsheets has them, by heading.
async function table(page) {
  const csv = await savedFile(page, () => page.getByRole('button', { name: /spreadsheet|table/i }).first().tap());
  const cells = (line) => line.match(/("[^"]*"|[^,]*)(,|$)/g).map((it) => plain(it.replace(/,$/, '').replaceAll('"', '')));
  const [head, ...rows] = csv.text.replace('\ufeff', '').trim().split('\r\n').map(cells);
  return rows.map((row) => (name) => row[head.indexOf(name)]);
}

test('two tones in W PEP, two adjusters on one null and a SINAD: written, worked, each beside its conditions, and told from the last visit at the next', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Club trainer, two tones');
  await writeTwoTones(hand);
  const { procedure } = await publish(hand, 1);
  const { steps } = procedure.sections[0];
  assert.equal(steps[0].work.read.gauge.in, 'W PEP');
  assert.deepEqual(steps[0].work.read.target.fixed.around.above, { absolute: '1 dB' });
  assert.equal(steps[3].title, 'Repeat steps 2 to 3');
  assert.deepEqual(steps[4].work.read.target, { fixed: { 'at-least': '12 dB SINAD' } });

  await startJob(hand, 'QRC-74');
  const keys = byKeys(page);
  await see(heading(page, 'Two-tone power'));
  await seeText(page, /20\sW\sPEP\s±\s1\sdB \(15\.89\sW\sPEP to 25\.17\sW\sPEP\)/);
  const units = page.getByRole('group', { name: 'Unit of the number' }).getByRole('button');
  assert.deepEqual(await units.allInnerTexts(), ['mW PEP', 'W PEP', 'kW PEP', 'dBm PEP']);
  // dBm of a peak envelope power stay that, however they are typed; a mean power is none.
  await enter(page, '42.6 dBm');
  const said = page.locator('.verdict');
  await page.waitForFunction(() => /18\.2/.test(document.querySelector('.verdict')?.innerText));
  assert.match(plain(await said.innerText()), /^18\.2 W PEP\s+indicated 42\.6 dBm PEP\s+.* inside/);
  await seeStatus(page, 'done');
  await keys.next();

  // The trimmer moves what the resistor left: that is stale at once, and one key leads there.
  await see(heading(page, 'Null by the resistor'));
  await enter(page, '22.0');
  await enter(page, '6.0');
  await button(page, 'Record as left: 6.0 mV p-p').tap();
  await seeStatus(page, 'done');
  await keys.next();
  await see(heading(page, 'Null by the trimmer'));
  await enter(page, '6.0');
  await enter(page, '4.5');
  await button(page, 'Record as left: 4.5 mV p-p').tap();
  await seeStatus(page, 'done');
  await keys.next();
  await see(heading(page, 'Repeat steps 2 to 3'));
  await page.getByRole('link', { name: /^(Step 2|2 Null by the resistor)/ }).first().tap();
  await see(heading(page, 'Null by the resistor'));
  await seeStatus(page, 'recheck');
  await enter(page, '4.6');
  await seeStatus(page, 'done');
  await keys.next();
  await see(heading(page, 'Null by the trimmer'));
  await keys.next();
  await see(heading(page, 'Repeat steps 2 to 3'));
  await seeStatus(page, 'done');
  assert.equal(await shows(page), 'It holds in this pass.');
  await keys.next();
  await see(heading(page, 'SINAD at a weak signal'));
  await enter(page, '12.4 dB');
  await seeStatus(page, 'done');

  await link(page, 'All steps').tap();
  await link(page, 'Report').tap();
  await see(page.locator('.report'));
  const sheet = plain(await page.locator('.report').innerText());
  for (const part of [
    /18\.2 W PEP/, /indicated 42\.6 dBm PEP/, /Load 50 Ω/, /Modulation tone 700 Hz and 1900 Hz/,
    /12\.4 dB SINAD/, /Generator level 0\.25 µV PD/,
  ]) assert.match(sheet, part);
  const rows = await table(page);
  const of = (title) => rows.filter((row) => row('title') === title);
  const [power] = of('Two-tone power');
  assert.deepEqual(
    ['value', 'unit', 'corrected value', 'corrected unit', 'limit unit', 'mode', 'state', 'load', 'modulation tone', 'decision rule', 'expanded uncertainty', 'coverage factor']
      .map(power),
    ['42.6', 'dBm PEP', '18.2', 'W PEP', 'W PEP', 'USB', 'TX', '50 Ω', '700 Hz and 1900 Hz', 'simple acceptance', '', ''],
  );
  const [sinad] = of('SINAD at a weak signal');
  assert.deepEqual(
    ['value', 'unit', 'mode', 'state', 'load', 'generator level', 'modulation tone'].map(sinad),
    ['12.4', 'dB SINAD', 'FM', 'RX', '8 Ω', '0.25 µV PD', '1 kHz'],
  );
  for (const row of of('Null by the trimmer')) assert.deepEqual(['mode', 'state'].map(row), ['USB', 'TX']);

  // The next visit of the set: what was left, and how far it is found from that.
  await page.goBack();
  await link(page, 'Sign off').tap();
  await see(heading(page, 'Sign off'));
  await button(page, 'Sign off the job').tap();
  await see(heading(page, 'Signed off'));
  await link(page, 'Jobs').tap();
  await link(page, 'Start a job').tap();
  await page.getByRole('link', { name: 'Club trainer, two tones' }).tap();
  await type(page.getByLabel('Serial number', { exact: true }), 'QRC-74');
  await type(page.getByLabel('Technician', { exact: true }), 'Bench 1');
  await hand.tap(button(page, 'Start the job'));
  await see(heading(page, 'Two-tone power'));
  const before = page.locator('.before');
  await see(before.filter({ hasText: /^Last visit, .*: left at 18\.2\sW\sPEP\.$/ }));
  await enter(page, '17.0');
  await see(before.filter({ hasText: /Found now: 17\.0\sW\sPEP, 1\.2\sW\sPEP below that\./ }));
  assert.deepEqual(await barriers(page), []);
});
