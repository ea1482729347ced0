// What can't be used gets a sentence that says what and where; nothing changes, nothing is lost.

import assert from 'node:assert/strict';
import { truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';
import { DIST, folder, openBrowser, openHost, running } from './bench.mjs';
import {
  STEPS, TRAINER, button, byTouch, chooseFile, field, heading, link, read, savedFile, see, seeText,
  startJob, stored,
} from './technician.mjs';

async function withDemo(t) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  return page;
}

test('a reading that can’t be read stays in the field, with the reason beside it', async (t) => {
  const page = await withDemo(t);
  await link(page, 'Jobs').tap();
  await startJob(byTouch(page), 'QRC-09');
  // The first step of the demo reads volts.
  for (const [typed, sentence] of [
    ['twelve', '“twelve” is not a number'],
    ['0.4.1', 'more than one decimal sign'],
    ['0,4', 'The decimal sign is a point here'],
    ['12 kHz', 'This is in Hz, but the step wants V'],
    ['0.4 furlongs', '“furlongs” is not a unit'],
    ['1234567890'.repeat(4), 'has 40 digits'],
    ['<img src=x onerror=alert(1)>', 'is not a number'],
  ]) {
    await button(page, 'Clear the number').tap();
    await byTouch(page).write(field(page), typed);
    // What is typed is kept in the task after the key.
    await page.waitForFunction((text) => Object.values(localStorage).includes(text), typed);
    const before = await stored(page);
    await button(page, 'Enter').tap();
    await see(page.getByRole('alert').filter({ hasText: sentence }));
    assert.equal(await field(page).inputValue(), typed);
    assert.deepEqual(await stored(page), before, typed);
  }
  const typed = await field(page).inputValue();
  await page.reload();
  await running(page);
  assert.equal(await field(page).inputValue(), typed, 'the text outlives the page');

  await button(page, 'Clear the number').tap();
  await read(byTouch(page), '0.4', STEPS[0].work.read.gauge, 'As found', 'inside');
});

test('a file that can’t be used changes nothing and says why', async (t) => {
  const page = await withDemo(t);
  await link(page, 'Files').tap();
  const job = await savedFile(page, () => button(page, 'Save').tap());
  const changed = (change) => {
    const document = JSON.parse(job.text);
    // Without their checks, or what was changed would count as damaged.
    for (const event of document.job.log) delete event.check;
    change(document, document.job.log);
    return JSON.stringify(document);
  };
  // From the disk, since the driver hands over no more than 50 MB.
  const huge = join(await folder(t), 'huge.json');
  await writeFile(huge, '');
  await truncate(huge, 80 << 20);
  const before = await stored(page);
  for (const [name, text, sentence] of [
    ['empty.json', '', 'The file is empty'],
    ['levels.csv', 'MHz;dBm\n28.3;-107\n', 'not JSON from line 1, column 1'],
    ['other.json', '{"name": "Quillmere", "members": 12}', 'does not say that it is'],
    ['cut.json', job.text.slice(0, job.text.length / 2), 'The file stops in the middle'],
    ['huge.json', null, 'The file has 80 MB'],
    ['deep.json', '['.repeat(1e6), 'does not say that it is'],
    ['deep-inside.json', changed((it) => (it.job.log = 'DEEP')).replace('"DEEP"', '['.repeat(1e5) + ']'.repeat(1e5)), /not one of ours|is not right/],
    ['future.json', changed((it) => (it.version = 99)), 'The file is in format 99, from a later version'],
    ['twice.json', changed((_, log) => log.push(log[1])), `two events have the id “${JSON.parse(job.text).job.log[1].id}”`],
    ['stray.json', changed((_, log) => (log.at(-1).did = { ticked: { step: 'nowhere' } })), 'a step “nowhere”'],
    ['odd.json', changed((_, log) => (log[1].at = 'noon')), /not right at job\.log\[1\]: event “.+” at at: .*noon/],
  ]) {
    await chooseFile(page, text === null ? huge : { name, mimeType: 'application/json', buffer: Buffer.from(text) });
    const notice = page.getByText(sentence);
    await see(notice);
    assert.match(await notice.innerText(), name === 'huge.json' ? /choose another/ : /Nothing was changed/);
    assert.equal(await button(page, 'Import selected').count(), 0);
    assert.deepEqual(await stored(page), before, name);
    await button(page, 'Close').tap();
  }
});

test('script in a file is text like any other', async (t) => {
  const page = await withDemo(t);
  const script = '<img src=x onerror="window.ran = 1"><script>window.ran = 1</script>';
  const procedure = structuredClone(TRAINER);
  procedure.id = 'scripted';
  procedure.title = `Title ${script}`;
  procedure.covers = `Covers ${script}`;
  const [first] = procedure.sections[0].steps;
  first.title = `Step ${script}`;
  first.text = `Text ${script}`;
  first.cautions = [`Caution ${script}`];
  const file = JSON.stringify({ type: 'halfturn-procedure', version: 1, procedure });

  await link(page, 'Files').tap();
  await chooseFile(page, { name: 'script.json', mimeType: 'application/json', buffer: Buffer.from(file) });
  await seeText(page, `Procedure: Title ${script}, revision 1`);
  await button(page, 'Import selected').tap();
  await seeText(page, '1 item imported.');

  await link(page, 'Jobs').tap();
  await link(page, 'Start a job').tap();
  await page.getByRole('link', { name: `Title ${script}` }).tap();
  await byTouch(page).write(page.getByLabel('Make', { exact: true }), script);
  await button(page, 'Start the job').tap();
  for (const text of [`Step ${script}`, `Text ${script}`, `Caution ${script}`, script]) {
    await seeText(page, text);
  }
  assert.equal(await page.evaluate(() => window.ran), undefined);
});

test('a file of millions of hollow things is refused with a sentence, and of thousands a part is shown', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  const hollow = (count) => ({
    name: 'hollow.json',
    mimeType: 'application/json',
    buffer: Buffer.from(`{"type":"halfturn-backup","version":2,"backup":{"jobs":[${'{},'.repeat(count - 1)}{}]}}`),
  });
  await link(page, 'Files').tap();
  await chooseFile(page, hollow(9_000_000));
  await seeText(page, 'more than 10000 things of this list can’t be read');
  await chooseFile(page, hollow(10_000));
  await seeText(page, 'Can’t be taken');
  assert.ok((await page.locator('.faulty li').count()) <= 50);
});
