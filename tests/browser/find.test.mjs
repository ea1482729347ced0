// Finding a job, a set, a procedure among many, and what was here before.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, barriers, openBrowser, openHost, running } from './bench.mjs';
import { STEPS, TRAINER, button, byTouch, heading, link, read, see, seeText, startJob } from './technician.mjs';
import { add, erase, type } from './hand.mjs';

const DAY = 24 * 3600 * 1000;

// The demo, and beside its job more of its kind: copies of it whose first entry names another
// set, some signed off, some in the middle of a wait.
async function withJobs(t, jobs, device) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await page.evaluate(
    ([jobs, DAY]) => {
      const key = Object.keys(localStorage).find((key) => key.startsWith('halfturn:job:'));
      const record = JSON.parse(localStorage[key]);
      const [opened] = record.log;
      const template = JSON.parse(localStorage[key.replace('job:', 'line:')]);
      jobs.forEach(({ serial, owner = '', fault = '', model = '28 MHz trainer', state, daysAgo = 1, left }, index) => {
        const at = opened.at - daysAgo * DAY;
        const header = { ...opened.did.opened, number: `n${index + 1}`, owner, fault, instruments: [] };
        header.set = { make: 'Quillmere Radio Club', model, serial };
        const deeds = [{ opened: header }];
        if (state === 'waiting') deeds.push({ 'wait-begun': { step: 'warm-up' } });
        if (left) deeds.push({ reading: { step: 'reservoir', phase: 'as-left', value: left } });
        if (state === 'finished') deeds.push({ 'signed-off': { by: 'Bench 3', remarks: '' } });
        const log = deeds.map((did, place) => ({ id: `x${index}-${place}`, seq: place + 1, at: at + place, did }));
        const text = JSON.stringify({ procedure: record.procedure, log });
        localStorage[`halfturn:job:many-${index}`] = text;
        // Jobs saved by the app have their lines; few enough can be made when they are missed.
        if (jobs.length < 10) return;
        const line = { ...template.line, id: `many-${index}`, number: header.number, set: header.set, owner, fault, started: at, touched: at };
        if (state === 'finished') line.standing = { finished: { by: 'Bench 3', at } };
        localStorage[`halfturn:line:many-${index}`] = JSON.stringify({ size: text.length, line });
      });
    },
    [jobs, DAY],
  );
  await page.reload();
  await running(page);
  await link(page, 'Jobs').tap();
  await see(heading(page, 'Jobs'));
  return page;
}

const JOBS = [
  { serial: 'QRC-61', owner: 'Müller, loan shelf', fault: 'Deaf' },
  { serial: 'QRC-62', owner: 'Łucja Ærø', fault: 'Hums on receive', state: 'waiting' },
  { serial: 'QRC-63', owner: 'Ada', fault: 'No modulation', state: 'finished' },
  { serial: 'QRC-61', owner: 'Müller', fault: 'Loud', state: 'finished', daysAgo: 400 },
];

const cards = (page) => page.locator('.card').filter({ hasText: /n\d/ });
const shows = async (page, numbers) => {
  const seen = async () => (await cards(page).allInnerTexts()).map((text) => text.match(/n\d+/)[0]).sort();
  for (let tries = 0; tries < 50 && (await seen()).join() !== numbers.join(); tries += 1) {
    await page.waitForTimeout(100);
  }
  assert.deepEqual(await seen(), numbers);
};

for (const [name, device] of [['a tablet', undefined], ['a phone', PHONE]]) {
  test(`jobs are found as one types, and filtered by touch, on ${name}`, async (t) => {
    const page = await withJobs(t, JOBS, device);
    const field = page.getByLabel('Find', { exact: true });
    await shows(page, ['n1', 'n2', 'n3', 'n4']);
    for (const [typed, numbers] of [
      ['muller', ['n1', 'n4']],
      ['DEAF müll', ['n1']],
      ['qrc61 loud', ['n4']],
      ['lucja aero', ['n2']],
      ['aerø łuc', ['n2']],
      ['trainer', ['n1', 'n2', 'n3', 'n4']],
      ['no such words', []],
    ]) {
      await erase(field);
      await byTouch(page).write(field, typed);
      await shows(page, numbers);
    }
    await seeText(page, 'No match.');
    await type(field, 'qrc-61');
    await see(heading(page, 'Sets'));
    await see(page.getByRole('link', { name: /QRC-61: 2 visits/ }));
    await type(field, TRAINER.title);
    await see(heading(page, 'Procedures'));

    await erase(field);
    for (const [choice, numbers] of [
      ['Finished', ['n3', 'n4']],
      ['Waiting', ['n2']],
      ['In progress', ['n1', 'n2']],
      ['All', ['n1', 'n2', 'n3', 'n4']],
    ]) {
      await page.getByRole('radio', { name: choice, exact: true }).tap();
      await shows(page, numbers);
    }
    assert.deepEqual(await barriers(page), []);
  });
}

test('with a thousand jobs the newest are shown, and any of them is found', async (t) => {
  const many = Array.from({ length: 1000 }, (_, index) => ({
    serial: `QRC-${1000 + index}`,
    owner: `Member ${index}`,
    state: index % 2 ? 'finished' : undefined,
    daysAgo: index + 1,
  }));
  const page = await withJobs(t, many);
  assert.ok((await page.locator('.card').count()) <= 40, 'not a thousand cards');
  await page.getByRole('button', { name: 'Show more' }).first().tap();
  await seeText(page, /30 of 50[01]/);
  const started = Date.now();
  await byTouch(page).write(page.getByLabel('Find', { exact: true }), 'member qrc-1873');
  await shows(page, ['n874']);
  t.diagnostic(`found one of 1,000 in ${Date.now() - started} ms`);
});

test('earlier jobs of a set appear at intake as its serial is typed, and lead to its page', async (t) => {
  const visits = [
    { serial: 'QRC-71', fault: 'Crackles', state: 'finished', daysAgo: 500, left: '0.40 V' },
    { serial: 'QRC-71', fault: 'Deaf', state: 'finished', daysAgo: 200, left: '0.60 V' },
    { serial: 'QRC-72', fault: 'Hums', daysAgo: 3 },
  ];
  const page = await withJobs(t, visits);
  await link(page, 'Start a job').tap();
  await page.getByRole('link', { name: TRAINER.title }).tap();
  const here = page.getByRole('complementary', { name: 'Previous visits' });
  const alike = page.getByRole('complementary', { name: 'Jobs with this in their serial number' });
  const serial = page.getByLabel('Serial number', { exact: true });
  await byTouch(page).write(serial, 'q');
  assert.equal(await alike.count() + await here.count(), 0, 'one letter says nothing');
  await add(serial, 'rc7');
  await see(alike.getByRole('link', { name: /QRC-72.*Hums/ }));
  assert.equal(await alike.getByRole('listitem').count(), 3);
  await add(serial, '1');
  await see(alike.getByRole('link', { name: /QRC-71.*n1.*Crackles/ }));
  assert.equal(await alike.getByRole('listitem').count(), 2);
  // The same number on another plate is another set's; only the whole plate is this one.
  assert.equal(await here.count(), 0);
  await add(page.getByLabel('Make', { exact: true }), 'Quillmere Radio Club');
  await add(page.getByLabel('Model', { exact: true }), '28 MHz trainer');
  await see(here.getByRole('link', { name: /QRC-71.*n1.*Crackles/ }));
  assert.equal(await alike.count(), 0);
  assert.deepEqual(await barriers(page), []);

  await here.getByRole('link', { name: 'Service history and trends' }).tap();
  await see(heading(page, 'Service history, QRC-71'));
  // What each visit left, and the course drawn from one to the next.
  await see(page.getByRole('cell', { name: /0\.40\sV\s*→\s*0\.60\sV/ }));
  await see(page.locator('table svg[role=img]'));
  assert.deepEqual(await barriers(page), []);
});

test('a step shows what the last visit of the set left there, and how far it is found from that', async (t) => {
  const page = await withJobs(t, [
    { serial: 'QRC-71', state: 'finished', daysAgo: 500, left: '0.90 V' },
    { serial: 'QRC-71', state: 'finished', daysAgo: 200, left: '0.60 V' },
    { serial: 'QRC-72', state: 'finished', daysAgo: 20, left: '0.10 V' },
  ]);
  const hand = byTouch(page);
  await startJob(hand, 'QRC-71');
  const before = page.locator('.before');
  await see(before.filter({ hasText: /^Last visit, .*: left at 0\.60\sV\.$/ }));
  const [{ gauge }] = Object.values(STEPS[0].work);
  await read(hand, '0.75', gauge, 'As found');
  await see(before.filter({ hasText: /Found now: 0\.75\sV, 150\smV above that\.|0\.15\sV above that\./ }));
  assert.deepEqual(await barriers(page), []);
});
