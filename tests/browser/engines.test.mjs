// The main job in Chromium, Firefox and WebKit alike: the same parts for all three, each driven by
// its own maker's driver.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, openHost } from './bench.mjs';
import { MAIN_JOB } from './main_job.mjs';
import { ENGINES, isHere, openEngine } from './webdriver.mjs';

for (const name of Object.keys(ENGINES)) {
  const skip = !isHere(name) && `${name} is not on this machine`;
  test(`the main job in ${name}`, { skip, timeout: 240_000 }, async (t) => {
    const host = await openHost(t, DIST);
    const browser = await openEngine(t, name);
    const at = { browser, host, t, keep: {} };
    for (const [what, act] of MAIN_JOB) {
      await act(at).catch((error) => {
        throw Object.assign(error, { message: `${what}: ${error.message}` });
      });
    }
    assert.deepEqual(await browser.problems(), [], 'no error is logged');
  });
}
