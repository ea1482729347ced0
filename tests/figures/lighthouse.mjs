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
  const port = await startBrowser(t);
  const { lhr } = await lighthouse(url, port, form);
  return CATEGORIES.map((name) => {
    const score = Math.round(lhr.categories[name].score * 100);
    return {
      figure: `Lighthouse ${VERSION}, ${form}: ${lhr.categories[name].title.toLowerCase()}`,
      value: String(score),
      goal: '100',
      met: score === 100,
      how: score === 100 ? 'first visit, files compressed as hosts do' : `held back by: ${lost(lhr, name)}`,
    };
  });
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
  later(t, async () => {
    browser.kill();
    await gone;
  });
  const told = join(profile, 'DevToolsActivePort');
  while (!existsSync(told)) await pause(50);
  return Number(readFileSync(told, 'utf8').split('\n')[0]);
}
