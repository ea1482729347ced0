// Pictures: the board at a step, photos on a job, on the sheet and in files, and the room they
// take.

import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { test } from 'node:test';
import { DIST, barriers, folder, openBrowser, openHost } from './bench.mjs';
import { drawBoard, heldUpright } from './boards.mjs';
import {
  STEPS,
  TRAINER,
  button,
  byTouch,
  chooseFile,
  heading,
  kindOf,
  link,
  savedFile,
  see,
  seeText,
  startJob,
} from './technician.mjs';
import { type } from './hand.mjs';

const ADJUSTING = STEPS.find((step) => kindOf(step) === 'set');
const { adjuster: ADJUSTER, gauge: GAUGE } = ADJUSTING.work.set;
const SIZE = { width: 1600, height: 1200 };

// The demo's procedure with a picture, as a file from another device brings it.
function withBoard(jpeg, pins) {
  const digest = createHash('sha256').update(jpeg).digest('hex');
  const board = { picture: digest, title: 'Top', ...SIZE, pins };
  return JSON.stringify({
    type: 'halfturn-procedure',
    version: 2,
    procedure: { ...TRAINER, pictures: [board] },
    pictures: [{ digest, type: 'image/jpeg', data: jpeg.toString('base64') }],
  });
}

const PINS = [
  { of: { 'test-point': GAUGE.at }, x: 3000, y: 4000 },
  { of: { adjuster: ADJUSTER }, x: 4200, y: 5200 },
];

async function bringIn(page, text) {
  await link(page, 'Files').tap();
  await chooseFile(page, { name: 'a.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await button(page, 'Import selected').tap();
  await seeText(page, 'imported.');
}

// A job by a procedure with a picture, at the step that turns something.
async function atTheBoard(t) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await bringIn(page, withBoard(await drawBoard(page, SIZE), PINS));
  await link(page, 'Jobs').tap();
  await startJob(byTouch(page), 'QRC-09');
  await toStep(page, ADJUSTING);
  await see(page.locator('.frame img'));
  return { host, browser, page };
}

const toStep = (page, { id }) =>
  page.evaluate((id) => {
    location.hash = location.hash.replace(/step\/.*/, `step/${encodeURIComponent(id)}`);
  }, id);

// Where a pin is in its frame, as parts of its width and height.
async function placeOf(page, name) {
  const [pin, frame] = [page.locator('.pin', { hasText: name }), page.locator('.frame')];
  const [a, b] = [await pin.boundingBox(), await frame.boundingBox()];
  return [(a.x + a.width / 2 - b.x) / b.width, (a.y + a.height / 2 - b.y) / b.height];
}

const shownWidth = (page) =>
  page.locator('.frame').evaluate((frame) => frame.clientWidth / frame.querySelector('img').clientWidth);

async function load(page, jpeg, name = 'photo.jpg', mimeType = 'image/jpeg') {
  const before = await page.locator('.photograph').count();
  const chooser = page.waitForEvent('filechooser');
  await page.getByText('Choose a picture', { exact: true }).tap();
  await (await chooser).setFiles({ name, mimeType, buffer: jpeg });
  await page.locator('.photograph').nth(before).waitFor();
}

// The demo's job with its photos open.
async function atThePhotos(t) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await link(page, 'Report').tap();
  await link(page, 'All steps').tap();
  await link(page, 'Photos').tap();
  await see(heading(page, 'Photos'));
  return { host, browser, page };
}

test('a step shows the part of the board around its probe and adjuster, offline and after a reload', async (t) => {
  const { host, page } = await atTheBoard(t);
  await host.stop();
  await page.reload();
  await see(page.locator('.frame img'));
  await see(page.getByRole('group', { name: `Top with ${GAUGE.at} and ${ADJUSTER}` }));
  for (const name of [GAUGE.at, ADJUSTER]) {
    const place = await placeOf(page, name);
    assert.ok(place.every((share) => share > 0.1 && share < 0.9), `${name} at ${place}`);
  }
  assert.ok((await shownWidth(page)) < 0.6, 'a part of it');
  assert.deepEqual(await barriers(page), []);
  await page.setViewportSize({ width: 390, height: 844 });
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  assert.ok(wide <= 390, `${wide} px on a phone`);
  assert.deepEqual(await barriers(page), []);
});

test('the board is zoomed by buttons, by keys and by two fingers', async (t) => {
  const { page } = await atTheBoard(t);
  const start = await shownWidth(page);
  await button(page, 'Zoom in').tap();
  assert.ok((await shownWidth(page)) < start);
  await button(page, 'To the pins').tap();
  assert.equal(await shownWidth(page), start);
  await button(page, 'Whole board').tap();
  assert.equal(await shownWidth(page), 1);
  await button(page, 'To the pins').tap();

  await page.locator('.frame').focus();
  await page.keyboard.press('+');
  assert.ok((await shownWidth(page)) < start);
  const [left] = await placeOf(page, ADJUSTER);
  await page.keyboard.press('ArrowRight');
  const [right] = await placeOf(page, ADJUSTER);
  assert.ok(right < left, 'what is shown moved to the right');
  await page.keyboard.press('0');
  assert.equal(await shownWidth(page), start);
  // Elsewhere these keys go to the reading.
  assert.equal(await page.evaluate(() => document.activeElement.className), 'frame');

  const box = await page.locator('.frame').boundingBox();
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  const devtools = await page.context().newCDPSession(page);
  const fingers = (type, apart) =>
    devtools.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: apart === undefined ? [] : [-apart, apart].map((dx, id) => ({ id, x: middle.x + dx, y: middle.y })),
    });
  await page.locator('.frame').scrollIntoViewIfNeeded();
  await fingers('touchStart', 30);
  for (let apart = 40; apart <= 90; apart += 10) await fingers('touchMove', apart);
  await fingers('touchEnd');
  assert.ok((await shownWidth(page)) < start / 2, 'three times as far apart');
});

test('a picture that is not here leaves a sentence in its place', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  const file = JSON.parse(withBoard(await drawBoard(page, SIZE), PINS));
  delete file.pictures;
  await bringIn(page, JSON.stringify(file));
  await link(page, 'Jobs').tap();
  await startJob(byTouch(page), 'QRC-10');
  await toStep(page, ADJUSTING);
  await seeText(page, 'This picture is not on this device');
  assert.deepEqual(await barriers(page), []);
});

test('a photo is turned upright, scaled down and freed of what the camera noted', async (t) => {
  const { page } = await atThePhotos(t);
  await load(page, heldUpright(await drawBoard(page)));
  const photo = page.locator('.photograph');
  const size = await photo.evaluate((image) => [image.naturalWidth, image.naturalHeight]);
  assert.deepEqual(size, [1500, 2000]);
  const bytes = await photo.evaluate(async (image) => {
    const kept = await new Promise((done) => {
      const asked = indexedDB.open('halfturn');
      asked.onsuccess = () => {
        const all = asked.result.transaction('pictures').objectStore('pictures').getAll();
        all.onsuccess = () => done(all.result);
      };
    });
    return kept.map(({ bytes }) => String.fromCharCode(...bytes.slice(0, 400)));
  });
  assert.equal(bytes.length, 1);
  assert.doesNotMatch(bytes[0], /Exif|QRC/);
  const local = await page.evaluate(() => JSON.stringify(localStorage).length);
  assert.ok(local < 300_000, `${local} characters in local storage`);
});

test('what is no picture is refused in a sentence', async (t) => {
  const { page } = await atThePhotos(t);
  await page.locator('#photo-file').setInputFiles({
    name: 'a.jpg',
    mimeType: 'image/jpeg',
    buffer: Buffer.from('no picture at all'),
  });
  await seeText(page, 'This browser sees no picture in the file');
  assert.equal(await page.locator('.photograph').count(), 0);
});

test('photos as found and as left stand in the job, on the sheet and in its file', async (t) => {
  const { host, browser, page } = await atThePhotos(t);
  await host.stop();
  await type(page.getByLabel('Note'), 'Scorched beside the driver');
  await load(page, await drawBoard(page));
  assert.equal(await page.getByLabel('Note').inputValue(), '');
  await page.getByLabel('As left').check();
  await load(page, await drawBoard(page, { hue: 30, type: 'image/png' }), 'b.png', 'image/png');
  await page.reload();
  await see(page.getByRole('img', { name: 'Photo of the set as found: Scorched beside the driver' }));
  await see(page.getByRole('img', { name: 'Photo of the set as left', exact: true }));
  assert.deepEqual(await barriers(page), []);

  await link(page, 'All steps').tap();
  await link(page, 'Report').tap();
  await see(page.locator('.report-photos img'));
  for (const title of ['Photos', 'As found', 'As left']) await see(heading(page, title));
  assert.deepEqual(await barriers(page), []);
  if (process.env.SHEETS) {
    await page.pdf({ path: join(process.env.SHEETS, 'photos.pdf'), format: 'A4' });
  }
  await page.emulateMedia({ media: 'print' });
  const torn = await page.$$eval('.report-photos', (rows) =>
    rows.filter((row) => getComputedStyle(row).breakInside !== 'avoid').length,
  );
  assert.equal(torn, 0, 'no row of photos is torn apart by a page');
  await page.emulateMedia({ media: 'screen' });

  // The saved page shows them with neither script nor network.
  const file = await savedFile(page, () => button(page, 'Save as a page').tap());
  assert.ok(file.text.length < 1_500_000, `${file.text.length} bytes`);
  assert.match(file.text, /default-src 'none'; img-src data:; style-src 'sha256-/);
  browser.expect(/request left: file:/);
  const path = join(await folder(t), 'report.html');
  await writeFile(path, file.text);
  const saved = await browser.context.newPage();
  await saved.goto(pathToFileURL(path).href);
  const seen = await saved.$$eval('.report-photos img', (images) =>
    images.map((image) => [Math.max(image.naturalWidth, image.naturalHeight), image.alt]),
  );
  assert.deepEqual(seen.map(([longest]) => longest), [1000, 1000]);
  assert.match(seen[0][1], /^Photo of the set as found.*Scorched beside the driver/);
  assert.deepEqual(await barriers(saved), []);
});

test('a removed photo is gone from the job, stays in the log, and comes back by an undo', async (t) => {
  const { page } = await atThePhotos(t);
  await load(page, await drawBoard(page));
  await button(page, 'Remove…').tap();
  await button(page, 'Remove the photo').tap();
  await seeText(page, 'There are no photos in this job yet.');
  await link(page, 'All steps').tap();
  await link(page, 'Continue').tap();
  // No entry of the step in front, so it is named before it is taken back.
  await button(page, 'Undo').tap();
  await seeText(page, 'the removal of a photo');
  await button(page, 'Undo it').tap();
  await seeText(page, 'Undone: the removal of a photo');
  await link(page, 'Take a photo').tap();
  await see(page.locator('.photograph'));
});

test('a job’s file brings procedure, photos and board to an empty device', async (t) => {
  const { page } = await atTheBoard(t);
  await link(page, 'Take a photo').tap();
  await load(page, await drawBoard(page, { hue: 200 }));
  await link(page, 'All steps').tap();
  await link(page, 'Sign off').tap();
  const file = await savedFile(page, () => button(page, 'Save the job as a file').tap());
  assert.equal(JSON.parse(file.text).pictures.length, 2);

  const host = await openHost(t, DIST);
  const empty = await openBrowser(t);
  const other = await empty.visit(host);
  await bringIn(other, file.text);
  await seeText(other, 'Pictures: 2, together');
  await seeText(other, 'All of them are in use.');
  await link(other, 'Jobs').tap();
  await other.getByRole('link', { name: /QRC-09/ }).first().tap();
  await see(heading(other, STEPS[0].title));
  await toStep(other, ADJUSTING);
  await see(other.locator('.frame img'));
  await link(other, 'Take a photo').tap();
  await see(other.locator('.photograph'));
});

test('a picture that is not the one that its file names is refused and told; the rest can be taken', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  const file = JSON.parse(withBoard(await drawBoard(page, SIZE), PINS));
  file.pictures[0].data = (await drawBoard(page, { ...SIZE, hue: 10 })).toString('base64');
  await link(page, 'Files').tap();
  await chooseFile(page, {
    name: 'a.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(file)),
  });
  await seeText(page, 'Picture number 1 in the file');
  await seeText(page, 'New here: it will be added.');
  await button(page, 'Import selected').tap();
  await seeText(page, '1 item imported.');
  await seeText(page, 'There are no pictures on this device.');
});

test('the data screen says what pictures take, and removes those that nothing uses', async (t) => {
  const { page } = await atThePhotos(t);
  await load(page, await drawBoard(page));
  await load(page, await drawBoard(page, { hue: 30 }));
  await link(page, 'Files').tap();
  await seeText(page, /Pictures: 2, together [\d.]+ [KM]iB\. All of them are in use\./);
  await page.goBack();
  await button(page, 'Remove…').first().tap();
  await button(page, 'Remove the photo').tap();
  await link(page, 'Files').tap();
  await seeText(page, 'One of them');
  assert.deepEqual(await barriers(page), []);
  await button(page, 'Remove the unused ones…').tap();
  await button(page, 'Delete one picture permanently').tap();
  await seeText(page, 'One picture was removed.');
  await seeText(page, /Pictures: 1, together/);
  await page.goBack();
  await see(page.locator('.photograph'));
});

// A draft that goes on from the demo's procedure, with its pictures open.
async function atTheDraft(t) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await link(page, 'Report').waitFor();
  await link(page, 'Procedures').tap();
  await page.getByRole('link', { name: TRAINER.title }).tap();
  await button(page, 'Edit').tap();
  await link(page, 'Pictures of the board').tap();
  await see(heading(page, 'Pictures of the board'));
  const load = async (jpeg) => {
    const before = await page.locator('.frame').count();
    const chooser = page.waitForEvent('filechooser');
    await page.getByText('Choose a picture', { exact: true }).tap();
    await (await chooser).setFiles({ name: 'a.jpg', mimeType: 'image/jpeg', buffer: jpeg });
    await page.locator('.frame').nth(before).waitFor();
  };
  return { host, browser, page, load };
}

const choice = (page, name) =>
  page.getByRole('group', { name: /^(Test points|Adjusters)$/ }).getByRole('button', { name });
const pinned = (page, name, across, down) =>
  see(page.getByRole('button', { name: `${name}, ${across} % across, ${down} % down`, exact: true }));

test('a board is photographed, pinned by touch and by keys, and seen at its step', async (t) => {
  const { host, page, load } = await atTheDraft(t);
  await load(await drawBoard(page));
  assert.equal(await page.getByLabel('What it shows').inputValue(), 'Top');

  // By touch: choose, tap the place, tap another place, take it off, undo that.
  const frame = page.locator('.frame');
  const tapAt = async (across, down) => {
    await frame.scrollIntoViewIfNeeded();
    const box = await frame.boundingBox();
    await frame.tap({ position: { x: box.width * across, y: box.height * down } });
  };
  await choice(page, GAUGE.at).tap();
  await tapAt(0.25, 0.5);
  await pinned(page, GAUGE.at, 25, 50);
  await tapAt(0.3, 0.4);
  await pinned(page, GAUGE.at, 30, 40);
  // The ring is drawn where the finger was.
  const [across, down] = await placeOf(page, GAUGE.at);
  assert.ok(Math.abs(across - 0.3) < 0.005 && Math.abs(down - 0.4) < 0.005, `${across}, ${down}`);
  await button(page, 'Remove pin').tap();
  assert.equal(await page.locator('.pin').count(), 0);
  await page.getByRole('button', { name: /^Undo/ }).tap();
  await pinned(page, GAUGE.at, 30, 40);

  // By keys: choose, put it in the middle, move it.
  await choice(page, ADJUSTER).focus();
  await page.keyboard.press('Enter');
  await button(page, 'Place at centre').focus();
  await page.keyboard.press('Enter');
  await pinned(page, ADJUSTER, 50, 50);
  await see(page.locator('.pin-key:focus'));
  for (let press = 0; press < 10; press += 1) await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Shift+ArrowUp');
  await pinned(page, ADJUSTER, 55, 45);
  await page.keyboard.press('Delete');
  assert.equal(await page.locator('.pin').count(), 1);
  await page.getByRole('button', { name: /^Undo/ }).tap();
  await pinned(page, ADJUSTER, 55, 45);
  assert.deepEqual(await barriers(page), []);
  await page.setViewportSize({ width: 390, height: 844 });
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  assert.ok(wide <= 390, `${wide} px on a phone`);
  await page.setViewportSize({ width: 1180, height: 820 });

  // All of it is there after a reload without a network, and in what is published.
  await host.stop();
  await page.reload();
  await pinned(page, GAUGE.at, 30, 40);
  await link(page, 'All steps of the draft').tap();
  await link(page, 'Publish …').tap();
  await seeText(page, 'Board picture “Top” added');
  await page.getByRole('button', { name: /^Publish/ }).tap();
  await see(heading(page, TRAINER.title));
  await link(page, 'Jobs').tap();
  await startJob(byTouch(page), 'QRC-11');
  await toStep(page, ADJUSTING);
  await see(page.getByRole('group', { name: `Top with ${GAUGE.at} and ${ADJUSTER}` }));
});

test('two sides of a board are two pictures, and a removed one is unused', async (t) => {
  const { page, load } = await atTheDraft(t);
  await load(await drawBoard(page));
  await load(await drawBoard(page, { hue: 30 }));
  await see(page.getByRole('group', { name: 'Track side' }));
  await link(page, 'Files').tap();
  await seeText(page, /Pictures: 2, together .* All of them are in use\./);
  await page.goBack();
  await button(page, 'Remove the picture…').first().tap();
  await button(page, 'Remove the picture and its pins').tap();
  assert.equal(await page.locator('.frame').count(), 1);
  await link(page, 'Files').tap();
  await seeText(page, 'One of them');
});
