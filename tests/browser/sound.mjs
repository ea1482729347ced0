// Sound at the input: Chromium plays a file in place of it.

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DIST, TABLET, folder, openBrowser, openHost } from './bench.mjs';
import { button, byTouch, heading, labelled, link, see, takeIn } from './technician.mjs';

export const RATE = 44100;
const SECONDS = 10;

// Even chance from a seed (mulberry32).
export function chance(seed) {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

// A second that can follow itself: tones of whole hertz, and noise of the band of speech.
export function second(tones, noise = 0) {
  const next = chance(7);
  const samples = new Float64Array(RATE);
  const add = (hertz, peak, phase) => {
    for (let at = 0; at < RATE; at += 1) samples[at] += peak * Math.cos((2 * Math.PI * hertz * at) / RATE + phase);
  };
  tones.forEach(([hertz, peak]) => add(hertz, peak, 1));
  const lines = noise ? Array.from({ length: 776 }, (_, at) => 301 + 4 * at) : [];
  lines.forEach((hertz) => add(hertz, noise * Math.sqrt(2 / lines.length), 2 * Math.PI * next()));
  return samples;
}

// A WAV file, 16 bits, one channel: the samples so many times over.
function wav(samples, times) {
  const data = Buffer.alloc(samples.length * 2 * times);
  for (let at = 0; at < samples.length * times; at += 1) {
    const value = Math.max(-1, Math.min(1, samples[at % samples.length]));
    data.writeInt16LE(Math.round(value * 32767), at * 2);
  }
  const head = Buffer.alloc(44);
  head.write('RIFF', 0);
  head.writeUInt32LE(36 + data.length, 4);
  head.write('WAVEfmt ', 8);
  head.writeUInt32LE(16, 16);
  head.writeUInt16LE(1, 20);
  head.writeUInt16LE(1, 22);
  head.writeUInt32LE(RATE, 24);
  head.writeUInt32LE(RATE * 2, 28);
  head.writeUInt16LE(2, 32);
  head.writeUInt16LE(16, 34);
  head.write('data', 36);
  head.writeUInt32LE(data.length, 40);
  return Buffer.concat([head, data]);
}

// The file that is played in place of the input.
export async function input(t, samples, times = SECONDS) {
  const place = join(await folder(t), 'input.wav');
  writeFileSync(place, wav(samples, times));
  return place;
}

export async function listening(t, samples, device = TABLET, times = SECONDS) {
  const place = await input(t, samples, times);
  const flags = [
    '--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream',
    `--use-file-for-fake-audio-capture=${place}`,
  ];
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device, flags });
  const page = await browser.visit(host);
  return { host, browser, page, hand: byTouch(page) };
}

export async function started({ page, hand }, procedure) {
  await takeIn(page, { type: 'halfturn-procedure', version: 3, procedure });
  await link(page, 'Jobs').tap();
  await link(page, 'Start a job').tap();
  await page.getByRole('link', { name: procedure.title }).tap();
  for (const [label, text] of Object.entries({ Make: 'Club', Model: 'Trainer', 'Serial number': 'QRC-31' })) {
    await hand.write(labelled(page, label), text);
  }
  await button(page, 'Start the job').tap();
  await see(heading(page, procedure.sections[0].steps[0].title).or(heading(page, 'All steps')));
  const job = new URL(page.url()).hash.split('/').slice(1, 3).join('/');
  return job;
}

export const number = (text) => Number(text.replace('\u2212', '-').match(/-?[\d.]+/)[0]);
