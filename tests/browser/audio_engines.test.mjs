// The sound input as an instrument in each engine, by what its driver lets in: a file in Chromium, a
// sine of the browser's own in Firefox. WebKit's driver answers no question for the microphone, so
// there it is held that the app says why nothing is heard.

import assert from 'node:assert/strict';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { DIST, folder, openHost } from './bench.mjs';
import { input, number, second } from './sound.mjs';
import { shortProcedure } from './technician.mjs';
import { hasSoundServer, isHere, openEngine } from './webdriver.mjs';

const read = (id, title, unit) => ({ id, title, work: { read: { gauge: { at: 'TP1', with: 'meter', in: unit } } } });
const PROCEDURE = shortProcedure('qrc-engines', 'Receiver by audio', [
  read('sinad', 'SINAD at the loudspeaker', 'dB SINAD'),
  read('carrier', 'Carrier by its pitch', 'Hz'),
]);
const SET = { Make: 'Club', Model: 'Trainer', 'Serial number': 'QRC-31' };

// From the start page to the first step of a job by the procedure, ready to go on without a network.
async function begun(t, name, sound) {
  const host = await openHost(t, DIST);
  const browser = await openEngine(t, name, { sound });
  const path = join(await folder(t), 'procedure.json');
  writeFileSync(path, JSON.stringify({ type: 'halfturn-procedure', version: 3, procedure: PROCEDURE }));
  await browser.goto(host.url);
  await browser.press('link', 'Files');
  await browser.see('heading', 'Files');
  await browser.choose('#file', path);
  await browser.press('button', 'Import selected');
  await browser.see('text', '1 item imported.');
  await browser.press('link', 'Jobs');
  await browser.press('link', 'Start a job');
  await browser.press('link', PROCEDURE.title, { exact: false });
  for (const [label, text] of Object.entries(SET)) await browser.write(label, text);
  await browser.press('button', 'Start the job');
  await browser.see('heading', 'SINAD at the loudspeaker');
  await browser.offlineReady();
  await host.stop();
  return browser;
}

const figure = async (browser) => {
  // It is gone for a moment where a busy machine leaves a gap in the sound.
  const said = () => browser.run(() => document.querySelector('.audio-figure')?.textContent);
  for (let looks = 0; looks < 300; looks += 1) {
    const text = await said();
    if (text) return number(text);
    await new Promise((done) => setTimeout(done, 100));
  }
  assert.fail('no figure came');
};

const SOUND = {
  // (S+N)/N of the file, 26 dB: the noise is a twentieth of the tone.
  chromium: { of: (t) => input(t, second([[1000, 0.2]], 0.2 / Math.SQRT2 / 20)), sinad: [25.9, 26.2] },
  // A sine of 16 bits, and nothing else.
  firefox: { of: () => true, sinad: [60, 120] },
};
// Without an output Firefox runs no sound at all.
const lacks = { firefox: !hasSoundServer() && 'no sound server is on this machine (Debian: pulseaudio)' };

for (const [name, { of, sinad: [least, most] }] of Object.entries(SOUND)) {
  test(`sound is measured and taken into steps offline in ${name}`, { skip: lacks[name], timeout: 240_000 }, async (t) => {
    const browser = await begun(t, name, await of(t));
    await browser.press('link', 'Measure by audio');
    const shown = await figure(browser);
    assert.ok(shown >= least && shown <= most, `${shown} dB`);
    await browser.press('button', 'Hold when steady');
    await browser.see('heading', 'SINAD at the loudspeaker');
    await browser.find('row', 'dB SINAD', { exact: false });

    await browser.press('button', 'Next');
    await browser.see('heading', 'Carrier by its pitch');
    await browser.press('link', 'Measure by audio');
    await browser.write('RF input in Hz', '28501003');
    await browser.write('Known within ± Hz', '1');
    // Upper sideband: the carrier lies below the input by the pitch.
    const hertz = await figure(browser);
    assert.ok(Math.abs(hertz - 28_500_003) <= 0.2, `${hertz} Hz`);
    await browser.press('button', 'Take ', { exact: false });
    await browser.see('heading', 'Carrier by its pitch');
    await browser.find('row', 'Hz', { exact: false });

    await browser.press('link', 'All steps');
    await browser.press('link', 'Report');
    await browser.see('button', 'Print');
    const sheet = await browser.run(() => document.querySelector('main').innerText.replaceAll('\u00a0', ' '));
    assert.match(sheet, /SINAD \(S\+N\+D\)\/\(N\+D\), 300–3400 Hz, 1 s at \d+ Hz, n = 3/);
    assert.match(sheet, /carrier by pitch, no filter, 1 s at \d+ Hz, n = 1/);
    assert.deepEqual(await browser.problems(), []);
  });
}

const skip = !isHere('webkit') && 'webkit is not on this machine';
test('where the driver lets no sound in, as in webkit, that is said', { skip, timeout: 240_000 }, async (t) => {
  const browser = await begun(t, 'webkit');
  await browser.press('link', 'Measure by audio');
  const sentence = /Sound input not allowed|No sound input found|The sound input does not start|This browser gives no sound/;
  const text = () => browser.run(() => document.querySelector('main').innerText);
  for (let looks = 0; looks < 40 && !sentence.test(await text()); looks += 1) {
    await new Promise((done) => setTimeout(done, 500));
  }
  assert.match(await text(), sentence);
  assert.equal(await browser.run(() => document.querySelectorAll('.audio-figure').length), 0);
});
