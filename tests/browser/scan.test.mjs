// Codes: the app's own label leads back to its job, a serial number goes into its field. From a
// picture, and by a camera that Chromium plays from a file. All with no network.

import assert from 'node:assert/strict';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, folder, openBrowser, openHost } from './bench.mjs';
import { DOUBLE } from './hand.mjs';
import { button, byTouch, heading, labelled, link, see, seeText } from './technician.mjs';

// Code 39 (ISO/IEC 16388, from memory): five bars with four spaces between them, 1 is wide.
const CODE_39 = {
  '*': '010010100', '-': '010000101', 0: '000110100', 4: '000110001', 7: '000100101',
  C: '101001000', Q: '000000111', R: '100000110',
};
const SERIAL = 'QRC-47';

// The bars of a text as a picture in the page's own format.
function bars(text) {
  const rects = [];
  let x = 30;
  for (const letter of `*${text}*`) {
    [...CODE_39[letter]].forEach((wide, index) => {
      const width = wide === '1' ? 6 : 2;
      if (index % 2 === 0) rects.push(`<rect x="${x}" y="60" width="${width}" height="160"/>`);
      x += width;
    });
    x += 2;
  }
  return `<svg xmlns="http://www.w3.org/2000/svg" width="640" height="480"><rect width="640" height="480" fill="#fff"/>${rects.join('')}</svg>`;
}

// A drawing as a photo of 640 by 480 dots.
async function photo(browser, svg, type) {
  const page = await browser.context.newPage();
  await page.setViewportSize({ width: 640, height: 480 });
  await page.setContent(`<body style="margin:0">${svg}`);
  const bytes = await page.screenshot({ type, scale: 'css' });
  await page.close();
  return bytes;
}

const png = (buffer) => ({ name: 'code.png', mimeType: 'image/png', buffer });
// A picture, which nobody finds as quickly as a second tap makes a double one.
async function pick(page, file) {
  await page.waitForTimeout(DOUBLE);
  await page.locator('#scan-picture').setInputFiles(file);
}

async function opened(t, options) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, options);
  const page = await browser.visit(host);
  return { host, browser, page, hand: byTouch(page), go: (to) => page.goto(`${host.url}#/${to}`) };
}

async function withDemo(t, options) {
  const all = await opened(t, options);
  await button(all.page, 'Load the demo').tap();
  await see(heading(all.page, 'All steps'));
  const [, job] = new URL(all.page.url()).hash.split('/').slice(1);
  return { ...all, job };
}

test('the label of a job leads back to it, from a picture and with no network', async (t) => {
  const { page, go, host, job } = await withDemo(t, { device: TABLET });
  await go(`job/${job}/label`);
  const code = page.locator('.label-code');
  await see(code);
  const label = await code.screenshot();
  await host.stop();
  await go('');
  await link(page, 'Scan').tap();
  // There is no camera here.
  await seeText(page, /No camera was found|does not let this page use the camera/);
  await pick(page, png(label));
  await page.waitForFunction((job) => location.hash === `#/job/${job}/steps`, job);
  await see(heading(page, 'All steps'));
});

test('a picture that shows no code, or is none, is told', async (t) => {
  const { page, browser, go } = await withDemo(t, { device: PHONE });
  await go('scan');
  await pick(page, png(await photo(browser, '<p>No code</p>', 'png')));
  await seeText(page, 'No code was found in this picture');
  await pick(page, { name: 'notes.png', mimeType: 'image/png', buffer: Buffer.from('not a picture') });
  await seeText(page, 'This file can’t be read as a picture');
});

test('a label of a job that is not here is told with its number', async (t) => {
  const { page, go, job } = await withDemo(t, { device: TABLET });
  await go(`job/${job}/label`);
  const code = page.locator('.label-code');
  await see(code);
  const label = await code.screenshot();
  await go('data');
  await button(page, 'Remove…').tap();
  await page.locator('.removal button').first().tap();
  await go('scan');
  await pick(page, png(label));
  await seeText(page, /This label is of job .*, which is not on this device/);
});

test('a serial number that is scanned goes into its field, and the visits of the set are there', async (t) => {
  const { page, browser, hand, go } = await opened(t, { device: PHONE });
  const file = png(await photo(browser, bars(SERIAL), 'png'));
  for (const visit of [1, 2]) {
    await go('book-in');
    await button(page, 'Scan the serial number').tap();
    await pick(page, file);
    await page.waitForFunction((it) => document.getElementById('serial').value === it, SERIAL);
    assert.equal(await page.locator('.scanner').count(), 0, 'the camera is put away');
    if (visit === 2) {
      await seeText(page, 'Jobs with this in their serial number');
      break;
    }
    await hand.write(labelled(page, 'Model'), 'Trainer');
    await button(page, 'Start the job').tap();
    await see(heading(page, 'All steps'));
  }
});

test('the camera reads a serial number, and is let go then and when the screen is left', async (t) => {
  const place = join(await folder(t), 'code.mjpeg');
  const painter = await openBrowser(t, { device: TABLET });
  const [code, blank] = [await photo(painter, bars(SERIAL), 'jpeg'), await photo(painter, '', 'jpeg')];
  writeFileSync(place, Buffer.concat(Array.from({ length: 5 }, () => code)));
  const flags = [
    '--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream',
    `--use-file-for-fake-video-capture=${place}`,
  ];
  const { page, go, host } = await withDemo(t, { device: TABLET, flags });
  await host.stop();
  const keep = () => page.evaluate(() => {
    const media = navigator.mediaDevices;
    const asked = media.getUserMedia.bind(media);
    window.cameras = [];
    media.getUserMedia = async (wanted) => {
      const stream = await asked(wanted);
      window.cameras.push(...stream.getTracks());
      return stream;
    };
  });
  await keep();
  const states = () => page.evaluate(() => window.cameras.map(({ readyState }) => readyState));
  assert.deepEqual(await states(), [], 'no camera is asked for before the screen is opened');
  await go('scan');
  await seeText(page, `Read: ${SERIAL}`);
  assert.deepEqual(await states(), ['ended']);
  await button(page, 'Book in a set with this serial number').tap();
  await see(heading(page, 'Book a set in'));
  assert.equal(await labelled(page, 'Serial number').inputValue(), SERIAL);
  assert.equal((await states()).length, 1, 'nor again without the key');

  // Nothing is found: the camera is on until the screen is left.
  writeFileSync(place, Buffer.concat(Array.from({ length: 5 }, () => blank)));
  await go('scan');
  await page.waitForFunction(() => document.querySelector('video')?.videoWidth > 0);
  assert.deepEqual((await states()).at(-1), 'live');
  await go('');
  await see(heading(page, 'Jobs'));
  assert.deepEqual((await states()).at(-1), 'ended');
});

test('a camera that is not allowed is told, with what to do', async (t) => {
  const flags = ['--use-fake-device-for-media-stream', '--deny-permission-prompts'];
  const { page, go } = await withDemo(t, { device: PHONE, flags });
  await go('scan');
  await seeText(page, 'The browser does not let this page use the camera: allow it for this page');
});
