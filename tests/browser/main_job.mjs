// The main job as a person does it in any browser: from the start page to the report, with a
// wrong reading, an undo, something taken off and put back, a reload and a start without a network.

import assert from 'node:assert/strict';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { folder } from './bench.mjs';
import { digitsFor, pinReadings, targetIn } from './readings.mjs';
import { STEPS, TRAINER, behind, followed, kindOf } from './technician.mjs';

const ADJUSTED = STEPS.find(({ id }) => id === 'synth-am');
const CONFIRM = {
  inspect: 'Sound as built',
  fit: 'Fitted',
  wire: 'Fitted and checked',
  tick: 'Done',
  socket: 'Done',
  stop: 'I confirm',
};
const TYPED = {
  Make: 'Quillmere Radio Club',
  Model: '28 MHz trainer',
  'Serial number': 'QRC-11',
  'Fault reported': 'Deaf on the upper channels',
  Technician: 'Bench 1',
};

// What is done, in order, each with { browser, host, t, keep }; `keep` hands things on to later
// parts.
export const MAIN_JOB = [
  ['the start page opens and loads the demo', async ({ browser, host }) => {
    await browser.goto(host.url);
    await browser.press('button', 'Load the demo');
    await browser.see('heading', 'All steps');
  }],
  ['a job starts with its set', async ({ browser }) => {
    await browser.press('link', 'Jobs');
    await browser.press('link', 'Start a job');
    await browser.press('link', TRAINER.title, { exact: false });
    for (const [label, text] of Object.entries(TYPED)) await browser.write(label, text);
    await browser.press('button', 'Start the job');
    await browser.see('heading', STEPS[0].title);
  }],
  ['the field for the reading has the name that a screen reader says', async ({ browser }) => {
    const field = await browser.find('field', 'Reading, volts DC, target', { exact: false });
    assert.equal(await browser.role(field), 'textbox');
    assert.match(await browser.name(field), /^Reading, volts DC, target at most 1\.0.V$/);
  }],
  ['a wrong reading is refused with its verdict, and undone', async ({ browser }) => {
    await browser.type('99');
    await browser.see('text', '(not entered)', { exact: false });
    await browser.key('Enter');
    await browser.find('row', 'As found 99 V 98 V over the upper limit', { exact: false });
    await browser.press('button', 'Undo');
    await browser.see('text', 'Undone: as found 99 V at step 1.');
    await browser.gone('button', 'Void 99 V');
  }],
  ['what is no number stays in the field, and a sentence says why', async ({ browser }) => {
    await browser.type('1..2');
    await browser.key('Enter');
    await browser.find('text', 'more than one decimal sign', { exact: false });
    await browser.press('button', 'Clear the number');
  }],
  ['something comes off and goes back', async ({ browser }) => {
    await browser.press('link', '0 off, removed parts');
    await browser.press('button', 'Cover screws');
    await browser.see('text', '1 part off. Refit it before sign-off.');
    await browser.press('button', 'Refitted: Cover screws');
    await browser.see('text', 'No part is off.');
    await browser.press('link', 'All steps');
    await browser.press('link', STEPS[0].title, { exact: false });
  }],
  ['half a reading survives a reload', async ({ browser }) => {
    await browser.see('heading', STEPS[0].title);
    await browser.type('0.4');
    await browser.see('text', '(not entered)', { exact: false });
    await browser.reload();
    await browser.see('heading', STEPS[0].title);
    const field = await browser.find('field', 'Reading, volts DC', { exact: false });
    assert.equal(await browser.run((field) => field.value, field), '0.4');
    await browser.press('button', 'Clear the number');
  }],
  ['the app starts offline', async ({ browser, host }) => {
    await browser.offlineReady();
    await host.stop();
    await browser.reload();
    await browser.see('heading', STEPS[0].title);
  }],
  ['the whole procedure is worked, offline', async ({ browser }) => {
    for (const step of STEPS) {
      await browser.see('heading', step.title);
      await (gaugeOf(step) ? readAndLeave(browser, step) : confirm(browser, step));
      // In a table the app goes on by itself.
      if (!followed(step)) await browser.press('button', 'Next');
    }
  }],
  ['the job is signed off', async ({ browser }) => {
    await browser.see('heading', 'Sign off');
    await browser.write('Remarks for the owner', 'Runs well.');
    await browser.press('button', 'Sign off the job');
    await browser.see('heading', 'Signed off');
    await browser.see('text', 'By Bench 1', { exact: false });
  }],
  ['the report shows it', async ({ browser }) => {
    await browser.press('link', 'Report');
    await browser.see('button', 'Print');
    const sheet = await browser.run(() => document.querySelector('main').innerText);
    for (const text of ['QRC-11', 'Runs well.', ADJUSTED.title]) assert.ok(sheet.includes(text), text);
  }],
  ['the job is saved as a file', async ({ browser, keep }) => {
    await browser.run(() => history.back());
    await browser.see('heading', 'Signed off');
    keep.file = await browser.saved(() => browser.press('button', 'Save the job as a file'));
    const { job } = JSON.parse(keep.file);
    assert.equal(job.log.filter(({ did }) => did['signed-off']).length, 1);
  }],
  ['removed, and brought in again from the file, it is the same job', async ({ browser, keep, t }) => {
    const path = join(await folder(t), 'job.json');
    writeFileSync(path, keep.file);
    await browser.press('link', 'Files');
    await browser.press('button', 'Remove…', { beside: 'QRC-11' });
    await browser.press('button', 'Delete permanently');
    await browser.choose('#file', path);
    await browser.see('text', 'New here: it will be added.', { exact: false });
    await browser.press('button', 'Import selected');
    await browser.see('text', '1 item imported.');
    await browser.press('link', 'Jobs');
    await browser.press('link', 'QRC-11', { exact: false });
    await browser.see('heading', 'Signed off');
    assert.equal(await browser.saved(() => browser.press('button', 'Save the job as a file')), keep.file);
  }],
];

// How a step reads, a stop with a reading as well.
function gaugeOf(step) {
  const [work] = Object.values(step.work);
  return work.gauge ?? work.reads?.gauge;
}

async function readAndLeave(browser, step) {
  const gauge = gaugeOf(step);
  const scales = await browser.run(() =>
    [...document.querySelectorAll('[role=img]')].map((each) => each.getAttribute('aria-label')),
  );
  const { inside, worse } = digitsFor(scales.map(targetIn).find(Boolean) ?? '', gauge);
  const enter = async (digits, unit = gauge.in) => {
    await browser.type(digits);
    await browser.see('text', '(not entered)', { exact: false });
    await browser.key('Enter');
    await browser.find('row', `${digits.replace('-', '\u2212')} ${unit}`, { exact: false });
  };
  if (step === ADJUSTED) {
    await enter(worse);
    await browser.find('text', 'The reading must', { exact: false });
    // A reading with the tool in is no reading to leave it at.
    await browser.press('button', 'Tool out');
  }
  if (gauge.path) {
    await enter(behind(gauge, inside), 'dBm');
  } else if (followed(step)) {
    await browser.type(inside);
    await browser.see('text', '(not entered)', { exact: false });
    await browser.key('Enter');
    return;
  } else {
    await enter(inside);
  }
  if (step.work.set || step.work.peak || step.work.dip) await browser.press('button', 'Record as left', { exact: false });
  await browser.see('text', 'done');
}

async function confirm(browser, step) {
  if (kindOf(step) === 'socket') {
    for (const { digits, said } of pinReadings(step.work.socket)) {
      await browser.type(digits);
      await browser.key('Enter');
      await browser.see('text', said);
    }
  }
  // What repeats others holds where nothing was turned behind one of them.
  if (kindOf(step) !== 'repeat') await browser.press('button', CONFIRM[kindOf(step)]);
  await browser.see('text', 'done');
}
