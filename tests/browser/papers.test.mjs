// Papers of the set: PDFs and pictures kept, opened, zoomed and pinned; from a step to the very
// place and back; offline, after a reload, in files, at the next visit, and in a procedure.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, UPRIGHT, barriers, openBrowser, openHost } from './bench.mjs';
import { drawBoard } from './boards.mjs';
import { type } from './hand.mjs';
import { SQUARE, bomb, diagram, heavy, locked } from './pdfs.mjs';
import { beside, small } from './sight.mjs';
import {
  STEPS, button, byTouch, chooseFile, heading, kindOf, link, savedFile, see, seeText, startJob,
} from './technician.mjs';

const ADJUSTING = STEPS.find((step) => kindOf(step) === 'set');
const { adjuster: ADJUSTER, gauge: GAUGE } = ADJUSTING.work.set;
const SOCKET = STEPS.find((step) => kindOf(step) === 'socket');

async function visit(t, device = TABLET) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  return { host, browser, page };
}

async function inAJob(t, device) {
  const all = await visit(t, device);
  await button(all.page, 'Load the demo').tap();
  await see(heading(all.page, 'All steps'));
  await link(all.page, 'Papers of the set').tap();
  await see(heading(all.page, 'Papers of the set'));
  return all;
}

async function load(page, buffer, name = 'Circuit diagram.pdf', mimeType = 'application/pdf') {
  const chooser = page.waitForEvent('filechooser');
  await page.getByText('Choose a PDF or picture', { exact: true }).tap();
  await (await chooser).setFiles({ name, mimeType, buffer });
}

async function open(page, title) {
  await page.getByRole('link', { name: `Open ${title}`, exact: true }).tap();
  await see(page.locator('.frame img'));
}

const announced = (page, text) => see(page.locator('.paper-told', { hasText: text }));

const toStep = (page, { id }) =>
  page.evaluate((id) => {
    const job = location.hash.split('/').slice(1, 3).join('/');
    location.hash = `#/${job}/step/${encodeURIComponent(id)}`;
  }, id);

// A tap at a place of the page that is shown whole or in part, in ten-thousandths.
async function tapPage(page, x, y) {
  await page.locator('.frame').scrollIntoViewIfNeeded();
  const box = await page.locator('.frame img').evaluate((img) => {
    const { left, top, width, height } = img.getBoundingClientRect();
    return { left, top, width, height };
  });
  await page.touchscreen.tap(box.left + (box.width * x) / 10000, box.top + (box.height * y) / 10000);
}

// Where a pin is in its frame, as parts of its width and height.
async function placeOf(page, name) {
  const [pin, frame] = [page.locator('.pin', { hasText: name }), page.locator('.frame')];
  await see(pin);
  const [a, b] = [await pin.boundingBox(), await frame.boundingBox()];
  return [(a.x + a.width / 2 - b.x) / b.width, (a.y + a.height / 2 - b.y) / b.height];
}

const shownWidth = (page) =>
  page.locator('.frame').evaluate((frame) => frame.clientWidth / frame.querySelector('img').clientWidth);

// How dark the drawing is at a place of the page, from 0 to 255, on what was drawn sharp.
async function inkAt(page, x, y) {
  return page.locator('.paper-sharp').evaluate(async (canvas, [x, y]) => {
    const drawn = () => canvas.clientWidth > 0 && canvas.width !== 300;
    while (!drawn()) await new Promise((done) => setTimeout(done, 50));
    await new Promise((done) => setTimeout(done, 600));
    const page = canvas.parentElement.querySelector('img').getBoundingClientRect();
    const own = canvas.getBoundingClientRect();
    const at = (start, length, share, from, whole, size) =>
      Math.round(((start + (length * share) / 10000 - from) / whole) * size);
    const column = at(page.left, page.width, x, own.left, own.width, canvas.width);
    const row = at(page.top, page.height, y, own.top, own.height, canvas.height);
    const [red] = canvas.getContext('2d').getImageData(column, row, 1, 1).data;
    return 255 - red;
  }, [x, y]);
}

async function pinHere(page, name, x, y) {
  await button(page, 'Pin something').tap();
  await page.locator('.chip', { hasText: name }).tap();
  await tapPage(page, x, y);
  await see(page.locator('.pin', { hasText: name }));
}

test('a PDF is kept and opened, and a step leads to the very place and back, with no network', async (t) => {
  const { host, page } = await inAJob(t);
  const asked = host.requests.length;
  await see(page.getByText('There are no papers yet.'));
  assert.ok(!host.requests.slice(asked).some((path) => path.includes('pdf.js')));
  await host.stop();
  await load(page, diagram());
  await seeText(page, 'Paper saved.');
  await open(page, 'Circuit diagram');
  await announced(page, 'Page 1 of 2');
  await button(page, 'Next page').tap();
  await announced(page, 'Page 2 of 2');
  await pinHere(page, ADJUSTER, SQUARE.x, SQUARE.y);
  assert.ok((await inkAt(page, SQUARE.x, SQUARE.y)) > 200, 'the square is where it was drawn');
  assert.ok((await inkAt(page, 5000, 5000)) < 20, 'and nothing beside it');

  await toStep(page, ADJUSTING);
  await link(page, `See ${ADJUSTER} in Circuit diagram`).tap();
  await announced(page, 'Page 2 of 2');
  const [across, down] = await placeOf(page, ADJUSTER);
  assert.ok(across > 0.2 && across < 0.8 && down > 0.2 && down < 0.8, `${across}, ${down}`);
  assert.ok((await shownWidth(page)) < 0.7, 'a part of the page');
  assert.ok((await inkAt(page, SQUARE.x, SQUARE.y)) > 200, 'sharp at the place');
  await page.reload();
  await announced(page, 'Page 2 of 2');
  await see(page.locator('.pin', { hasText: ADJUSTER }));
  await page.getByRole('link', { name: /^Back to step \d+$/ }).last().tap();
  await see(heading(page, ADJUSTING.title));
});

test('a paper is zoomed by keys, wheel, buttons and fingers, and its pages are turned by keys and by number', async (t) => {
  const { page } = await inAJob(t);
  await load(page, diagram({ sheets: 12 }), 'Service sheet.pdf');
  await open(page, 'Service sheet');
  const frame = page.locator('.frame');
  const start = await shownWidth(page);
  await frame.focus();
  await page.keyboard.press('+');
  const closer = await shownWidth(page);
  assert.ok(closer < start);
  const left = () => frame.evaluate((f) => parseFloat(f.querySelector('img').style.left));
  const before = await left();
  await page.keyboard.press('ArrowRight');
  assert.ok((await left()) < before);
  await page.keyboard.press('0');
  assert.equal(await shownWidth(page), start);
  await frame.hover();
  await page.mouse.wheel(0, -300);
  await page.waitForFunction((was) => {
    const frame = document.querySelector('.frame');
    return frame.clientWidth / frame.querySelector('img').clientWidth < was;
  }, start);
  await button(page, 'Whole page').tap();
  assert.equal(await shownWidth(page), start);

  await frame.focus();
  await page.keyboard.press('PageDown');
  await announced(page, 'Page 2 of 12');
  await see(page.getByRole('group', { name: /Page 2 of 12/ }));
  await page.waitForFunction(() => document.activeElement?.matches('.frame'));
  await page.keyboard.press('PageDown');
  await see(page.getByRole('group', { name: /Page 3 of 12/ }));
  const number = page.getByRole('textbox', { name: /^Page/ });
  await type(number, '11');
  await page.keyboard.press('Enter');
  await announced(page, 'Page 11 of 12');
  await see(page.getByRole('group', { name: /Page 11 of 12/ }));
  await type(number, '13');
  await page.keyboard.press('Enter');
  await announced(page, 'Type a page from 1 to 12');

  // Two fingers, by what the browser itself is told.
  const session = await page.context().newCDPSession(page);
  const box = await frame.boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const fingers = (apart) => [{ x: x - apart, y, id: 0 }, { x: x + apart, y, id: 1 }];
  const touch = (kind, touchPoints) => session.send('Input.dispatchTouchEvent', { type: kind, touchPoints });
  const whole = await shownWidth(page);
  await touch('touchStart', fingers(40));
  for (const apart of [60, 90, 130]) await touch('touchMove', fingers(apart));
  await touch('touchEnd', []);
  assert.ok((await shownWidth(page)) < whole);
});

test('a pin is moved by keys, taken off, and each change of a paper can be undone', async (t) => {
  const { page } = await inAJob(t);
  await load(page, diagram());
  await open(page, 'Circuit diagram');
  await button(page, 'Pin something').tap();
  await page.locator('.chip', { hasText: new RegExp(`^${GAUGE.at}`) }).tap();
  await button(page, 'Place at centre').tap();
  const pin = page.locator('.pin', { hasText: GAUGE.at });
  const [middle] = await placeOf(page, GAUGE.at);
  assert.ok(Math.abs(middle - 0.5) < 0.02, `${middle}`);
  await pin.focus();
  await page.keyboard.press('Shift+ArrowRight');
  await page.waitForFunction(
    (was) => {
      const [pin, frame] = ['.pin', '.frame'].map((it) => document.querySelector(it).getBoundingClientRect());
      return (pin.x + pin.width / 2 - frame.x) / frame.width > was + 0.02;
    },
    middle,
  );
  await page.keyboard.press('Delete');
  await pin.waitFor({ state: 'detached' });
  await link(page, 'All steps').tap();
  await button(page, 'Undo').tap();
  await button(page, 'Undo it').tap();
  await seeText(page, `Undone: taking off the pin of ${GAUGE.at}`);
});

test('a picture is a paper too: its name is typed, it is pinned, and taken out', async (t) => {
  const { page } = await inAJob(t);
  await load(page, await drawBoard(page), 'IMG_0042.jpg', 'image/jpeg');
  const name = page.getByRole('textbox', { name: 'Name of the paper' });
  await name.waitFor();
  assert.equal(await name.inputValue(), 'Paper 1');
  await type(name, 'Layout, track side');
  await page.keyboard.press('Tab');
  await open(page, 'Layout, track side');
  await pinHere(page, SOCKET.work.socket.name, 5000, 2500);
  await toStep(page, SOCKET);
  await link(page, `See ${SOCKET.work.socket.name} in Layout, track side`).tap();
  const [, down] = await placeOf(page, SOCKET.work.socket.name);
  assert.ok(down > 0.2 && down < 0.8);
  await link(page, 'All papers').tap();
  await see(page.getByText('1 pin', { exact: true }));
  await button(page, 'Remove…').tap();
  await button(page, 'Remove the paper and its pins').tap();
  await see(page.getByText('There are no papers yet.'));
});

test('a PDF that another program made is shown with its letters', async (t) => {
  const { page } = await inAJob(t);
  const writer = await page.context().newPage();
  await writer.setContent('<h1 style="font: 40px serif">Ω 4.7 kΩ µF</h1><svg width="300" height="200"><rect width="300" height="200"/></svg>');
  const made = await writer.pdf({ format: 'A4' });
  await writer.close();
  await load(page, made, 'Service notes.pdf');
  await open(page, 'Service notes');
  await see(page.locator('.paper-sharp'));
  assert.ok((await inkAt(page, 1500, 1500)) > 200, 'the black square of the page');
});

test('what can’t be shown is refused with a sentence, and the app goes on', async (t) => {
  const { page } = await inAJob(t);
  const cut = diagram().subarray(0, 200);
  for (const [what, file, sentence] of [
    ['no PDF inside', Buffer.from('%PDF-1.7 and nothing else'), 'This PDF can’t be read'],
    ['cut short', cut, 'This PDF can’t be read'],
    ['locked', locked(), 'This PDF is locked with a password'],
    ['too many pages', diagram({ sheets: 1001 }), 'more than 1000 pages'],
    ['too large', Buffer.concat([diagram(), Buffer.alloc(33 << 20)]), 'a PDF may have 32 MB'],
    ['neither', Buffer.from('GIF, perhaps'), 'neither a PDF nor a picture'],
  ]) {
    await load(page, file, `${what}.pdf`);
    await seeText(page, sentence);
    await see(page.getByText('There are no papers yet.'));
  }
  // An image of 20,000 pixels to a side is left blank, and a script in a PDF is not run.
  await load(page, bomb(20_000), 'Large scan.pdf');
  await open(page, 'Large scan');
  await link(page, 'All papers').tap();
  // A line of a million points would hold the screen up: nothing can stop a canvas within one.
  await load(page, heavy(1_000_000), 'Endless line.pdf');
  await link(page, 'Open Endless line').tap();
  await seeText(page, 'This page has more lines than can be drawn here');
  await link(page, 'All papers').tap();
  const script = '/OpenAction << /S /JavaScript /JS (app.alert\\(1\\); globalThis.ran = true;) >> ';
  await load(page, diagram({ catalogue: script }), 'With a script.pdf');
  await open(page, 'With a script');
  assert.equal(await page.evaluate(() => globalThis.ran), undefined);
});

test('the worker that reads PDFs can ask no network', async (t) => {
  const { page } = await inAJob(t);
  await load(page, diagram());
  await seeText(page, 'Paper saved.');
  // That of the look before it was kept has ended; this one lives as long as the paper is open.
  const started = page.waitForEvent('worker');
  await open(page, 'Circuit diagram');
  const worker = await started;
  const reaching = await worker.evaluate(() =>
    ['fetch', 'XMLHttpRequest', 'WebSocket', 'indexedDB', 'caches', 'importScripts', 'Worker']
      .filter((name) => self[name] !== undefined));
  assert.deepEqual(reaching, []);
});

test('papers go along in the job’s file, and a later visit of the set finds them', async (t) => {
  const { page } = await inAJob(t);
  await load(page, diagram());
  await seeText(page, 'Paper saved.');
  await open(page, 'Circuit diagram');
  await button(page, 'Next page').tap();
  await announced(page, 'Page 2 of 2');
  await pinHere(page, ADJUSTER, SQUARE.x, SQUARE.y);
  await link(page, 'Files').tap();
  const { text } = await savedFile(page, () => button(page, 'Save a backup').tap());
  assert.ok(text.includes('application/pdf'));

  const other = await openBrowser(t);
  const host = await openHost(t, DIST);
  const there = await other.visit(host);
  await link(there, 'Files').tap();
  await chooseFile(there, { name: 'backup.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await seeText(there, 'Papers as PDF: 1');
  await button(there, 'Import selected').tap();
  await seeText(there, 'imported.');
  await link(there, 'Jobs').tap();
  await startJob(byTouch(there), 'QRC-07');
  await toStep(there, ADJUSTING);
  await link(there, `See ${ADJUSTER} in Circuit diagram`).tap();
  await announced(there, 'Page 2 of 2');
  // Its first pin in this job brings the paper into it.
  await button(there, 'Whole page').tap();
  await pinHere(there, GAUGE.at, 4000, 6000);
  await link(there, 'All papers').tap();
  await see(there.getByText('2 pins', { exact: true }));
  const job = await there.evaluate(() => location.hash.split('/').slice(1, 3).join('/'));
  await there.goto(`${host.url}#/${job}/report`);
  await seeText(there, 'Papers of the set');
  await see(there.getByRole('cell', { name: /^[0-9a-f]{12}$/ }));
});

test('a procedure is written with its papers, and its jobs lead to them', async (t) => {
  const { page } = await visit(t);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await link(page, 'Procedures').tap();
  await page.locator('.card').first().tap();
  await button(page, 'Edit').tap();
  await link(page, 'Papers of the set').tap();
  await load(page, diagram(), 'Block_diagram.pdf');
  await open(page, 'Block diagram');
  await pinHere(page, GAUGE.at, 5000, 5000);
  await link(page, 'All papers').tap();
  await see(page.getByText('1 pin', { exact: true }));
  const draft = await page.evaluate(() => location.hash.split('/').slice(1, 3).join('/'));
  await page.evaluate((to) => { location.hash = to; }, `#/${draft}/publish`);
  await page.getByRole('button', { name: /^Publish/ }).tap();
  await seeText(page, 'revision 2');
  await link(page, 'Jobs').tap();
  await startJob(byTouch(page), 'QRC-11');
  await toStep(page, ADJUSTING);
  await see(link(page, `See ${GAUGE.at} in Block diagram`));
});

test('a paper stays beside the steps on a wide screen', async (t) => {
  const { page } = await inAJob(t);
  await load(page, diagram());
  await open(page, 'Circuit diagram');
  await pinHere(page, ADJUSTER, SQUARE.x, SQUARE.y);
  await button(page, 'Keep it beside the steps').tap();
  await toStep(page, ADJUSTING);
  await see(page.locator('.paper-beside .frame img'));
  const [paper, reading] = await Promise.all(
    ['.paper-beside', '.sheet-right'].map((it) => page.locator(it).boundingBox()));
  assert.ok(paper.x + paper.width <= reading.x + 1, 'beside the reading');
  assert.deepEqual(await barriers(page), []);
  await page.locator('.paper-beside').getByRole('button', { name: 'Keep it beside the steps' }).tap();
  await page.locator('.paper-beside').waitFor({ state: 'detached' });
});

for (const [name, device] of Object.entries({ tablet: TABLET, 'tablet held upright': UPRIGHT, phone: PHONE })) {
  test(`papers on a ${name} have no barriers, and keys that a thumb hits`, async (t) => {
    const { page } = await inAJob(t, device);
    await load(page, diagram());
    await seeText(page, 'Paper saved.');
    const look = async (what) => {
      for (const colorScheme of ['light', 'dark']) {
        await page.emulateMedia({ colorScheme });
        assert.deepEqual(await barriers(page), [], `${what}, ${colorScheme}`);
      }
      assert.deepEqual(await beside(page), [], what);
      assert.deepEqual(await small(page), [], what);
    };
    await look('the list');
    await open(page, 'Circuit diagram');
    const frame = await page.locator('.frame').boundingBox();
    assert.ok(frame.height <= device.viewport.height, `${frame.height} px high`);
    await button(page, 'Pin something').tap();
    await see(page.locator('.chip'));
    await look('the viewer');
    if (process.env.SHOTS_OF_PAPERS) {
      await page.evaluate(() => scrollTo(0, 0));
      await page.screenshot({ path: `${process.env.SHOTS_OF_PAPERS}/paper-${name.replaceAll(' ', '-')}.png` });
    }
  });
}
