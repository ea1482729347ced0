// What is made of a second of sound ten times a second: how long it takes natively and in the
// browser, against one transform of as many samples in scipy (pocketfft), and how long the frames
// are that a page with the sound input open paints.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { copyFileSync, existsSync, readFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { openBrowser, openHost } from '../browser/bench.mjs';
import { listening, second } from '../browser/sound.mjs';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const CRATE = join(ROOT, 'tests/figures/sound');
const TARGET = process.env.CARGO_TARGET_DIR ?? join(ROOT, 'target');
const WASM = 'wasm32-unknown-unknown';
// tests/oracle/run makes it.
const PYTHON = join(process.env.XDG_CACHE_HOME ?? join(homedir(), '.cache'), 'halfturn/oracle/bin/python');

export async function measure({ dist, quick, t }) {
  const longest = Math.max(...(await frames(t, quick ? 1 : 10)));
  const painted = within('Longest frame with the sound input open', longest, 33, 'ms', 'ten seconds of a tone with noise, on a tablet’s screen');
  if (quick) return [painted];
  const native = natively();
  const browser = await inBrowser(t, dist);
  assert.equal(browser.sinad, native.sinad, 'the same SINAD everywhere');
  const scipy = transformed();
  return [
    within('A second of sound measured, WebAssembly', browser.nanoseconds / 1e6, 10, 'ms', 'best of five; fit, SINAD, THD, spectrum, built as small as the app is'),
    { figure: 'The same, native', value: (native.nanoseconds / 1e6).toFixed(2), unit: 'ms', how: 'best of five, built for speed' },
    ...(scipy ? [within('The same, native, to one transform of 48 000 samples in scipy', native.nanoseconds / scipy, 1.5, '×', `${(scipy / 1e6).toFixed(2)} ms there, best of five`)] : []),
    painted,
  ];
}

const within = (figure, value, goal, unit, how) => ({
  figure, value: value.toFixed(value < 10 ? 2 : 0), unit, goal: `≤ ${goal} ${unit}`, met: value <= goal, how,
});

function build(env, ...more) {
  copyFileSync(join(ROOT, 'Cargo.lock'), join(CRATE, 'Cargo.lock'));
  const all = { ...process.env, CARGO_TARGET_DIR: TARGET, ...env };
  execFileSync('cargo', ['build', '--release', ...more], { cwd: CRATE, env: all, stdio: ['ignore', 'inherit', 'inherit'] });
}

function natively() {
  build({ CARGO_PROFILE_RELEASE_OPT_LEVEL: '3' });
  const [nanoseconds, sinad] = execFileSync(join(TARGET, 'release/sound'), { encoding: 'utf8' }).split(' ').map(Number);
  return { nanoseconds, sinad };
}

// Nanoseconds of one transform of real samples; nothing where scipy is not here.
function transformed() {
  if (!existsSync(PYTHON)) return undefined;
  const program = `
import numpy, scipy.fft, time
x = numpy.random.default_rng(1).standard_normal(48000)
def once():
    begun = time.perf_counter_ns()
    for _ in range(50): scipy.fft.rfft(x)
    return (time.perf_counter_ns() - begun) / 50
once()
print(min(once() for _ in range(5)))`;
  return Number(execFileSync(PYTHON, ['-c', program], { encoding: 'utf8' }));
}

// In a page of its own; any page of a host does.
async function inBrowser(t, dist) {
  build({}, '--target', WASM);
  const program = readFileSync(join(TARGET, WASM, 'release/sound.wasm')).toString('base64');
  const host = await openHost(t, dist);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  return page.evaluate(async (text) => {
    const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
    const { instance } = await WebAssembly.instantiate(bytes, {});
    const { hear } = instance.exports;
    const TIMES = 20;
    hear(5);
    const times = Array.from({ length: 5 }, () => {
      const begun = performance.now();
      hear(TIMES);
      return ((performance.now() - begun) * 1e6) / TIMES;
    });
    return { nanoseconds: Math.min(...times), sinad: hear(1) };
  }, program);
}

// How long the frames were that were painted while the app listened, in milliseconds.
async function frames(t, seconds) {
  const { page } = await listening(t, second([[1000, 0.3]], 0.02));
  await page.evaluate(() => (location.hash = '#/audio'));
  await page.waitForSelector('.audio-figure');
  return page.evaluate((wanted) => new Promise((done) => {
    const found = [];
    let last = performance.now();
    const ends = last + wanted * 1000;
    const look = (now) => {
      found.push(now - last);
      last = now;
      if (now < ends) requestAnimationFrame(look);
      else done(found.slice(1));
    };
    requestAnimationFrame(look);
  }), seconds);
}
