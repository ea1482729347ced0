// What helps a person who is new to it: the line of what to do at a kind of step that is met for
// the first time, the sentence behind each term of the trade, and why a step is locked.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, UPRIGHT, barriers, openBrowser, openHost } from './bench.mjs';
import { uncovered } from './hand.mjs';
import { STEPS, button, byTouch, heading, kindOf, link, see, seeStatus, startJob, toTheKeys, work } from './technician.mjs';

const LINE = '.first-use';

async function newJob(t, device = TABLET) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  await link(page, 'Jobs').tap();
  await startJob(byTouch(page), 'QRC-71');
  const job = new URL(page.url()).hash.split('/').slice(1, 3).join('/');
  const at = async ({ id, title }) => {
    await page.goto(`${host.url}#/${job}/step/${encodeURIComponent(id)}`);
    await see(heading(page, title));
  };
  return { host, browser, page, at };
}

const unlocked = STEPS.slice(0, STEPS.findIndex((step) => kindOf(step) === 'stop') + 1);
const firstOf = (kind) => STEPS.find((step) => kindOf(step) === kind);

// Taps the middle of something where it is, as a finger does: nothing is scrolled first.
async function touch(page, target) {
  const { x, y, width, height } = await target.boundingBox();
  await page.touchscreen.tap(x + width / 2, y + height / 2);
}

// The keys of a reading, and the one that answers a step, that lie below something.
const hiddenKeys = (over) =>
  over.evaluate((over) => {
    const box = over.getBoundingClientRect();
    const isBelow = ({ left, right, top, bottom, width }) =>
      width > 0 && left < box.right && right > box.left && top < box.bottom && bottom > box.top;
    return [...document.querySelectorAll('.dock button, .answer button.large')]
      .filter((key) => key.checkVisibility() && !over.contains(key) && isBelow(key.getBoundingClientRect()))
      .map((key) => key.innerText || key.ariaLabel);
  });

// Opens all stops, so that every step can be worked.
async function confirmStops(page, at) {
  for (const stop of STEPS.filter((step) => kindOf(step) === 'stop')) {
    await at(stop);
    await work(byTouch(page), stop, {});
  }
}

test('a kind of step says what to do until that is put away, once for all', async (t) => {
  const { page, at } = await newJob(t);
  const step = unlocked[0];
  const same = STEPS.slice(1).find((other) => kindOf(other) === kindOf(step) && unlocked.includes(other));
  const other = unlocked.find((another) => kindOf(another) !== kindOf(step));
  await at(step);
  await see(page.locator(LINE));
  assert.deepEqual(await barriers(page), []);
  const hide = page.locator(LINE).getByRole('button');
  const { width, height } = await hide.boundingBox();
  assert.ok(width >= 44 && height >= 44, `${width} by ${height} px`);
  await hide.tap();
  await page.locator(LINE).waitFor({ state: 'detached' });
  await page.reload();
  await see(heading(page, step.title));
  assert.equal(await page.locator(LINE).count(), 0);
  if (same) {
    await at(same);
    assert.equal(await page.locator(LINE).count(), 0, 'another step of that kind');
  }
  await at(other);
  await see(page.locator(LINE));
});

test('what changes in the set-up stands above the line of what to do', async (t) => {
  const { page, at } = await newJob(t);
  const step = unlocked.find((step) => step['set-up'] && kindOf(step) === 'read');
  await at(step);
  await see(page.locator(LINE));
  const above = await page.locator('.set-up').boundingBox();
  const line = await page.locator(LINE).boundingBox();
  assert.ok(line.y >= above.y + above.height, `${line.y} px, set-up to ${above.y + above.height} px`);
});

test('every kind has its line, of twelve words at most, and none is on a report', async (t) => {
  const { page, at } = await newJob(t);
  const lines = new Map();
  const look = async (step) => {
    await at(step);
    const said = (await page.locator(`${LINE} > span`).innerText()).trim();
    assert.ok(said.split(/\s+/).length <= 12, said);
    lines.set(kindOf(step), said);
  };
  const stops = STEPS.filter((step) => kindOf(step) === 'stop');
  for (const stop of stops) {
    await look(stop);
    await work(byTouch(page), stop, {});
  }
  const kinds = new Set(STEPS.map(kindOf));
  for (const kind of kinds) if (kind !== 'stop') await look(firstOf(kind));
  assert.equal(new Set(lines.values()).size, kinds.size, 'each says something else');
  await page.goto(page.url().replace(/step\/.*/, 'report'));
  const report = await page.locator('article.report').innerText();
  for (const said of lines.values()) assert.ok(!report.includes(said), said);
});

test('who has done ten steps is told no more', async (t) => {
  const { page, at } = await newJob(t);
  const steps = STEPS.filter((step) => ['tick', 'inspect', 'stop', 'wire'].includes(kindOf(step))).slice(0, 10);
  const none = async (expected, done) => assert.equal((await page.locator(LINE).count()) === 0, expected, `${done} done`);
  const { done } = await page.evaluate(() => JSON.parse(localStorage['halfturn:device'] ?? '{"done":0}'));
  assert.equal(done, 0, 'the demo’s steps were done by nobody here');
  for (const [index, step] of steps.entries()) {
    await at(step);
    await none(false, index);
    await work(byTouch(page), step, {});
  }
  // Where the demo has fewer of these, the rest is told.
  if (steps.length < 10) {
    await page.evaluate((more) => {
      const here = JSON.parse(localStorage['halfturn:device']);
      localStorage['halfturn:device'] = JSON.stringify({ ...here, done: here.done + more });
    }, 10 - steps.length);
    await page.reload();
  }
  await at(firstOf('read'));
  await none(true, 10);
});

for (const [name, device] of Object.entries({ tablet: TABLET, upright: UPRIGHT, phone: PHONE })) {
  test(`on a ${name} each term opens its sentence beside the keys, by a tap, and closes by its key, a tap beside it or Escape`, async (t) => {
    const { page, at } = await newJob(t, device);
    await confirmStops(page, at);
    const seen = new Set();
    const lookAt = async (where) => {
      const keys = page.locator('.term-key');
      const ids = await keys.evaluateAll((all) => all.map((key) => key.getAttribute('popovertarget')));
      assert.equal(new Set(ids).size, ids.length, `${where}: each once`);
      for (const id of ids) {
        const key = page.locator(`.term-key[popovertarget=${id}]`);
        if (seen.has(id) || !(await key.isVisible())) continue;
        seen.add(id);
        const said = page.locator(`#${id}`);
        assert.ok(!(await said.isVisible()), `${where}: ${id} is closed`);
        await key.evaluate((element) => element.scrollIntoView({ block: 'center' }));
        const box = await key.boundingBox();
        assert.ok(box.width >= 44 && box.height >= 44, `${where}: ${id} has ${box.width} by ${box.height} px`);
        await uncovered(page);
        await touch(page, key);
        await said.waitFor();
        const [sentence] = await said.locator(':scope > span').allInnerTexts();
        assert.match(sentence, /^[A-Z].*[^.]\.$/, 'one sentence');
        assert.equal(sentence.split('. ').length, 1, sentence);
        assert.match(await said.locator('small').innerText(), /^Source: .+\.$/);
        const { x, y, width, height } = await said.boundingBox();
        const { width: wide, height: high } = page.viewportSize();
        assert.ok(x >= 0 && y >= 0 && x + width <= wide && y + height <= high, `${id} is in sight`);
        assert.deepEqual(await hiddenKeys(said), [], `${where}: keys below ${id}`);
        await uncovered(page);
        const close = said.getByRole('button', { name: 'Close' });
        const key48 = await close.boundingBox();
        assert.ok(key48.width >= 48 && key48.height >= 48, `${key48.width} by ${key48.height} px to close ${id}`);
        await touch(page, close);
        await said.waitFor({ state: 'hidden' });
        await uncovered(page);
        await touch(page, key);
        await said.waitFor();
        await page.keyboard.press('Escape');
        await said.waitFor({ state: 'hidden' });
        await uncovered(page);
        await touch(page, key);
        await said.waitFor();
        await page.touchscreen.tap(wide / 2, y + height + 40);
        await said.waitFor({ state: 'hidden' });
      }
    };
    for (const kind of ['stop', 'read', 'set', 'peak', 'dip']) {
      await at(firstOf(kind));
      await lookAt(kind);
      if (kind !== 'read' && kind !== 'set') continue;
      await work(byTouch(page), firstOf(kind), {});
      await at(firstOf(kind));
      await toTheKeys(page);
      await lookAt(`${kind}, read`);
    }
    await at(STEPS.find((step) => step.settles));
    await toTheKeys(page);
    await lookAt('settling');
    for (const term of ['found-and-left', 'hold-point', 'limits', 'conformity', 'settled']) {
      assert.ok(seen.has(`term-${term}`), `${term} is explained somewhere: ${[...seen]}`);
    }
  });

  test(`on a ${name} a locked step says by what in one sentence, which leads there by a touch`, async (t) => {
    const { page, at } = await newJob(t, device);
    const stop = STEPS.find((step) => kindOf(step) === 'stop');
    const number = STEPS.indexOf(stop) + 1;
    for (const step of [firstOf('read'), firstOf('set'), firstOf('socket'), firstOf('wire')].filter(Boolean)) {
      if (STEPS.indexOf(step) < number) continue;
      await at(step);
      const closed = page.locator('.closed');
      await see(closed);
      const said = (await closed.innerText()).replace(/\s*\?\s*$/, '');
      assert.equal(said, `Locked until hold point ${number} is confirmed.`);
      const way = link(page, `hold point ${number}`);
      await way.evaluate((element) => element.scrollIntoView({ block: 'center' }));
      const { height } = await way.boundingBox();
      assert.ok(height >= 44, `${height} px to touch`);
      await touch(page, way);
      await see(heading(page, stop.title));
    }
    await button(page, 'I confirm').tap();
    await seeStatus(page, 'done');
  });
}

test('all terms stand on one page, which each of them and the settings lead to', async (t) => {
  const { page, at } = await newJob(t);
  const source = readFileSync(new URL('../../src/app/words/work/terms.rs', import.meta.url), 'utf8');
  const names = [...source.matchAll(/^ +name: "(.+)",$/gm)].map(([, name]) => name);
  const lists = async () => {
    await see(heading(page, 'Glossary'));
    const shown = await page.locator('.glossary dt').allInnerTexts();
    assert.deepEqual(shown, [...names].sort(), 'each term that there is');
    for (const said of await page.locator('.glossary dd').allInnerTexts()) assert.match(said, /\.\s+Source: .+\.$/);
  };
  await link(page, 'Settings').first().tap();
  await link(page, 'Glossary').tap();
  await lists();
  assert.deepEqual(await barriers(page), []);
  const step = unlocked.find((step) => kindOf(step) === 'stop');
  await at(step);
  await page.locator('.term-key').first().tap();
  const way = link(page, 'All terms');
  const { height } = await way.boundingBox();
  assert.ok(height >= 44, `${height} px to touch`);
  await touch(page, way);
  await lists();
  await page.goBack();
  await see(heading(page, step.title));
  // And by a way on the page, which is all that an app on a home screen has.
  await page.locator('.term-key').first().tap();
  await link(page, 'All terms').tap();
  await lists();
  await link(page, /^Back to step \d+$/).tap();
  await see(heading(page, step.title));
});

test('a step that waits for the reading of another leads to that', async (t) => {
  const { page, at } = await newJob(t);
  await confirmStops(page, at);
  for (const step of STEPS.filter(({ work: it }) => Object.values(it)[0].target)) {
    await at(step);
    const way = page.locator('.waits-for a');
    if (!(await way.count())) continue;
    const number = Number(/\d+/.exec(await way.innerText())[0]);
    assert.match(await page.locator('.waits-for').innerText(), /^Take step \d+ first\.$/);
    await touch(page, way);
    await see(heading(page, STEPS[number - 1].title));
    return;
  }
  assert.fail('no step of the demo waits for another');
});

test('a lead that is fitted is said once', async (t) => {
  const { page, at } = await newJob(t);
  await confirmStops(page, at);
  await at(firstOf('wire'));
  assert.equal(await page.getByText(/fitted and checked/i).count(), 1);
});
