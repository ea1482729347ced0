import { test } from 'node:test';
import { DIST, PHONE, openBrowser, openHost } from './bench.mjs';
import { button, heading, see } from './technician.mjs';
import { tapAt } from './hand.mjs';
test('off', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t, { device: PHONE })).visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  const job = (await page.evaluate(() => location.hash)).split('/')[2];
  await page.goto(`${host.url}#/job/${job}/off`);
  await see(heading(page, 'What is off'));
  const look = async (what) => {
    const all = await page.getByText('Knob with its ring').all();
    const out = [];
    for (const one of all) out.push([await one.evaluate((it) => it.tagName + '.' + it.className + ' ' + it.closest('button,label,a,li')?.tagName), (await one.boundingBox())?.y]);
    console.log(what, await page.evaluate(() => [scrollY, document.documentElement.scrollHeight]), JSON.stringify(out));
  };
  for (let round = 0; round < 3; round += 1) {
    const chip = page.locator('button.chip', { hasText: 'Knob with its ring' });
    await chip.evaluate((it) => it.scrollIntoView({ block: 'center' }));
    await look('before');
    const { x, y, width, height } = await chip.boundingBox();
    await tapAt(page, x + width / 2, y + height / 2);
    await page.waitForTimeout(700);
    await look('after ');
    if (round === 0) { await page.getByRole('button', { name: /^It is back: Knob with its ring/ }).first().tap(); await page.waitForTimeout(600); }
  }
});
