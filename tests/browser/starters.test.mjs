// From a pasted table or a starter to a published procedure, and on to a job and its report.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { readFileSync } from 'node:fs';
import { DIST, PHONE, TABLET, openBrowser, openHost } from './bench.mjs';
import { author, begin, designate, field, publish } from './author.mjs';
import { button, byTouch, heading, link, see, seeText, work } from './technician.mjs';
import { paste, type } from './hand.mjs';

const ROWS = readFileSync(new URL('../forty_rows.tsv', import.meta.url), 'utf8');

async function atDesk(t, device) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  return { page, hand: author(page) };
}

test('forty rows copied from a spreadsheet become a procedure on a phone', async (t) => {
  const { page, hand } = await atDesk(t, PHONE);
  await begin(hand, 'Pasted');
  await hand.tap(link(page, 'Steps from a table'));
  const [first, second, ...rest] = ROWS.trimEnd().split('\n');
  await paste(field(page, 'The table'), [first, second.replace('260 mA', 'a bit'), ...rest].join('\n'));
  // What is not understood is told by its cell, and corrected where it stands.
  await seeText(page, 'Target “< a bit”');
  await paste(field(page, 'The table'), ROWS);
  await page.getByText('Target “< a bit”').waitFor({ state: 'detached' });
  assert.equal(await page.getByText('Not understood').count(), 0);
  await seeText(page, 'Set to target · RV401 · LK401 · 30.0 mA + 4 mA − 2 mA');
  await hand.tap(button(page, 'Add 40 steps'));
  await seeText(page, 'No errors');
  const { procedure } = await publish(hand, 1);
  const steps = procedure.sections.flatMap((section) => section.steps);
  assert.equal(steps.length, 40);
  assert.deepEqual(steps[0].work.read.target, { fixed: { 'at-most': '260 mA' } });
  assert.deepEqual(steps[36]['set-up'], { mode: 'AM', channel: '1', signal: 'tx' });
});

test('the open alignment is filled in, published, and a job on it begun and reported', async (t) => {
  const { page, hand } = await atDesk(t, TABLET);
  await hand.tap(link(page, 'Procedures'));
  await hand.tap(link(page, 'Write a procedure'));
  await hand.tap(button(page, 'Use template: 27 MHz: alignment, 40 channels AM/SSB'));
  await seeText(page, '14 errors');

  // Nothing can be published of it as it is.
  await hand.tap(link(page, 'Publish …'));
  await seeText(page, 'Fix 14 errors to publish.');
  await page.goBack();

  await hand.tap(link(page, 'Adjusters, test points, instruments'));
  await designate(page, 'D');
  await hand.tap(link(page, 'All steps of the draft'));
  await seeText(page, '12 errors');
  // Each fault leads to the field where it is put right.
  for (let left = 12; left > 0; left -= 1) {
    await hand.tap(page.getByRole('link', { name: /Its target is missing/ }).first());
    const figure = field(page, 'Figure');
    await page.waitForFunction(() => document.activeElement?.tagName === 'INPUT');
    await type(figure, '10.0000');
    await hand.tap(link(page, 'All steps of the draft'));
    await seeText(page, left > 2 ? `${left - 1} errors` : left > 1 ? '1 error' : 'No errors');
  }
  const { procedure } = await publish(hand, 1);
  assert.equal(procedure.channels.channels.length, 40);

  await link(page, 'Start a job').tap();
  await byTouch(page).write(page.getByLabel('Serial number', { exact: true }), 'QRC-27');
  await button(page, 'Start the job').tap();
  const steps = procedure.sections.flatMap((section) => section.steps);
  for (const step of steps.slice(0, 6)) {
    await work(byTouch(page), step, {});
    await button(page, 'Next').tap();
  }
  await see(heading(page, steps[6].title));
  await link(page, 'All steps').tap();
  await link(page, 'Report').tap();
  await seeText(page, 'QRC-27');
  await seeText(page, steps[5].title);
});

// What the plates of two sets say, where the proofs of their services wait for it.
const PLATES = [
  ['Airband AM, 47 CFR Part 87 (aircraft) and ICAO Annex 10 (airborne)', ['27.50', '10.0'], 'QRC-127'],
  ['HF transceiver, SSB and CW, ITU Radio Regulations, Appendix 3', ['100'], 'QRC-14'],
];

for (const [name, figures, serial] of PLATES) {
  test(`the figures of the plate open the proof: ${name}`, async (t) => {
    const { page, hand } = await atDesk(t, TABLET);
    await hand.tap(link(page, 'Procedures'));
    await hand.tap(link(page, 'Write a procedure'));
    await hand.tap(button(page, `Use template: ${name}`));
    for (const figure of figures) {
      await hand.tap(page.getByRole('link', { name: /Its target is missing/ }).first());
      await page.waitForFunction(() => document.activeElement?.tagName === 'INPUT');
      await type(field(page, 'Figure'), figure);
      await hand.tap(link(page, 'All steps of the draft'));
    }
    await seeText(page, 'No errors');
    const { procedure } = await publish(hand, 1);

    await link(page, 'Start a job').tap();
    await byTouch(page).write(page.getByLabel('Serial number', { exact: true }), serial);
    await button(page, 'Start the job').tap();
    const steps = procedure.sections.flatMap((section) => section.steps);
    // Up to the generator: made safe, first power, volts, warm-up.
    const generator = steps.findIndex((step) => step.id === 'mic-out');
    for (const step of steps.slice(0, generator)) {
      await work(byTouch(page), step, {});
      await button(page, 'Next').tap();
    }
    await see(heading(page, steps[generator].title));
    await link(page, 'All steps').tap();
    await link(page, 'Report').tap();
    await seeText(page, serial);
    await seeText(page, steps[generator - 1].title);
  });
}
