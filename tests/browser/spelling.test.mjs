// What the app says is spelt as the language of the device asks; what a person typed stays as it is.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, TABLET, openBrowser, openHost } from './bench.mjs';
import { button, heading, link, see, seeText } from './technician.mjs';
import { type } from './hand.mjs';

const SPELT = [
  { locale: 'en-US', time: 'Labor time', sum: 'Color bands to value', grey: 'gray', licence: 'the license', licences: 'Show the licenses' },
  { locale: 'en-GB', time: 'Labour time', sum: 'Colour bands to value', grey: 'grey', licence: 'the licence', licences: 'Show the licences' },
];

for (const { locale, time, sum, grey, licence, licences } of SPELT) {
  test(`with ${locale} our words are spelt so, and typed ones as they were typed`, async (t) => {
    const host = await openHost(t, DIST);
    const browser = await openBrowser(t, { device: TABLET, locale });
    const page = await browser.visit(host);
    await link(page, 'Settings').tap();
    await see(page.getByLabel(time));
    await seeText(page, licences);
    await link(page, 'Calculations').tap();
    await link(page, sum).tap();
    await see(heading(page, sum));
    // A colour that is chosen is the same one in either spelling.
    await page.getByRole('button', { name: grey, exact: true }).first().tap();
    await see(page.getByRole('button', { name: grey, exact: true, pressed: true }).first());

    await link(page, 'Jobs').tap();
    await button(page, 'Load the demo').tap();
    await link(page, 'Set details').tap();
    const typed = 'Grey colour, centre knob off its licence plate';
    await type(page.getByLabel('Condition', { exact: true }), typed);
    await button(page, 'Save').tap();
    await link(page, 'Report').tap();
    await see(page.locator('article.report'));
    const report = await page.locator('article.report').innerText();
    assert.ok(report.includes(licence), locale);
    assert.ok(report.includes(typed), 'as it was typed');
    assert.ok(report.includes('Club supply, the grey one'), 'as the demo names it');
    assert.deepEqual(browser.problems(), []);
  });
}
