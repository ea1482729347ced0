// A job by the keyboard alone: whatever is done by touch can be done by keys, and one always
// sees where the focus is. A page-turner pedal sends PageUp and PageDown.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, openBrowser, openHost } from './bench.mjs';
import {
  STEPS, button, byKeys, field, goOn, heading, kindOf, link, lookAgain, onwards, see, seeStatus,
  startJob, work,
} from './technician.mjs';

const READ = STEPS.find((step) => kindOf(step) === 'read');
const WAIVED = STEPS.find((step) => kindOf(step) === 'fit');

async function atBench(t) {
  const host = await openHost(t, DIST);
  // Neither finger nor pointer: a tap would fail.
  const browser = await openBrowser(t, { device: { viewport: { width: 1180, height: 820 } } });
  const page = await browser.visit(host);
  const keys = byKeys(page);
  await keys.press(button(page, 'Load the demo'));
  await see(heading(page, 'All steps'));
  await keys.press(link(page, 'Jobs'));
  await startJob(keys, 'QRC-05');
  return { page, keys };
}

test('the whole procedure, from intake to the saved file, by keys alone', async (t) => {
  const { page, keys } = await atBench(t);
  const left = {};
  for (const step of STEPS) {
    await see(heading(page, step.title));
    await seeFocus(page, kindOf(step));
    if (step === WAIVED) await waive(page, keys);
    else await work(keys, step, left);
    await goOn(keys, step);
  }
  await lookAgain(keys, left);
  await keys.press(button(page, 'Sign off the job'));
  await see(heading(page, 'Signed off'));
  const saved = page.waitForEvent('download');
  await keys.press(button(page, 'Save the job as a file'));
  await saved;
});

// A tick is one Enter away. A stop is not: what is to be confirmed has the focus, and a key
// too many confirms nothing.
async function seeFocus(page, kind) {
  const ticks = { fit: 'Fitted', wire: 'Fitted and checked', tick: 'Done' };
  if (ticks[kind]) await see(button(page, ticks[kind]).and(page.locator(':focus-visible')));
  if (kind !== 'stop') return;
  await page.keyboard.press('Enter');
  await seeStatus(page, 'open');
}

async function waive(page, keys) {
  await keys.press(button(page, 'Waive'));
  await keys.write(page.getByRole('textbox', { name: 'Waive this step' }), 'Not agreed yet.');
  await keys.press(button(page, 'Waive the step'));
  await seeStatus(page, 'waived');
}

test('a pedal walks through the steps and keeps what was half typed', async (t) => {
  const { page, keys } = await atBench(t);
  await keys.number('0.4');
  for (const { title } of STEPS.slice(1, 6)) {
    await onwards(page, keys.next, title);
  }
  for (const { title } of STEPS.slice(0, 5).reverse()) {
    await onwards(page, keys.back, title);
  }
  await keys.back();
  await see(heading(page, STEPS[0].title));
  assert.equal(await field(page).inputValue(), '0.4');
});

test('on a phone every digit goes to the reading, also from the side that has no field', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t, { device: PHONE })).visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await page.getByRole('link', { name: READ.title }).tap();
  await see(heading(page, READ.title));
  for (const digits of ['214', '8.02', '-3']) {
    await button(page, 'Do').tap();
    await page.locator('[data-pane=do]').waitFor();
    await page.keyboard.type(digits);
    assert.equal(await field(page).inputValue(), digits);
    for (const _ of digits) await page.keyboard.press('Backspace');
  }
});
