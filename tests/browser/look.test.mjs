// How every screen stands on a tablet and on a phone, by day and by night: no barriers, nothing
// beside the screen, and keys that a thumb hits.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, barriers, openBrowser, openHost, shot } from './bench.mjs';
import { STEPS, button, heading, kindOf, link, see } from './technician.mjs';

const ONE_OF_EACH_KIND = [...new Map(STEPS.map((step) => [kindOf(step), step])).values()];
const LAST = STEPS.at(-1);

// Every screen in turn: its name and how to get there from the one before.
async function* screens(page, host) {
  const go = (address) => page.goto(`${host.url}#/${address}`);
  yield 'welcome';
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  yield 'all steps';
  const job = new URL(page.url()).hash.split('/').slice(1, 3).join('/');

  for (const step of ONE_OF_EACH_KIND) {
    await go(`${job}/step/${step.id}`);
    await see(heading(page, step.title));
    yield `step: ${kindOf(step)}`;
  }
  await go(`${job}/step/${LAST.id}`);
  await see(page.getByText('This step opens when'));
  yield 'step: behind a stop';
  await go(job);
  await see(button(page, 'Enter'));
  await button(page, '9').tap();
  yield 'step: half typed';
  await button(page, 'Enter').tap();
  await see(page.getByRole('table', { name: 'Saved readings' }));
  yield 'step: a reading saved';
  await button(page, 'Waive').tap();
  await see(heading(page, 'Waive this step'));
  yield 'step: a question';
  await button(page, 'Not now').tap();

  await go(`${job}/details`);
  await see(page.getByLabel('Serial number'));
  yield 'details';
  await go(`${job}/finish`);
  await see(heading(page, 'Finish'));
  yield 'finish';
  await go('');
  await see(heading(page, 'Jobs'));
  yield 'jobs';
  await link(page, 'Start a job').tap();
  await see(heading(page, 'Start a job'));
  yield 'start: pick a procedure';
  await page.locator('.card').first().tap();
  await see(button(page, 'Start the job'));
  yield 'start: the set';
  await button(page, 'Start the job').tap();
  await see(button(page, 'Close'));
  yield 'start: refused';
  await go('procedures');
  await see(heading(page, 'Procedures'));
  yield 'procedures';
  await page.locator('.card').first().tap();
  await see(button(page, 'Save as a file'));
  yield 'procedure';
  await go('kit');
  await see(heading(page, 'Kit'));
  yield 'kit';
  await go('data');
  await see(heading(page, 'Data'));
  yield 'data';
}

const beside = (page) =>
  page.evaluate(() => {
    const room = document.documentElement.clientWidth;
    const wide = [...document.querySelectorAll('body *')].filter(
      (element) => element.getBoundingClientRect().right > room + 1 && element.checkVisibility(),
    );
    return document.documentElement.scrollWidth > room ? wide.map((element) => element.outerHTML.slice(0, 80)) : [];
  });

const small = (page) =>
  page.getByRole('button').evaluateAll((buttons) =>
    buttons
      .filter((each) => each.checkVisibility())
      .map((each) => [each.innerText || each.ariaLabel, each.getBoundingClientRect()])
      .filter(([, { width, height }]) => width < 48 || height < 48)
      .map(([name, { width, height }]) => `${name}: ${width} × ${height}`),
  );

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`every screen on a ${name}`, async (t) => {
    const host = await openHost(t, DIST);
    const browser = await openBrowser(t, { device });
    const page = await browser.visit(host);
    const findings = [];
    for await (const screen of screens(page, host)) {
      const find = (what, list) => findings.push(...list.map((it) => `${screen}, ${what}: ${it}`));
      for (const colorScheme of ['light', 'dark']) {
        await page.emulateMedia({ colorScheme });
        find(colorScheme, await barriers(page));
      }
      if (screen.startsWith('step')) find('small', await small(page));
      const { width, height } = device.viewport;
      for (const narrow of name === 'phone' ? [width, 320] : [width]) {
        await page.setViewportSize({ width: narrow, height });
        find(`beside ${narrow} px`, await beside(page));
      }
      await page.setViewportSize(device.viewport);
    }
    assert.deepEqual(findings, []);
  });

  test(`a step with its readings on a ${name}, for the README`, async (t) => {
    const host = await openHost(t, DIST);
    const page = await (await openBrowser(t, { device })).visit(host);
    await button(page, 'Load the demo').tap();
    await page.getByRole('link', { name: STEPS[14].title }).tap();
    await see(page.getByRole('table', { name: 'Saved readings' }));
    await see(page.getByRole('img', { name: /^Target / }));
    // On a phone the reading lies below the instruction.
    if (name === 'phone') await page.getByText('Target', { exact: true }).evaluate((it) => it.scrollIntoView());
    await shot(page, name);
  });
}
