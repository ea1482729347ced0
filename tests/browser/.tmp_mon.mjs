import { test } from 'node:test';
import { DIST, PHONE, openBrowser, openHost } from './bench.mjs';
import { button, heading, link, see } from './technician.mjs';
import { tapAt } from './hand.mjs';
import { watch } from '../figures/watch.mjs';
test('mon', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device: PHONE });
  await browser.context.addInitScript(watch);
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  const tapAll = async (what, locator) => {
    const count = await locator.count();
    for (let index = 0; index < count; index += 1) {
      const one = locator.nth(index);
      if (!(await one.isVisible())) continue;
      await one.evaluate((it) => it.scrollIntoView({ block: 'center' }));
      const name = (await one.textContent()).trim();
      const { x, y, width, height } = await one.boundingBox();
      for (const dx of [0, -width / 2 + 4, width / 2 - 4]) for (const dy of [0, -height / 2 + 3, height / 2 - 3]) {
        const point = { x: x + width / 2 + dx, y: y + height / 2 + dy };
        await page.evaluate((p) => window.monkey.before(p), point);
        await tapAt(page, point.x, point.y);
        await page.evaluate(() => window.monkey.settled());
        for (const fault of await page.evaluate(() => window.monkey.after())) console.log(what, name, dx, dy, fault.join(': '));
        await page.waitForTimeout(330);
      }
    }
  };
  await page.goto(`${host.url}#/procedures`);
  await page.locator('.card').first().tap();
  await button(page, 'Change').tap();
  await page.waitForFunction(() => location.hash.startsWith('#/author/'));
  const draft = await page.evaluate(() => location.hash.split('/').slice(1, 3).join('/'));
  for (const step of ['reservoir', 'synth-am']) {
    await page.goto(`${host.url}#/${draft}/step/${step}`);
    await page.waitForTimeout(800);
    await tapAll(step, page.locator('button', { hasText: /^(Inspect|Read|Set to target|Peak|Dip|Fit|Wire|Tick|Stop)$/i }));
  }
});
