// Entries that an accident changed: said in the preview, shown with the job, and not believed.

import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';
import { DIST, openBrowser, openHost, shot } from './bench.mjs';
import { goTo } from './everywhere.mjs';
import { type } from './hand.mjs';
import { button, chooseFile, heading, link, see, seeText, shortProcedure, stored, takeIn } from './technician.mjs';

const SAMPLE = new URL('../files/3/job.json', import.meta.url);
const SAID = /^1 entry of this job is damaged: it is not what its check says, or has none, and counts for nothing\./;

test('a digit that turned in a file is told before it is taken, and not believed after', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t)).visit(host);
  const sound = await readFile(SAMPLE, 'utf8');
  const turned = sound.replace('"value": "0.12 V"', '"value": "0.42 V"');
  assert.notEqual(turned, sound);
  await link(page, 'Files').tap();
  const file = (text) => ({ name: 'job.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await chooseFile(page, file(turned));
  await seeText(page, /1 entry in the file is damaged: it is not what its check says, or has none, and counts for nothing/);
  await button(page, 'Import selected').tap();
  await seeText(page, /imported\./);

  await link(page, 'Jobs').tap();
  await page.getByRole('link', { name: /QRC-07/ }).tap();
  await seeText(page, SAID);
  await link(page, 'All steps').tap();
  await see(heading(page, 'All steps'));
  await seeText(page, SAID);
  await seeText(page, /now reads as found 0\.42/);
  await shot(page, 'damaged');
  assert.equal(await page.locator('.step-row', { hasText: '0.42' }).count(), 0);

  // A sound copy puts it right.
  await link(page, 'Files').tap();
  await chooseFile(page, file(sound));
  await seeText(page, /: 1 entry will be added/);
  await button(page, 'Import selected').tap();
  await seeText(page, /imported\./);
  const [text] = Object.entries(await stored(page)).filter(([key]) => key.startsWith('halfturn:job:')).map(([, it]) => it);
  assert.ok(text.includes('0.12 V') && !text.includes('0.42 V'), text);
});

// An event with its check: 48 bits of the digest of its own text.
const checked = ({ id, seq, at, did }) => {
  const digest = createHash('sha256').update(JSON.stringify({ id, seq, at, did })).digest();
  return { id, seq, at, did, check: digest.subarray(0, 6).toString('base64url') };
};

test('the last readings of a step are shown, and all of them when asked', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t)).visit(host);
  const document = JSON.parse(await readFile(SAMPLE, 'utf8'));
  const { log } = document.job;
  const first = log.find(({ did }) => did.reading?.step === 'reservoir');
  for (let count = 1; count < 40; count++) {
    const reading = { ...first.did.reading, value: `0.${100 + count} V` };
    log.push(checked({ ...first, id: `many-${count}`, seq: 1000 + count, did: { reading } }));
  }
  await takeIn(page, document);
  await link(page, 'Jobs').tap();
  await page.getByRole('link', { name: /QRC-07/ }).tap();
  await link(page, 'All steps').tap();
  await page.locator('.step-row', { hasText: /0[.]139/ }).tap();
  const rows = page.locator('table.taken tbody tr');
  await see(rows.filter({ hasText: '0.139' }));
  assert.equal(await rows.count(), 20);
  await button(page, 'Show all 40 readings').tap();
  await see(rows.filter({ hasText: '0.12' }).last());
  assert.equal(await rows.count(), 40);
  assert.equal(await button(page, 'Show all 40 readings').count(), 0);
});

test('a finished job with a damaged entry is signed off when that is set aside with a reason', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t)).visit(host);
  const rail = { id: 'rail', title: 'Supply rail', work: { read: { gauge: { at: 'TP1', with: 'meter', in: 'V' } } } };
  const procedure = shortProcedure('rail-only', 'The rail only', [rail]);
  const log = [
    checked({ id: 'e1', seq: 1, at: 1, did: { opened: { number: '17', set: { serial: 'QRC-07' } } } }),
    { id: 'e2', seq: 2, at: 2, did: { reading: { step: 'rail', phase: 'as-left', value: '8.4 V' } }, check: 'AAAAAAAA' },
    checked({ id: 'e3', seq: 3, at: 3, did: { waived: { step: 'rail', reason: 'Not asked for' } } }),
  ];
  const document = { type: 'halfturn-job', version: 3, job: { id: 'rail-job', procedure, log } };
  await takeIn(page, document);
  await link(page, 'Jobs').tap();
  await page.getByRole('link', { name: /QRC-07/ }).tap();
  await goTo(page, '#/job/rail-job/finish');
  await see(heading(page, 'Damaged entries'));
  await seeText(page, SAID);
  assert.equal(await button(page, 'Sign off the job').count(), 0);
  await shot(page, 'set-aside');

  const name = page.getByRole('textbox', { name: 'Who sets it aside' });
  await type(name, 'Quillmere bench');
  await button(page, 'Set aside').tap();
  const question = page.getByRole('dialog', { name: 'Set this entry aside' });
  await question.getByRole('button', { name: 'Set aside' }).tap();
  await seeText(page, /Type the reason first/);
  await type(question.getByRole('textbox'), 'The step is waived');
  await question.getByRole('button', { name: 'Set aside' }).tap();
  await seeText(page, /1 entry of this job is damaged and set aside: it counts for nothing\./);
  await seeText(page, /set aside by Quillmere bench: The step is waived/);
  await button(page, 'Sign off the job').tap();
  await see(heading(page, 'Signed off'));
  await link(page, 'Report').tap();
  await seeText(page, /The step is waived \(Quillmere bench/);
});
