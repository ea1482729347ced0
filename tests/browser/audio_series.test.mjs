// What several stretches of sound say together: a response by a sweep, the edges of a squelch, what
// a gain control leaves. Each goes into its steps with its source and settings.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { barriers } from './bench.mjs';
import { RATE, chance, listening, number, second, started } from './sound.mjs';
import { button, heading, labelled, link, savedFile, see, seeText, shortProcedure } from './technician.mjs';

const cell = (id, title, setting, relative) => ({
  id,
  title,
  'set-up': { signal: 'rx', settings: setting },
  work: {
    read: {
      gauge: { at: 'TP1', with: 'meter', in: 'dB' },
      ...(relative && { target: { relative: { to: relative, offset: '0 dB', below: { absolute: '6 dB' }, above: { absolute: '3 dB' } } } }),
    },
  },
});

const table = (id, title, setting, names, cells) => ({
  id,
  title,
  columns: { sets: 'reading', names: [''] },
  rows: { sets: { setting }, names },
  cells: cells.map((one) => [one]),
});

const RESPONSE = {
  ...shortProcedure('qrc-response', 'Response by audio', [
    cell('tone-500', 'Audio response: 500 Hz', { 'modulation-tone': '500 Hz' }, 'tone-1000'),
    cell('tone-1000', 'Audio response: 1000 Hz', { 'modulation-tone': '1000 Hz' }),
    cell('tone-2000', 'Audio response: 2000 Hz', { 'modulation-tone': '2000 Hz' }, 'tone-1000'),
  ]),
  tables: [
    table('response', 'Audio response', 'modulation-tone', ['500 Hz', '1000 Hz', '2000 Hz'], ['tone-500', 'tone-1000', 'tone-2000']),
  ],
};

const AGC = {
  ...shortProcedure('qrc-agc', 'AGC by audio', [
    cell('agc-93', 'AGC: -93 dBm', { 'generator-level': '-93 dBm' }, 'agc-47'),
    cell('agc-47', 'AGC: -47 dBm', { 'generator-level': '-47 dBm' }),
  ]),
  tables: [table('agc', 'AGC', 'generator-level', ['-93 dBm', '-47 dBm'], ['agc-93', 'agc-47'])],
};

const inDbm = (id, title) => ({ id, title, work: { read: { gauge: { at: 'TP1', with: 'meter', in: 'dBm' } } } });
const SQUELCH = shortProcedure('qrc-squelch', 'Squelch by audio', [
  inDbm('sq-open', 'Squelch opens'),
  inDbm('sq-close', 'Squelch closes'),
]);

async function readings(page, host, job) {
  await page.goto(`${host.url}#/${job}/finish`);
  const file = await savedFile(page, () => button(page, 'Save the job as a file').tap());
  return JSON.parse(file.text).job.log.map(({ did }) => did.reading).filter(Boolean);
}

// A tone that goes up and down again, as the sweep of the app does, through one pole at 1 kHz.
function sweep(low, high) {
  const octaves = Math.log2(high / low);
  const way = Math.round(octaves * 3 * RATE);
  const samples = new Float64Array(2 * way);
  const hiss = chance(11);
  let phase = 0;
  for (let at = 0; at < samples.length; at += 1) {
    const part = at < way ? at / way : 2 - at / way;
    const hertz = low * 2 ** (octaves * part);
    phase += (2 * Math.PI * hertz) / RATE;
    samples[at] = (0.3 * Math.cos(phase)) / Math.sqrt(1 + (hertz / 1000) ** 2) + 0.002 * (hiss() - 0.5);
  }
  return samples;
}

test('a sweep is followed, its response drawn, and the cells of the table filled with one key', async (t) => {
  const bench = await listening(t, sweep(400, 2500), undefined, 1);
  const { page, host } = bench;
  const job = await started(bench, RESPONSE);
  await page.goto(`${host.url}#/${job}/step/tone-500`);
  await host.stop();
  await link(page, 'Measure by audio').tap();
  // The table goes over tones: its response is what is measured, at the tone of the step.
  assert.equal(await button(page, 'Response').getAttribute('aria-pressed'), 'true');
  assert.equal(await labelled(page, 'Test tone in Hz').inputValue(), '500');
  await button(page, 'Follow a sweep').tap();
  const rows = page.getByRole('table', { name: 'Response' });
  await see(rows.getByText(/[1-3] of 4 passes/));
  const key = button(page, 'Enter 3 readings into the table');
  await key.waitFor({ timeout: 120_000 });
  await see(page.getByRole('img', { name: 'Response against the reference, 100 Hz to 8 kHz' }));
  await see(rows.getByText(/by how the passes scatter, from \d+ spots/));
  assert.deepEqual(await barriers(page), []);
  await key.tap();
  await see(heading(page, 'Audio response: 500 Hz'));
  const pole = (hertz) => -10 * Math.log10((1 + (hertz / 1000) ** 2) / 2);
  const taken = await readings(page, host, job);
  assert.deepEqual(taken.map(({ step }) => step), ['tone-500', 'tone-1000', 'tone-2000']);
  for (const [at, hertz] of [500, 1000, 2000].entries()) {
    const { value, heard } = taken[at];
    assert.ok(Math.abs(number(value) - pole(hertz)) <= 0.1, `${hertz} Hz: ${value}, due ${pole(hertz)}`);
    assert.equal(heard.measure, 'swept-response');
    assert.equal(heard.window, 100);
    assert.deepEqual(heard.span, { from: '1000 Hz', to: `${hertz} Hz` });
    assert.ok(heard.count >= 10, `${heard.count} spots`);
  }
  await page.goto(`${host.url}#/${job}/report`);
  await seeText(page, /level against the reference by a sweep \(2000\s?Hz against 1000\s?Hz\)/);
});

test('the figure of one tone of a sweep goes into its step by itself', async (t) => {
  const bench = await listening(t, sweep(400, 1700), undefined, 1);
  const { page, host } = bench;
  const job = await started(bench, RESPONSE);
  await page.goto(`${host.url}#/${job}/step/tone-500`);
  await link(page, 'Measure by audio').tap();
  await button(page, 'Follow a sweep').tap();
  await button(page, 'Hold when steady').tap();
  await page.getByRole('table', { name: 'Readings, newest first' }).waitFor({ timeout: 120_000 });
  const [reading] = await readings(page, host, job);
  assert.equal(reading.heard.measure, 'swept-response');
  assert.ok(Math.abs(number(reading.value) - 2.04) <= 0.1, reading.value);
});

// Stretches of some seconds each.
function stretches(...parts) {
  const samples = new Float64Array(parts.reduce((sum, [seconds]) => sum + seconds * RATE, 0));
  let from = 0;
  for (const [seconds, sound] of parts) {
    for (let at = 0; at < seconds * RATE; at += 1) samples[from + at] = sound[at % RATE];
    from += seconds * RATE;
  }
  return samples;
}

test('a squelch is heard to open and close, and both edges go into their steps as intervals', async (t) => {
  const bench = await listening(t, stretches([6, second([[100, 0.001]], 0.0004)], [6, second([], 0.02)]), undefined, 1);
  const { page, host, hand } = bench;
  const job = await started(bench, SQUELCH);
  await page.goto(`${host.url}#/${job}/step/sq-open`);
  await link(page, 'Measure by audio').tap();
  await button(page, 'Squelch').tap();
  await seeText(page, 'Generator off or at its lowest, squelch closed');
  await page.waitForFunction(() => {
    const level = document.querySelector('.audio-meter .number')?.textContent.replace('\u2212', '-');
    return level && parseFloat(level) < -50;
  });
  await button(page, 'Take this as: closed').tap();
  const heard = page.locator('.audio-next');
  const points = page.getByRole('list', { name: 'Levels' });
  let count = 0;
  const take = async (level, state) => {
    await hand.write(labelled(page, 'Generator level in dBm'), level);
    await see(heard.getByText(state, { exact: true }));
    await button(page, 'Take what is heard').tap();
    count += 1;
    assert.equal(await points.getByRole('listitem').count(), count);
    const text = await points.getByRole('listitem').last().textContent();
    assert.equal(text.replaceAll('\u00a0', ' '), `${level.replace('-', '\u2212')} dBm: ${state}`);
  };
  await take('-120', 'closed');
  await take('-115', 'closed');
  await take('-112', 'open');
  await seeText(page, /Rising: closed at −115\sdBm, open at −112\sdBm/);
  await take('-114', 'open');
  await take('-116', 'closed');
  await seeText(page, /Falling: open at −114\sdBm, closed at −116\sdBm/);
  // Opens within 1.5 dB of −113.5, closes within 1 dB of −115: each evenly spread.
  await seeText(page, /Closes 1\.5\sdB ±\s2\.1\sdB below where it opens/);
  await see(page.locator('.audio-within').filter({ hasText: /between −115\sdBm and −112\sdBm/ }));
  assert.deepEqual(await barriers(page), []);
  await page.getByRole('button', { name: /^Take −113\.5\sdBm into step 1$/ }).tap();
  await see(heading(page, 'Squelch opens'));
  // What was gathered is still there for the other edge.
  await page.goto(`${host.url}#/${job}/step/sq-close`);
  await link(page, 'Measure by audio').tap();
  await button(page, 'Squelch').tap();
  await button(page, 'Closing of the squelch').tap();
  await see(page.locator('.audio-figure').filter({ hasText: /−115\sdBm/ }));
  await button(page, 'Hold when steady').tap();
  await see(page.getByRole('table', { name: 'Readings, newest first' }));
  const [opens, closes] = await readings(page, host, job);
  assert.deepEqual([opens.value, opens.heard.measure], ['-113.5 dBm', 'squelch-opening']);
  assert.deepEqual(opens.heard.span, { from: '-115 dBm', to: '-112 dBm' });
  assert.ok(Math.abs(number(opens.heard.standard) - 1.5 / Math.sqrt(3)) < 0.01, opens.heard.standard);
  assert.deepEqual([closes.value, closes.heard.measure, closes.heard.count], ['-115 dBm', 'squelch-closing', 5]);
  assert.deepEqual(closes.heard.span, { from: '-116 dBm', to: '-114 dBm' });
});

test('a squelch with a tone in it is not believed to be closed, whoever says so', async (t) => {
  const { page, host } = await listening(t, second([[1000, 0.05]], 0.0004));
  await page.goto(`${host.url}#/audio`);
  await button(page, 'Squelch').tap();
  await see(page.locator('.audio-meter .number').filter({ hasText: /−2\d/ }));
  await button(page, 'Take this as: closed').tap();
  await seeText(page, 'That is no closed squelch: generator off, then take it as closed.');
  await seeText(page, 'Generator off or at its lowest, squelch closed');
  assert.equal(await button(page, 'Take what is heard').count(), 0);
  assert.equal(await page.locator('.audio-figure').count(), 0);
});

for (const [name, samples, sentence] of [
  ['a tone that stands still', second([[1000, 0.2]], 0.002), 'The tone stands still: sweep it up and down.'],
  ['noise', second([], 0.1), 'No tone between 100 Hz and 8000 Hz'],
  ['silence', second([]), 'Silence at the input'],
]) {
  test(`where a sweep is followed, ${name} gives a sentence`, async (t) => {
    const { page, host } = await listening(t, samples);
    await page.goto(`${host.url}#/audio`);
    await button(page, 'Response').tap();
    await button(page, 'Follow a sweep').tap();
    await see(page.locator('.audio-figures .refused').filter({ hasText: sentence }));
    assert.equal(await page.locator('.audio-figure').count(), 0);
  });
}

const POWER = shortProcedure('qrc-power', 'Response in dBm', [
  { ...cell('own', 'Audio level', { 'generator-level': '-53 dBm', 'modulation-tone': '1000 Hz' }), work: inDbm().work },
]);

test('why a figure can’t go into the step is said, and only what can work is offered', async (t) => {
  const bench = await listening(t, second([[1000, 0.2]], 0.002));
  const { page, host, hand } = bench;
  const job = await started(bench, POWER);
  await page.goto(`${host.url}#/${job}/step/own`);
  await link(page, 'Measure by audio').tap();
  const hold = button(page, 'Hold when steady');
  // A level of the generator, which the step states.
  await seeText(page, 'The step states the generator’s level: choose another figure.');
  assert.equal(await hold.count(), 0);
  await button(page, 'SINAD and tone').tap();
  await seeText(page, 'This figure is in dB SINAD, the step reads dBm: choose another figure.');
  assert.equal(await hold.count(), 0);
  await button(page, 'Response').tap();
  await seeText(page, 'The step reads dBm: compare the input with a known voltage first.');
  assert.equal(await hold.count(), 0);
  // Once that is known it goes in, with its load.
  await hand.write(labelled(page, 'Known voltage in V rms'), '0.5');
  await hand.write(labelled(page, 'Known within ± V'), '0.005');
  await hand.write(labelled(page, 'Load in Ω'), '8');
  const key = page.getByRole('button', { name: /^Take 14\.\d+\sdBm into step 1$/ });
  for (let taps = 0; taps < 20 && !(await key.count()); taps += 1) {
    await button(page, 'The tone now is this voltage').tap();
    await button(page, 'Take this frequency').tap();
    await page.waitForTimeout(500);
  }
  await see(hold);
  await key.tap();
  await see(heading(page, 'Audio level'));
  const [{ value, heard }] = await readings(page, host, job);
  // 0.5 V across 8 Ω: 10·log₁₀(0.25 / 8 / 1 mW).
  assert.ok(Math.abs(number(value) - 14.95) <= 0.05, value);
  assert.deepEqual([heard.measure, heard.into], ['response', '8 Ω']);
});

const HALF = [6, second([[1000, 0.05]], 0.0005)];
const WHOLE = [6, second([[1000, 0.1]], 0.0005)];

// Takes a level while its tone is heard.
async function takeOutput({ page, hand }, text, due, times) {
  await hand.write(labelled(page, 'Generator level in dBm'), text);
  await see(page.locator('.audio-others li').filter({ hasText: 'Level of the tone' }).filter({ hasText: due }));
  await button(page, 'Take this level').tap();
  const rows = page.getByRole('table', { name: 'Output' });
  await see(rows.getByRole('row').filter({ hasText: text.replace('-', '−') }).filter({ hasText: times }));
}

const QUIET = /−26\.0\d?\d?\sdBFS/;
const LOUD = /−20\.0\d?\d?\sdBFS/;

test('levels of a gain control, taken up and down, fill its table', async (t) => {
  const bench = await listening(t, stretches(HALF, WHOLE), undefined, 1);
  const { page, host } = bench;
  const job = await started(bench, AGC);
  await page.goto(`${host.url}#/${job}/step/agc-93`);
  await link(page, 'Measure by audio').tap();
  assert.equal(await button(page, 'AGC').getAttribute('aria-pressed'), 'true');
  // What the step is held against is known.
  assert.equal(await labelled(page, 'Reference level in dBm').inputValue(), '-47');
  await takeOutput(bench, '-93', QUIET, 'once');
  await takeOutput(bench, '-47', LOUD, 'once');
  await seeText(page, 'a drift can’t be told');
  await takeOutput(bench, '-47', LOUD, '2 times');
  await takeOutput(bench, '-93', QUIET, '2 times');
  await page.getByText('a drift can’t be told').waitFor({ state: 'detached' });
  await see(page.locator('.audio-figure').filter({ hasText: /^−6\.0\d*\sdB$/ }));
  assert.deepEqual(await barriers(page), []);
  await button(page, 'Enter 2 readings into the table').tap();
  await see(heading(page, 'AGC: -93 dBm'));
  const [low, zero] = await readings(page, host, job);
  assert.ok(Math.abs(number(low.value) + 6.02) <= 0.05, low.value);
  assert.deepEqual([low.heard.measure, low.heard.count], ['agc-level', 2]);
  assert.deepEqual(low.heard.span, { from: '-47 dBm', to: '-93 dBm' });
  assert.equal(number(zero.value), 0);
});

test('the change of the output over the range that a step states goes into it as one figure', async (t) => {
  const bench = await listening(t, stretches(HALF, WHOLE), undefined, 1);
  const { page, host } = bench;
  const one = cell('agc', 'AGC in one figure', { 'generator-level': '-47 dBm, then -93 dBm', 'modulation-tone': '1 kHz' });
  const job = await started(bench, shortProcedure('qrc-agc-one', 'AGC by audio', [one]));
  await page.goto(`${host.url}#/${job}/step/agc`);
  await link(page, 'Measure by audio').tap();
  await button(page, 'AGC').tap();
  assert.equal(await labelled(page, 'Change from, in dBm').inputValue(), '-93');
  assert.equal(await labelled(page, 'Change to, in dBm').inputValue(), '-47');
  for (const times of ['once', '2 times']) {
    await takeOutput(bench, '-93', QUIET, times);
    await takeOutput(bench, '-47', LOUD, times);
  }
  await seeText(page, /From −93\sdBm to −47\sdBm the output changes by 6\.0\d?\sdB/);
  await button(page, 'Hold when steady').tap();
  await see(page.getByRole('table', { name: 'Readings, newest first' }));
  const [{ value, heard }] = await readings(page, host, job);
  assert.ok(Math.abs(number(value) - 6.02) <= 0.05, value);
  assert.deepEqual([heard.measure, heard.count], ['agc-change', 2]);
  assert.deepEqual(heard.span, { from: '-93 dBm', to: '-47 dBm' });
});

test('a sweep is sent up and down between its ends', async (t) => {
  const { page, host } = await listening(t, second([[1000, 0.2]], 0.01));
  await page.evaluate(() => {
    window.ramps = [];
    const ramp = AudioParam.prototype.exponentialRampToValueAtTime;
    AudioParam.prototype.exponentialRampToValueAtTime = function (...to) {
      window.ramps.push(to);
      return ramp.apply(this, to);
    };
  });
  await page.goto(`${host.url}#/audio`);
  await page.getByText('Send', { exact: true }).tap();
  await button(page, 'Sweep').tap();
  assert.equal(await labelled(page, 'Sweep from Hz').inputValue(), '200');
  await labelled(page, 'Dummy load on, line checked').check();
  await button(page, 'Start sending').tap();
  await seeText(page, 'Sending');
  const [up, down] = await page.evaluate(() => window.ramps);
  assert.deepEqual([up[0], down[0]], [4000, 200]);
  // An octave in three seconds.
  assert.ok(Math.abs(down[1] - up[1] - 3 * Math.log2(20)) < 0.01, `${down[1] - up[1]} s`);
});
