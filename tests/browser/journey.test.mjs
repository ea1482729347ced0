// A job from intake to hand-over, with no network, as a person does it by touch.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import Ajv from 'ajv/dist/2020.js';
import { DIST, PHONE, TABLET, openBrowser, openHost } from './bench.mjs';
import { printed } from './paper.mjs';
import { readings } from './readings.mjs';
import {
  OUTSIDE, STEPS, button, byTouch, chooseFile, field, goOn, heading, isRead, kindOf, leave, link,
  lookAgain, onwards, read, savedFile, see, seeStatus, seeText, startJob, work,
} from './technician.mjs';

const SCHEMA = new URL('../../public/schema/halfturn-job-3.json', import.meta.url);
const REASON = 'The owner wants it left as built.';
const NOTE = 'Seal broken on the second can.';

const ALTERED = STEPS.find((step) => kindOf(step) === 'inspect');
const WAIVED = STEPS.find((step) => kindOf(step) === 'fit');
// As many as an inspector reads through.
const MOST_PAGES = 5;
// Nothing before it wants another look by then.
const CRASHED = STEPS.find(({ id }) => id === 's-meter');

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`a job from intake to hand-over with no network, by touch on a ${name}`, async (t) => {
    const host = await openHost(t, DIST);
    const browser = await openBrowser(t, { device });
    const page = await browser.visit(host);
    await cutNetwork(browser, host);

    await button(page, 'Load the demo').tap();
    await see(heading(page, 'All steps'));
    await link(page, 'Jobs').tap();
    await startJob(byTouch(page), 'QRC-03');
    const worked = await workThrough(browser, host, page);

    await signOff(worked.page);
    const file = await savedFile(worked.page, () => button(worked.page, 'Save the job as a file').tap());
    assert.match(file.name, /^halfturn-job-.*qrc-03\.json$/);
    checkFile(file.text, worked.left);
    if (device === TABLET) await goesOnPaper(t, worked.page);

    await host.start();
    await bringIn(t, host, device, file, await allSteps(worked.page));
  });
}

async function cutNetwork(browser, host) {
  await browser.context.setOffline(true);
  await host.stop();
}

async function workThrough(browser, host, page) {
  const left = {};
  for (const step of STEPS) {
    const hand = byTouch(page);
    await see(heading(page, step.title));
    if (kindOf(step) === 'stop') await seeClosedBehind(page, step);
    if (step === CRASHED) page = await crashAndReturn(browser, host, page, step, left);
    else if (step === ALTERED) await answerAltered(page);
    else if (step === WAIVED) await waive(page);
    else await work(hand, step, left);
    await goOn(byTouch(page), step);
  }
  await lookAgain(byTouch(page), left);
  return { page, left };
}

// Nothing after a stop opens until the stop is confirmed.
async function seeClosedBehind(page, stop) {
  const number = STEPS.indexOf(stop) + 1;
  if (number === STEPS.length) return;
  await onwards(page, byTouch(page).next, STEPS[number].title);
  await seeText(page, `Locked until hold point ${number} is confirmed.`);
  await link(page, `hold point ${number}`).tap();
  await see(heading(page, stop.title));
}

async function answerAltered(page) {
  await byTouch(page).write(page.getByLabel('Observation'), NOTE);
  await button(page, 'Altered previous work').tap();
  await seeStatus(page, 'done');
  await seeText(page, NOTE);
}

async function waive(page) {
  await button(page, 'Waive').tap();
  await byTouch(page).write(page.getByRole('textbox', { name: 'Waive this step' }), REASON);
  await button(page, 'Waive the step').tap();
  await seeStatus(page, 'waived');
}

// The page dies with half a reading in the field. The app's start address leads back to the
// very step, with every reading and the half-typed one, which is then typed to its end.
async function crashAndReturn(browser, host, page, step, left) {
  const { gauge } = step.work.set;
  const { inside, worse } = await readings(page, step.work.set);
  await read(byTouch(page), worse, gauge, 'As found', OUTSIDE);
  const all = await allSteps(page);
  await link(page, 'Continue').tap();
  await see(heading(page, step.title));
  await byTouch(page).number(inside.slice(0, -1));
  const sheet = () => page.getByRole('article').innerText();
  const before = await sheet();

  await browser.crash(page);
  await page.close();
  page = await browser.open(host.url);
  await see(heading(page, step.title));
  assert.equal(await field(page).inputValue(), inside.slice(0, -1));
  assert.equal(await sheet(), before);
  assert.equal(await allSteps(page), all);

  await link(page, 'Continue').tap();
  await see(heading(page, step.title));
  const hand = byTouch(page);
  await hand.number(inside.slice(-1));
  await hand.enter();
  left[step.id] = await leave(hand, inside, gauge);
  return page;
}

// The screen with all steps as text.
async function allSteps(page) {
  await link(page, 'All steps').tap();
  await see(heading(page, 'All steps'));
  return (await page.getByRole('main').innerText()).replaceAll('\u00a0', ' ');
}

async function signOff(page) {
  await see(heading(page, 'Sign off'));
  await seeText(page, 'waived');
  assert.equal(await page.getByLabel('Signed off by').inputValue(), 'Bench 1');
  await byTouch(page).write(page.getByLabel('Remarks for the owner'), 'Runs well.');
  await button(page, 'Sign off the job').tap();
  await see(heading(page, 'Signed off'));
  await seeText(page, 'By Bench 1');
}

// All steps of the demo, on few pages and none of them half empty.
async function goesOnPaper(t, page) {
  await link(page, 'Report').tap();
  await see(page.locator('article.report'));
  const pages = await printed(t, page, 'journey');
  if (pages) {
    const shares = pages.map(({ full }) => `${Math.round(full * 100)} %`);
    t.diagnostic(`${pages.length} pages, full to ${shares.join(', ')}`);
    assert.ok(pages.length <= MOST_PAGES, `${pages.length} pages`);
    const thin = pages.slice(0, -1).filter(({ full }) => full < 2 / 3);
    assert.equal(thin.length, 0, `pages full to ${shares.join(', ')}`);
  }
  await page.goBack();
  await see(heading(page, 'Signed off'));
}

// The file keeps to its published form and says what was done.
function checkFile(text, left) {
  const { job } = conforming(text);
  const deeds = job.log.map(({ did }) => did);
  const lastReading = (id) => deeds.findLast(({ reading }) => reading?.step === id)?.reading.value;
  for (const step of STEPS.filter(isRead)) assert.equal(lastReading(step.id), left[step.id]);
  assert.ok(deeds.some(({ answered }) => answered?.answer === 'altered' && answered.note === NOTE));
  assert.ok(deeds.some(({ waived }) => waived?.step === WAIVED.id && waived.reason === REASON));
}

function conforming(text) {
  const validate = new Ajv({ allErrors: true }).compile(JSON.parse(readFileSync(SCHEMA, 'utf8')));
  const document = JSON.parse(text);
  assert.ok(validate(document), JSON.stringify(validate.errors, null, 1));
  return document;
}

// On a device that never saw it, the file becomes the same job, and the same file again.
async function bringIn(t, host, device, file, expected) {
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  await cutNetwork(browser, host);

  await link(page, 'Open a file').tap();
  await chooseFile(page, { name: file.name, mimeType: 'application/json', buffer: Buffer.from(file.text) });
  await seeText(page, 'New here: it will be added.');
  await button(page, 'Import selected').tap();
  await seeText(page, '1 item imported.');

  await link(page, 'Jobs').tap();
  await page.getByRole('link', { name: /QRC-03.*Finished by Bench 1/ }).tap();
  await see(heading(page, 'Signed off'));
  const again = await savedFile(page, () => button(page, 'Save the job as a file').tap());
  assert.deepEqual(again, file, 'byte for byte the same');
  assert.equal(await allSteps(page), expected);
}
