// Pictures beside the tables: what they show is what the tables say, told by shape and not by colour
// alone, and said in words to who hears the page. And figures that stand below each other.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, barriers, openBrowser, openHost } from './bench.mjs';
import { plain } from './author.mjs';
import { erase, type } from './hand.mjs';
import { beside } from './sight.mjs';
import { button, byTouch, heading, see } from './technician.mjs';

async function atDemo(t, device = TABLET) {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t, { device })).visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  const job = new URL(page.url()).hash.split('/').slice(1, 3).join('/');
  const go = (address) => page.goto(`${host.url}#/${address.replace('JOB', job)}`);
  return { page, go };
}

const boxes = (locator) => locator.evaluateAll((all) => all.map((it) => {
  const { left, right, top, bottom } = it.getBoundingClientRect();
  return { left, right, top, bottom, text: it.innerText };
}));

const near = (one, other, what) => assert.ok(Math.abs(one - other) < 1.5, `${what}: ${one}, ${other}`);

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`on a ${name} the oscillators of a mode add up to the channel, with the error as a tail`, async (t) => {
    const { page, go } = await atDemo(t, device);
    await go('JOB/plan');
    await see(page.locator('.plan-bar'));
    const bars = await page.locator('.plan-sums li').all();
    const modes = new Map();
    for (const bar of bars) {
      const [first, second] = await boxes(bar.locator('.plan-part'));
      const [channel] = await boxes(bar.locator('.plan-channel'));
      const said = plain(await bar.getByRole('img').getAttribute('aria-label'));
      near(first.right, second.left, 'one behind the other');
      near(second.right, channel.left, 'up to the channel');
      // 19.3 MHz and 9 MHz of 28.3 MHz.
      near((second.right - second.left) / (second.right - first.left), 9 / 28.3, said);
      const [tail] = await boxes(bar.locator('.plan-tail'));
      const isLeft = !(await bar.locator('.plan-due').count());
      assert.equal(tail !== undefined, isLeft, said);
      modes.set(await bar.locator('> strong').innerText(), { said, tail, channel });
    }
    const { said, tail, channel } = modes.get('AM');
    assert.equal(said, 'AM: synthesiser 19.300012 MHz + carrier 9.000005 MHz against 28.300 MHz, error +17 Hz');
    near(tail.left, channel.left, 'too high lies behind the channel');
    const low = modes.get('LSB');
    near(low.tail.right, low.channel.left, 'too low lies before it');
    const length = ({ tail }) => tail.right - tail.left;
    near(length(low) / length(modes.get('AM')), 2 / 17, 'as long as the errors are');
    assert.match(modes.get('FM').said, /^FM: synthesiser .* \(due\)/);
    assert.deepEqual([...(await beside(page)), ...(await barriers(page))], []);
  });
}

test('the pins of a socket are drawn with their wires, and each as it was measured', async (t) => {
  const { page, go } = await atDemo(t);
  await go('JOB/step/acc-socket');
  const face = page.locator('.face-pins');
  await see(face);
  assert.match(await face.getAttribute('aria-label'), /^SK5, accessories: pin 1 inside, pin 2 inside, pin 3 inside, pin 4 inside$/);
  const paints = await page.locator('.face-paint').evaluateAll((all) => all.map((it) => it.getAttribute('stroke')));
  assert.equal(new Set(paints).size, 4, 'black, red, yellow, green');
  const hand = byTouch(page);
  await hand.number('2');
  await hand.enter();
  await page.waitForFunction(() => document.querySelector('.face-wrong'));
  assert.match(await face.getAttribute('aria-label'), /pin 1 outside or suspect, pin 2 inside/);
  const mark = (nth) => page.locator('.face-mark').nth(nth).getAttribute('d');
  assert.notEqual(await mark(0), await mark(1), 'told by its shape');
  assert.deepEqual(await barriers(page), []);
});

test('two pin-outs stand side by side, seen from the same side, and what differs is marked', async (t) => {
  const { page, go } = await atDemo(t, PHONE);
  await go('substitution');
  const into = (id, text) => type(page.locator(`[id="${id}"]`), text);
  assert.equal(await page.locator('.pin-outs').count(), 0);
  await into('old-pins', 'ECB');
  await into('new-pins', 'BCE');
  const letters = (nth) => page.locator('.pin-outs figure').nth(nth).locator('text').allTextContents();
  const marked = () => page.locator('.leg-other').count();
  await see(page.locator('.pin-outs'));
  assert.deepEqual([await letters(0), await letters(1), await marked()], [['E', 'C', 'B'], ['B', 'C', 'E'], 2]);
  await page.getByLabel(/^Seen, of the one that goes in/).selectOption('back');
  await page.waitForFunction(() => !document.querySelector('.leg-other'));
  assert.deepEqual(await letters(1), ['E', 'C', 'B'], 'as seen from the printed side');
  const [old, fresh] = await boxes(page.locator('.pin-outs svg'));
  near(old.top, fresh.top, 'side by side');
  assert.ok(old.right <= fresh.left);
  await erase(page.locator('[id="old-pins"]'));
  await see(page.getByText('the old one: pin-out not known'));
  assert.deepEqual([...(await beside(page)), ...(await barriers(page))], []);
});

test('a strip shows how long until an instrument is due, and hatches what is past', async (t) => {
  const { page, go } = await atDemo(t);
  await go('kit/named/Club%20counter%202');
  const day = (days) => new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);
  const dueIn = async (days) => {
    await type(page.locator('#kit-due'), day(days));
    await button(page, 'Save').tap();
    await see(heading(page, 'Instruments'));
    const card = page.getByRole('link', { name: /^Club counter 2/ });
    const said = await card.locator('.due-strip').getAttribute('aria-label');
    const [bar] = await boxes(card.locator('.due-bar'));
    const [today] = await boxes(card.locator('.due-today'));
    const [strip] = await boxes(card.locator('.due-strip'));
    const past = await card.locator('.due-past').count();
    const cut = await card.locator('.due-cut').count();
    await card.tap();
    return { said, bar, today, past, cut, length: (bar.right - bar.left) / (strip.right - strip.left) };
  };
  const soon = await dueIn(100);
  assert.equal(soon.said, 'Due in 100 days');
  near(soon.bar.left, soon.today.left, 'from today on');
  assert.ok(Math.abs(soon.length - 100 / 547) < 0.01, `${soon.length}`);
  const late = await dueIn(-50);
  assert.equal(late.said, 'Overdue by 50 days');
  near(late.bar.right, late.today.left, 'up to today');
  assert.deepEqual([late.past, soon.past], [1, 0]);
  const far = await dueIn(2000);
  assert.deepEqual([far.said, far.cut, soon.cut], ['Due in 2000 days', 1, 0]);
});

test('in columns of figures one digit is as wide as another, and only there', async (t) => {
  const { page, go } = await atDemo(t);
  await go('JOB/step/synth-am');
  await see(page.locator('.taken .number'));
  await page.evaluate(() => document.fonts.ready);
  const widths = (selector, weight) =>
    page.evaluate(([selector, weight]) => {
      const probe = document.createElement('span');
      probe.style.setProperty('font-weight', weight);
      probe.style.setProperty('position', 'absolute');
      document.querySelector(selector).append(probe);
      const all = [...'0123456789'].map((digit) => {
        probe.textContent = digit.repeat(20);
        return Math.round(probe.getBoundingClientRect().width * 10) / 10;
      });
      probe.remove();
      return all;
    }, [selector, weight]);
  for (const weight of [400, 550, 600, 650, 700]) {
    const column = await widths('.taken .number', weight);
    assert.equal(new Set(column).size, 1, `${weight}: ${column}`);
  }
  const line = await widths('h1', 400);
  assert.ok(line[1] < line[8], 'elsewhere each has its own width');
});
