// Two tabs of one device, and two devices that exchange files: whatever one did, the other's
// screen says what the log has, and nothing that the other made untrue.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, openBrowser, openHost, running } from './bench.mjs';
import { type } from './hand.mjs';
import {
  button, byTouch, chooseFile, heading, link, savedFile, see, seeStatus, seeText, shortProcedure, stored,
} from './technician.mjs';

const PROCEDURE = shortProcedure('qrc-two', 'Carrier check', [
  { id: 'look', title: 'Look it over', work: 'tick' },
  { id: 'load', title: 'Dummy load', work: { stop: { confirm: 'The dummy load is on.' } } },
  {
    id: 'rail',
    title: 'Supply rail',
    needs: ['load'],
    work: { read: { gauge: { at: 'TP1', with: 'meter', in: 'V' }, target: { fixed: { between: { low: '7.5 V', high: '8.5 V' } } } } },
  },
]);

const file = (name, text) => ({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
const PROCEDURE_FILE = file('procedure.json', JSON.stringify({ type: 'halfturn-procedure', version: 2, procedure: PROCEDURE }));
const ofKit = (...kit) =>
  file('kit.json', JSON.stringify({ type: 'halfturn-backup', version: 2, backup: { kit } }));

// What a tab shows of the work itself: what was just done is told in the tab where it was.
const work = (page) =>
  page.evaluate(() => {
    const lines = (element) => element?.innerText.replaceAll('\u00a0', ' ').split('\n') ?? [];
    const told = lines(document.querySelector('main .strip'));
    return lines(document.querySelector('main')).filter((line) => line && !told.includes(line)).join('\n');
  });
const safe = (page) => page.waitForSelector('html[data-saved=yes]', { state: 'attached' });

// The names of the deeds in the only job's log that were not taken back, as they are stored.
async function deeds(page) {
  const [, text] = Object.entries(await stored(page)).find(([key]) => key.startsWith('halfturn:job:'));
  const { log } = JSON.parse(text);
  const undone = new Set(log.flatMap(({ did }) => did.undone?.event ?? []));
  const name = ({ did }) => (typeof did === 'string' ? did : Object.keys(did)[0]);
  return log.filter(({ id }) => !undone.has(id)).map(name).filter((each) => each !== 'undone');
}

async function take(page, it, items = 1) {
  await link(page, 'Files').first().tap();
  await chooseFile(page, it);
  await button(page, 'Import selected').tap();
  await seeText(page, items === 1 ? '1 item imported.' : `${items} items imported.`);
}

async function start(page, serial) {
  await link(page, 'Jobs').tap();
  await link(page, 'Start a job').tap();
  await page.getByRole('link', { name: PROCEDURE.title }).tap();
  for (const [label, text] of [['Serial number', serial], ['Technician', 'Bench 1']]) {
    await byTouch(page).write(page.getByLabel(label, { exact: true }), text);
  }
  await button(page, 'Start the job').tap();
  await see(heading(page, 'Look it over'));
}

// Ticks the first step and confirms the stop.
async function toTheRail(page) {
  await button(page, 'Done').tap();
  await seeStatus(page, 'done');
  await button(page, 'Next').tap();
  await button(page, 'I confirm').tap();
  await seeStatus(page, 'done');
  await button(page, 'Next').tap();
  await see(heading(page, 'Supply rail'));
}

async function note(page, text) {
  await button(page, 'Note').tap();
  await byTouch(page).write(page.getByRole('textbox', { name: 'A note on this step' }), text);
  await button(page, 'Save the note').tap();
  await see(page.getByRole('article').getByText(text));
}

async function measure(page, volts) {
  await byTouch(page).number(volts);
  await button(page, 'Enter').tap();
  await page.getByRole('table', { name: 'Readings, newest first' }).getByRole('row').filter({ hasText: volts }).waitFor();
}

const allSteps = async (page) => {
  await link(page, 'All steps').first().tap();
  await see(heading(page, 'All steps'));
};

async function bench(t) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await take(page, PROCEDURE_FILE);
  await start(page, 'QRC-61');
  return { host, browser, page };
}

// The same screen in another tab.
async function beside(browser, page) {
  const other = await browser.open(page.url());
  await page.bringToFront();
  return other;
}

async function agree(...pages) {
  const [one, ...others] = pages;
  const shown = await work(one);
  for (const other of others) {
    // The news of the storage comes a moment later.
    for (let look = 0; look < 50 && (await work(other)) !== shown; look += 1) await other.waitForTimeout(100);
    assert.equal(await work(other), shown);
  }
}

test('a break taken in one tab holds in the other, and what is said of it goes once it is over', async (t) => {
  const { browser, page } = await bench(t);
  await toTheRail(page);
  await allSteps(page);
  const other = await beside(browser, page);
  await button(page, 'Pause (hold points lapse)').tap();
  await seeText(page, 'Pause logged.');
  assert.deepEqual(await deeds(page), ['opened', 'ticked', 'ticked', 'paused']);
  await see(other.getByText('re-confirm'));
  await agree(page, other);
  assert.equal(await other.getByText('Pause logged.').count(), 0, 'said where it was taken');

  await other.bringToFront();
  await other.getByRole('link', { name: 'Supply rail' }).tap();
  await seeText(other, 'Paused: re-confirm hold point 2.');
  await link(other, 'hold point 2').tap();
  await seeText(other, 'Paused since');
  await button(other, 'Re-confirm').tap();
  await seeStatus(other, 'done');
  assert.deepEqual(await deeds(other), ['opened', 'ticked', 'ticked', 'paused', 'ticked']);
  await page.getByText('Re-confirm hold point 2').waitFor({ state: 'detached' });
  await page.getByText('re-confirm').waitFor({ state: 'detached' });
  await button(other, 'Undo').tap();
  await seeText(other, 'Undone: the tick at step 2.');
  assert.deepEqual(await deeds(other), ['opened', 'ticked', 'ticked', 'paused']);
  await see(page.getByText('re-confirm'));
});

test('an undo in one tab takes back what the other entered last, and both say what is left', async (t) => {
  const { browser, page } = await bench(t);
  await toTheRail(page);
  await measure(page, '8.1');
  const other = await beside(browser, page);
  await measure(page, '8.2');
  const row = (tab, text) => tab.getByRole('table', { name: 'Readings, newest first' }).getByRole('row').filter({ hasText: text });
  await row(other, '8.2').waitFor();
  await other.bringToFront();
  await button(other, 'Undo').tap();
  await seeText(other, /Undone: .*8\.2/);
  await row(page, '8.2').waitFor({ state: 'detached' });
  await agree(other, page);
  assert.deepEqual(await deeds(page), ['opened', 'ticked', 'ticked', 'reading']);
});

test('a job removed in one tab is gone from the other until its file is brought in', async (t) => {
  const { browser, page } = await bench(t);
  await toTheRail(page);
  await measure(page, '8.1');
  const other = await beside(browser, page);
  await other.bringToFront();
  await link(other, 'Files').first().tap();
  const row = other.getByRole('listitem').filter({ hasText: 'QRC-61' });
  const job = await savedFile(other, () => button(row, 'Save').tap());
  await button(row, 'Remove…').tap();
  await button(row, 'Delete permanently').tap();
  await seeText(other, 'QRC-61 was removed from this device.');
  await see(heading(page, 'Not on this device'));
  assert.equal(Object.keys(await stored(page)).filter((key) => key.startsWith('halfturn:job:')).length, 0);
  await page.reload();
  await running(page);
  await see(heading(page, 'Not on this device'));

  await take(other, file(job.name, job.text));
  await see(heading(page, 'Supply rail'));
  await see(page.getByRole('row').filter({ hasText: '8.1' }));
});

test('a job finished in one tab takes nothing in the other', async (t) => {
  const { browser, page } = await bench(t);
  await toTheRail(page);
  await measure(page, '8.1');
  const other = await beside(browser, page);
  await allSteps(other);
  await link(other, 'Sign off').tap();
  await see(heading(other, 'Sign off'));
  await button(other, 'Sign off the job').tap();
  await see(heading(other, 'Signed off'));
  await seeText(page, 'Signed off. Reopen');
  assert.equal(await button(page, 'Enter').count(), 0, 'no key is left that could enter anything');
  await page.goto(other.url());
  await see(heading(page, 'Signed off'));
  await agree(other, page);
});

test('a look into a file that another tab overtook takes nothing in', async (t) => {
  const { browser, page } = await bench(t);
  await link(page, 'Files').first().tap();
  const other = await beside(browser, page);
  await chooseFile(page, ofKit({ role: 'meter', name: 'Club meter', asset: 'from the first' }));
  await seeText(page, 'New here: it will be added.');
  await other.bringToFront();
  await take(other, ofKit({ role: 'meter', name: 'Club meter', asset: 'from the second' }));
  const kit = async () => JSON.parse((await stored(page))['halfturn:kit']);
  const before = await kit();
  await page.bringToFront();
  await button(page, 'Import selected').tap();
  await seeText(page, 'so nothing was imported: choose the file once more');
  assert.deepEqual(await kit(), before);

  await chooseFile(page, ofKit({ role: 'meter', name: 'Club meter', asset: 'from the first' }));
  await seeText(page, 'Differs from what is here: it would replace that.');
  assert.ok(!(await page.getByRole('checkbox', { name: 'Instrument: Club meter' }).isChecked()));
  assert.ok(await button(page, 'Import selected').isDisabled());
});

test('a draft published in one tab is not published once more from the other', async (t) => {
  const { browser, page } = await bench(t);
  await link(page, 'Procedures').tap();
  await page.getByRole('link', { name: PROCEDURE.title }).tap();
  await button(page, 'Edit').tap();
  await byTouch(page).write(page.getByRole('textbox', { name: 'Covers' }), ' and others');
  await link(page, 'Publish …').tap();
  await see(button(page, 'Publish revision 2'));
  const other = await beside(browser, page);
  await other.bringToFront();
  await button(other, 'Publish revision 2').tap();
  await seeText(other, 'Revision 2 is published.');
  await page.bringToFront();
  await seeText(page, 'Revision 2 came to this device while this draft went on from revision 1.');
  await seeText(page, 'Nothing differs from the latest revision.');
  assert.ok(await page.getByRole('button', { name: /^Publish revision/ }).isDisabled());
  const published = Object.keys(await stored(page)).filter((key) => key.startsWith('halfturn:procedure:'));
  assert.equal(published.length, 2, 'the first revision and the second, once');
});

test('two devices that exchange a job’s files show the same log, each sentence of it', async (t) => {
  const host = await openHost(t, DIST);
  const here = await (await openBrowser(t)).visit(host);
  await take(here, PROCEDURE_FILE);
  await start(here, 'QRC-62');
  await toTheRail(here);
  const out = async (page) => {
    await link(page, 'Files').first().tap();
    const row = page.getByRole('listitem').filter({ hasText: 'QRC-62' });
    const it = await savedFile(page, () => button(row, 'Save').tap());
    return file(it.name, it.text);
  };
  const toJob = async (page) => {
    await link(page, 'Jobs').first().tap();
    await page.getByRole('link', { name: /QRC-62/ }).first().tap();
  };
  const onRail = async (page) => {
    await allSteps(page);
    await page.getByRole('link', { name: 'Supply rail' }).tap();
    await see(heading(page, 'Supply rail'));
  };

  const first = await out(here);
  const there = await (await openBrowser(t)).visit(host);
  await link(there, 'Files').first().tap();
  await chooseFile(there, first);
  // The bench may be another: what was confirmed there nobody saw here.
  await seeText(there, 'Hold point 2 in it: confirmed where the file comes from.');
  await button(there, 'Import selected').tap();
  await seeText(there, '1 item imported.');
  await seeText(there, 'Every entry of every job went into a file from here or came out of one.');

  // Worked on in both places: a break there, a reading here, taken back and taken anew.
  await toJob(there);
  await allSteps(there);
  await button(there, 'Pause (hold points lapse)').tap();
  await seeText(there, 'Pause logged.');
  await toJob(here);
  await onRail(here);
  await measure(here, '8.3');
  await button(here, 'Undo').tap();
  await seeText(here, /Undone: .*8\.3/);
  await measure(here, '8.1');
  assert.deepEqual(await deeds(here), ['opened', 'ticked', 'ticked', 'reading']);
  assert.deepEqual(await deeds(there), ['opened', 'ticked', 'ticked', 'paused']);

  const second = await out(here);
  await link(there, 'Files').first().tap();
  await seeText(there, 'Not backed up: 1 entry, 1 job');
  await chooseFile(there, second);
  await seeText(there, 'Here already, and worked on in both places: 3 entries will be added, 1 entry of this device stay.');
  await button(there, 'Import selected').tap();
  await seeText(there, '1 item imported.');
  await seeText(there, 'Not backed up: 1 entry, 1 job');
  const third = await out(there);
  await seeText(there, 'Every entry of every job went into a file from here or came out of one.');
  await take(here, third);
  await seeText(here, 'Every entry of every job went into a file from here or came out of one.');
  assert.deepEqual((await deeds(here)).sort(), ['opened', 'paused', 'reading', 'ticked', 'ticked']);
  assert.deepEqual(await deeds(there), await deeds(here));
  for (const page of [here, there]) {
    await toJob(page);
    await allSteps(page);
  }
  await agree(here, there);
  await seeText(here, 're-confirm');

  // A file of before takes nothing back and claims nothing.
  await link(here, 'Files').first().tap();
  await chooseFile(here, first);
  await seeText(here, 'Already here, with all that the file has: nothing changes.');
  assert.ok(await button(here, 'Import selected').isDisabled());
});

test('signed off on one device and worked on at the other: both say that it is open again', async (t) => {
  const host = await openHost(t, DIST);
  const here = await (await openBrowser(t)).visit(host);
  await take(here, PROCEDURE_FILE);
  await start(here, 'QRC-63');
  await toTheRail(here);
  await measure(here, '8.1');
  await button(here, 'Next').tap();
  await see(heading(here, 'Sign off'));
  const open = await savedFile(here, () => button(here, 'Save the job as a file').tap());
  await button(here, 'Sign off the job').tap();
  await see(heading(here, 'Signed off'));
  const signed = await savedFile(here, () => button(here, 'Save the job as a file').tap());

  const there = await (await openBrowser(t)).visit(host);
  await take(there, file(open.name, open.text));
  await link(there, 'Jobs').first().tap();
  await openJob(there, 'QRC-63');
  await allSteps(there);
  await there.getByRole('link', { name: 'Supply rail' }).tap();
  await note(there, 'Smells burnt.');
  await measure(there, '9.4');
  await allSteps(there);
  await link(there, 'Sign off').tap();
  const worked = await savedFile(there, () => button(there, 'Save the job as a file').tap());

  await take(here, file(worked.name, worked.text));
  await take(there, file(signed.name, signed.text));
  for (const page of [here, there]) {
    await link(page, 'Jobs').first().tap();
    await openJob(page, 'QRC-63');
    await allSteps(page);
    await link(page, 'Sign off').tap();
    await seeText(page, /Signed off, but/);
  }
  await agree(here, there);
});

async function openJob(page, serial) {
  await page.getByRole('link', { name: new RegExp(serial) }).first().tap();
  await page.getByRole('article').or(heading(page, 'Sign off')).or(heading(page, 'Signed off')).first().waitFor();
}

test('who types at the sign-off is not disturbed by an entry in another tab', async (t) => {
  const { browser, host, page } = await bench(t);
  await toTheRail(page);
  await measure(page, '8.0');
  await page.goto(page.url().replace(/step.*/, 'finish'));
  const remarks = page.getByLabel('Remarks for the owner');
  await type(remarks, 'Charge it ');
  const other = await browser.open(host.url);
  await other.goto(page.url().replace('finish', 'step/rail'));
  await page.bringToFront();
  await remarks.evaluate((it) => (it.dataset.mine = 'yes'));
  for (const [index, word] of ['once ', 'a ', 'month.'].entries()) {
    await other.bringToFront();
    await note(other, `Note ${index}`);
    await safe(other);
    await page.bringToFront();
    await page.keyboard.type(word);
  }
  assert.equal(await remarks.inputValue(), 'Charge it once a month.');
  const isMine = (it) => it.dataset.mine === 'yes' && it === document.activeElement;
  assert.ok(await remarks.evaluate(isMine), 'it is the field that was typed into, with the focus');
  await button(page, 'Sign off the job').tap();
  await seeText(page, 'Charge it once a month.');
});
