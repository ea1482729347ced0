// Files that travel: picked, saved, shared, opened elsewhere, merged back; and what a browser
// lacks is said.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { test } from 'node:test';
import { DIST, PHONE, barriers, openBrowser, openHost, running } from './bench.mjs';
import {
  button, byTouch, chooseFile, heading, link, savedFile, see, seeStatus, seeText, shortProcedure, stored,
} from './technician.mjs';
import { maker } from '../figures/years.mjs';
import { tapAt } from './hand.mjs';

const PROCEDURE = shortProcedure('qrc-quick', 'Quick look at the trainer', [
  { id: 'look', title: 'Look it over', work: 'tick' },
  {
    id: 'rail',
    title: 'Supply rail',
    work: { read: { gauge: { at: 'TP1', with: 'meter', in: 'V' }, target: { fixed: { between: { low: '7.5 V', high: '8.5 V' } } } } },
  },
]);

const file = (name, content) => ({
  name,
  mimeType: 'application/json',
  buffer: Buffer.from(typeof content === 'string' ? content : JSON.stringify(content)),
});
const ofProcedure = (procedure) =>
  file('procedure.json', { type: 'halfturn-procedure', version: 2, procedure });

const item = (page, title) => page.getByRole('listitem').filter({ hasText: title });
const choice = (page, title) => item(page, title).getByRole('checkbox');

async function bringIn(page, it, count = 1) {
  await link(page, 'Files').tap();
  await chooseFile(page, it);
  await button(page, 'Import selected').tap();
  await seeText(page, count === 1 ? '1 item imported.' : `${count} items imported.`);
}

async function start(page, serial) {
  await link(page, 'Jobs').tap();
  await link(page, 'Start a job').tap();
  await page.getByRole('link', { name: PROCEDURE.title }).tap();
  await byTouch(page).write(page.getByLabel('Make', { exact: true }), 'Quillmere Radio Club');
  await byTouch(page).write(page.getByLabel('Serial number', { exact: true }), serial);
  await byTouch(page).write(page.getByLabel('Technician', { exact: true }), 'Bench 1');
  await button(page, 'Start the job').tap();
  await see(heading(page, 'Look it over'));
}

async function finish(page, volts) {
  await button(page, 'Done').tap();
  await seeStatus(page, 'done');
  await button(page, 'Next').tap();
  await see(heading(page, 'Supply rail'));
  await byTouch(page).number(volts);
  await button(page, 'Enter').tap();
  await seeStatus(page, 'done');
  await button(page, 'Next').tap();
  await see(heading(page, 'Sign off'));
  await button(page, 'Sign off the job').tap();
  await see(heading(page, 'Signed off'));
}

// The export screen with these ticked, and what is saved from it.
async function picked(page, ...names) {
  await link(page, 'Files').first().tap();
  await link(page, 'Export selected').tap();
  for (const name of names) await page.getByRole('checkbox', { name }).tap();
  return savedFile(page, () => button(page, 'Save as a file').tap());
}

// The texts in the storage but for the place last looked at and what is derived.
const kept = async (page) => {
  const all = Object.entries(await stored(page));
  return Object.fromEntries(all.filter(([key]) => /^halfturn:(job|procedure|kit|channels|preferences)/.test(key)));
};

test('a procedure and a job travel to an empty device, are worked there, and merge back', async (t) => {
  const host = await openHost(t, DIST);
  const here = await (await openBrowser(t)).visit(host);
  await bringIn(here, ofProcedure(PROCEDURE));
  await start(here, 'QRC-21');
  await finish(here, '8.02');
  await start(here, 'QRC-22');

  const several = await picked(here, /Quick look/, /QRC-21/, /QRC-22/);
  assert.match(several.name, /^halfturn-several-[0-9-]+\.json$/);
  await seeText(here, '3 things are ticked.');
  const one = await picked(here, /QRC-21/);
  assert.equal(JSON.parse(one.text).type, 'halfturn-job');

  const there = await (await openBrowser(t, { device: PHONE })).visit(host);
  await bringIn(there, file(several.name, several.text), 3);
  await link(there, 'Jobs').tap();
  await see(there.getByRole('link', { name: /QRC-21.*Finished by Bench 1/ }));
  await there.getByRole('link', { name: /QRC-22.*Step 1/ }).tap();
  await finish(there, '7.96');
  const done = await savedFile(there, () => button(there, 'Save the job as a file').tap());

  await link(here, 'Files').first().tap();
  await chooseFile(here, file(done.name, done.text));
  await seeText(here, 'Here already: 3 entries will be added to its log.');
  await here.getByText('What the file brings').tap();
  await seeText(here, /Step 2, Supply rail: as found 7.96\sV/);
  await seeText(here, 'signed off by Bench 1');
  assert.deepEqual(await barriers(here), []);
  await button(here, 'Import selected').tap();
  await seeText(here, '1 item imported.');
  await link(here, 'Jobs').tap();
  await see(here.getByRole('link', { name: /QRC-22.*Finished by Bench 1/ }));

  // Once more changes nothing.
  const before = await kept(here);
  for (const again of [done, several]) {
    await link(here, 'Files').tap();
    await chooseFile(here, file(again.name, again.text));
    await seeText(here, 'nothing changes');
    await here.getByText('Import selected').waitFor();
    assert.ok(await button(here, 'Import selected').isDisabled());
  }
  assert.deepEqual(await kept(here), before);
});

test('a later revision says what differs, in the trade’s words, and can be left', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t)).visit(host);
  await bringIn(page, ofProcedure(PROCEDURE));
  const later = structuredClone(PROCEDURE);
  later.revision = 2;
  later.sections[0].steps[1].work.read.target.fixed.between.low = '7.8 V';
  await chooseFile(page, ofProcedure(later));
  await seeText(page, 'A later revision than the one here (1)');
  await page.getByText('What differs').tap();
  await seeText(page, /Target of step 2: .*7\.5.*→.*7\.8/);
  await button(page, 'Cancel').tap();
  assert.equal(await page.getByText('Contents').count(), 0);
  assert.equal((await kept(page))['halfturn:procedure:2'], undefined);
  assert.equal(Object.keys(await kept(page)).filter((key) => key.includes('procedure')).length, 1);
});

test('one faulty thing in a file is named, and the others are taken', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t)).visit(host);
  const faulty = { ...PROCEDURE, id: 'broken', title: 'Without a step', sections: [{ title: 'None', steps: 5 }] };
  const kit = [{ role: 'meter', name: 'Club meter' }, { role: 'meter', name: 'Odd meter', due: 'soon' }];
  await link(page, 'Files').tap();
  const backup = { procedures: [PROCEDURE, faulty], kit };
  await chooseFile(page, file('mixed.json', { type: 'halfturn-backup', version: 2, backup }));
  await see(heading(page, 'Can’t be taken'));
  await see(item(page, 'Procedure: Without a step').filter({ hasText: 'backup.procedures[1].sections[0].steps' }));
  await see(item(page, 'Instrument: Odd meter').filter({ hasText: 'backup.kit[1].due' }));
  assert.ok(await choice(page, 'Procedure: Quick look').isChecked());
  await choice(page, 'Instrument: Club meter').tap();
  await button(page, 'Import selected').tap();
  await seeText(page, '1 item imported.');
  const names = Object.keys(await kept(page)).map((key) => key.split(':')[1]);
  assert.deepEqual(names, ['procedure']);
});

test('what was saved when the app had stopped is brought in like a backup', async (t) => {
  const host = await openHost(t, DIST);
  const here = await (await openBrowser(t)).visit(host);
  await bringIn(here, ofProcedure(PROCEDURE));
  await start(here, 'QRC-31');
  await finish(here, '8.00');
  await here.evaluate(() => localStorage.setItem('halfturn:job:torn', '{'));
  await here.evaluate(() => (document.getElementById('stopped').hidden = false));
  const crash = await savedFile(here, () => button(here, 'Save everything as a file').tap());
  assert.equal(crash.name, 'halfturn-everything.json');

  const there = await (await openBrowser(t)).visit(host);
  await link(there, 'Files').tap();
  await chooseFile(there, file(crash.name, crash.text));
  await see(item(there, 'Entry: halfturn:job:torn'));
  await button(there, 'Import selected').tap();
  await seeText(there, '2 items imported.');
  await link(there, 'Jobs').tap();
  await see(there.getByRole('link', { name: /QRC-31.*Finished by Bench 1/ }));
});

// What the browsers of this test lack or have is put in their place; what the app makes of it
// is seen through `window.out`.
const pretend = (context, { chooses, shares }) =>
  context.addInitScript(
    ([chooses, shares]) => {
      window.out = [];
      delete window.showSaveFilePicker;
      if (chooses) {
        window.showSaveFilePicker = async ({ suggestedName }) => {
          if (window.calledOff) throw new DOMException('', 'AbortError');
          window.out.push(`chosen ${suggestedName}`);
          return {
            name: 'my jobs.json',
            createWritable: async () => {
              if (window.moved) throw new DOMException('', 'NotFoundError');
              let text = '';
              return { write: async (part) => (text += await new Response(part).text()), close: async () => window.out.push(text) };
            },
          };
        };
      }
      const canShare = shares ? ({ files }) => files.every(({ name }) => name.endsWith('.txt')) : undefined;
      const share = async ({ files: [file] }) => window.out.push(file.name, await file.text());
      Object.defineProperty(Navigator.prototype, 'canShare', { value: canShare, configurable: true });
      Object.defineProperty(Navigator.prototype, 'share', { value: share, configurable: true });
    },
    [chooses, shares],
  );
const out = (page) => page.evaluate(() => window.out.splice(0));

test('saving goes straight back into the file that was chosen', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  await pretend(browser.context, { chooses: true, shares: true });
  const page = await browser.visit(host);
  await bringIn(page, ofProcedure(PROCEDURE));
  await button(page, 'Save to a file you choose…').tap();
  await seeText(page, 'Saved to my jobs.json.');
  const [chosen, text] = await out(page);
  assert.match(chosen, /^chosen halfturn-backup-[0-9-]+\.json$/);
  assert.equal(JSON.parse(text).backup.procedures[0].title, PROCEDURE.title);

  await start(page, 'QRC-41');
  await link(page, 'Files').tap();
  await button(page, 'Save back to my jobs.json').tap();
  await seeText(page, 'Saved to my jobs.json.');
  const [again] = await out(page);
  assert.equal(JSON.parse(again).backup.jobs.length, 1, 'no question, and the new job is in it');

  await page.evaluate(() => (window.moved = true));
  await button(page, 'Save back to my jobs.json').tap();
  await seeText(page, 'my jobs.json was not written');
  await button(page, 'Close').tap();
  await page.evaluate(() => (window.calledOff = true));
  await button(page, 'Save to a file you choose…').tap();
  assert.equal(await page.getByRole('alert').count(), 0, 'what was called off is no fault');
});

test('a job is shared, as a plain text where the browser knows no other', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  await pretend(browser.context, { chooses: false, shares: true });
  const page = await browser.visit(host);
  await bringIn(page, ofProcedure(PROCEDURE));
  await seeText(page, 'This browser doesn’t write into a file you choose');
  await start(page, 'QRC-51');
  await finish(page, '8.00');
  await button(page, 'Share…').tap();
  await page.waitForFunction(() => window.out.length === 2);
  const [name, text] = await out(page);
  assert.match(name, /^halfturn-job-.*qrc-51\.json\.txt$/);
  assert.equal(JSON.parse(text).type, 'halfturn-job');
});

test('a browser that has neither says so, and saves into its downloads', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  await pretend(browser.context, { chooses: false, shares: false });
  const page = await browser.visit(host);
  await link(page, 'Files').tap();
  await seeText(page, 'This browser neither hands files to other apps nor writes into a file you choose');
  assert.equal(await button(page, 'Share…').count(), 0);
  const backup = await savedFile(page, () => button(page, 'Save a backup').tap());
  assert.equal(JSON.parse(backup.text).type, 'halfturn-backup');
});

test('a file that another app shares or opens is shown before anything changes, with no network', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await page.reload();
  await running(page);
  await host.stop();
  const text = JSON.stringify({ type: 'halfturn-procedure', version: 2, procedure: PROCEDURE });
  const landed = await page.evaluate(async (text) => {
    const body = new FormData();
    body.append('file', new File([text], 'quick look.json', { type: 'application/json' }));
    return (await fetch('./share', { method: 'POST', body, redirect: 'manual' })).type;
  }, text);
  assert.equal(landed, 'opaqueredirect', 'the worker leads on to the app');
  await page.reload();
  await running(page);
  await seeText(page, 'Contents');
  await seeText(page, 'quick look.json');
  await see(choice(page, 'Procedure: Quick look'));
  assert.deepEqual(await kept(page), {});

  // Taken up once; and a file that is opened comes by the same way.
  await page.reload();
  await running(page);
  await see(heading(page, 'Files'));
  assert.equal(await page.getByText('Contents').count(), 0);
  await page.evaluate((text) => {
    const file = new File([text], 'opened.json');
    window.halfturnIncoming.push({ file });
    window.dispatchEvent(new CustomEvent('halfturn-incoming'));
  }, text);
  await seeText(page, 'opened.json');
});

// A share as a script of the app's own page makes one, and where the worker leads on to.
const shareIn = (page, name, text) =>
  page.evaluate(
    async ([name, text]) => {
      const body = new FormData();
      if (name) body.append('file', new File([text], name, { type: 'application/json' }));
      const answer = await fetch('./share', { method: 'POST', body: name ? body : text, redirect: 'manual' });
      return answer.type;
    },
    [name, text],
  );

test('of two shares before the app opens each is shown, one after the other', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await page.reload();
  await running(page);
  const titled = (title) =>
    JSON.stringify({ type: 'halfturn-procedure', version: 2, procedure: { ...PROCEDURE, title } });
  await shareIn(page, 'first.json', titled('First'));
  await shareIn(page, 'second.json', titled('Second'));
  await page.reload();
  await running(page);
  for (const name of ['First', 'Second']) {
    await see(choice(page, `Procedure: ${name}`));
    await button(page, 'Cancel').tap();
  }
  await page.getByText('Contents').waitFor({ state: 'detached' });
});

test('a share that holds no file, or is no form at all, leads to a sentence', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await page.reload();
  await running(page);
  assert.equal(await shareIn(page, '', 'only a text'), 'opaqueredirect');
  await page.reload();
  await running(page);
  await seeText(page, 'What another app handed over holds no file');
});

// Ways in which a page of another origin can send a form without saying who it is.
const STRANGERS = {
  plain: (form) => form,
  'without a referrer': (form) => `<meta name="referrer" content="no-referrer">${form}`,
  'from an origin of its own kind': (form) =>
    `<iframe sandbox="allow-forms allow-popups allow-top-navigation" src="data:text/html,${encodeURIComponent(form)}"></iframe>`,
};

// Has such a page send a file to the app, in whose place the app opens then.
async function sendFrom(t, browser, host, how) {
  browser.expect(/request left|404/); // That page is not the app.
  const form = `<form method="post" enctype="multipart/form-data" action="${host.url}share" target="_top">
    <input type="file" name="file"><button>Go</button></form>`;
  const stranger = createServer((_, answer) => {
    answer.writeHead(200, { 'content-type': 'text/html' }).end(STRANGERS[how](form));
  });
  await new Promise((done) => stranger.listen(0, '127.0.0.1', done));
  t.after(() => stranger.close());
  const page = await browser.context.newPage();
  await page.goto(`http://127.0.0.1:${stranger.address().port}/`);
  const place = (await page.locator('iframe').count()) ? page.frameLocator('iframe') : page;
  const text = JSON.stringify({ type: 'halfturn-procedure', version: 2, procedure: PROCEDURE });
  const file = { name: 'theirs.json', mimeType: 'application/json', buffer: Buffer.from(text) };
  await place.locator('input').setInputFiles(file);
  await place.getByRole('button', { name: 'Go' }).click();
  await page.waitForURL(`${host.url}#/data`);
  await running(page);
  return page;
}

for (const how of Object.keys(STRANGERS)) {
  test(`a page of another origin can’t put a file into the preview, ${how}`, async (t) => {
    const host = await openHost(t, DIST);
    const browser = await openBrowser(t);
    await browser.visit(host);
    const page = await sendFrom(t, browser, host, how);
    await page.waitForTimeout(500);
    assert.equal(await page.evaluate(() => window.halfturnIncoming.length), 0);
    assert.equal(await page.getByText('theirs.json').count(), 0);
    assert.equal(await page.getByText('handed over').count(), 0);
  });
}

// The device's own sharing states no origin either, but opens a window of the installed app.
test('what the device shares into the window of the installed app is taken', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  await browser.visit(host);
  await browser.context.addInitScript(() => {
    const asked = window.matchMedia.bind(window);
    window.matchMedia = (query) =>
      query === '(display-mode: browser)' ? { matches: false } : asked(query);
  });
  const page = await sendFrom(t, browser, host, 'from an origin of its own kind');
  await seeText(page, 'theirs.json');
});

test('the manifest names the ways in that the page and its worker serve', () => {
  const manifest = JSON.parse(readFileSync(new URL('../../public/manifest.webmanifest', import.meta.url)));
  assert.equal(manifest.share_target.action, './share');
  assert.equal(manifest.share_target.params.files[0].name, 'file');
  assert.deepEqual(manifest.file_handlers[0].accept, { 'application/json': ['.json'] });
});

// A backup of so many finished jobs by the demo's procedure, which is on the page.
async function longFile(page, count) {
  const [digest, text] = await page.evaluate(() => {
    const key = Object.keys(localStorage).find((each) => each.startsWith('halfturn:procedure:'));
    return [key.split(':')[2], localStorage.getItem(key)];
  });
  const { next } = maker(7);
  const jobs = Array.from({ length: count }, next).map(([id, log]) => ({ id, procedure: digest, log }));
  const backup = { procedures: [JSON.parse(text)], jobs };
  return file('years.json', { type: 'halfturn-backup', version: 2, backup });
}

const bar = (page, name) => page.getByRole('progressbar', { name });
const jobsStored = async (page) =>
  Object.keys(await stored(page)).filter((key) => key.startsWith('halfturn:job:')).length;

// A finger that is there already: waiting until nothing moves takes longer than a slowed work does.
async function pressAtOnce(page, name) {
  const { x, y, width, height } = await button(page, name).boundingBox();
  await tapAt(page, x + width / 2, y + height / 2);
}

test('long work says how far it is and can be stopped anywhere, with nothing half done', async (t) => {
  const JOBS = 300;
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t)).visit(host);
  page.setDefaultTimeout(120_000);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  const long = await longFile(page, JOBS);
  await link(page, 'Files').tap();
  const before = await kept(page);

  // How long a work takes against the way of a finger to its key is the same however far both are
  // slowed down: what is stopped while it is read is a longer file.
  const longer = await longFile(page, 3 * JOBS);
  const devtools = await page.context().newCDPSession(page);
  const slowed = (rate) => devtools.send('Emulation.setCPUThrottlingRate', { rate });
  await slowed(30);

  await chooseFile(page, longer);
  await see(bar(page, 'Reading the file'));
  await seeText(page, / of \d+ MB/);
  await pressAtOnce(page, 'Stop');
  await seeText(page, 'Stopped. Nothing was changed.');
  assert.equal(await heading(page, 'Contents').count(), 0);
  assert.deepEqual(await kept(page), before);

  // Each job that is taken in has more to do than one that is read.
  await slowed(10);
  // A long list is shown in parts.
  await chooseFile(page, long);
  await seeText(page, `${JOBS + 1} items: ${JOBS} new here`);
  assert.equal(await page.locator('.offers > li').count(), 20);
  await button(page, 'Show more').first().tap();
  await page.locator('.offers > li').nth(39).waitFor();
  assert.deepEqual(await barriers(page), []);
  await button(page, 'Tick none').tap();
  assert.ok(await button(page, 'Import selected').isDisabled());
  await button(page, 'Tick all').tap();

  // It goes on while another screen is looked at.
  await button(page, 'Import selected').tap();
  await see(bar(page, 'Importing what is ticked'));
  await link(page, 'Procedures').tap();
  await see(heading(page, 'Procedures'));
  await seeText(page, new RegExp(`^[1-9]\\d* of ${JOBS} items`));
  await button(page, 'Stop').tap();
  await seeText(page, new RegExp(`^Stopped\\. \\d+ of ${JOBS} items imported, each of them whole`));
  assert.equal(await bar(page, /./).count(), 0);
  const taken = (await jobsStored(page)) - 1;
  assert.ok(taken > 0 && taken < JOBS, `${taken} of ${JOBS}`);

  await slowed(1);
  await link(page, 'Files').tap();
  await seeText(page, `Jobs: ${taken + 1}.`);
  assert.equal(await heading(page, 'Unreadable entries').count(), 0, 'each is whole');
  await chooseFile(page, long);
  await seeText(page, `${JOBS - taken} new here, ${taken + 1} change nothing.`);
  await button(page, 'Import selected').tap();
  await seeText(page, `${JOBS - taken} items imported.`);
  assert.equal(await jobsStored(page), JOBS + 1);

  await slowed(40);
  await button(page, 'Save a backup').tap();
  await see(bar(page, /^(Gathering the jobs|Writing the file)$/));
  await pressAtOnce(page, 'Stop');
  await seeText(page, 'Stopped. No file was saved.');
  await slowed(1);
  const saved = await savedFile(page, () => button(page, 'Save a backup').tap());
  assert.equal(JSON.parse(saved.text).backup.jobs.length, JOBS + 1);
});
