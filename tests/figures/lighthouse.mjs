// What Lighthouse makes of a first visit, with nothing kept on the device. It is not among the
// packages of the checks: what it measures is a machine's speed, and it is large. It goes into the
// cache folder of the tools at the first measure.

import { execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { folder, openHost } from '../browser/bench.mjs';
import { later } from '../browser/later.mjs';

const VERSION = '12.8.2';
const CACHE = join(process.env.XDG_CACHE_HOME ?? join(homedir(), '.cache'), 'halfturn');
const CATEGORIES = ['performance', 'accessibility', 'best-practices', 'seo'];
// Its two ways to look at a page: a slow phone on a slow network, simulated, and a desktop.
const FORMS = ['phone', 'desktop'];
const ROUNDS = 3;

export async function measure({ dist, quick, t }) {
  if (quick) return [];
  const lighthouse = await installed();
  const host = await openHost(t, dist);
  host.packed = true;
  const rows = [];
  for (const form of FORMS) rows.push(...(await scores(lighthouse, host.url, form, t)));
  return rows;
}

async function installed() {
  const home = join(CACHE, `lighthouse-${VERSION}`);
  if (!existsSync(join(home, 'node_modules/lighthouse'))) {
    mkdirSync(home, { recursive: true });
    const options = ['--ignore-scripts', '--no-audit', '--no-fund', '--prefix', home];
    execFileSync('npm', ['install', ...options, `lighthouse@${VERSION}`], { stdio: 'inherit' });
  }
  const { default: run, desktopConfig } = await import(join(home, 'node_modules/lighthouse/core/index.js'));
  return (url, port, form) =>
    run(url, { port, onlyCategories: CATEGORIES, logLevel: 'error' }, form === 'desktop' ? desktopConfig : undefined);
}

async function scores(lighthouse, url, form, t) {
  const runs = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const { port, stop } = await startBrowser(t);
    runs.push((await lighthouse(url, port, form)).lhr);
    await stop();
  }
  return CATEGORIES.map((name) => row(runs, form, name));
}

function row(runs, form, name) {
  const score = ({ categories }) => Math.round(categories[name].score * 100);
  const sorted = [...runs].sort((a, b) => score(a) - score(b));
  const middle = sorted[ROUNDS >> 1];
  const kept = score(middle) < 100 ? `; held back by: ${lost(middle, name)}` : '';
  return {
    figure: `Lighthouse ${VERSION}, ${form}: ${middle.categories[name].title.toLowerCase()}`,
    value: String(score(middle)),
    goal: '100',
    met: score(middle) === 100,
    how: `median of ${sorted.map(score).join(', ')}; first visit, files compressed as hosts do${kept}`,
  };
}

// The audits that cost points, with what they showed.
const lost = ({ audits, categories }, name) =>
  categories[name].auditRefs
    .filter(({ id, weight }) => weight && audits[id].score !== null && audits[id].score < 0.995)
    .map(({ id }) => `${audits[id].title} (${audits[id].displayValue ?? 'failed'})`)
    .join(', ');

async function startBrowser(t) {
  const profile = await folder(t);
  const options = ['--headless=new', '--no-sandbox', '--disable-gpu', '--remote-debugging-port=0'];
  const browser = spawn(
    process.env.CHROMIUM ?? '/usr/bin/chromium',
    [...options, `--user-data-dir=${profile}`, 'about:blank'],
    { stdio: 'ignore' },
  );
  const gone = new Promise((done) => browser.once('exit', done));
  const stop = async () => {
    browser.kill();
    await gone;
  };
  later(t, stop);
  const told = join(profile, 'DevToolsActivePort');
  while (!existsSync(told)) await pause(50);
  return { port: Number(readFileSync(told, 'utf8').split('\n')[0]), stop };
}
