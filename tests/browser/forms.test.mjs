// What a form asks for, and where it says that something can't be taken: at the field, and the focus
// goes there.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, barriers, openBrowser, openHost } from './bench.mjs';
import { erase, type } from './hand.mjs';
import { button, heading, labelled, see, seeText } from './technician.mjs';

async function opened(t, device = TABLET) {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t, { device })).visit(host);
  const go = (address) => page.goto(`${host.url}#/${address}`);
  return { page, go };
}

async function atIntake(t, device) {
  const { page, go } = await opened(t, device);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await go('start');
  await page.getByRole('link', { name: /28 MHz trainer/ }).first().tap();
  await see(button(page, 'Start the job'));
  return { page, go };
}

const inSight = (page) =>
  page.locator('form input, form textarea').evaluateAll((all) =>
    all.filter((it) => it.checkVisibility()).map((it) => it.labels[0].innerText));

const focused = (page, id) => page.waitForFunction((id) => document.activeElement?.id === id, id);

// The focus, and what is said below it, are on the screen.
async function seenAtField(page, id, said) {
  await focused(page, id);
  const at = await page.evaluate(([id, said]) => {
    const box = document.getElementById(id).getBoundingClientRect();
    const text = [...document.querySelectorAll('.error')].find((it) => it.checkVisibility() && it.innerText.includes(said));
    const below = text?.getBoundingClientRect();
    const reach = below && Math.min(Math.abs(below.top - box.bottom), Math.abs(box.top - below.bottom));
    return { top: box.top, bottom: box.bottom, reach, high: innerHeight };
  }, [id, said]);
  assert.ok(at.top >= 0 && at.bottom <= at.high, `${id} is at ${at.top}`);
  assert.ok(at.reach !== undefined, `“${said}” is said`);
  return at.reach;
}

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`on a ${name} an intake asks for six things and has the rest folded`, async (t) => {
    const { page } = await atIntake(t, device);
    assert.deepEqual(await inSight(page), ['Make', 'Model', 'Serial number', 'Owner', 'Technician', 'Fault reported']);
    const screens = await page.evaluate(() => document.documentElement.scrollHeight / innerHeight);
    assert.ok(screens <= (name === 'phone' ? 2.4 : 1.6), `${screens} screens`);
    assert.deepEqual(await barriers(page), []);
    const rest = page.locator('details.more > summary');
    assert.match(await rest.innerText(), /test equipment \(\d+ of \d+\)/);
    await rest.tap();
    for (const label of ['Condition', 'Accessories', 'Job number', 'Next check due']) {
      assert.ok(await labelled(page, label).isVisible(), label);
    }
  });
}

test('a set without a name is said where it is typed, and no more once it has one', async (t) => {
  const { page } = await atIntake(t);
  await button(page, 'Start the job').tap();
  await seenAtField(page, 'make', 'Enter make, model or serial number.');
  await type(labelled(page, 'Serial number'), 'QRC-44');
  await page.getByText('Enter make, model or serial number.').waitFor({ state: 'detached' });
  await button(page, 'Start the job').tap();
  await page.waitForURL(/\/step\//);
});

test('what is wrong in what is folded away is unfolded, and has the focus', async (t) => {
  const { page, go } = await atIntake(t);
  await go('settings');
  await type(labelled(page, 'Currency'), 'EUR');
  await page.goBack();
  await see(button(page, 'Start the job'));
  await type(labelled(page, 'Serial number'), 'QRC-45');
  const rest = page.locator('details.more > summary');
  await rest.tap();
  await type(page.locator('#agreed'), 'a lot');
  await rest.tap();
  await button(page, 'Start the job').tap();
  assert.ok((await seenAtField(page, 'agreed', 'This is no price')) < 40);
  await erase(page.locator('#agreed'));
  await button(page, 'Start the job').tap();
  await page.waitForURL(/\/step\//);
});

test('an instrument that can’t be read says which field it is, and takes the focus there', async (t) => {
  const { page, go } = await opened(t);
  await go('kit/new');
  await button(page, 'Save').tap();
  assert.ok((await seenAtField(page, 'kit-name', 'Type what you call the instrument.')) < 40);
  await type(page.locator('#kit-name'), 'Club meter 9');
  await button(page, 'Add a range').tap();
  await type(page.locator('#range-0-full-scale'), '10 V');
  await type(page.locator('#range-0-resolution'), 'a little');
  await button(page, 'Save').tap();
  assert.ok((await seenAtField(page, 'range-0-resolution', '')) < 40);
  assert.equal(await page.locator('#range-0-resolution').getAttribute('aria-invalid'), 'true');
  await erase(page.locator('#range-0-resolution'));
  assert.equal(await page.locator('#range-0-resolution').getAttribute('aria-invalid'), 'false');
  await type(page.locator('#range-0-resolution'), '1 mV');
  await type(page.locator('#range-0-counts'), 'two');
  await button(page, 'Save').tap();
  assert.ok((await seenAtField(page, 'range-0-counts', 'Type a whole number')) < 40);
  await erase(page.locator('#range-0-counts'));
  await type(page.locator('#kit-loss'), 'much');
  await button(page, 'Save').tap();
  await focused(page, 'kit-loss');
  await erase(page.locator('#kit-loss'));
  await button(page, 'Save').tap();
  await seeText(page, 'Club meter 9 is saved.');
  // A name that another has.
  await go('kit/new');
  await type(page.locator('#kit-name'), 'Club meter 9');
  await button(page, 'Save').tap();
  assert.ok((await seenAtField(page, 'kit-name', 'Another instrument has this name')) < 40);
});
