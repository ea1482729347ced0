// The browser's storage when it is full, denied, damaged, newer or shared: nothing is lost, and
// it is said what to do.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, openBrowser, openHost, running } from './bench.mjs';
import { add, type } from './hand.mjs';
import {
  STEPS, button, byTouch, field, heading, link, read, savedFile, see, seeText, shortProcedure,
  startJob, stored, takeIn,
} from './technician.mjs';

const { gauge } = STEPS[0].work.read;
const savedRows = (page) => page.getByRole('table', { name: 'Readings, newest first' }).getByRole('row');
const readingsIn = (text) =>
  JSON.parse(text).job.log.flatMap(({ did }) => did.reading?.value ?? []);

// The demo's job and one of our own, at its first step.
async function withJobs(t) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await link(page, 'Jobs').tap();
  await startJob(byTouch(page), 'QRC-11');
  return { host, browser, page };
}

// What is on its way to the disk is there now, or was there at the start.
const safe = (page) => page.waitForSelector('html[data-saved=yes]', { state: 'attached' });

const forgetJournal = async (page) => {
  await safe(page);
  await page.evaluate(() => new Promise((done, failed) => {
    Object.assign(indexedDB.deleteDatabase('halfturn'), { onsuccess: done, onerror: failed });
  }));
};

const reload = (page) => page.reload().then(() => running(page));

test('with the storage full, a reading stays in the field and can be saved as a file', async (t) => {
  const { page } = await withJobs(t);
  await read(byTouch(page), '0.9', gauge, 'As found', 'inside');
  await page.evaluate(() => {
    for (let chunk = 1 << 22, rest = ''; chunk >= 1; ) {
      try {
        localStorage.setItem('filler', rest + 'x'.repeat(chunk));
        rest += 'x'.repeat(chunk);
      } catch {
        chunk >>= 1;
      }
    }
  });
  const before = await stored(page);

  await byTouch(page).number('0.4');
  await button(page, 'Enter').tap();
  await seeText(page, 'storage for the app is full, so this was not saved');
  await seeText(page, /^Last entry of .*QRC-11.* not saved\./);
  assert.equal(await field(page).inputValue(), '0.4');
  assert.equal(await savedRows(page).count(), 1, 'nothing is shown as saved that is not');
  assert.deepEqual(await stored(page), before);
  const file = await savedFile(page, () => button(page, 'Save the job as a file').tap());
  assert.deepEqual(readingsIn(file.text), ['0.9 V', '0.4 V']);

  await page.evaluate(() => localStorage.removeItem('filler'));
  await button(page, 'Enter').tap();
  await savedRows(page).nth(1).waitFor();
  assert.equal(await page.getByText(/not saved\. Save the job/).count(), 0);
});

test('with the storage denied, the app says so and goes on', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  await browser.context.addInitScript(() =>
    Object.defineProperty(window, 'localStorage', {
      get() {
        throw new DOMException('denied', 'SecurityError');
      },
    }),
  );
  const page = await browser.visit(host);
  const sentence = 'The browser does not let this page keep anything: allow site data for it';
  await see(page.getByRole('alert').filter({ hasText: sentence }));
  await button(page, 'Load the demo').tap();
  await see(page.getByRole('button', { name: 'Close' }).locator('..').getByText(sentence));
  await link(page, 'Files').tap();
  await see(heading(page, 'Files'));
});

test('a job that can’t be read is set aside as it is; the others go on', async (t) => {
  const { page } = await withJobs(t);
  const key = await page.evaluate(() => {
    const id = location.hash.split('/')[2];
    const key = `halfturn:job:${id}`;
    localStorage.setItem(key, localStorage.getItem(key).slice(0, -9));
    return key;
  });
  const damaged = (await stored(page))[key];
  await forgetJournal(page);
  await reload(page);
  await seeText(page, `What is kept under “${key}” can't be read`);

  await link(page, 'Jobs').tap();
  await see(page.getByRole('link', { name: /QRC-07/ }));
  assert.equal(await page.getByRole('link', { name: /QRC-11/ }).count(), 0);
  await seeText(page, '1 job on this device can’t be read, so it is not in this list.');
  await page.getByRole('link', { name: /QRC-07/ }).tap();
  await button(page, 'Note').tap();
  await byTouch(page).write(page.getByRole('textbox', { name: 'A note on this step' }), 'Dry joint.');
  await button(page, 'Save the note').tap();
  await seeText(page, 'Dry joint.');

  await link(page, 'Files').tap();
  const entry = page.getByRole('listitem').filter({ hasText: key });
  const file = await savedFile(page, () => button(entry, 'Save').tap());
  assert.equal(file.text, damaged);
  assert.equal((await stored(page))[key], damaged);
});

test('a killed browser loses no reading that the screen had called saved', async (t) => {
  const { browser, page } = await withJobs(t);
  const hand = byTouch(page);
  for (const digits of ['0.9', '0.8', '0.7']) {
    await hand.number(digits);
    await hand.enter();
    await page.locator('tr[data-saved=true]').filter({ hasText: `${digits} V` }).waitFor();
  }
  const address = page.url();
  await browser.kill();

  // Local storage reached the disk seconds ago, if at all; even the job may not be in it.
  const next = await openBrowser(t, { profile: browser.profile });
  const again = await next.open(address);
  await safe(again);
  for (const digits of ['0.9', '0.8', '0.7']) {
    await savedRows(again).filter({ hasText: `${digits} V` }).waitFor();
  }
});

test('a killed browser starts at the step where one was, not where one was before', async (t) => {
  const { host, browser, page } = await withJobs(t);
  await page.goto(`${page.url().replace(/step.*/, 'finish')}`);
  await see(heading(page, 'Sign off'));
  // By now the browser has written local storage to the disk; what comes now it has not.
  await page.waitForTimeout(8000);
  await link(page, 'All steps').tap();
  await page.getByRole('link', { name: STEPS[2].title }).tap();
  await see(heading(page, STEPS[2].title));
  await safe(page);
  await browser.kill();

  const next = await openBrowser(t, { profile: browser.profile });
  const again = await next.open(host.url);
  await see(heading(again, STEPS[2].title));
  await safe(again);
  await see(heading(again, STEPS[2].title));
});

test('a removed job does not come back out of the journal', async (t) => {
  const { page } = await withJobs(t);
  await link(page, 'Files').tap();
  const entry = page.getByRole('listitem').filter({ hasText: 'QRC-11' });
  await button(entry, 'Remove…').tap();
  await button(entry, 'Delete permanently').tap();
  await seeText(page, 'was removed from this device');
  await reload(page);
  await safe(page);
  await link(page, 'Jobs').tap();
  await see(page.getByRole('link', { name: /QRC-07/ }));
  assert.equal(await page.getByRole('link', { name: /QRC-11/ }).count(), 0);
});

test('without a database all goes on, and the data screen says what that means', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  await browser.context.addInitScript(() =>
    Object.defineProperty(window, 'indexedDB', { value: undefined }),
  );
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await link(page, 'Jobs').tap();
  await startJob(byTouch(page), 'QRC-11');
  await read(byTouch(page), '0.9', gauge, 'As found', 'inside');
  await page.waitForSelector('html[data-saved=unsure]', { state: 'attached' });
  await link(page, 'Files').tap();
  await seeText(page, 'the last minutes may be lost');
});

test('storage of a later version is left alone', async (t) => {
  const { page } = await withJobs(t);
  await page.evaluate(() => localStorage.setItem('halfturn:layout', '1000'));
  await reload(page);
  const before = await stored(page);
  const sentence = 'The data here is in layout 1000, from a later version of the app.';
  await see(page.getByRole('alert').filter({ hasText: sentence }));

  await byTouch(page).number('0.4');
  await button(page, 'Enter').tap();
  await see(page.getByRole('button', { name: 'Close' }).locator('..').getByText(sentence));
  assert.equal(await field(page).inputValue(), '0.4');
  await link(page, 'Files').tap();
  await see(heading(page, 'Files'));
  assert.deepEqual(await stored(page), before);
});

test('two tabs with the same job show one log, and neither overwrites the other', async (t) => {
  const { browser, page } = await withJobs(t);
  const other = await browser.open(page.url());
  await page.bringToFront();
  await read(byTouch(page), '0.9', gauge, 'As found', 'inside');
  await savedRows(other).filter({ hasText: '0.9 V' }).waitFor();

  // Both at once, so that neither has seen the other's.
  await byTouch(page).number('0.5');
  await other.bringToFront();
  await byTouch(other).number('0.6');
  await Promise.all([page, other].map((tab) => tab.evaluate(() => {
    document.querySelector('#reading').form.requestSubmit();
  })));
  for (const tab of [page, other]) {
    for (const value of ['0.9 V', '0.5 V', '0.6 V']) {
      await savedRows(tab).filter({ hasText: value }).waitFor();
    }
    assert.equal(await savedRows(tab).count(), 3);
  }
  await reload(other);
  assert.equal(await savedRows(other).count(), 3);
});

test('a finding, a change, the set and why a reading is struck out outlive a killed browser while they are typed', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  const procedure = shortProcedure('qrc-look', 'Look and read', [
    { id: 'look', title: 'Look inside', work: 'inspect' },
    { id: 'rail', title: 'Supply rail', work: { read: { gauge: { at: 'TP1', with: 'meter', in: 'V' } } } },
  ]);
  const opened = { number: 'QRC-52', set: { serial: 'QRC-52' }, owner: 'Club', technician: 'Bench 1' };
  const log = ['8.1 V', '8.2 V'].map((value) => ({ reading: { step: 'rail', phase: 'as-found', value } }));
  const job = {
    id: 'qrc-52', procedure,
    log: [{ opened }, ...log].map((did, place) => ({ id: `e${place}`, seq: place + 1, at: place, did })),
  };
  await takeIn(page, { type: 'halfturn-job', version: 2, job });
  await seeText(page, '1 item imported.');
  const typed = [
    ['step/look', (page) => page.getByLabel('Observation'), 'Burnt at R7'],
    ['changes', (page) => page.getByRole('textbox', { name: 'Removed', exact: true }), 'Lamp, 6 V'],
    ['details', (page) => page.getByLabel('Owner'), ' of Quillmere'],
    ['step/rail', (page) => page.locator('dialog.ask textarea'), 'Lead was off'],
  ];
  const open = async (page, screen, place) => {
    await page.goto(`${host.url}#/job/qrc-52/${screen}`);
    if (screen === 'step/rail') await page.locator('button.strike').nth(place ?? 0).tap();
  };
  for (const [screen, find, text] of typed) {
    await open(page, screen);
    await add(find(page), text);
  }
  // What was typed of one reading is no reason for another.
  await button(page, 'Cancel').tap();
  await open(page, 'step/rail', 1);
  assert.equal(await page.locator('dialog.ask textarea').inputValue(), '');
  await safe(page);
  await browser.kill();

  const again = await openBrowser(t, { profile: browser.profile });
  const back = await again.visit(host);
  for (const [screen, find, text] of typed) {
    await open(back, screen);
    const value = await find(back).inputValue();
    assert.ok(value.endsWith(text), `${screen}: ${value}`);
  }
  await button(back, 'Void reading').tap();
  await back.goto(`${host.url}#/job/qrc-52/details`);
  await button(back, 'Save').tap();
  await back.goto(`${host.url}#/job/qrc-52/step/look`);
  await back.getByRole('button', { name: /^Worn/ }).tap();
  await seeText(back, 'Burnt at R7');
  await back.goto(`${host.url}#/job/qrc-52/changes`);
  await type(back.getByRole('textbox', { name: 'Fitted', exact: true }), 'Lamp, 12 V');
  await button(back, 'Save the change').tap();
  await seeText(back, 'Lamp, 6 V → Lamp, 12 V');
  const left = (await stored(back))['halfturn:forms'] ?? '';
  for (const [, , text] of typed) assert.ok(!left.includes(text), `${text} is an entry now: ${left}`);
});

test('remarks that are not signed yet outlive the page, and end with the sign-off', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t)).visit(host);
  const procedure = shortProcedure('qrc-lid', 'Lid check', [{ id: 'lid', title: 'Lid on', work: 'tick' }]);
  const opened = { number: 'QRC-51', set: { serial: 'QRC-51' }, technician: 'Bench 1' };
  const log = [{ opened }, { ticked: { step: 'lid' } }];
  const job = { id: 'qrc-51', procedure, log: log.map((did, place) => ({ id: `e${place}`, seq: place + 1, at: place, did })) };
  await takeIn(page, { type: 'halfturn-job', version: 2, job });
  await seeText(page, '1 item imported.');
  await page.goto(`${host.url}#/job/qrc-51/finish`);
  const remarks = page.getByLabel('Remarks for the owner');
  await type(remarks, 'Runs well.');
  await reload(page);
  assert.equal(await remarks.inputValue(), 'Runs well.');
  await button(page, 'Sign off the job').tap();
  await see(heading(page, 'Signed off'));
  assert.ok(!(await forms(page)).includes('Runs well.'), 'nothing is left of it in the form');
});

// What is typed in forms and not sent.
const forms = async (page) => (await stored(page))['halfturn:forms'] ?? '';

test('what is typed in a note and in the form of a new job outlives a killed browser, and ends with what it became', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await page.goto(`${host.url}#/start`);
  // The first card is for a set without a procedure.
  await page.locator('a.card').nth(1).tap();
  await see(heading(page, 'Start a job'));
  await type(page.getByLabel('Serial number'), 'QRC-77');
  await safe(page);
  await browser.kill();

  const again = await openBrowser(t, { profile: browser.profile });
  const back = await again.visit(host);
  await safe(back);
  assert.ok((await forms(back)).includes('QRC-77'), await forms(back));
  await see(heading(back, 'Start a job'));
  assert.equal(await back.getByLabel('Serial number').inputValue(), 'QRC-77');
  await button(back, 'Start the job').click();
  await see(button(back, 'Note'));
  assert.ok(!(await forms(back)).includes('QRC-77'), 'the form is a job now');

  await button(back, 'Note').tap();
  await type(back.locator('dialog.ask textarea'), 'Case is bent');
  await reload(back);
  await button(back, 'Note').tap();
  assert.equal(await back.locator('dialog.ask textarea').inputValue(), 'Case is bent');
  await button(back, 'Save the note').click();
  await seeText(back, 'Case is bent');
  assert.ok(!(await forms(back)).includes('Case is bent'), 'the text is an entry now');
});

// The log of the job in hand, as it is stored.
const logInHand = (page) => page.evaluate(() => {
  const key = Object.keys(localStorage).find((it) => it.startsWith('halfturn:job:') && location.hash.includes(it.split(':')[2]));
  return JSON.parse(localStorage.getItem(key)).log;
});

test('a reading is stored in the task of its key, and whatever comes before the rest of the screen hears of it counts', async (t) => {
  const { page } = await withJobs(t);
  await field(page).waitFor();
  const before = (await logInHand(page)).length;
  const [stored, typed, rows] = await page.evaluate(async (unit) => {
    const of_job = () => {
      const key = Object.keys(localStorage).find((it) => it.startsWith('halfturn:job:') && location.hash.includes(it.split(':')[2]));
      return JSON.parse(localStorage.getItem(key)).log.map(({ did }) => did.reading?.value ?? Object.keys(did)[0]);
    };
    const enter = (text) => {
      const input = document.querySelector('#reading');
      input.value = text;
      input.dispatchEvent(new Event('input', { bubbles: true }));
      input.form.requestSubmit();
      return of_job().at(-1) === `${text} ${unit}`;
    };
    const stored = [enter('0.12')];
    await Promise.resolve();
    await new Promise((done) => requestAnimationFrame(done));
    const typed = document.querySelectorAll('.verdict-typed').length;
    // The press that bounces, the next number, and the way back, all within a frame.
    document.querySelector('#reading').form.requestSubmit();
    stored.push(enter('0.13'), enter('0.14'));
    [...document.querySelectorAll('.bar button')].find((it) => it.textContent === 'Undo').click();
    stored.push(of_job().at(-1) === 'undone');
    await new Promise((done) => setTimeout(done, 300));
    return [stored, typed, document.querySelectorAll('table.taken tr').length];
  }, gauge.in);
  assert.deepEqual([stored, typed, rows], [[true, true, true, true], 0, 2]);
  assert.equal((await logInHand(page)).length, before + 4);
  assert.match(await savedRows(page).first().innerText(), /0\.13/);
  await safe(page);
  await reload(page);
  await see(savedRows(page));
  assert.equal(await savedRows(page).count(), 2);
});

test('a procedure that is not what its fingerprint says is worked by no more than before, however soon a key comes', async (t) => {
  const { browser, page } = await withJobs(t);
  await field(page).waitFor();
  await forgetJournal(page);
  const before = await logInHand(page);
  await page.evaluate((title) => {
    for (const key of Object.keys(localStorage).filter((it) => it.startsWith('halfturn:procedure:'))) {
      localStorage.setItem(key, localStorage.getItem(key).replace(title, `${title}!`));
    }
  }, STEPS[0].title);
  await browser.context.addInitScript(() => {
    new MutationObserver((_, watch) => {
      const input = document.querySelector('#reading');
      if (!input) return;
      watch.disconnect();
      globalThis.wasThere = true;
      input.value = '0.12';
      input.dispatchEvent(new Event('input', { bubbles: true }));
      input.form.requestSubmit();
    }).observe(document, { childList: true, subtree: true });
  });
  await reload(page);
  await seeText(page, /content is not what its fingerprint says/);
  assert.ok(await page.evaluate(() => globalThis.wasThere), 'a key came before anybody had looked');
  assert.equal(await field(page).count(), 0);
  assert.deepEqual(await logInHand(page), before);
});
