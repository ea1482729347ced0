// The page itself: what it may do, and what it says when it can't go on.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';
import { DIST, openBrowser, openHost, running } from './bench.mjs';

test('the built page holds no inline script or style and no foreign address', async () => {
  const page = await readFile(join(DIST, 'index.html'), 'utf8');
  assert.match(page, /Content-Security-Policy" content="default-src 'none'; script-src 'self'/);
  for (const [, body] of page.matchAll(/<script\b[^>]*>([^]*?)<\/script>/g)) {
    assert.equal(body.trim(), '');
  }
  assert.doesNotMatch(page, /<style\b|\sstyle=|\son\w+=/);
  assert.doesNotMatch(page, /(?:href|src)="(?!\.\/|#\/)/);
});

test('the policy stops foreign requests and scripts in text', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  assert.deepEqual(browser.problems(), [], 'the app itself does neither');

  browser.expect(/policy/i, /request left: http:\/\/127\.0\.0\.2/);
  const outcome = await page.evaluate(async () => {
    const refused = await fetch('http://127.0.0.2:9/').catch(() => 'refused');
    const text = document.createElement('div');
    text.innerHTML = '<img src="data:," onerror="window.ran = true">';
    document.body.append(text);
    const script = document.createElement('script');
    script.textContent = 'window.ran = true';
    document.body.append(script);
    await new Promise((done) => setTimeout(done, 200));
    return [refused, window.ran];
  });
  assert.deepEqual(outcome, ['refused', undefined]);
});

test('a crash says so, and everything stored can be saved as a file', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  browser.expect(/unreachable/);
  const banner = page.getByRole('alert').filter({ hasText: 'has crashed' });
  assert.equal(await banner.isVisible(), false);

  await page.evaluate(() => {
    localStorage.clear();
    localStorage.setItem('halfturn:one', '{"reading":"10.6920"}');
    localStorage.setItem('stranger', 'not ours');
    setTimeout(() => {
      throw new WebAssembly.RuntimeError('unreachable');
    });
  });
  await banner.waitFor();

  const download = page.waitForEvent('download');
  await banner.getByRole('button', { name: 'Save everything as a file' }).tap();
  const saved = JSON.parse(await readFile(await (await download).path(), 'utf8'));
  assert.deepEqual(saved, { 'halfturn:one': '{"reading":"10.6920"}' });

  await banner.getByRole('button', { name: 'Reload' }).tap();
  await running(page);
  assert.equal(await banner.isVisible(), false);
});

// The page has the words of the first screen once more, for before there is a program.
const firstScreen = (page) =>
  page.locator('.top, .welcome h1, .welcome .lead').evaluateAll((parts) =>
    parts.map((part) => [part.innerText, ...[...part.querySelectorAll('a')].map((a) => a.getAttribute('href'))]),
  );

test('a first visit reads the first screen while the program comes, and goes on from there', async (t) => {
  const host = await openHost(t, DIST);
  host.waits = (path) => path.endsWith('.wasm');
  const browser = await openBrowser(t);
  browser.expect(/Failed to fetch/); // The page that is left had not had it all.
  browser.open(host.url).catch(() => {});
  const page = await browser.context.waitForEvent('page');
  await page.getByText('Starting').waitFor();
  const before = await firstScreen(page);
  assert.equal(before.length, 3);

  host.waits = () => false;
  await page.reload();
  await running(page);
  assert.deepEqual(await firstScreen(page), before);
  assert.equal(await page.getByText('Starting').count(), 0);
});

test('a later visit, which starts at once, shows nothing of it', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  await browser.context.addInitScript(() =>
    document.addEventListener('DOMContentLoaded', () => {
      globalThis.hadToWait = !document.getElementById('starting').hidden;
    }),
  );
  const page = await browser.visit(host);
  assert.equal(await page.evaluate(() => globalThis.hadToWait), true);
  await page.reload();
  await running(page);
  assert.equal(await page.evaluate(() => globalThis.hadToWait), false);
});

test('a browser that cannot load the program says one plain sentence', async (t) => {
  const host = await openHost(t, DIST);
  host.fails = (path) => path.endsWith('.wasm');
  const browser = await openBrowser(t);
  browser.expect(/500|fetch|Wasm|WebAssembly|preload/i);
  browser.open(host.url).catch(() => {});
  const page = await browser.context.waitForEvent('page');
  await page.getByText('Halfturn could not start').waitFor();
});
