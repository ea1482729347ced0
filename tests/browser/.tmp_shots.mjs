import { test } from 'node:test';
import { DIST, PHONE, TABLET, openBrowser, openHost } from './bench.mjs';
import { button, heading, link, see } from './technician.mjs';
for (const [name, device] of [['phone', PHONE], ['tablet', TABLET]])
test('shots ' + name, async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await page.goto(`${host.url}#/procedures`);
  await page.locator('.card').first().tap();
  await link(page, 'Read or print it').tap();
  await see(button(page, 'Print'));
  await page.screenshot({ path: `/tmp/shot-sheet-${name}.png` });
  await page.evaluate(() => document.querySelector('.report-steps').scrollIntoView());
  await page.waitForTimeout(300);
  await page.screenshot({ path: `/tmp/shot-sheet2-${name}.png` });
  if (name === 'tablet') {
    const pdf = await page.pdf({ format: 'A4' }).catch((e) => console.log(e.message));
    if (pdf) (await import('node:fs')).writeFileSync('/tmp/sheet.pdf', pdf);
  }
});
