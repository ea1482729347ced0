// Units as the trade reads them, typed key by key: a tolerance in dB on watts, watts read as dBm,
// the EMF and the PD of a generator, a pad in the path. What is on the screen, on the sheet and in
// the table of readings.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { PHONE } from './bench.mjs';
import {
  atDesk, begin, field, giveRole, plain, press, publish, shelve, startJob, writeSteps,
} from './author.mjs';
import { button, heading, link, savedFile, see, seeText } from './technician.mjs';
import { type } from './hand.mjs';

const POWER = {
  title: 'Carrier power', kind: 'Read', at: 'SK1', instrument: 'power-meter', unit: 'W',
  target: 'Nominal ±', value: '20', margin: '1 dB',
};
const SENSITIVITY = {
  title: 'Sensitivity', kind: 'Read', at: 'SK1', instrument: 'generator', unit: 'µV EMF',
};

// Types a reading into the step that is shown and enters it by the key.
async function enter(page, title, text) {
  await see(heading(page, title));
  await page.waitForFunction(() => document.getElementById('reading') !== null);
  await type(page.locator('#reading'), text);
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => document.getElementById('reading').value === '');
}

const verdict = async (page) => plain(await page.locator('.verdict').innerText());
const looked = (page, name) => process.env.LOOK && page.screenshot({ path: `${process.env.LOOK}/${name}.png` });

test('20 W ± 1 dB: written, shown with its limits, read in dBm by a key and by a spelled unit', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Club trainer, power');
  await writeSteps(hand, [POWER]);
  const { procedure } = await publish(hand, 1);
  assert.deepEqual(procedure.sections[0].steps[0].work.read.target.fixed.around.above, { absolute: '1 dB' });
  await startJob(hand, 'QRC-70');
  await see(heading(page, 'Carrier power'));
  await seeText(page, /20\sW\s±\s1\sdB \(15\.89\sW to 25\.17\sW\)/);
  const keys = page.locator('.scale-key');
  assert.deepEqual(await keys.allInnerTexts(), ['mW', 'W', 'kW', 'dBm']);
  await keys.nth(3).tap();
  await type(page.locator('#reading'), '43.0');
  assert.match(await verdict(page), /^20\.0 W\s+indicated 43\.0 dBm\s+4\.1 W inside, on target/);
  await looked(page, 'dbm-typed');
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => document.getElementById('reading').value === '');
  await enter(page, 'Carrier power', '44.1 dBm');
  assert.match(await verdict(page), /25\.7 W\s+indicated 44\.1 dBm\s+.* over the upper limit/);
  await enter(page, 'Carrier power', '25.1 W');
  assert.match(await verdict(page), /25\.1 W\s+.* inside/);
  // The table is set after the verdict.
  await page.locator('table.taken tbody tr').nth(2).waitFor();
  const rows = (await page.locator('table.taken tbody tr').allInnerTexts()).map(plain);
  assert.match(rows[2], /20\.0 W[^]*indicated 43\.0 dBm/);
  await looked(page, 'dbm-rows');
  // A voltage is none of its readings, and a voltage across nothing stated is refused with why.
  await type(page.locator('#reading'), '31 V rms');
  await page.keyboard.press('Enter');
  await seeText(page, /The reading is in V rms, the step judges in W, and a voltage is a power only in an impedance, and this step states none: type it in W/);
  await link(page, 'All steps').tap();
  await link(page, 'Report').tap();
  await see(page.locator('.report'));
  const sheet = plain(await page.locator('.report').innerText());
  assert.match(sheet, /20 W ± 1 dB \(15\.89 W to 25\.17 W\)/);
  assert.match(sheet, /indicated 43\.0 dBm/);
  const csv = await savedFile(page, () => page.getByRole('button', { name: /spreadsheet|table/i }).first().tap());
  const [head, first] = csv.text.replace('\ufeff', '').split('\r\n').map((line) => line.split(','));
  const cell = (name) => first[head.indexOf(name)];
  assert.deepEqual(
    ['value', 'unit', 'corrected value', 'corrected unit', 'lower limit', 'limit unit'].map(cell),
    ['43.0', 'dBm', '20.0', 'W', '15.8865646945', 'W'],
  );
});

test('an EMF asked for, given as PD through a pad: not judged until the loss of the pad is known, then corrected for both', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Club trainer, receiver');
  await writeSteps(hand, [{
    ...SENSITIVITY,
    also: async () => {
      await press(hand, 'At most');
      await hand.write(field(page, 'Highest figure'), '1');
      await hand.write(field(page, 'Impedance'), '50 Ω');
      await hand.write(field(page, 'In the path'), 'pad');
      await seeText(page, /instrument “pad”: add it or choose another/);
      await hand.tap(button(page, 'Into the set'));
      await looked(page, 'author-path');
    },
  }], { faults: true });
  // The role is put onto the list, as any other.
  await giveRole(hand, 'pad');
  await seeText(page, 'No errors');
  const { procedure } = await publish(hand, 1);
  const { gauge } = procedure.sections[0].steps[0].work.read;
  assert.deepEqual(gauge.path, { through: ['pad'], direction: 'into-set' });
  assert.equal(gauge.into, '50 Ω');

  await startJob(hand, 'QRC-71');
  await see(heading(page, 'Sensitivity'));
  const there = page.url();
  const keys = page.locator('.scale-key');
  assert.deepEqual(await keys.allInnerTexts(), ['nV EMF', 'µV EMF', 'mV EMF', 'µV PD', 'dBm', 'dBµV EMF', 'dBµV PD']);
  assert.equal(await keys.filter({ visible: true }).count(), 3, 'the unit due, and one to either side');
  await button(page, 'More units').tap();
  await keys.filter({ hasText: /^µV PD$/ }).tap();
  await enter(page, 'Sensitivity', '4.5');
  await seeText(page, 'Not judged: loss of the pad not known.');
  assert.match(await verdict(page), /^9\.0 µV EMF\s+indicated 4\.5 µV PD, loss of the pad not known/);
  await looked(page, 'not-judged');

  // Described on the shelf, it is what was in the path.
  await hand.tap(link(page, 'Describe it under Instruments'));
  await shelve(hand, { name: 'Club pad', role: 'pad', loss: '20 dB', within: '0.3 dB' });
  await looked(page, 'kit');
  await page.goto(there);
  await hand.tap(button(page, 'Club pad'));
  await page.waitForFunction(() => document.querySelector('.verdict')?.dataset.place === 'inside');
  assert.match(await verdict(page), /^0\.90 µV EMF\s+indicated 4\.5 µV PD, Club pad −20 dB\s+0\.10 µV EMF inside/);
  await seeText(page, 'Club pad, 20\u00a0dB ±\u00a00.3\u00a0dB');
  await looked(page, 'through-the-pad');
  // A level that does not say whether it is EMF or PD is asked.
  await type(page.locator('#reading'), '19 dBuV');
  await page.keyboard.press('Enter');
  await seeText(page, /it does not say whether it is EMF or PD: type dBµV with EMF or PD behind it/);
  await enter(page, 'Sensitivity', '19.0 dBuV emf');
  assert.match(await verdict(page), /^0\.89 µV EMF\s+indicated 19\.0 dBµV EMF, Club pad −20 dB/);

  await link(page, 'All steps').tap();
  await link(page, 'Report').tap();
  await see(page.locator('.report'));
  const sheet = plain(await page.locator('.report').innerText());
  assert.match(sheet, /0\.89 µV EMF/);
  assert.match(sheet, /indicated 4\.5 µV PD, Club pad −20 dB/);
  const csv = await savedFile(page, () => page.getByRole('button', { name: /spreadsheet|table/i }).first().tap());
  const [head, first] = csv.text.replace('\ufeff', '').split('\r\n').map((line) => line.match(/("[^"]*"|[^,]*)(,|$)/g).map((it) => it.replace(/,$/, '')));
  const cell = (name) => plain(first[head.indexOf(name)]);
  assert.deepEqual(
    ['value', 'unit', 'corrected value', 'corrected unit', 'correction'].map(cell),
    ['4.5', 'µV PD', '0.90', 'µV EMF', 'Club pad −20 dB'],
  );
});

test('on a phone the unit keys fit, and a PD typed with its unit is taken as the EMF that it is', async (t) => {
  const { page, hand } = await atDesk(t, PHONE);
  await begin(hand, 'Club trainer, receiver');
  await writeSteps(hand, [{
    ...SENSITIVITY,
    also: async () => {
      await hand.write(field(page, 'Impedance'), '50 Ω');
      await press(hand, 'At most');
      await hand.write(field(page, 'Highest figure'), '1');
    },
  }]);
  await publish(hand, 1);
  await startJob(hand, 'QRC-72');
  await see(heading(page, 'Sensitivity'));
  await button(page, 'Measure').tap();
  await enter(page, 'Sensitivity', '0.42 uV PD');
  assert.match(await verdict(page), /^0\.84 µV EMF\s+indicated 0\.42 µV PD/);
  await looked(page, 'phone');
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 390);
});
