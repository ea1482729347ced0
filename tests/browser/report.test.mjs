// The hand-over: the report as a page, a file, a table, a label and on paper.

import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { test } from 'node:test';
import { DIST, barriers, folder, openBrowser, openHost } from './bench.mjs';
import { button, heading, link, savedFile, see, seeText } from './technician.mjs';
import { paste, type } from './hand.mjs';
import { brokenWords, printed } from './paper.mjs';

// The demo's job with its report open.
async function withReport(t) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await link(page, 'Report').tap();
  await see(page.locator('article.report'));
  return { browser, page };
}

// A page without policy of the app's own: the saved file as anybody opens it.
async function openSaved(t, browser, text) {
  browser.expect(/request left: file:/);
  const path = join(await folder(t), 'report.html');
  await writeFile(path, text);
  const page = await browser.context.newPage();
  await page.goto(pathToFileURL(path).href);
  return page;
}

test('the demo’s report says what the log says, and breaks no accessibility rule', async (t) => {
  const { browser, page } = await withReport(t);
  for (const title of ['Summary', 'Readings', 'Carrier frequency', 'Test equipment']) {
    await see(heading(page, title));
  }
  await seeText(page, 'The set came in with this fault');
  await seeText(page, 'Draft: ');
  const scales = page.locator('.report-readings .target-scale');
  assert.equal(await scales.count(), await page.locator('.report-readings tbody tr:not(.report-group)').count());
  assert.deepEqual(await barriers(page), []);
  await page.setViewportSize({ width: 390, height: 844 });
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  assert.ok(wide <= 390, `${wide} px on a phone`);
  assert.deepEqual(await barriers(page), []);
  assert.deepEqual(browser.problems(), []);
});

test('the decimal signs of a column stand under each other, on the screen and on paper', async (t) => {
  const { browser, page } = await withReport(t);
  // Where the whole numbers of each column end, from the left edge of its cell.
  const edges = (page) =>
    page.$$eval('.report table:not(.report-sums)', (tables) =>
      tables.flatMap((table) => [...table.tBodies]).flatMap((body) => {
        const of = new Map();
        for (const row of body.rows) {
          [...row.cells].forEach((cell, column) => {
            const whole = cell.querySelector(':scope .whole');
            if (!whole) return;
            const edge = whole.getBoundingClientRect().right - cell.getBoundingClientRect().left;
            of.set(column, [...(of.get(column) ?? []), edge]);
          });
        }
        // By itself under its heading, a figure stands under none.
        return [...of.values()].filter((all) => all.length > 1).map((all) => ({ count: all.length, apart: Math.max(...all) - Math.min(...all) }));
      }));
  const aligned = async (page, where) => {
    const columns = await edges(page);
    assert.ok(columns.length >= 8, `${columns.length} columns ${where}`);
    const worst = Math.max(...columns.map(({ apart }) => apart));
    assert.ok(worst <= 0.5, `${worst} px apart ${where}`);
  };
  await aligned(page, 'on the screen');
  await page.emulateMedia({ media: 'print' });
  await aligned(page, 'on paper');
  await page.emulateMedia({ media: 'screen' });
  const file = await savedFile(page, () => button(page, 'Save as a page').tap());
  await aligned(await openSaved(t, browser, file.text), 'in the saved page');
});

test('on paper every page says set, job and page, and no row is cut', async (t) => {
  const { page } = await withReport(t);
  for (const format of ['A4', 'Letter']) {
    const pages = await printed(t, page, `demo-${format}`, format);
    if (!pages) return;
    const shares = pages.map(({ full }) => `${Math.round(full * 100)} %`).join(', ');
    t.diagnostic(`${format}: ${pages.length} pages, full to ${shares}`);
    assert.ok(pages.length > 1 && pages.length <= 4, `${pages.length} pages`);
    assert.ok(pages.slice(0, -1).every(({ full }) => full >= 2 / 3), `${format}: pages full to ${shares}`);
    // What came of it, who and when, and all readings in one picture are on the first.
    for (const said of ['loan shelf', '31 steps are outstanding', 'overview', 'as found', 'lower limit']) {
      assert.ok(pages[0].text.includes(said), `${said} on page 1 of ${format}`);
    }
    assert.match(pages[0].text, /\d{4}-.?\d\d-.?\d\d \d\d:\d\d/);
    pages.forEach(({ text }, index) => {
      assert.match(text, /Job.*demo.*QRC-07/, `page ${index + 1} of ${format}`);
      assert.match(text, new RegExp(`${index + 1} ?/ ?${pages.length}`));
      assert.doesNotMatch(text, /Save as a page|All steps|Jobs\s+Procedures/);
    });
  }
  // What is read is large enough for it: figures and sentences, and quieter lines below them.
  await page.emulateMedia({ media: 'print' });
  const small = await page.evaluate(() => {
    const points = (element) => parseFloat(getComputedStyle(element).fontSize) * 0.75;
    const of = (selector) => [...document.querySelectorAll(selector)].map(points);
    return {
      body: Math.min(...of('.report p:not(.report-kind, .report-fingerprint), .report dd, .report td, .report tbody th, .report figcaption')),
      quiet: Math.min(...of('.report-below, .report-lead, .report dt, .report thead th')),
    };
  });
  assert.ok(small.body >= 8.5 - 0.01, `${small.body} pt`);
  assert.ok(small.quiet >= 7.5 - 0.01, `${small.quiet} pt`);
  // As tall as on paper, no row is higher than a page, so that none has to be cut.
  const breaks = await page.$$eval('.report tr', (rows) =>
    rows.map((row) => getComputedStyle(row).breakInside),
  );
  assert.ok(breaks.every((value) => value === 'avoid'));
});

test('on paper no line ends within a word', async (t) => {
  const { browser, page } = await withReport(t);
  for (const format of ['A4', 'Letter']) {
    assert.deepEqual(await brokenWords(page, format), [], format);
  }
  const file = await savedFile(page, () => button(page, 'Save as a page').tap());
  const saved = await openSaved(t, browser, file.text);
  for (const format of ['A4', 'Letter']) {
    assert.deepEqual(await brokenWords(saved, format), [], `saved, ${format}`);
  }
});

test('the saved page runs nothing, asks nobody and shows the same', async (t) => {
  const { browser, page } = await withReport(t);
  const shown = await page.locator('article.report').innerText();
  const file = await savedFile(page, () => button(page, 'Save as a page').tap());
  assert.match(file.name, /^halfturn-report-.*\.html$/);
  assert.match(file.text, /default-src 'none'; img-src data:; style-src 'sha256-/);
  assert.doesNotMatch(file.text, /<script|https?:|\son\w+=|url\(/);
  const saved = await openSaved(t, browser, file.text);
  assert.equal(await saved.locator('article.report').innerText(), shown);
  const axis = saved.locator('.target-scale .axis').first();
  assert.notEqual(await axis.evaluate((path) => getComputedStyle(path).stroke), 'none', 'styled');
  assert.deepEqual(await barriers(saved), []);
  // The policy holds: neither a script nor a picture from elsewhere gets through.
  browser.expect(/policy/i, /request left: http:\/\/127\.0\.0\.1:9/);
  const ran = await saved.evaluate(async () => {
    const script = document.createElement('script');
    script.textContent = 'window.ran = true';
    const image = document.createElement('img');
    const refused = new Promise((done) => image.addEventListener('error', () => done('refused')));
    image.src = 'http://127.0.0.1:9/x.png';
    document.body.append(script, image);
    return [await refused, window.ran];
  });
  assert.deepEqual(ran, ['refused', undefined]);
});

test('the table of readings has a row for each reading of the job’s file', async (t) => {
  const { page } = await withReport(t);
  const table = await savedFile(page, () => button(page, 'Save the readings as a table').tap());
  assert.match(table.name, /^halfturn-readings-.*\.csv$/);
  assert.equal(table.text.charCodeAt(0), 0xfeff);
  await link(page, 'All steps').tap();
  await link(page, 'Sign off').tap();
  const file = await savedFile(page, () => button(page, 'Save the job as a file').tap());
  const values = JSON.parse(file.text).job.log.flatMap(({ did }) => {
    const read = did.reading ?? did['pin-read'] ?? did['cross-read'];
    return read ? [read.value] : [];
  });
  const lines = table.text.trimEnd().split('\r\n').slice(1);
  assert.equal(lines.length, values.length);
  values.forEach((value, index) => {
    const [number, ...unit] = value.split(' ');
    assert.ok(lines[index].includes(`,${number},${unit.join(' ')},`), `${value} in ${lines[index]}`);
  });
});

test('a sheet is matched with its file, and with no other', async (t) => {
  const { page } = await withReport(t);
  const shown = await page.locator('.report-fingerprint').innerText();
  await link(page, 'All steps').tap();
  await see(heading(page, 'All steps'));
  const steps = new URL(page.url()).hash;
  await link(page, 'Sign off').tap();
  const file = await savedFile(page, () => button(page, 'Save the job as a file').tap());
  const digest = createHash('sha256').update(file.text).digest('hex');
  assert.equal(shown.replace(/\s/g, ''), digest);

  await link(page, 'Files').tap();
  await link(page, 'Verify a report').tap();
  await type(page.getByLabel('Fingerprint'), shown);
  const choose = async (text) => {
    const chooser = page.waitForEvent('filechooser');
    await page.getByText('Choose the job’s file', { exact: true }).tap();
    const buffer = Buffer.from(text);
    await (await chooser).setFiles({ name: 'job.json', mimeType: 'application/json', buffer });
  };
  await choose(file.text);
  await seeText(page, 'They match: the report was made from this file');
  assert.deepEqual(await barriers(page), []);
  await choose(file.text.replace('7.41 V', '7.42 V'));
  await seeText(page, 'They don’t match');
  // The job goes on: the sheet is still what it was made of, and what came since is counted.
  await page.evaluate((steps) => (location.hash = steps), steps);
  await link(page, 'Set details').tap();
  await type(page.getByLabel('Next check due'), '2027-03-31');
  await button(page, 'Save').tap();
  await link(page, 'Sign off').tap();
  const later = await savedFile(page, () => button(page, 'Save the job as a file').tap());
  await link(page, 'Files').tap();
  await link(page, 'Verify a report').tap();
  await type(page.getByLabel('Fingerprint'), shown);
  await choose(later.text);
  const entries = JSON.parse(file.text).job.log.length;
  await seeText(page, `They match up to entry ${entries} of the job: 1 entry was added since.`);
  await choose('not a job');
  await seeText(page, 'not JSON');
  await type(page.getByLabel('Fingerprint'), '12');
  await seeText(page, 'This is no fingerprint');
});

test('the label carries set, day, the next check and a code', async (t) => {
  const { page } = await withReport(t);
  await link(page, 'All steps').tap();
  await link(page, 'Set details').tap();
  await type(page.getByLabel('Next check due'), '2027-03-31');
  await button(page, 'Save').tap();
  await link(page, 'Report').tap();
  await seeText(page, 'Next check due');
  await link(page, 'Label').tap();
  await see(page.getByRole('img', { name: /^Code that leads back to the job/ }));
  await seeText(page, 'QRC-07');
  await see(page.locator('.label').getByText('2027-'));
  // What is no result yet gets no label.
  await seeText(page, 'Sign off the job first');
  assert.equal(await button(page, 'Print').count(), 0);
  assert.deepEqual(await barriers(page), []);
  const pages = await printed(t, page, 'label');
  if (pages) assert.equal(pages.length, 1);
});

test('time and prices are on the sheet only when they were asked for', async (t) => {
  const { page } = await withReport(t);
  assert.equal(await heading(page, 'Time and parts').count(), 0);
  await link(page, 'Settings').tap();
  await page.getByLabel('Labour time').check();
  await page.goBack();
  await see(heading(page, 'Time and parts'));
  await seeText(page, 'Counted from entry to entry in the log');

  await link(page, 'Settings').tap();
  await type(page.getByLabel('Currency'), 'EUR');
  await page.getByLabel('Currency').blur();
  await page.goBack();
  await see(page.locator('article.report'));
  await page.evaluate(() => (location.hash = location.hash.replace('report', 'changes')));
  await type(page.getByLabel('Fitted'), '2 A fuse');
  await type(page.getByLabel('Price in EUR'), 'dear');
  await seeText(page, 'This is no price');
  // It is not left out in silence.
  await button(page, 'Save the change').tap();
  assert.equal(await page.getByRole('listitem').filter({ hasText: '2 A fuse' }).count(), 0);
  await type(page.getByLabel('Price in EUR'), '0.35');
  await button(page, 'Save the change').tap();
  await see(page.getByRole('listitem').filter({ hasText: '2 A fuse' }));
  assert.equal(await page.getByLabel('Price in EUR').inputValue(), '');
  await page.goBack();
  await see(page.getByRole('row').filter({ hasText: /Total of what has a price\s*0\.35\sEUR/ }));
});

test('a set’s visits stand together', async (t) => {
  const { page } = await withReport(t);
  await link(page, 'Service history of this set').tap();
  await see(heading(page, 'Service history, QRC-07'));
  await see(page.getByRole('link', { name: 'Report of job demo' }));
  assert.deepEqual(await barriers(page), []);
});

test('texts with markup, quotes, right-to-left marks, emoji and great length print right', async (t) => {
  const { browser, page } = await withReport(t);
  const nasty = '</style><img src=x onerror="document.title=1">\'"&amp; \u202eabc\u2069 שלום \u{1f4fb}';
  const long = 'Quite a long story of a set. '.repeat(345);
  await link(page, 'All steps').tap();
  await link(page, 'Set details').tap();
  const fields = {
    Make: nasty,
    Model: nasty.repeat(3),
    'Fault reported': `${nasty}\n${long}`,
    Condition: 'x'.repeat(10_000),
    'Job number': nasty,
    Technician: nasty,
  };
  for (const [label, text] of Object.entries(fields)) {
    // A story as long as this comes out of the clipboard.
    const write = text.length > 500 ? paste : type;
    await write(page.getByLabel(label, { exact: true }), text);
  }
  await button(page, 'Save').tap();
  await link(page, 'Report').tap();
  await see(page.locator('article.report'));
  const shown = await page.locator('article.report').innerText();
  assert.ok(shown.includes('onerror="document.title=1"'), 'markup is shown as it was typed');
  assert.ok(shown.includes(long.trim()));
  assert.equal(await page.locator('article.report img:not(svg)').count(), 0);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  assert.ok(wide <= 1180, `${wide} px`);

  const file = await savedFile(page, () => button(page, 'Save as a page').tap());
  const saved = await openSaved(t, browser, file.text);
  assert.equal(await saved.locator('article.report').innerText(), shown);
  assert.notEqual(await saved.title(), '1');
  assert.deepEqual(await barriers(saved), []);
  const pages = await printed(t, page, 'hostile');
  const again = await printed(t, saved, 'hostile-saved');
  if (!pages) return;
  assert.ok(pages.some(({ text }) => text.includes('onerror')));
  assert.ok(again.length > 1);
  const kept = process.env.SHEETS && (await readdir(process.env.SHEETS));
  if (kept) t.diagnostic(`pictures: ${kept.filter((name) => name.endsWith('.png')).length}`);
});
