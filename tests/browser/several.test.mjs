// Several readings in rows and columns: written key by key, walked through at the bench, on the
// sheet and in the table of readings.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { PHONE } from './bench.mjs';
import {
  atDesk, begin, field, giveRole, pick, plain, publish, shelve, startJob,
} from './author.mjs';
import { button, byKeys, heading, link, savedFile, see, seeStatus, seeText } from './technician.mjs';
import { type } from './hand.mjs';

const part = (page, name) => page.getByRole('group', { name, exact: true });

// Writes the headings of rows or columns, and what they set.
async function headings(hand, name, sets, text, control) {
  const { page } = hand;
  await hand.tap(button(part(page, name), sets));
  if (control) await hand.write(field(part(page, name), 'Name of the control'), control);
  await hand.write(field(part(page, name), 'Headings'), text);
}

// Writes a table into the first section of the draft that is shown, and goes back to that.
async function writeTable(hand, title, { columns, rows, unit, limit, from }) {
  const { page } = hand;
  await hand.tap(button(page, 'Several readings Section 1'));
  await page.waitForFunction(() => document.activeElement?.id === 'author-title');
  await hand.write(field(page, 'What is read'), title);
  await pick(hand, 'Test point', 'SK1');
  await pick(hand, 'Instrument', 'meter');
  await pick(hand, 'Unit', unit);
  await headings(hand, 'Columns', ...columns);
  await headings(hand, 'Rows', ...rows);
  if (limit) await hand.write(field(page, 'Limit of all that have none of their own'), limit);
  if (from) await pick(hand, 'Counted from the reading of', from);
}

const POWER = {
  columns: ['Mode', 'AM, FM, CW'],
  rows: ['Channel', '1\n20\n40'],
  unit: 'W',
  limit: 'at least 3.5 W',
};
const HARMONICS = {
  columns: ['Nothing: what is read', 'Frequency (MHz)\nLevel (dBc) = at most -60 dBc'],
  rows: ['A control', '2nd, 3rd', 'Harmonic'],
  unit: 'dBc',
};
const RESPONSE = {
  columns: ['Nothing: what is read', ''],
  rows: ['A control', '300 Hz\n500 Hz\n1000 Hz\n2000 Hz\n3000 Hz', 'Generator frequency'],
  unit: 'dB',
  limit: '-3 dB to 1 dB',
  from: 'Audio response: 1000 Hz',
};

// Types a reading into the step that is shown and enters it by the key.
async function enter(page, title, digits) {
  await see(heading(page, title));
  await page.waitForFunction(() => document.getElementById('reading') !== null);
  await page.keyboard.type(digits);
  await page.keyboard.press('Enter');
}

const table = (page) => page.locator('.several-table');
const cells = async (page) => (await table(page).locator('td a').allInnerTexts()).map((it) => plain(it).split('\n'));

test('three channels in three modes: written, walked through with Enter alone, held where one is outside', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Club trainer, powers');
  await writeTable(hand, 'Carrier power', POWER);
  await see(heading(page, 'Carrier power, 9 readings'));
  assert.equal(await table(page).locator('td a').count(), 9);
  await seeText(page, 'No errors');
  await hand.tap(link(page, 'All steps of the draft'));
  const titles = await page.locator('.draft-row .step-title').allInnerTexts();
  assert.equal(titles[5], 'Carrier power: channel 20, CW');
  const { procedure } = await publish(hand, 1);
  assert.equal(procedure.tables[0].cells.flat().length, 9);

  await startJob(hand, 'QRC-90');
  await enter(page, 'Carrier power: channel 1, AM', '4.1');
  await enter(page, 'Carrier power: channel 1, FM', '3.9');
  // One outside holds, as found; once it is mended it goes on.
  await enter(page, 'Carrier power: channel 1, CW', '3.1');
  await seeStatus(page, 'outside');
  await seeText(page, '2 of 9 done, not all inside');
  await page.getByRole('button', { name: 'As left', exact: true }).tap();
  await enter(page, 'Carrier power: channel 1, CW', '3.8');
  for (const [title, digits] of [
    ['channel 20, AM', '4.0'], ['channel 20, FM', '4.0'], ['channel 20, CW', '4.0'],
    ['channel 40, AM', '3.6'], ['channel 40, FM', '3.6'],
  ]) {
    await enter(page, `Carrier power: ${title}`, digits);
  }
  await see(heading(page, 'Carrier power: channel 40, CW'));
  await seeText(page, '8 of 9 done');
  const stands = await cells(page);
  assert.deepEqual(stands[2], ['3.8 W', 'found 3.1 W', 'done']);
  assert.deepEqual(stands[8], ['–', 'open']);
  const here = table(page).locator('[aria-current=step]');
  assert.equal(await here.count(), 1);
  const size = await here.boundingBox();
  assert.ok(size.width >= 44 && size.height >= 44, 'large enough to tap');
  await enter(page, 'Carrier power: channel 40, CW', '3.6');
  await seeText(page, '9 of 9 done');
  await see(heading(page, 'Carrier power: channel 40, CW'));

  // A cell leads to its step; the list of steps has them in one block.
  await table(page).locator('td a').first().tap();
  await see(heading(page, 'Carrier power: channel 1, AM'));
  await link(page, 'All steps').tap();
  const block = page.locator('.steps-table');
  assert.match(plain(await block.locator('summary').first().innerText()), /1–9\s+Carrier power\s+9 of 9 done\s+done/);
  await block.locator('summary').first().tap();
  await see(block.getByRole('link', { name: /channel 20, FM/ }));
});

test('a harmonic list with frequency and level, and an audio response counted from one of its cells: drawn, printed, told apart by their conditions', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Club trainer, proof');
  await writeTable(hand, 'Harmonics', HARMONICS);
  await hand.tap(link(page, 'All steps of the draft'));
  await writeTable(hand, 'Audio response', RESPONSE);
  await seeText(page, 'No errors');
  await hand.tap(link(page, 'All steps of the draft'));
  await publish(hand, 1);
  await startJob(hand, 'QRC-91');
  await enter(page, 'Harmonics: 2nd, Frequency', '54.370');
  await enter(page, 'Harmonics: 2nd, Level', '-64');
  await enter(page, 'Harmonics: 3rd, Frequency', '81.555');
  await enter(page, 'Harmonics: 3rd, Level', '-71');
  await seeText(page, '4 of 4 done');
  await byKeys(page).next();

  await enter(page, 'Audio response: 300 Hz', '-5');
  await enter(page, 'Audio response: 500 Hz', '-1');
  assert.deepEqual((await cells(page))[0], ['−5 dB', 'waits']);
  await enter(page, 'Audio response: 1000 Hz', '0');
  await enter(page, 'Audio response: 2000 Hz', '0.5');
  await enter(page, 'Audio response: 3000 Hz', '-2');
  // The one that waited is outside now, and is what is left to do.
  await see(heading(page, 'Audio response: 300 Hz'));
  await seeStatus(page, 'outside');
  const picture = page.getByRole('img', { name: /^.?Audio response.? in dB over generator frequency: 5 points, 1 outside/ });
  await see(picture);
  await page.getByRole('button', { name: 'As left', exact: true }).tap();
  await enter(page, 'Audio response: 300 Hz', '-2.5');
  await seeText(page, '5 of 5 done');

  await link(page, 'All steps').tap();
  await link(page, 'Report').tap();
  const sheet = page.locator('.report-matrix');
  await see(sheet);
  const [harmonics, response] = (await sheet.allInnerTexts()).map(plain);
  assert.match(harmonics, /Harmonics: steps 1 to 4; SK1 · meter/);
  assert.match(harmonics, /54\.370 MHz/);
  assert.match(response, /−2\.5 dB[^]*found −5 dB/);
  await see(page.locator('.response'));
  const csv = await savedFile(page, () => page.getByRole('button', { name: /spreadsheet|table/i }).first().tap());
  const lines = csv.text.split('\r\n');
  assert.match(lines[0], /mode,channel,state,supply,controls,table,row,column,pass,load,generator frequency,/);
  assert.ok(lines.some((line) => line.includes(',Generator frequency: 300 Hz,Audio response,300 Hz,Reading,')), csv.text);
});

// All keys are on their way before anything could come of the first.
const burst = (page, keys) => Promise.all([...keys].map((key) => page.keyboard.press(key === '\n' ? 'Enter' : key)));

test('cells are walked faster than they are painted, and each has what was typed for it', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Club trainer, powers');
  await writeTable(hand, 'Carrier power', POWER);
  await hand.tap(link(page, 'All steps of the draft'));
  await publish(hand, 1);
  await startJob(hand, 'QRC-92');
  await see(heading(page, 'Carrier power: channel 1, AM'));
  await page.waitForFunction(() => document.getElementById('reading') !== null);
  const readings = ['4.11', '4.12', '4.13', '4.14', '4.15', '4.16', '4.17', '4.18', '4.19'];
  await burst(page, readings.map((digits) => `${digits}\n`).join(''));
  await seeText(page, '9 of 9 done');
  assert.deepEqual((await cells(page)).map(([reading]) => reading), readings.map((digits) => `${digits} W`));
  // Nothing of it stands in a field any more.
  await table(page).locator('td a').first().tap();
  await see(heading(page, 'Carrier power: channel 1, AM'));
  assert.equal(await page.locator('#reading').inputValue(), '');
  // A second time as the first.
  const again = readings.map((digits) => digits.replace('4.', '5.'));
  await burst(page, again.map((digits) => `${digits}\n`).join(''));
  await see(heading(page, 'Carrier power: channel 40, CW'));
  const rows = (await cells(page)).map((lines) => lines.join(' '));
  assert.equal(rows.filter((row, at) => row.includes(`${again[at]} W`)).length, 9, rows.join('; '));
});

test('a reading that is taken back from the next cell is read again where it was', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Club trainer, powers');
  await writeTable(hand, 'Carrier power', POWER);
  await hand.tap(link(page, 'All steps of the draft'));
  await publish(hand, 1);
  await startJob(hand, 'QRC-93');
  await enter(page, 'Carrier power: channel 1, AM', '4.44');
  await see(heading(page, 'Carrier power: channel 1, FM'));
  await button(page, 'Undo').tap();
  await button(page, 'Undo it').tap();
  await enter(page, 'Carrier power: channel 1, AM', '4.1');
  await see(heading(page, 'Carrier power: channel 1, FM'));
  await page.waitForFunction(() => document.querySelector('.several-table td a').innerText.includes('4.1'));
  assert.deepEqual((await cells(page)).slice(0, 2).map(([reading]) => reading), ['4.1 W', '–']);
});

const place = (locator) => locator.evaluate((it) => {
  const { left, right, top, bottom } = it.getBoundingClientRect();
  return { left, right, top, bottom };
});

// Why the present cell is not wholly seen: beyond the frame of its table, or under its headings.
async function uncut(page) {
  await page.waitForTimeout(200);
  const cell = await place(table(page).locator('[aria-current=step]'));
  const frame = await place(page.locator('.several .wide'));
  const corner = await place(table(page).locator('thead td'));
  const within = (low, high, from, to) => low >= from - 1 && high <= to + 1;
  assert.ok(within(cell.left, cell.right, Math.max(corner.right, 0), frame.right), `${cell.left} to ${cell.right}, behind ${corner.right}, to ${frame.right}`);
  assert.ok(within(cell.top, cell.bottom, corner.bottom, frame.bottom), `${cell.top} to ${cell.bottom}, below ${corner.bottom}, to ${frame.bottom}`);
  return cell;
}

test('on a tablet three rows stand whole in their frame, and of five columns the present cell does', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Club trainer, powers');
  await writeTable(hand, 'Carrier power', { ...POWER, columns: ['Mode', 'AM, FM, USB, LSB, CW'] });
  await hand.tap(link(page, 'All steps of the draft'));
  await publish(hand, 1);
  await startJob(hand, 'QRC-94');
  for (const mode of ['AM', 'FM', 'USB', 'LSB', 'CW']) {
    const title = `Carrier power: channel 1, ${mode}`;
    await see(heading(page, title));
    await uncut(page);
    if (mode !== 'FM') {
      await enter(page, title, '4.0');
      continue;
    }
    // What was found outside takes a line more.
    await enter(page, title, '3.1');
    await page.getByRole('button', { name: 'As left', exact: true }).tap();
    await enter(page, title, '3.8');
  }
  await see(heading(page, 'Carrier power: channel 20, AM'));
  const frame = page.locator('.several .wide');
  const [all, seen] = await frame.evaluate((it) => [it.scrollHeight, it.clientHeight]);
  assert.ok(all <= seen, `${all} px in ${seen} px`);
  const bar = await place(page.locator('.bar'));
  assert.ok((await place(frame)).bottom <= bar.top, 'above the keys below');
});

test('on a phone a table scrolls within itself and shows the present cell below target and set-up', async (t) => {
  const { page, hand } = await atDesk(t, PHONE);
  await begin(hand, 'Club trainer, powers');
  await writeTable(hand, 'Carrier power', { ...POWER, columns: ['Mode', 'AM, FM, USB, LSB, CW'] });
  await hand.tap(link(page, 'All steps of the draft'));
  await publish(hand, 1);
  await startJob(hand, 'QRC-92');
  await button(page, 'Measure').tap();
  const inSight = async (mode, changed) => {
    await see(heading(page, `Carrier power: channel 1, ${mode}`));
    const cell = await uncut(page);
    const keys = await place(page.locator('.dock'));
    assert.ok(cell.left >= 0 && cell.right <= 390, `${cell.left} to ${cell.right}`);
    assert.ok(cell.top >= 0 && cell.bottom <= keys.top, `${cell.bottom} above ${keys.top}`);
    const head = await place(page.locator('.step-line'));
    for (const name of ['.target-line .target', '.set-up-line']) {
      const { top, bottom } = await place(page.locator(name).first());
      assert.ok(top >= head.bottom && bottom <= keys.top, `${name} of ${mode} from ${top} to ${bottom}`);
    }
    assert.equal(plain(await page.locator('.set-up-line').innerText()), changed);
  };
  await inSight('AM', 'Mode AM · Channel 1');
  for (const [mode, next] of [['AM', 'FM'], ['FM', 'USB'], ['USB', 'LSB'], ['LSB', 'CW']]) {
    await enter(page, `Carrier power: channel 1, ${mode}`, '4.0');
    await inSight(next, `Mode ${next}`);
  }
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 390);
});

test('what stands in the path and what is set is typed once for a table, and reaches each reading, the sheet and the table of readings', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Club trainer, powers behind a pad');
  await writeTable(hand, 'Power', {
    columns: ['Mode', 'AM, FM'],
    rows: ['Load, generator or analyser', '300 Hz, 1000 Hz'],
    unit: 'W',
    limit: '20 W ± 1 dB',
  });
  await hand.tap(button(part(page, 'Rows'), 'Modulation tone'));
  const all = part(page, 'In every cell');
  await hand.write(field(all, 'Impedance'), '50 Ω');
  await hand.write(field(all, 'In the path'), 'pad');
  await seeText(page, /instrument “pad”: add it or choose another/);
  await hand.tap(all.getByText('Load, generator and analyser', { exact: true }));
  await hand.write(field(all, 'Load'), '50 Ω, 100 W');
  // What the headings set is theirs.
  assert.equal(await field(all, 'Modulation tone').count(), 0);
  assert.equal(await all.getByRole('button', { name: /^Mode: / }).count(), 0);
  assert.equal(await all.getByRole('button', { name: /^Channel: / }).count(), 1);
  await hand.tap(link(page, 'All steps of the draft'));
  await giveRole(hand, 'pad');
  await seeText(page, 'No errors');
  const { procedure } = await publish(hand, 1);
  const { steps } = procedure.sections[0];
  assert.deepEqual(procedure.tables[0].rows.sets, { setting: 'modulation-tone' });
  for (const [index, step] of steps.entries()) {
    assert.equal(step.work.read.gauge.into, '50 Ω');
    assert.deepEqual(step.work.read.gauge.path, { through: ['pad'] });
    assert.deepEqual(step['set-up'].settings, {
      load: '50 Ω, 100 W',
      'modulation-tone': index < 2 ? '300 Hz' : '1000 Hz',
    });
  }

  await startJob(hand, 'QRC-93');
  await see(heading(page, 'Power: 300 Hz, AM'));
  const there = page.url();
  await enter(page, 'Power: 300 Hz, AM', '13.0 dBm');
  await seeText(page, 'Not judged: loss of the pad not known.');
  await hand.tap(link(page, 'Describe it under Instruments'));
  await shelve(hand, { name: 'Club pad', role: 'pad', loss: '30 dB', within: '0.3 dB' });
  await page.goto(there);
  await see(heading(page, 'Power: 300 Hz, AM'));
  await hand.tap(button(page, 'Club pad'));
  await page.waitForFunction(() => document.querySelector('.verdict')?.dataset.place === 'inside');
  await byKeys(page).next();
  for (const title of ['300 Hz, FM', '1000 Hz, AM', '1000 Hz, FM']) {
    await enter(page, `Power: ${title}`, '13.0 dBm');
  }
  await seeText(page, '4 of 4 done');
  assert.deepEqual((await cells(page)).map(([reading]) => reading), ['20.0 W', '20.0 W', '20.0 W', '20.0 W']);

  await link(page, 'All steps').tap();
  await link(page, 'Report').tap();
  await see(page.locator('.report-matrix'));
  const sheet = plain(await page.locator('.report-matrix').innerText());
  assert.match(sheet, /SK1 · meter, through pad, into 50 Ω/);
  assert.match(sheet, /Load 50 Ω, 100 W/);
  assert.equal(sheet.match(/indicated 13\.0 dBm, Club pad \+30 dB/g).length, 4);
  const csv = await savedFile(page, () => page.getByRole('button', { name: /spreadsheet|table/i }).first().tap());
  const rows = csv.text.trim().split('\r\n').slice(1).map(plain);
  assert.equal(rows.length, 4);
  for (const row of rows) {
    assert.match(row, /13\.0,dBm,.*20\.0,W,Club pad \+30 dB/);
    assert.ok(row.includes('"50 Ω, 100 W"'), row);
  }
});
