// What the screens say of files, of the storage and of drafts, held against what is there.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, openBrowser, openHost, running } from './bench.mjs';
import { erase } from './hand.mjs';
import {
  STEPS, TRAINER, button, byTouch, chooseFile, field, heading, link, read, savedFile, see, seeText,
  startJob, stored,
} from './technician.mjs';

const { gauge } = STEPS[0].work.read;
const file = (name, content) => ({ name, mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(content)) });
const ofBackup = (backup) => file('several.json', { type: 'halfturn-backup', version: 2, backup });
const FILED = 'Every entry of every job went into a file from here or came out of one.';
const item = (page, title) => page.getByRole('listitem').filter({ hasText: title });
const keys = async (page, kind) =>
  Object.keys(await stored(page)).filter((key) => key.startsWith(`halfturn:${kind}:`));

async function visit(t) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  return { host, browser, page: await browser.visit(host) };
}

async function withJob(t) {
  const all = await visit(t);
  await button(all.page, 'Load the demo').tap();
  await see(heading(all.page, 'All steps'));
  await link(all.page, 'Jobs').tap();
  await startJob(byTouch(all.page), 'QRC-11');
  return all;
}

// Leaves room for so many signs and no more.
const fill = (page, room = 0) => page.evaluate((room) => {
  let rest = '';
  for (let chunk = 1 << 22; chunk >= 1; ) {
    try {
      localStorage.setItem('filler', rest + 'x'.repeat(chunk));
      rest += 'x'.repeat(chunk);
    } catch {
      chunk >>= 1;
    }
  }
  localStorage.setItem('filler', rest.slice(room));
}, room);
const free = (page) => page.evaluate(() => localStorage.removeItem('filler'));

test('what is in a file, and what is in none, is told by what went out and came in', async (t) => {
  const { host, page } = await withJob(t);
  await read(byTouch(page), '0.9', gauge, 'As found', 'inside');
  await link(page, 'Files').tap();
  await seeText(page, /^Not backed up: \d+ entries, 2 jobs/);
  const backup = await savedFile(page, () => button(page, 'Save a backup').tap());
  await seeText(page, `${backup.name} was handed to this browser’s downloads: see there that it has arrived.`);
  await seeText(page, FILED);
  assert.equal(JSON.parse(backup.text).backup.jobs.length, 2);

  await page.goBack();
  await read(byTouch(page), '0.8', gauge, 'As left', 'inside');
  await link(page, 'Files').tap();
  await seeText(page, 'Not backed up: 1 entry, 1 job');

  const other = await (await openBrowser(t)).visit(host);
  await link(other, 'Files').tap();
  await chooseFile(other, { name: backup.name, mimeType: 'application/json', buffer: Buffer.from(backup.text) });
  await button(other, 'Import selected').tap();
  await seeText(other, /items imported\./);
  await seeText(other, FILED);
  assert.equal((await keys(other, 'job')).length, 2);
});

test('of a file that finds the storage full, what was taken in is told and there, and no more', async (t) => {
  const { page } = await visit(t);
  const [first, second] = [1, 2].map((number) => ({
    role: 'meter', name: `Club meter ${number}`, asset: `QRC-${number}`,
  }));
  await link(page, 'Procedures').tap();
  await seeText(page, 'There is no procedure on this device yet.');
  await link(page, 'Files').first().tap();
  await chooseFile(page, ofBackup({ kit: [first, second], procedures: [TRAINER] }));
  await see(item(page, 'Instrument: Club meter 2'));
  // Room for the instruments, not for the procedure.
  await fill(page, 2000);
  await button(page, 'Import selected').tap();
  await seeText(page, '2 of 3 items imported, each of them whole; the next one was not. This device\'s storage for the app is full, so this was not saved');
  const kit = JSON.parse((await stored(page))['halfturn:kit']);
  assert.deepEqual(kit.map(({ name }) => name), ['Club meter 1', 'Club meter 2']);
  assert.deepEqual(await keys(page, 'procedure'), []);

  await free(page);
  await chooseFile(page, ofBackup({ kit: [first, second], procedures: [TRAINER] }));
  await button(page, 'Import selected').tap();
  await seeText(page, '1 item imported.');
  assert.equal((await keys(page, 'procedure')).length, 1);
});

test('what differs from what is here is not ticked, and stays as it is', async (t) => {
  const { page } = await visit(t);
  const kit = [{ role: 'meter', name: 'Club meter', asset: 'QRC-1' }];
  const channels = [{ name: 'Club net', source: 'the club', channels: [{ name: '1', frequency: '28.500 MHz' }] }];
  const preferences = { 'decimal-sign': 'point', technician: 'Bench 1' };
  const bringIn = async (backup) => {
    await link(page, 'Files').tap();
    await chooseFile(page, ofBackup(backup));
    await see(item(page, 'Instrument: Club meter'));
  };
  await bringIn({ kit, channels, preferences });
  await button(page, 'Import selected').tap();
  await seeText(page, '3 items imported.');
  const before = await stored(page);

  const procedures = [TRAINER];
  await bringIn({
    kit: [{ ...kit[0], asset: 'QRC-2' }],
    channels: [{ ...channels[0], source: 'somebody' }],
    preferences: { ...preferences, technician: 'Bench 2' },
    procedures,
  });
  for (const title of ['Instrument: Club meter', 'Channel table: Club net', 'Settings']) {
    const row = item(page, title);
    await see(row.getByText('Differs from what is here: it would replace that.'));
    assert.equal(await row.getByRole('checkbox').isChecked(), false, title);
  }
  await button(page, 'Import selected').tap();
  await seeText(page, '1 item imported.');
  const after = await stored(page);
  for (const key of ['kit', 'channels', 'preferences'].map((name) => `halfturn:${name}`)) {
    assert.equal(after[key], before[key], key);
  }
});

test('an entry that is not stored is told of until it is, whatever else is stored meanwhile', async (t) => {
  const { page } = await withJob(t);
  await fill(page);
  await byTouch(page).number('0.4');
  await button(page, 'Enter').tap();
  const told = page.getByText(/^Last entry of .*QRC-11.* not saved\./);
  await see(told);
  await free(page);

  await link(page, 'Jobs').tap();
  await page.getByRole('link', { name: /QRC-07/ }).tap();
  await button(page, 'Note').tap();
  await byTouch(page).write(page.getByRole('textbox', { name: 'A note on this step' }), 'Dry joint.');
  await button(page, 'Save the note').tap();
  await seeText(page, 'Dry joint.');
  await see(told);
  const kept = await savedFile(page, () => button(page, 'Save the job as a file').first().tap());
  assert.match(kept.text, /"0\.4 V"/);

  await link(page, 'Jobs').tap();
  await page.getByRole('link', { name: /QRC-11/ }).tap();
  await erase(field(page));
  await byTouch(page).number('0.4');
  await button(page, 'Enter').tap();
  await page.getByRole('row').filter({ hasText: '0.4' }).waitFor();
  await told.waitFor({ state: 'detached' });
});

test('a change of a draft that finds no room is not called taken back', async (t) => {
  const { page } = await visit(t);
  await link(page, 'Procedures').tap();
  await link(page, 'Write a procedure').tap();
  await button(page, 'Blank').tap();
  const title = page.getByRole('textbox', { name: 'Title of the procedure' });
  await byTouch(page).write(title, 'Carrier check');
  await button(page, 'Add a section').tap();
  const [key] = await keys(page, 'authoring');
  const before = (await stored(page))[key];
  assert.match(before, /Carrier check/);
  // Not even the shorter one finds room where the storage refuses to be written.
  await page.evaluate(() => {
    Storage.prototype.setItem = () => {
      throw new DOMException('full', 'QuotaExceededError');
    };
  });
  await page.getByRole('button', { name: /^Undo/ }).tap();
  await seeText(page, 'so this was not saved');
  assert.equal(await page.getByText(/^Undone/).count(), 0);
  assert.equal((await stored(page))[key], before);
});

test('a draft thrown away in another tab is not called kept', async (t) => {
  const { browser, page } = await visit(t);
  await link(page, 'Procedures').tap();
  await link(page, 'Write a procedure').tap();
  await button(page, 'Blank').tap();
  const title = page.getByRole('textbox', { name: 'Title of the procedure' });
  await byTouch(page).write(title, 'Carrier check');
  const other = await browser.open(page.url());
  await running(other);
  await button(other, 'Discard draft').tap();
  await other.getByRole('button', { name: 'Discard draft' }).last().tap();
  await see(heading(other, 'Procedures'));
  assert.deepEqual(await keys(page, 'authoring'), []);
  await page.bringToFront();
  await byTouch(page).write(title, ' two');
  await seeText(page, 'so what is typed here is not kept');
  assert.deepEqual(await keys(page, 'authoring'), []);
});

test('a file whose pictures can’t be had says so', async (t) => {
  const host = await openHost(t, DIST);
  const board = { picture: 'ab'.repeat(32), title: 'Top', width: 1600, height: 1200, pins: [] };
  const procedure = { ...TRAINER, pictures: [board] };
  const save = async (browser) => {
    const page = await browser.visit(host);
    await link(page, 'Files').tap();
    await chooseFile(page, file('a.json', { type: 'halfturn-procedure', version: 2, procedure }));
    await button(page, 'Import selected').tap();
    await seeText(page, '1 item imported.');
    await link(page, 'Procedures').tap();
    await page.getByRole('link', { name: TRAINER.title }).tap();
    const it = await savedFile(page, () => button(page, 'Save as a file').tap());
    assert.equal(JSON.parse(it.text).pictures, undefined);
    return { page, name: it.name };
  };
  const { page } = await save(await openBrowser(t));
  await seeText(page, 'One picture is not on this device, so it is not in the file.');

  const without = await openBrowser(t);
  await without.context.addInitScript(() =>
    Object.defineProperty(window, 'indexedDB', { value: undefined }),
  );
  const { page: other, name } = await save(without);
  await seeText(other, `${name} was handed to this browser’s downloads without its pictures.`);
});

test('what another app did not take is not called shared', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  await browser.context.addInitScript(() => {
    Object.defineProperty(Navigator.prototype, 'canShare', { value: () => true, configurable: true });
    const share = async () => {
      throw new DOMException('', 'NotAllowedError');
    };
    Object.defineProperty(Navigator.prototype, 'share', { value: share, configurable: true });
  });
  const page = await browser.visit(host);
  await link(page, 'Files').tap();
  const before = await stored(page);
  await button(page, 'Share…').tap();
  await seeText(page, 'The file was not shared: save it');
  assert.equal((await stored(page))['halfturn:filed'], before['halfturn:filed']);
});
