// The receiver steps of the demo worked by audio, without a network: a figure taken hands-free, a
// sensitivity searched, a carrier set by its pitch, a response swept, drawn and entered, and the sheet
// that names where each is from. What the microphone would give is made within the page, so that it
// follows the generator's level as a receiver does.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, openBrowser, openHost } from './bench.mjs';
import { RATE, number, second } from './sound.mjs';
import { button, byTouch, heading, labelled, link, savedFile, see, seeText } from './technician.mjs';

// Runs in the page: a tone through a low pass of 1.5 kHz, and noise, in the place of the input.
function receiver({ noise, rate }) {
  const context = new AudioContext({ sampleRate: rate });
  const tone = context.createOscillator();
  const [tones, hiss] = [context.createGain(), context.createGain()];
  const low = context.createBiquadFilter();
  low.frequency.value = 1500;
  low.Q.value = -3; // No peak, in decibels.
  const buffer = context.createBuffer(1, noise.length, rate);
  buffer.copyToChannel(Float32Array.from(noise), 0);
  const source = context.createBufferSource();
  source.buffer = buffer;
  source.loop = true;
  tone.connect(tones).connect(low);
  source.connect(hiss);
  tone.start();
  source.start();
  navigator.mediaDevices.getUserMedia = async () => {
    const out = context.createMediaStreamDestination();
    low.connect(out);
    hiss.connect(out);
    context.resume();
    return out.stream;
  };
  window.receiver = {
    set(hertz, peak, rms) {
      tone.frequency.cancelScheduledValues(0);
      tone.frequency.setValueAtTime(hertz, context.currentTime);
      tones.gain.value = peak;
      hiss.gain.value = rms;
    },
    sweep(from, to, seconds) {
      const now = context.currentTime;
      tone.frequency.setValueAtTime(from, now);
      for (let way = 1; way <= 20; way += 1) {
        tone.frequency.exponentialRampToValueAtTime(way % 2 ? to : from, now + way * seconds);
      }
    },
    response(tones) {
      const [level, phase] = [new Float32Array(tones.length), new Float32Array(tones.length)];
      low.getFrequencyResponse(Float32Array.from(tones), level, phase);
      return Array.from(level, (each) => 20 * Math.log10(each));
    },
  };
}

async function demo(t) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await link(page, 'Jobs').first().tap();
  await page.getByRole('link', { name: /QRC-07/ }).first().tap();
  await page.waitForURL(/#\/job\//);
  const job = new URL(page.url()).hash.split('/').slice(1, 3).join('/');
  await page.evaluate(receiver, { noise: Array.from(second([], 1)), rate: RATE });
  await host.stop();
  const to = (part) => page.evaluate((hash) => { location.hash = hash; }, `#/${job}/${part}`);
  const set = (...sound) => page.evaluate((sound) => window.receiver.set(...sound), sound);
  return { page, hand: byTouch(page), to, set };
}

// With so many decibels of SINAD a tone of this peak has noise of this effective value beside it.
const noiseFor = (peak, sinad) => peak / Math.SQRT2 / Math.sqrt(10 ** (sinad / 10) - 1);

const PEAK = 0.2;
// The filter takes something off the tone at 1 kHz as well, and nothing off the noise.
const through = (page, hertz) => page.evaluate((hertz) => window.receiver.response([hertz])[0], hertz);

const entered = async (page) => {
  const row = page.getByRole('table', { name: 'Readings, newest first' }).getByRole('row').first();
  return number(await row.locator('.number').first().textContent());
};

test('the receiver steps of the demo are worked by audio, offline', { timeout: 600_000 }, async (t) => {
  const { page, hand, to, set } = await demo(t);
  const off = await through(page, 1000);
  const hear = (sinad) => set(1000, PEAK / 10 ** (off / 20), noiseFor(PEAK, sinad));

  await t.test('SINAD goes into a step of its own hands-free', async () => {
    await to('step/sens');
    await see(heading(page, 'Sensitivity on SSB'));
    await to('add');
    await hand.write(labelled(page, 'What'), 'SINAD at the loudspeaker');
    await hand.write(labelled(page, 'Where'), 'SK4');
    await page.getByRole('button', { name: /^Unit/ }).tap();
    await hand.write(page.locator('.picker-panel input'), 'dB SINAD');
    await page.locator('.picker-panel').getByRole('button', { name: /^dB SINAD/ }).first().tap();
    await button(page, 'Add it and go there').tap();
    await see(heading(page, 'SINAD at the loudspeaker'));
    await hear(14);
    await link(page, 'Measure by audio').tap();
    await see(page.locator('.audio-figure').filter({ hasText: /^1[34]\.\d/ }));
    await button(page, 'Hold when steady').tap();
    await see(heading(page, 'SINAD at the loudspeaker'));
    const sinad = await entered(page);
    assert.ok(Math.abs(sinad - 14) <= 0.2, `${sinad} dB`);
  });

  await t.test('the sensitivity is searched and entered in the step’s own unit', async () => {
    // The set has 12 dB SINAD at −113 dBm, and a decibel more with each decibel.
    await to('step/sens');
    await see(heading(page, 'Sensitivity on SSB'));
    await link(page, 'Measure by audio').tap();
    const asked = page.locator('.audio-next');
    await see(asked);
    const found = page.getByText(/from \d+ levels/);
    const points = page.getByRole('list', { name: 'Levels' }).getByRole('listitem');
    for (let levels = 0; levels < 20 && !(await found.count()); levels += 1) {
      const due = 12 + number(await asked.textContent()) + 113;
      await hear(Math.max(due, 0.5));
      // A second of the new level and nothing else.
      await page.waitForTimeout(2_500);
      await button(page, 'Take this level').tap();
      await points.nth(levels).waitFor();
    }
    await see(found);
    const key = page.getByRole('button', { name: /^Take 1\.\d+\sµV EMF into step 24$/ });
    await key.tap();
    await see(heading(page, 'Sensitivity on SSB'));
    // −113 dBm in 50 Ω are 0.5006 µV; without a load twice that.
    const emf = await entered(page);
    assert.ok(Math.abs(emf - 1.001) <= 0.06, `${emf} µV`);
  });

  await t.test('a carrier is set by its pitch', async () => {
    await to('step/car-usb');
    await see(heading(page, 'Carrier on USB'));
    await set(1003, PEAK, 0.001);
    await link(page, 'Measure by audio').tap();
    await hand.write(labelled(page, 'RF input in Hz'), '10696003');
    await hand.write(labelled(page, 'Known within ± Hz'), '0.5');
    await see(page.locator('.audio-figure').filter({ hasText: /^10.?695.?000/ }));
    await page.getByRole('button', { name: /^Take 10\.69\d+\sMHz into step 19$/ }).tap();
    await see(heading(page, 'Carrier on USB'));
    assert.ok(Math.abs((await entered(page)) - 10.695) <= 0.3e-6);
  });

  await t.test('a response is swept, drawn, and entered as the powers that the steps read', async () => {
    await to('step/audio-300');
    await see(heading(page, 'Audio response: 300 Hz'));
    await set(1000, PEAK, 0.0005);
    await link(page, 'Measure by audio').tap();
    await seeText(page, 'The step reads dBm: compare the input with a known voltage first.');
    await hand.write(labelled(page, 'Test tone in Hz'), '1000');
    await hand.write(labelled(page, 'Known voltage in V rms'), '1.0');
    await hand.write(labelled(page, 'Known within ± V'), '0.01');
    await hand.write(labelled(page, 'Load in Ω'), '8');
    await page.waitForTimeout(1_500);
    await button(page, 'The tone now is this voltage').tap();
    await seeText(page, /dBm in 8\sΩ; input compared at 1000\sHz|Input compared at 1000\sHz/);
    await page.evaluate(() => window.receiver.sweep(240, 3000, 11));
    await button(page, 'Follow a sweep').tap();
    const key = button(page, 'Enter 3 readings into the table');
    await key.waitFor({ timeout: 200_000 });
    await see(page.getByRole('img', { name: 'Response against the reference, 100 Hz to 8 kHz' }));
    await key.tap();
    await see(heading(page, 'Audio response: 300 Hz'));
  });

  await to('finish');
  const file = await savedFile(page, () => button(page, 'Save the job as a file').tap());
  const all = JSON.parse(file.text).job.log.map(({ did }) => did.reading).filter((reading) => reading?.heard);
  const due = await page.evaluate(() => window.receiver.response([300, 1000, 2500]));
  // 1 V across 8 Ω is 20.97 dBm.
  for (const [at, step] of ['audio-300', 'audio-1000', 'audio-2500'].entries()) {
    const { value, heard } = all.find((reading) => reading.step === step);
    const dbm = 20.97 + due[at] - due[1];
    assert.ok(Math.abs(number(value) - dbm) <= 0.15, `${step}: ${value}, due ${dbm}`);
    assert.deepEqual([heard.measure, heard.into], ['swept-response', '8 Ω']);
  }
  await to('report');
  for (const source of [
    /SINAD \(S\+N\+D\)\/\(N\+D\), 300–3400\sHz, 1\ss at 44100\sHz, n\s=\s3/,
    /Club signal generator; Sound input.*sensitivity, 300–3400\sHz/,
    /carrier by pitch, no filter, 1\ss at 44100\sHz/,
    /level against the reference by a sweep \(2500\sHz against 1000\sHz\) across 8\sΩ/,
  ]) {
    await seeText(page, source);
  }
  // The table of the response is drawn as well.
  await see(page.locator('svg.response'));
});
