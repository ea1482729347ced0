// What the bench does to you: the advice that the app works out from the readings, seen by a
// person who enters them by touch.

import test from 'node:test';
import assert from 'node:assert/strict';
import { DIST, PHONE, TABLET, UPRIGHT, openBrowser, openHost } from './bench.mjs';
import { button, byTouch, chooseFile, link, see, seeText, seeStatus, toTheKeys } from './technician.mjs';
import { type } from './hand.mjs';

const gauge = (scale, role = 'counter') => ({ at: 'TP1', with: role, in: scale });
const around = (nominal, margin) => ({
  fixed: { around: { nominal, below: { absolute: margin }, above: { absolute: margin } } },
});
const step = (id, work, more = {}) => ({ id, title: `Step ${id}`, ...more, work });
const set = (id, adjuster, target, scale, more) =>
  step(id, { set: { gauge: gauge(scale), adjuster, target } }, more);
const dip = (id, partner) =>
  step(
    id,
    { dip: { gauge: gauge('mV p-p'), adjuster: 'R9', bound: { fixed: { 'at-most': '8 mV p-p' } } } },
    { 'shares-null-with': partner },
  );
const adjuster = (ref, kind, disturbs = []) => ({ ref, kind, disturbs });

// A set of the Quillmere Radio Club with one of each trouble.
const PROCEDURE = {
  id: 'troubles',
  title: 'Trainer with troubles',
  revision: 1,
  covers: 'Bench exercise',
  adjusters: [
    adjuster('L1', 'core'),
    adjuster('L2', 'core', ['pulled']),
    adjuster('R1', 'pot', ['second-of-two']),
    adjuster('R2', 'pot', ['first-of-two']),
    adjuster('R9', 'pot', ['null-usb', 'null-lsb']),
  ],
  'test-points': [{ ref: 'TP1', where: 'Somewhere' }],
  instruments: [
    { role: 'counter', needs: 'To count' },
    { role: 'meter', needs: 'To read volts' },
  ],
  chases: [{ title: 'Two that chase', steps: ['first-of-two', 'second-of-two'] }],
  sections: [
    {
      title: 'All',
      steps: [
        set('pulled', 'L1', around('9.001500 MHz', '20 Hz'), 'MHz'),
        set('puller', 'L2', around('8.998500 MHz', '20 Hz'), 'MHz'),
        set('first-of-two', 'R1', around('100 mA', '1 mA'), 'mA'),
        set('second-of-two', 'R2', around('100 mA', '1 mA'), 'mA'),
        dip('null-usb', 'null-lsb'),
        dip('null-lsb', 'null-usb'),
        step(
          'drifting',
          { read: { gauge: gauge('MHz') } },
          { settles: { 'per-minute': '5 Hz' } },
        ),
        step('leads', { read: { gauge: gauge('V', 'meter'), target: around('-8.0 V', '0.2 V') } }),
        step(
          'power',
          { read: { gauge: gauge('W'), target: around('4.0 W', '0.3 W') } },
          {
            'cross-check': {
              text: 'Read the same with the scope.',
              gauge: gauge('V p-p', 'meter'),
              compares: { 'power-into': '50 Ω' },
            },
          },
        ),
      ],
    },
  ],
};

// Two that chase each other, and nothing else.
const CHASING = {
  ...PROCEDURE,
  id: 'chasing',
  title: 'Bias of two',
  sections: [
    {
      title: 'All',
      steps: PROCEDURE.sections[0].steps.filter(({ id }) => id.endsWith('-of-two')),
    },
  ],
  adjusters: PROCEDURE.adjusters.filter(({ ref }) => ['R1', 'R2'].includes(ref)),
};

const fileOf = (procedure) => ({
  name: 'procedure.json',
  mimeType: 'application/json',
  buffer: Buffer.from(JSON.stringify({ type: 'halfturn-procedure', version: 1, procedure })),
});

// Opens the app, brings a procedure in and starts a job by it.
async function begin(t, device, procedure = PROCEDURE) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  await link(page, 'Files').tap();
  await chooseFile(page, fileOf(procedure));
  await button(page, 'Import selected').tap();
  await startJob(page, procedure);
  return page;
}

async function startJob(page, procedure) {
  await link(page, 'Jobs').tap();
  await link(page, 'Start a job').tap();
  await page.getByRole('link', { name: procedure.title }).tap();
  await type(page.getByLabel('Model', { exact: true }), 'Trainer');
  await button(page, 'Start the job').tap();
  await see(page.getByRole('heading', { name: procedure.sections[0].steps[0].title, exact: true }));
}

const goTo = async (page, id) => {
  await page.evaluate((id) => {
    location.hash = location.hash.replace(/step\/.*/, `step/${id}`);
  }, id);
  await see(page.getByRole('heading', { name: `Step ${id}`, exact: true }));
};

// Enters a reading by the app's own keys, after pressing the named keys that say how it is taken.
async function enter(page, digits, ...manner) {
  await toTheKeys(page);
  for (const key of manner) await button(page, key).tap();
  const hand = byTouch(page);
  await hand.number(digits);
  await hand.enter();
  const saved = page.getByRole('table', { name: 'Readings, newest first' });
  const shown = digits.replace('-', '\u2212');
  await see(saved.getByRole('row').first().filter({ hasText: shown }));
}

// What is not wholly in sight: beyond an edge, or under keys.
const hidden = (page, ...selectors) =>
  page.evaluate((selectors) => {
    const lowest = document.querySelector('.dock').getBoundingClientRect();
    return selectors.flatMap((selector) => {
      const { left, right, top, bottom } = document.querySelector(selector).getBoundingClientRect();
      const isUnderKeys = bottom > lowest.top && left < lowest.right && right > lowest.left;
      // On a phone the target stays where it is, and what is below it goes under it.
      const target = document.querySelector('.target-line');
      const line = target.getBoundingClientRect();
      const isUnderTarget = !document.querySelector(selector).closest('.target-line') && top < line.bottom - 1 && bottom > line.top + 1;
      const bar = document.querySelector('.bar').getBoundingClientRect().top;
      return top < 0 || bottom > bar || isUnderKeys || isUnderTarget ? [`${selector} from ${top} to ${bottom}, keys from ${lowest.top}`] : [];
    });
  }, selectors);

// Presses keys without the scrolling that the driver does before each tap, and a finger does not.
async function tried(page, digits, tool) {
  await toTheKeys(page);
  const press = (name) => button(page, name).evaluate((key) => key.click());
  await press('Try');
  await press(tool);
  for (const key of digits) await press(key);
  await press('Enter');
  await see(page.getByRole('row').filter({ hasText: `${digits}` }));
}

for (const [name, device] of [['tablet', TABLET], ['upright', UPRIGHT], ['phone', PHONE]]) {
  test(`where to stop with the tool in is seen on a ${name} beside the reading and its target`, async (t) => {
    const page = await begin(t, device);
    await tried(page, '9.001560', 'Tool in');
    await tried(page, '9.001585', 'Tool out');
    await tried(page, '9.001520', 'Tool in');
    await see(page.locator('.tool-pull .pull-in'));
    await page.waitForTimeout(300);
    // A phone has it in the room above its keys.
    const picture = name === 'phone' ? [] : ['.tool-pull'];
    const seen = [...picture, '.hand-point strong', '.target-line .target', '.verdict .figure', '.verdict .word'];
    assert.deepEqual(await hidden(page, ...seen), []);
    const strip = page.locator('.pull-strip svg');
    assert.equal(await strip.isVisible(), name === 'phone');
    if (name === 'phone') {
      const [{ y, height }, keys, line] = await Promise.all([strip.boundingBox(), page.locator('.keypad').boundingBox(), page.locator('.entry-line').boundingBox()]);
      assert.ok(y >= line.y + line.height && y + height <= keys.y, `${y} to ${y + height}, from ${line.y + line.height} to ${keys.y}`);
    }
    // So it is when one comes back.
    await page.reload();
    await toTheKeys(page);
    await see(page.locator('.tool-pull .pull-in'));
    await page.waitForTimeout(300);
    assert.deepEqual(await hidden(page, ...seen), []);
    if (process.env.LOOK) await page.screenshot({ path: `${process.env.LOOK}/pull-${name}.png` });
  });
}

for (const [name, device] of [['tablet', TABLET], ['phone', PHONE]]) {
  test(`every trouble of the bench is answered on a ${name}`, async (t) => {
    const page = await begin(t, device);

    await t.test('the app says where to stop with the tool in', async () => {
      await enter(page, '9.001700', 'As found');
      // The pull is about +25 Hz each time; twice is enough to know how it scatters.
      await enter(page, '9.001560', 'Try', 'Tool in');
      await enter(page, '9.001585', 'Try', 'Tool out');
      await enter(page, '9.001520', 'Try', 'Tool in');
      // One scale: the reading with the tool in, where it is expected without, and the aim.
      const pull = page.getByRole('img', { name: /^Stop at 9\.00147.*Now 9\.001520.MHz with the tool in; expected with the tool out: 9\.0015\d\d.MHz/ });
      await see(pull);
      for (const part of ['.pull-in', '.mark-latest', '.pull-aim', '.pull-way']) {
        assert.equal(await page.locator(`.tool-pull ${part}`).count(), 1, part);
      }
      await enter(page, '9.001546', 'Try', 'Tool out');
      await seeText(page, /Aim 9\.00147[45]\u00a0MHz on the instrument, tool in/);
      assert.equal(await page.locator('.tool-pull .pull-in').count(), 0, 'the tool is out');
      assert.equal(await page.locator('.tool-pull .pull-spread').count(), 1, 'two tries tell the spread');
      await seeText(page, /\(2 tries\)/);
      await enter(page, '9.001503', 'As left', 'Tool out');
      await seeStatus(page, 'done');
    });

    await t.test('another adjuster of the kind starts with a first guess, marked so', async () => {
      await goTo(page, 'puller');
      await enter(page, '8.998300', 'As found');
      await seeText(page, /estimate from similar adjusters/);
    });

    await t.test('turning one that pulls another asks for a second look, which clears it', async () => {
      await enter(page, '8.998498', 'Try', 'Tool out');
      await enter(page, '8.998498', 'As left', 'Tool out');
      await goTo(page, 'pulled');
      await seeText(page, /L2 adjusted since \(step 2\)/);
      await seeStatus(page, 'recheck');
      await enter(page, '9.001505', 'As left', 'Tool out');
      await seeStatus(page, 'done');
    });

    await t.test('two that chase each other get an aim each', async () => {
      // Each pulls the other by half of its own move.
      const visit = async (id, found, left) => {
        await goTo(page, id);
        await enter(page, found, 'As found');
        await enter(page, left, 'Try');
      };
      // More looks than unknowns, and steps of different size: else a drift would look like a pull.
      await visit('first-of-two', '60.0', '100.0');
      await visit('second-of-two', '90.0', '100.0');
      await visit('first-of-two', '105.0', '95.0');
      await visit('second-of-two', '95.0', '115.0');
      await visit('first-of-two', '105.0', '100.0');
      await visit('second-of-two', '112.5', '108.0');
      await visit('first-of-two', '97.8', '110.0');
      await visit('second-of-two', '114.1', '104.1');
      await goTo(page, 'first-of-two');
      await enter(page, '105.0', 'As found');
      const table = page.getByRole('table', { name: /interacting/ });
      await see(table.getByRole('row', { name: /^Round 3/ }));
      await see(table.getByRole('row', { name: /^Leave at, next/ }));
    });

    await t.test('a shared null is judged by the worse side, and the best pair is kept', async () => {
      await goTo(page, 'null-usb');
      await enter(page, '12', 'As found');
      await goTo(page, 'null-lsb');
      await enter(page, '5', 'As found');
      await seeText(page, /Step 5 is worse: favour it/);
      await seeText(page, /The worse of the two is outside/);
      await goTo(page, 'null-usb');
      await enter(page, '7', 'Try');
      await goTo(page, 'null-lsb');
      await enter(page, '6', 'As left');
      await seeText(page, /The worse of the two is inside/);
    });

    await t.test('a reading with the leads reversed is put right by one tap, and stays visible', async () => {
      await goTo(page, 'leads');
      await enter(page, '8.0', 'As found');
      await seeText(page, 'Leads reversed?');
      await button(page, 'Change to \u22128.0\u00a0V').tap();
      await seeStatus(page, 'done');
      const saved = page.getByRole('table', { name: 'Readings, newest first' });
      await see(saved.getByRole('row', { name: /Void.*leads reversed/ }));
    });

    await t.test('repeated readings give a mean; one that stands out is struck with a reason', async () => {
      await goTo(page, 'power');
      await enter(page, '4.02', 'As found');
      for (const again of ['4.03', '4.02', '4.03', '4.71']) {
        await enter(page, again, ...againOnce(await pressed(page)));
      }
      await seeText(page, /Mean of 5 readings/);
      await seeText(page, 'possible outlier');
      await page.getByRole('button', { name: 'Void 4.71\u00a0W' }).tap();
      await type(page.getByRole('dialog').getByRole('textbox'), 'The lead slipped');
      await button(page, 'Void reading').tap();
      await seeText(page, /Mean of 4 readings/);
      await see(page.getByRole('row', { name: /Void.*The lead slipped/ }));
    });

    await t.test('a cross-check is compared with the first', async () => {
      await type(page.getByLabel('TP1 with the meter'), '40.0');
      await button(page, 'Compare').tap();
      // U² / R with 40 V p-p is 14.14 V rms: 4.00 W into 50 Ω.
      await seeText(page, /Cross-check 4\.00\u00a0W/);
    });

    await t.test('a drift is settled only when its slope is inside the limit, doubt included', async () => {
      await page.clock.install({ time: Date.now() });
      await goTo(page, 'drifting');
      const minutes = async (digits, ...manner) => {
        await enter(page, digits, ...manner);
        await page.clock.setFixedTime(await page.evaluate(() => Date.now() + 60_000));
      };
      await minutes('9.001500', 'As found');
      await minutes('9.001600', 'Repeat');
      await minutes('9.001700');
      await minutes('9.001800');
      await seeText(page, 'Still drifting.');
      await minutes('9.001810', 'As left');
      for (const digits of ['9.001811', '9.001810', '9.001811', '9.001810', '9.001811']) {
        await minutes(digits, ...againOnce(await pressed(page)));
      }
      await seeText(page, 'Settled.');
      assert.equal(await page.getByRole('img', { name: /readings over/ }).count(), 1);
    });
  });
}

// A set with two bias pots, each of which moves both readings.
const pair = (pulls, levels = [40, 170]) => ({
  levels,
  shown: (at) => levels[at].toFixed(1),
  turn: (at, to) => {
    levels[1 - at] += pulls[at] * (to - levels[at]);
    levels[at] = to;
  },
});

test('earlier jobs tell where to leave each in the first round', async (t) => {
  const steps = ['first-of-two', 'second-of-two'];
  const page = await begin(t, TABLET, CHASING);
  const look = async (set, at) => {
    await goTo(page, steps[at]);
    await enter(page, set.shown(at), 'As found');
  };
  const visit = async (set, at, to) => {
    await look(set, at);
    set.turn(at, to);
    await enter(page, set.shown(at), 'Try');
  };
  for (const pulls of [[0.5, 0.4], [0.51, 0.41], [0.49, 0.4], [0.5, 0.39]]) {
    const set = pair(pulls);
    await look(set, 0);
    await look(set, 1);
    await visit(set, 0, 100);
    await visit(set, 1, 100);
    await visit(set, 0, 90);
    await visit(set, 1, 105);
    await look(set, 0);
    await look(set, 1);
    await startJob(page, CHASING);
  }
  const set = pair([0.5, 0.4]);
  const table = page.getByRole('table', { name: /interacting/ });
  const next = table.getByRole('row', { name: /^Leave at, next, from 4 earlier jobs/ });
  await look(set, 0);
  await seeText(page, 'Look at reading 2 before any is turned');
  await look(set, 1);
  await see(next);
  await seeText(page, '95 of 100 sets that differ as those of the earlier jobs do');
  await goTo(page, steps[0]);
  for (const at of [0, 1]) {
    // What stands on the screen is what the hand goes by.
    const aim = await next.getByRole('cell').nth(at).innerText();
    const stopAt = Number(aim.match(/^[\d.]+/)[0]);
    await visit(set, at, stopAt);
  }
  assert.ok(set.levels.every((level) => Math.abs(level - 100) <= 1), `home: ${set.levels}`);

  // A set that pulls the other way is told by its first look after a turn.
  await startJob(page, CHASING);
  const other = pair([-0.5, -0.4]);
  await look(other, 0);
  await look(other, 1);
  await see(next);
  await visit(other, 0, 20);
  await look(other, 1);
  await seeText(page, 'Reading 2 does not move as in 4 earlier jobs');
  assert.equal(await next.count(), 0);
});

// “Again” stays pressed from one reading to the next.
const pressed = async (page) =>
  (await button(page, 'Repeat').getAttribute('aria-pressed')) === 'true';
const againOnce = (isPressed) => (isPressed ? [] : ['Repeat']);
