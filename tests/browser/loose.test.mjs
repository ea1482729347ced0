// A reading that is taken before there is a job: typed and read as any other, there after the page
// was killed, and then kept into a job or thrown away.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, openBrowser, openHost, running } from './bench.mjs';
import { uncovered } from './hand.mjs';
import { button, byTouch, heading, labelled, link, see, seeStatus, seeText, toTheTask } from './technician.mjs';

const DEVICES = { tablet: TABLET, phone: PHONE };

async function opened(t, device) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  return { page, hand: byTouch(page) };
}

// From the jobs screen to the reading of a rail, entered.
async function reads(page, hand, title, digits) {
  await link(page, 'Take one reading').tap();
  await hand.write(labelled(page, 'What'), title);
  await hand.write(labelled(page, 'Where'), 'TP3');
  await page.getByRole('button', { name: /^Unit/ }).tap();
  await page.locator('.picker-panel').getByRole('button', { name: /^V\b/ }).first().tap();
  await hand.write(labelled(page, 'Limit'), '13.5 to 14.1');
  await page.reload();
  await running(page);
  assert.equal(await labelled(page, 'What').inputValue(), title, 'what is typed outlives the page');
  await button(page, 'Go and read it').tap();
  await see(heading(page, title));
  await uncovered(page);
  await hand.number(digits);
  await hand.enter();
  await see(page.getByRole('table', { name: 'Readings, newest first' }));
}

test('what a reading without a job needs is marked before anything is sent', async (t) => {
  const { page } = await opened(t, TABLET);
  await link(page, 'Take one reading').tap();
  for (const name of ['What', 'Where']) {
    assert.equal(await labelled(page, name).getAttribute('aria-required'), 'true', name);
    await see(page.locator('.field').filter({ has: labelled(page, name) }).getByText(/^Needed\. /));
  }
  assert.equal(await labelled(page, 'Limit').getAttribute('aria-required'), null);
});

for (const [name, device] of Object.entries(DEVICES)) {
  test(`a reading is taken without a job and kept into one, with its time (${name})`, async (t) => {
    const { page, hand } = await opened(t, device);
    await reads(page, hand, 'What is this rail', '13.79');
    await seeStatus(page, 'done');
    await page.reload();
    await running(page);
    await see(page.getByRole('table', { name: 'Readings, newest first' }));

    await link(page, 'All steps').tap();
    await link(page, 'Save or discard it').tap();
    await seeText(page, 'No job is in progress that it could go into.');
    await link(page, 'Jobs').first().tap();
    await see(heading(page, 'Readings without a job'));
    await seeText(page, 'What is this rail: 13.79');
    await reads(page, hand, 'And that one', '12.0');
    await seeStatus(page, 'outside');

    await page.goto(page.url().replace(/#.*/, '#/book-in'));
    await hand.write(labelled(page, 'Model'), 'Trainer');
    await hand.write(labelled(page, 'Serial number'), 'QRC-44');
    await button(page, 'Start the job').tap();
    await see(heading(page, 'All steps'));
    await link(page, 'Jobs').tap();
    await page.getByRole('link', { name: /What is this rail/ }).tap();
    await page.getByRole('button', { name: /QRC-44/ }).tap();
    await see(heading(page, 'What is this rail'));
    await seeText(page, /The reading now belongs to .*QRC-44/);
    await toTheTask(page);
    await seeText(page, 'Read before it belonged to this job');
    await seeStatus(page, 'done');

    await page.reload();
    await running(page);
    await seeText(page, '13.79');
    await link(page, 'All steps').tap();
    await see(heading(page, 'Added at the bench'));
    await link(page, 'Jobs').tap();
    await seeText(page, 'And that one: 12.0');
    assert.equal(await page.getByRole('link', { name: /What is this rail: / }).count(), 0);
  });
}

test('a reading without a job is thrown away after a question', async (t) => {
  const { page, hand } = await opened(t, PHONE);
  await reads(page, hand, 'Rail', '13.6');
  await button(page, 'Next').tap();
  await see(heading(page, 'Save or discard it'));
  await button(page, 'Discard').tap();
  await button(page, 'Leave it here').tap();
  await seeText(page, '13.6');
  await button(page, 'Discard').tap();
  await button(page, 'Discard permanently').tap();
  await seeText(page, 'The reading was discarded.');
  await page.reload();
  await running(page);
  await see(button(page, 'Load the demo'));
});

test('a reading without a job becomes a job once it is said of which set it is', async (t) => {
  const { page, hand } = await opened(t, TABLET);
  await reads(page, hand, 'Rail', '13.6');
  await button(page, 'Next').tap();
  await link(page, 'Set details').tap();
  await hand.write(labelled(page, 'Serial number'), 'QRC-45');
  await button(page, 'Save').tap();
  await page.goto(page.url().replace(/#.*/, '#/'));
  await see(heading(page, 'In progress'));
  await see(page.getByRole('link', { name: /QRC-45/ }));
  assert.equal(await heading(page, 'Readings without a job').count(), 0);
});
