// The sound input as an instrument. Chromium plays a file in place of the input, and what the file
// holds is worked out here by another way than the app's: a sum of lines over whole seconds.

import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { test } from 'node:test';
import { DIST, PHONE, barriers, openBrowser, openHost } from './bench.mjs';
import { RATE, listening, number, second, started } from './sound.mjs';
import { button, heading, labelled, link, savedFile, see, seeText, shortProcedure } from './technician.mjs';

const PROCEDURE = shortProcedure('qrc-audio', 'Receiver by audio', [
  {
    id: 'sinad',
    title: 'SINAD at the loudspeaker',
    work: { read: { gauge: { at: 'TP1', with: 'meter', in: 'dB SINAD' }, target: { fixed: { 'at-least': '12.0 dB SINAD' } } } },
  },
]);

const VOLTS = shortProcedure('qrc-volts', 'Audio output by audio', [
  {
    id: 'volts',
    title: 'Audio output',
    work: { read: { gauge: { at: 'TP1', with: 'meter', in: 'V rms' }, target: { fixed: { 'at-least': '0.7 V rms' } } } },
  },
]);

// (S+N+D)/(N+D) from 300 to 3400 Hz, in decibels.
function sinad(samples, tone) {
  const power = (hertz) => {
    let [re, im] = [0, 0];
    for (let at = 0; at < RATE; at += 1) {
      const turn = 2 * Math.PI * ((hertz * at) % RATE) / RATE;
      re += samples[at] * Math.cos(turn);
      im += samples[at] * Math.sin(turn);
    }
    return (re * re + im * im) * 2 / RATE ** 2;
  };
  let [all, rest] = [0, 0];
  for (let hertz = 300; hertz <= 3400; hertz += 1) {
    const here = power(hertz);
    all += here;
    if (hertz !== tone) rest += here;
  }
  return 10 * Math.log10(all / rest);
}


test('SINAD is measured, taken by itself once it is steady, and named on sheet and table, offline', async (t) => {
  const samples = second([[1000, 0.2], [2000, 0.04]], 0.015);
  const due = sinad(samples, 1000);
  const bench = await listening(t, samples);
  const { page, host } = bench;
  const job = await started(bench, PROCEDURE);
  await page.goto(`${host.url}#/${job}/step/sinad`);
  await host.stop();
  await link(page, 'Measure by audio').tap();
  await seeText(page, 'Pad and isolating transformer');
  const figure = page.locator('.audio-figure');
  await see(figure);
  for (let looks = 0; looks < 5; ) {
    await page.waitForTimeout(300);
    // A busy machine leaves gaps in the sound, which give no figure.
    const [text] = await figure.allTextContents();
    if (text === undefined) continue;
    looks += 1;
    const shown = number(text);
    assert.ok(Math.abs(shown - due) <= 0.1, `${shown} dB on the screen, ${due} dB in the file`);
  }
  await see(page.locator('.audio-figures .target').filter({ hasText: '12.0' }));
  await button(page, 'Hold when steady').tap();
  const saved = page.getByRole('table', { name: 'Readings, newest first' });
  await see(saved);
  const taken = number(await saved.locator('.number').first().textContent());
  assert.ok(Math.abs(taken - due) <= 0.1, `${taken} dB in the step, ${due} dB in the file`);

  await page.goto(`${host.url}#/${job}/report`);
  const source = /Sound input.*SINAD \(S\+N\+D\)\/\(N\+D\), 300–3400\s?Hz, 1\s?s at 44100\s?Hz, n\s=\s3/;
  await seeText(page, source);
  const table = await savedFile(page, () => button(page, 'Save the readings as a table').tap());
  assert.match(table.text.replaceAll('\u00a0', ' '), source);
  await page.goto(`${host.url}#/${job}/finish`);
  const file = await savedFile(page, () => button(page, 'Save the job as a file').tap());
  const { reading } = JSON.parse(file.text).job.log.map(({ did }) => did).find((did) => did.reading);
  assert.deepEqual(
    { ...reading.heard, input: '', standard: '' },
    { input: '', measure: 'sinad', weighting: 'speech', window: 1000, rate: RATE, count: 3, standard: '' },
  );
  const standard = number(reading.heard.standard);
  assert.ok(standard > 0 && standard < 0.2, reading.heard.standard);
});

test('the input is asked for when the screen is opened, without processing, and let go when it is left', async (t) => {
  const { page, host } = await listening(t, second([[1000, 0.2]], 0.01), PHONE);
  await page.evaluate(() => {
    const media = navigator.mediaDevices;
    const asked = media.getUserMedia.bind(media);
    window.inputs = [];
    media.getUserMedia = async (wanted) => {
      const stream = await asked(wanted);
      window.inputs.push(...stream.getTracks());
      return stream;
    };
  });
  const states = () => page.evaluate(() => window.inputs.map(({ readyState }) => readyState));
  assert.deepEqual(await states(), [], 'not before');
  await page.goto(`${host.url}#/audio`);
  await see(page.locator('.audio-figure'));
  assert.deepEqual(await states(), ['live']);
  const { echoCancellation, noiseSuppression, autoGainControl } = await page.evaluate(() => window.inputs[0].getSettings());
  assert.deepEqual([echoCancellation, noiseSuppression, autoGainControl], [false, false, false]);
  await link(page, 'Jobs').first().tap();
  await page.waitForFunction(() => window.inputs.every(({ readyState }) => readyState === 'ended'));
});

test('a hum beside a tone that fades gives a sentence and no number', async (t) => {
  const fades = second([[1000, 0.2], [50, 0.005]], 0.0005).map((each, at) => each * (1 + 0.5 * Math.sin((2 * Math.PI * at) / RATE)));
  const { page, host } = await listening(t, fades);
  await page.goto(`${host.url}#/audio`);
  await button(page, 'Hum').tap();
  await see(page.locator('.audio-figures .refused').filter({ hasText: 'The level of the tone moves within a second' }));
  assert.equal(await page.locator('.audio-figure, .audio-parts li').count(), 0);
});

test('the last seconds of sound are kept with a reading: played, in the job’s file, and removed', async (t) => {
  const bench = await listening(t, second([[1000, 0.2], [2000, 0.04]], 0.015));
  const { page, host } = bench;
  const job = await started(bench, PROCEDURE);
  await page.goto(`${host.url}#/${job}/step/sinad`);
  await link(page, 'Measure by audio').tap();
  await page.getByLabel('Save the last 5 s of sound with the reading').check();
  await see(page.locator('.audio-figure'));
  await page.waitForTimeout(5_000);
  await button(page, 'Hold when steady').tap();
  await see(page.getByRole('table', { name: 'Readings, newest first' }));
  await seeText(page, 'Sound recording saved.');
  await link(page, 'All steps').tap();
  await link(page, 'Photos and recordings (1)').tap();
  await see(heading(page, 'Sound recordings'));
  const item = page.getByRole('listitem').filter({ hasText: 'Step 1' });
  // Five seconds, or what there is since a gap that a busy machine left.
  await see(item.filter({ hasText: /\d\sdB\sSINAD/ }).filter({ hasText: /[1-5]\.\d\ss/ }));
  assert.deepEqual(await barriers(page), []);
  await item.getByRole('button', { name: 'Play' }).tap();
  await see(item.getByRole('button', { name: 'Stop' }));
  // It ends by itself.
  await item.getByRole('button', { name: 'Play' }).waitFor({ timeout: 60_000 });

  const jobFile = async () => {
    await page.goto(`${host.url}#/${job}/finish`);
    return JSON.parse((await savedFile(page, () => button(page, 'Save the job as a file').tap())).text);
  };
  const { job: whole, pictures } = await jobFile();
  const deeds = whole.log.map(({ id, did }) => ({ id, ...did }));
  const reading = deeds.find((deed) => deed.reading);
  const kept = deeds.find((deed) => deed['sound-kept'])['sound-kept'];
  assert.equal(kept.reading, reading.id);
  assert.deepEqual(pictures.map(({ digest, type }) => [digest, type]), [[kept.sound, 'audio/wave']]);
  const bytes = Buffer.from(pictures[0].data, 'base64');
  assert.equal(createHash('sha256').update(bytes).digest('hex'), kept.sound);
  const samples = (bytes.length - 44) / 2;
  assert.equal(bytes.readUInt32LE(24), RATE);
  assert.ok(samples >= RATE && samples <= 5 * RATE, `${samples} samples`);
  // What is kept is what was heard: the last second of it has the SINAD of the file.
  const first = samples - RATE;
  const heard = Float64Array.from({ length: RATE }, (_, at) => bytes.readInt16LE(44 + 2 * (first + at)) / 32767);
  const due = sinad(second([[1000, 0.2], [2000, 0.04]], 0.015), 1000);
  assert.ok(Math.abs(sinad(heard, 1000) - due) <= 0.1);

  await page.goto(`${host.url}#/${job}/report`);
  await see(heading(page, 'Sound recordings'));
  await seeText(page, kept.sound.slice(0, 12));
  await page.goto(`${host.url}#/${job}/photos`);
  await item.getByRole('button', { name: 'Remove…' }).tap();
  await button(page, 'Remove the recording').tap();
  await seeText(page, 'The recording is no longer listed. That it was kept and removed stays in the log.');
  await item.waitFor({ state: 'detached' });
  const after = await jobFile();
  assert.ok(!after.pictures?.length);
  assert.ok(after.job.log.some(({ did }) => did['sound-removed']));
});

test('products of two tones are given below one of them and below the peak', async (t) => {
  // 2 · 700 − 1900 is heard at 500 Hz; 30 dB below one tone is 36.02 dB below PEP.
  const { page, host } = await listening(t, second([[700, 0.2], [1900, 0.2], [500, 0.2 * 10 ** (-30 / 20)]], 0.001));
  await page.goto(`${host.url}#/audio`);
  await button(page, 'Two-tone products').tap();
  const figure = page.locator('.audio-figure');
  await see(figure.filter({ hasText: /[−-]30\.0/ }));
  await button(page, 'Third-order products below PEP').tap();
  await see(figure.filter({ hasText: '36.0' }));
});

test('a carrier is found by its pitch, with the clock compared and the input’s own uncertainty', async (t) => {
  const bench = await listening(t, second([[1000, 0.2]], 0.002));
  const { page, host, hand } = bench;
  await page.goto(`${host.url}#/audio`);
  await button(page, 'Carrier by pitch').tap();
  await seeText(page, 'RF input missing');
  await hand.write(labelled(page, 'RF input in Hz'), '28501003');
  await hand.write(labelled(page, 'Known within ± Hz'), '1');
  await hand.write(labelled(page, 'Carrier due in Hz'), '28500000');
  // The clock is not compared yet: 100 ppm of 1 kHz, and ±1 Hz, all evenly spread, make 1.14 Hz.
  await seeText(page, /Error 3\.?\d*\sHz ±\s1\.[12]\d*\sHz/);
  await button(page, 'Compare the clock with it').tap();
  await seeText(page, /Sound clock .*ppm fast/);
});

test('volts are shown once a known voltage was put in, of that tone alone, and go into the step', async (t) => {
  const bench = await listening(t, second([[1000, 0.2], [400, 0.1]], 0.0005));
  const { page, host, hand } = bench;
  const job = await started(bench, VOLTS);
  await page.goto(`${host.url}#/${job}/step/volts`);
  await link(page, 'Measure by audio').tap();
  await seeText(page, 'Volts not known');
  assert.equal(await page.locator('.audio-figure').count(), 0);
  await hand.write(labelled(page, 'Known voltage in V rms'), '0.775');
  await hand.write(labelled(page, 'Known within ± V'), '0.005');
  const shown = page.locator('.audio-figure').filter({ hasText: /^0\.77\d?\sV rms$/ });
  // While a busy machine leaves gaps in the sound there is no tone to compare with.
  for (let taps = 0; taps < 20 && !(await shown.count()); taps += 1) {
    await button(page, 'The tone now is this voltage').tap();
    await page.waitForTimeout(500);
  }
  await see(shown);
  // 0.775 V across 600 Ω is 0.0 dBm, by common practice; across 50 Ω 10·log₁₀(600/50) more.
  await seeText(page, /−?0\.0\d?\sdBm in 600\sΩ; input compared at 1000\sHz/);
  await hand.write(labelled(page, 'Load in Ω'), '50');
  await seeText(page, /10\.8\d?\sdBm in 50\sΩ/);
  // Evenly spread over ±5 mV, at 95 %: 1.96 · 5 mV / √3.
  await seeText(page, /±\s0\.005[67]\d?\sV/);
  await hand.write(labelled(page, 'Test tone in Hz'), '400');
  await seeText(page, 'Input compared at 1000 Hz only');
  assert.equal(await page.locator('.audio-figure').count(), 0);
  await hand.write(labelled(page, 'Test tone in Hz'), '1000');
  await page.getByRole('button', { name: /^Take 0\.77\d?\sV rms into step 1$/ }).tap();
  await see(heading(page, 'Audio output'));
  await seeText(page, /0\.77\d?\sV rms/);
});

const UNFIT = [
  ['silence', second([]), 'Silence at the input'],
  ['clipping', second([[1000, 1.5]]), 'The input clips'],
  ['noise alone', second([], 0.1), 'No tone between'],
  ['another tone', second([[1500, 0.2]], 0.01), 'No tone between'],
];

for (const [name, samples, sentence] of UNFIT) {
  test(`${name} gives a sentence and no number`, async (t) => {
    const { page, host } = await listening(t, samples);
    await page.goto(`${host.url}#/audio`);
    await seeText(page, sentence);
    assert.equal(await page.locator('.audio-figure').count(), 0);
  });
}

test('an input that is not allowed is told, with what to do', async (t) => {
  const host = await openHost(t, DIST);
  const flags = ['--use-fake-device-for-media-stream', '--deny-permission-prompts'];
  const browser = await openBrowser(t, { device: PHONE, flags });
  const page = await browser.visit(host);
  await page.goto(`${host.url}#/audio`);
  await seeText(page, 'Sound input not allowed: allow the microphone for this page');
  assert.equal(await page.locator('.audio-figure').count(), 0);
});

test('a browser that works on the sound is refused', async (t) => {
  const { page, host } = await listening(t, second([[1000, 0.2]], 0.01));
  await page.evaluate(() => {
    const settings = MediaStreamTrack.prototype.getSettings;
    MediaStreamTrack.prototype.getSettings = function () {
      return { ...settings.call(this), noiseSuppression: true };
    };
  });
  await page.goto(`${host.url}#/audio`);
  await seeText(page, 'The browser keeps noise suppression on');
  assert.equal(await page.locator('.audio-figure').count(), 0);
});

test('a tone is sent only after the caution, and stops when the screen is left', async (t) => {
  const { page, host } = await listening(t, second([[1000, 0.2]], 0.01));
  await page.evaluate(() => {
    window.outputs = [];
    const start = OscillatorNode.prototype.start;
    OscillatorNode.prototype.start = function (...when) {
      window.outputs.push(this);
      return start.apply(this, when);
    };
  });
  await page.goto(`${host.url}#/audio`);
  await page.getByText('Send', { exact: true }).tap();
  await seeText(page, 'dummy load on');
  assert.ok(await button(page, 'Start sending').isDisabled());
  await labelled(page, 'Dummy load on, line checked').check();
  await button(page, '+0.1 dB').tap();
  await seeText(page, '−39.9 dBFS');
  await button(page, 'Two tones').tap();
  await button(page, 'Start sending').tap();
  await seeText(page, 'Sending');
  const sent = () => page.evaluate(() => window.outputs.map((it) => [it.frequency.value, it.context.state]));
  assert.deepEqual((await sent()).map(([hertz]) => hertz), [700, 1900]);
  await link(page, 'Jobs').first().tap();
  await page.waitForFunction(() => window.outputs.every((it) => it.context.state === 'closed'));
});
