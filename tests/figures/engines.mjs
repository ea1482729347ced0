// How much of the main job each browser gets through.

import { openHost } from '../browser/bench.mjs';
import { MAIN_JOB } from '../browser/main_job.mjs';
import { ENGINES, isHere, openEngine } from '../browser/webdriver.mjs';

export async function measure({ dist, quick, t }) {
  // The checks work the main job in all of them as a test.
  const names = Object.keys(ENGINES).filter((name) => isHere(name) && !quick);
  const rows = [];
  for (const name of names) rows.push(await through(name, dist, t));
  return rows;
}

async function through(name, dist, t) {
  const host = await openHost(t, dist);
  const browser = await openEngine(t, name);
  const at = { browser, host, t, keep: {} };
  const begun = Date.now();
  let passed = 0;
  let wrong;
  for (const [what, act] of MAIN_JOB) {
    try {
      await act(at);
      passed += 1;
    } catch (error) {
      wrong = `${name}, ${what}: ${error.message}`;
      break;
    }
  }
  const seconds = Math.round((Date.now() - begun) / 1000);
  return {
    figure: `parts of the main job that pass in ${await browser.version()}`,
    value: `${passed} of ${MAIN_JOB.length}`,
    goal: 'all',
    met: passed === MAIN_JOB.length,
    how: `WebDriver, ${seconds} s: start, typed readings with their verdicts, undo, off and back, reload, offline start, all steps, sign-off, report, export, import`,
    wrong,
  };
}
