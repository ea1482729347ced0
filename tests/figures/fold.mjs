// All that is known of a job follows from its log by one fold: how many events a second that is,
// natively and in the browser, and whether it grows in step with the log.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { copyFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { openBrowser, openHost } from '../browser/bench.mjs';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const CRATE = join(ROOT, 'tests/figures/fold');
const TARGET = process.env.CARGO_TARGET_DIR ?? join(ROOT, 'target');

export async function measure({ dist, quick, t }) {
  const lengths = quick ? [500, 2000] : [1000, 2000, 5000, 10_000, 20_000];
  const native = natively(lengths);
  const browser = await inBrowser(t, dist, lengths);
  lengths.forEach((events, place) =>
    assert.equal(browser[place].digest, native[place].digest, `${events} events, the same everywhere`));
  return [...rows('native', native), ...rows('WebAssembly', browser)];
}

function rows(where, folds) {
  const rate = ({ events, nanoseconds }) => (events / nanoseconds) * 1e9;
  const shown = folds.map((fold) => ({
    figure: `Fold of ${fold.events} events, ${where}`,
    value: (fold.nanoseconds / 1e6).toFixed(2),
    unit: 'ms',
    how: `${Math.round(rate(fold) / 1000)} 000 events a second; best of five`,
  }));
  const growth = rate(folds[0]) / rate(folds.at(-1));
  return [...shown, {
    figure: `Time an event from ${folds[0].events} to ${folds.at(-1).events} events, ${where}`,
    value: growth.toFixed(2),
    unit: '×',
    goal: '≤ 1.5 × (linear: 1)',
    met: growth <= 1.5,
    how: 'the longest log to the shortest',
  }];
}

function build(...more) {
  copyFileSync(join(ROOT, 'Cargo.lock'), join(CRATE, 'Cargo.lock'));
  const env = { ...process.env, CARGO_TARGET_DIR: TARGET };
  execFileSync('cargo', ['build', '--release', ...more], { cwd: CRATE, env, stdio: ['ignore', 'inherit', 'inherit'] });
}

function natively(lengths) {
  build();
  const lines = execFileSync(join(TARGET, 'release/fold'), lengths.map(String), { encoding: 'utf8' });
  return lines.trim().split('\n').map((line) => {
    const [events, nanoseconds, digest] = line.split(' ').map(Number);
    return { events, nanoseconds, digest };
  });
}

// In a page of its own; any page of a host does.
async function inBrowser(t, dist, lengths) {
  const target = 'wasm32-unknown-unknown';
  build('--target', target);
  const program = readFileSync(join(TARGET, target, 'release/fold.wasm')).toString('base64');
  const host = await openHost(t, dist);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  return page.evaluate(async ([text, all]) => {
    const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
    const { instance } = await WebAssembly.instantiate(bytes, {});
    const { prepare, fold } = instance.exports;
    return all.map((events) => {
      const digest = prepare(events) >>> 0;
      const times = 1 + Math.floor(200_000 / events);
      const best = Math.min(...Array.from({ length: 5 }, () => {
        const start = performance.now();
        fold(times);
        return ((performance.now() - start) * 1e6) / times;
      }));
      return { events, nanoseconds: best, digest };
    });
  }, [program, lengths]);
}
