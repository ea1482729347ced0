import { test } from 'node:test';
import { DIST, PHONE, openBrowser, openHost } from './bench.mjs';
import { button, heading, see } from './technician.mjs';
test('shots', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device: PHONE });
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  const job = (await page.evaluate(() => location.hash)).split('/')[2];
  for (const screen of (process.env.SCREENS ?? 'plan').split(',')) {
    await page.goto(`${host.url}#/job/${job}/${screen}`);
    await page.waitForTimeout(800);
    await page.screenshot({ path: `/tmp/shot-${screen.replace(/\//g, '-')}.png` });
  }
});
