// The screen under the finger: nothing moves there, nothing counts that was not meant, and
// nothing is left silently. By real taps and keys, on a tablet either way up and on a phone.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, barriers, PHONE, TABLET, UPRIGHT, openBrowser, openHost } from './bench.mjs';
import { slowly, tapTwice, type, uncovered } from './hand.mjs';
import {
  button, byKeys, byTouch, chooseFile, field, heading, link, see, seeStatus, seeText,
  toTheKeys, toTheTask,
} from './technician.mjs';

const DEVICES = { tablet: TABLET, 'tablet held upright': UPRIGHT, phone: PHONE };

const gauge = (scale) => ({ at: 'TP1', with: 'meter', in: scale });
const around = (nominal, margin) => ({
  fixed: { around: { nominal, below: { absolute: margin }, above: { absolute: margin } } },
});

// One step of each kind that a finger can go wrong at, for a set of the Quillmere Radio Club.
const STEPS = [
  { id: 'look', title: 'Look inside', work: 'inspect' },
  {
    id: 'load',
    title: 'Dummy load on',
    cautions: ['The output stage gets hot, and stays so for minutes.'],
    text: 'Screw the dummy load to the aerial socket and put the lead where nobody pulls it.',
    'set-up': { mode: 'AM', channel: '20', supply: '13.8 V', controls: [{ name: 'Gain', to: 'full' }] },
    work: { stop: { confirm: 'The dummy load is on the aerial socket and stays there.' } },
  },
  {
    id: 'bias',
    title: 'Bias of the driver',
    text: 'Turn slowly: it follows late.',
    work: { set: { gauge: gauge('V'), adjuster: 'R1', target: around('5.00 V', '0.05 V') } },
  },
  {
    id: 'rail',
    title: 'Negative rail',
    work: { read: { gauge: gauge('V'), target: around('-8.0 V', '0.2 V') } },
    'cross-check': { text: 'Read it once more at the plug.', gauge: gauge('V'), compares: 'same' },
  },
  { id: 'shut', title: 'Close the case', work: 'tick' },
];

const PROCEDURE = {
  id: 'under-the-hand',
  title: 'Trainer under the hand',
  revision: 1,
  covers: 'Club trainers',
  adjusters: [{ ref: 'R1', kind: 'pot', clockwise: 'raises' }],
  'test-points': [{ ref: 'TP1', where: 'beside the driver' }],
  instruments: [{ role: 'meter', needs: 'any' }],
  sections: [{ title: 'On the bench', steps: STEPS }],
};

const FILE = {
  name: 'hand.json',
  mimeType: 'application/json',
  buffer: Buffer.from(JSON.stringify({ type: 'halfturn-procedure', version: 1, procedure: PROCEDURE })),
};

// A job by the procedure above, at its first step.
async function atBench(t, device) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  await link(page, 'Files').tap();
  await chooseFile(page, FILE);
  await button(page, 'Import selected').tap();
  await link(page, 'Jobs').tap();
  await link(page, 'Start a job').tap();
  await page.getByRole('link', { name: PROCEDURE.title }).tap();
  const hand = byTouch(page);
  await hand.write(page.getByLabel('Model', { exact: true }), 'Trainer');
  await hand.write(page.getByLabel('Technician', { exact: true }), 'Bench 1');
  await button(page, 'Start the job').tap();
  await see(heading(page, STEPS[0].title));
  return { page, hand, host };
}

const goTo = async (page, id) => {
  await page.evaluate((id) => {
    location.hash = location.hash.replace(/step\/.*/, `step/${id}`);
  }, id);
  await see(heading(page, STEPS.find((step) => step.id === id).title));
};

// Until keys that are new take taps.
const settled = uncovered;

// A job in which the stop is confirmed, at one of the steps behind it.
async function behindTheStop(t, device, id) {
  const bench = await atBench(t, device);
  await goTo(bench.page, 'load');
  await button(bench.page, 'I confirm').tap();
  await seeStatus(bench.page, 'done');
  await goTo(bench.page, id);
  await settled(bench.page);
  await toTheKeys(bench.page);
  await settled(bench.page);
  return bench;
}

// Where each key of the keypad is, Enter included, as a person would see it.
const keys = (page) =>
  page.locator('.keys button').evaluateAll((all) =>
    all.map((key) => {
      const { x, y, width, height } = key.getBoundingClientRect();
      return `${key.innerText || key.ariaLabel}: ${[x, y, width, height].map(Math.round)}`;
    }),
  );

// Everything of the keypad lies on the screen, above the bar, and nothing lies over it.
async function seeWhole(page) {
  const findings = await page.locator('.keys button').evaluateAll((all) => {
    const floor = document.querySelector('.bar').getBoundingClientRect().top;
    return all.flatMap((key) => {
      const { left, right, top, bottom } = key.getBoundingClientRect();
      const name = key.innerText || key.ariaLabel;
      const inside = top >= 0 && left >= 0 && right <= innerWidth && bottom <= floor;
      const on = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
      return [
        ...(inside ? [] : [`${name} at ${top} to ${bottom} of ${floor}`]),
        ...(key.contains(on) ? [] : [`${name} lies under ${on?.outerHTML.slice(0, 60)}`]),
      ];
    });
  });
  assert.deepEqual(findings, []);
}

const saved = (page) => page.getByRole('table', { name: 'Readings, newest first' }).getByRole('row');
const strip = (page) => page.locator('.strip .line');

async function enter(hand, digits) {
  const { page } = hand;
  const before = await saved(page).count();
  await hand.number(digits);
  await hand.enter();
  await saved(page).nth(before).waitFor();
}

// The storage is full, up to its last sign.
const fill = (page) =>
  page.evaluate(() => {
    for (let chunk = 1 << 22, rest = ''; chunk >= 1; ) {
      try {
        localStorage.setItem('filler', rest + 'x'.repeat(chunk));
        rest += 'x'.repeat(chunk);
      } catch {
        chunk >>= 1;
      }
    }
  });

for (const [name, device] of Object.entries(DEVICES)) {
  test(`the keypad stays where it is through all that a reading brings, on a ${name}`, async (t) => {
    const { page, hand } = await behindTheStop(t, device, 'bias');
    const before = await keys(page);
    assert.equal(before.length, 15);
    await seeWhole(page);
    const still = async (what) => {
      assert.deepEqual(await keys(page), before, what);
      await seeWhole(page);
    };
    await hand.number('1');
    await still('typing');
    await button(page, '.').tap();
    await button(page, '.').tap();
    await hand.enter();
    await see(page.getByRole('alert').filter({ hasText: 'more than one decimal sign' }));
    await still('a complaint');
    await button(page, 'Clear the number').tap();
    await still('the complaint is gone');
    await enter(hand, '4.2');
    await seeText(page, /The reading must rise/);
    await still('a reading outside');
    await enter(hand, '5.01');
    await see(button(page, 'Record as left: 5.01\u00a0V'));
    await still('the offer to leave it');
    await button(page, 'Next').tap();
    await seeText(page, 'is not recorded as left');
    await still('what is left open is said');
    await button(page, 'Undo').tap();
    await seeText(page, 'Undone: ');
    await still('a notice');
    await fill(page);
    await hand.number('4');
    await hand.enter();
    await seeText(page, 'storage for the app is full');
    await seeText(page, 'not saved. Save the job');
    await still('the storage is full');
    await page.evaluate(() => localStorage.removeItem('filler'));
    await hand.enter();
    await saved(page).nth(1).waitFor();
    await still('a reading once there is room');
    await button(page, 'Undo').tap();
    await enter(hand, '5.02');
    await button(page, 'Record as left: 5.02\u00a0V').tap();
    await seeStatus(page, 'done');
    await still('the step is done');
  });

  test(`where a digit was, nothing else is after an entry, on a ${name}`, async (t) => {
    const { page, hand } = await behindTheStop(t, device, 'bias');
    const seven = await button(page, '7').boundingBox();
    await enter(hand, '5.01');
    await see(button(page, 'Record as left: 5.01\u00a0V'));
    await page.touchscreen.tap(seven.x + seven.width / 2, seven.y + seven.height / 2);
    assert.equal(await field(page).inputValue(), '7');
    assert.equal(await saved(page).count(), 1);
  });

  test(`advice and a suspected slip leave the keypad in its place, on a ${name}`, async (t) => {
    const { page, hand } = await behindTheStop(t, device, 'rail');
    const before = await keys(page);
    await enter(hand, '8.0');
    await seeText(page, 'Leads reversed?');
    assert.deepEqual(await keys(page), before);
    await seeWhole(page);
  });

  test(`a stop shows what it wants confirmed, and the key for it, first, on a ${name}`, async (t) => {
    const { page } = await atBench(t, device);
    await goTo(page, 'load');
    const floor = (await page.locator('.bar').boundingBox()).y;
    for (const what of [page.getByText('The dummy load is on the aerial socket'), button(page, 'I confirm')]) {
      const { y, height } = await what.boundingBox();
      assert.ok(y > 0 && y + height <= floor, `${y} to ${y + height} of ${floor}`);
    }
  });
}

test('Next does not walk past a stop in silence, and does with one more press', async (t) => {
  const { page } = await atBench(t, PHONE);
  await goTo(page, 'load');
  await button(page, 'Next').tap();
  await seeText(page, 'This hold point is not confirmed. Next once more leaves it so.');
  await see(heading(page, 'Dummy load on'));
  await settled(page);
  await button(page, 'Next').tap();
  await see(heading(page, 'Bias of the driver'));
  assert.equal(await strip(page).count(), 0);
});

for (const [what, putAway] of [
  ['was closed', (page) => button(strip(page), 'Close').tap()],
  ['gave way to a note', async (page) => {
    await button(page, 'Note').tap();
    await type(page.getByRole('textbox', { name: 'A note on this step' }), 'Looked twice.');
    await button(page, 'Save the note').tap();
  }],
]) {
  test(`Next says again that a stop is open where the words for it ${what}`, async (t) => {
    const { page } = await atBench(t, PHONE);
    await goTo(page, 'load');
    await button(page, 'Next').tap();
    await seeText(page, 'This hold point is not confirmed. Next once more leaves it so.');
    await putAway(page);
    await page.getByText('Next once more leaves it so').waitFor({ state: 'detached' });
    await settled(page);
    await button(page, 'Next').tap();
    await seeText(page, 'This hold point is not confirmed. Next once more leaves it so.');
    await see(heading(page, 'Dummy load on'));
  });
}

test('a reading that is outside, or was read with the tool in, is not left in silence', async (t) => {
  const { page, hand } = await behindTheStop(t, TABLET, 'bias');
  await enter(hand, '4.2');
  await button(page, 'Next').tap();
  await seeText(page, 'A reading is outside, so the step stays open. Next once more leaves it so.');
  await settled(page);
  await button(page, 'Next').tap();
  await see(heading(page, 'Negative rail'));
});

test('a number that is begun the moment a step comes loses no digit', async (t) => {
  const { page, hand } = await behindTheStop(t, UPRIGHT, 'bias');
  await enter(hand, '5.01');
  await button(page, 'Record as left: 5.01\u00a0V').tap();
  await seeStatus(page, 'done');
  const places = [];
  for (const key of ['5', '.', '2', 'Next']) places.push(await button(page, key).boundingBox());
  const next = places.pop();
  const tap = ({ x, y, width, height }) => page.touchscreen.tap(x + width / 2, y + height / 2);
  await tap(next);
  await see(heading(page, 'Negative rail'));
  for (const place of places) await tap(place);
  assert.equal(await field(page).inputValue(), '5.2');
});

test('a second press of Enter right behind the first complains of nothing', async (t) => {
  const { page, hand } = await behindTheStop(t, PHONE, 'bias');
  await hand.number('5.01');
  const { x, y, width, height } = await button(page, 'Enter').boundingBox();
  await tapTwice(page, x + width / 2, y + height / 2);
  await saved(page).first().waitFor();
  await settled(page);
  assert.equal(await saved(page).count(), 1);
  assert.equal(await page.getByText('No number yet').count(), 0);
});

test('a question says why it was refused, and its keys stay', async (t) => {
  const { page } = await atBench(t, UPRIGHT);
  await goTo(page, 'load');
  await button(page, 'Note').tap();
  const keep = button(page, 'Save the note');
  await see(keep);
  const before = await keep.boundingBox();
  await settled(page);
  await keep.tap();
  await page.locator('#ask-complaint').filter({ hasText: /./ }).waitFor();
  assert.deepEqual(await keep.boundingBox(), before);
});

test('a double tap on Next counts as one where something is open', async (t) => {
  const { page } = await atBench(t, TABLET);
  await goTo(page, 'load');
  const { x, y, width, height } = await button(page, 'Next').boundingBox();
  await settled(page);
  await tapTwice(page, x + width / 2, y + height / 2);
  await seeText(page, 'This hold point is not confirmed.');
  await see(heading(page, 'Dummy load on'));
});

test('an inside reading is offered to be recorded before it is left', async (t) => {
  const { page, hand } = await behindTheStop(t, TABLET, 'bias');
  await enter(hand, '5.01');
  await button(page, 'Next').tap();
  await seeText(page, '5.01\u00a0V is not recorded as left, so the step stays open.');
  await button(strip(page), 'Record as left: 5.01\u00a0V').tap();
  await seeStatus(page, 'done');
  await see(page.locator('#next:focus'));
  await button(page, 'Next').tap();
  await see(heading(page, 'Negative rail'));
});

test('what is typed is not left behind in silence, by key or by touch, and is kept', async (t) => {
  const { page } = await behindTheStop(t, TABLET, 'bias');
  const keyboard = byKeys(page);
  await keyboard.number('5.0');
  await keyboard.back();
  await seeText(page, '“5.0” is typed but not entered. Back once more leaves it so.');
  await settled(page);
  await keyboard.back();
  await see(heading(page, 'Dummy load on'));
  await goTo(page, 'bias');
  assert.equal(await field(page).inputValue(), '5.0');
  await button(page, 'Next').tap();
  await seeText(page, '“5.0” is typed but not entered.');
  await button(strip(page), 'Enter it').tap();
  await see(saved(page).filter({ hasText: '5.0\u00a0V' }));
  assert.equal(await strip(page).count(), 0);
});

test('a pedal that is held down leaves nothing', async (t) => {
  const { page } = await atBench(t, TABLET);
  await goTo(page, 'load');
  for (let press = 0; press < 20; press += 1) await page.keyboard.down('PageDown');
  await page.keyboard.up('PageDown');
  await seeText(page, 'This hold point is not confirmed.');
  await see(heading(page, 'Dummy load on'));
});

test('a tap that was on its way when the screen changed counts for nothing', async (t) => {
  const { page } = await atBench(t, TABLET);
  await goTo(page, 'load');
  await see(button(page, 'I confirm'));
  await settled(page);
  const { x, y, width, height } = await button(page, 'I confirm').boundingBox();
  const tap = () => page.touchscreen.tap(x + width / 2, y + height / 2);
  await goTo(page, 'shut');
  await slowly(page, async () => {
    await goTo(page, 'load');
    await tap();
    await seeStatus(page, 'open');
  });
  await button(page, 'I confirm').tap();
  await seeStatus(page, 'done');
});

test('a second tap where a button is gone reaches nothing that came in its place', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t, { device: TABLET })).visit(host);
  await page.goto(`${host.url}#/kit/new`);
  const ranges = page.getByRole('button', { name: /^Remove range \d$/ });
  for (let number = 0; number < 6; number += 1) await button(page, 'Add a range').tap();
  await ranges.last().evaluate((it) => it.scrollIntoView({ block: 'center' }));
  await settled(page);
  const { x, y, width, height } = await ranges.last().boundingBox();
  const tap = () => page.touchscreen.tap(x + width / 2, y + height / 2);
  const taken = () => page.evaluate(() => globalThis.taken);
  await slowly(page, async () => {
    await tap();
    await ranges.nth(5).waitFor({ state: 'detached' });
    const under = await page.evaluate(
      ([x, y]) => document.elementsFromPoint(x, y).find((it) => it.matches('button, input, select'))?.tagName,
      [x + width / 2, y + height / 2],
    );
    assert.ok(under, 'something that takes taps has come there');
    await page.evaluate(() => addEventListener('click', (event) => {
      if (event.target.closest('button, input, select')) globalThis.taken = event.target.outerHTML;
    }));
    await tap();
    assert.equal(await taken(), undefined);
  });
  await page.locator('.under-finger').waitFor({ state: 'detached' });
  await tap();
  assert.ok(await taken(), 'a later tap counts');
});

test('the key that moves a step into another section stays under the finger', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t, { device: TABLET })).visit(host);
  await page.goto(`${host.url}#/author`);
  await page.getByRole('button', { name: /^Use template: / }).first().tap();
  const sections = page.locator('ol:has(> .draft-row)');
  const second = sections.nth(1).locator('.draft-row').first();
  const id = await second.getAttribute('id');
  const title = await second.locator('.step-title').innerText();
  await second.locator('.more-key').tap();
  const key = page.locator(`[id="${id}"]`).getByRole('button', { name: 'Up', exact: true });
  await key.scrollIntoViewIfNeeded();
  const was = await key.boundingBox();
  await key.tap();
  await see(sections.first().locator('.step-title').last().filter({ hasText: title }));
  const now = await key.boundingBox();
  assert.ok(Math.abs(now.x - was.x) <= 1 && Math.abs(now.y - was.y) <= 1, JSON.stringify([was, now]));
  assert.equal(await page.evaluate(() => document.activeElement.textContent.trim()), 'Up');
});

test('Undo names an entry of another step before it takes it back', async (t) => {
  const { page } = await behindTheStop(t, TABLET, 'bias');
  await button(page, 'Undo').tap();
  await seeText(page, 'Undo would take back an entry of another step: the tick at step 2.');
  await page.goBack();
  await goTo(page, 'load');
  await seeStatus(page, 'done');
  await goTo(page, 'bias');
  await button(page, 'Undo').tap();
  await button(page, 'Undo it').tap();
  await seeText(page, 'Undone: the tick at step 2.');
  await seeText(page, 'Locked until hold point 2 is confirmed.');
});

test('a question says in its own place why an answer was not taken, and keeps it', async (t) => {
  const { page, hand } = await behindTheStop(t, PHONE, 'bias');
  await enter(hand, '4.2');
  await page.getByRole('button', { name: /^Void/ }).tap();
  const dialog = page.getByRole('dialog', { name: 'Void a reading' });
  await button(dialog, 'Void reading').tap();
  await see(dialog.getByRole('alert').filter({ hasText: 'Type the reason first.' }));
  await see(dialog.locator('textarea:focus'));
  await fill(page);
  await page.keyboard.type('The lead slipped');
  await button(dialog, 'Void reading').tap();
  await see(dialog.getByRole('alert').filter({ hasText: 'storage for the app is full, so this was not saved' }));
  assert.equal(await dialog.getByRole('textbox').inputValue(), 'The lead slipped');
  await page.evaluate(() => localStorage.removeItem('filler'));
  await button(dialog, 'Void reading').tap();
  await see(page.getByRole('row', { name: /Void.*The lead slipped/ }));
});

test('what was typed for one question is no answer to another', async (t) => {
  const { page } = await behindTheStop(t, TABLET, 'bias');
  await button(page, 'Note').tap();
  await page.keyboard.type('Runs warm');
  await button(page, 'Cancel').tap();
  await button(page, 'Waive').tap();
  assert.equal(await page.getByRole('textbox', { name: 'Waive this step' }).inputValue(), '');
});

// Waives what is open, and goes where the job is signed off.
async function toItsEnd(page) {
  for (const { id } of STEPS.filter(({ work }) => work !== 'inspect' && !work.stop)) {
    await goTo(page, id);
    if (await button(page, 'Waive').isDisabled()) continue;
    await button(page, 'Waive').tap();
    await page.keyboard.type('Not agreed');
    await button(page, 'Waive the step').tap();
    await seeStatus(page, 'waived');
  }
  await goTo(page, 'look');
  await button(page, 'Sound as built').tap();
  await goTo(page, 'shut');
  await button(page, 'Next').tap();
  await see(button(page, 'Sign off the job'));
}

async function signOff(page) {
  await toItsEnd(page);
  await button(page, 'Sign off the job').tap();
  await see(heading(page, 'Signed off'));
}

test('a job that is signed off gives no advice and nothing to turn', async (t) => {
  const { page, hand } = await behindTheStop(t, TABLET, 'bias');
  await enter(hand, '4.2');
  await seeText(page, /The reading must rise: turn R1 clockwise/);
  await signOff(page);
  await page.evaluate(() => {
    location.hash = location.hash.replace(/finish$/, 'step/bias');
  });
  await see(heading(page, 'Bias of the driver'));
  await seeText(page, 'Signed off. Reopen');
  assert.equal(await page.getByText(/The reading must/).count(), 0);
  assert.equal(await page.locator('.keys').count(), 0);
});

test('the focus is somewhere after everything that a finger does', async (t) => {
  const { page, hand } = await behindTheStop(t, TABLET, 'bias');
  const somewhere = async (what) => {
    await page.waitForTimeout(120);
    const [lost, here] = await page.evaluate(() => {
      const here = document.activeElement;
      return [here === document.body || here.matches(':disabled') || !here.checkVisibility(), here.outerHTML.slice(0, 60)];
    });
    assert.ok(!lost, `after ${what}: ${here}`);
  };
  await enter(hand, '5.01');
  await somewhere('an entry');
  await button(page, 'Record as left: 5.01\u00a0V').tap();
  await somewhere('the offer was taken');
  await button(page, 'Undo').tap();
  await somewhere('an undo');
  await button(page, 'Close').tap();
  await somewhere('a notice was closed');
  await button(page, 'Undo').tap();
  await somewhere('another undo');
  await button(page, 'Undo').tap();
  await button(page, 'Undo it').tap();
  await somewhere('an undo elsewhere');
  await goTo(page, 'shut');
  await somewhere('another screen');
  await goTo(page, 'look');
  await button(page, 'Sound as built').tap();
  await somewhere('an answer');
});

test('a break names the stops that wait to be confirmed again', async (t) => {
  const { page } = await behindTheStop(t, TABLET, 'bias');
  await link(page, 'All steps').tap();
  await button(page, 'Pause (hold points lapse)').tap();
  await seeText(page, 'Re-confirm hold point 2: what is below it is locked.');
});

const KIT = {
  name: 'kit.json',
  mimeType: 'application/json',
  buffer: Buffer.from(JSON.stringify({
    type: 'halfturn-backup',
    version: 2,
    backup: {
      kit: [{
        role: 'meter',
        name: 'Club meter',
        ranges: [{ 'full-scale': '20 V', resolution: '0.01 V', accuracy: { 'percent-of-reading': '0.5' } }],
      }],
    },
  })),
};

test('where the accuracy is unknown, the instrument is chosen or described and the step goes on', async (t) => {
  const { page, hand } = await behindTheStop(t, PHONE, 'rail');
  await enter(hand, '-8.05');
  await seeText(page, 'Conformity not shown: the accuracy of the meter is not known.');
  await hand.number('-8.0');
  await link(page, 'Another instrument').tap();
  await see(heading(page, 'What is the meter here?'));
  // Nobody named one: what is chosen now is what it was read with, unless that is denied.
  const option = whatItCountsFor(page);
  assert.equal(await option('For what was read before too').isChecked(), true);
  assert.equal(await option('From the next reading on').isChecked(), false);
  await seeText(page, 'What was read on the meter so far stays without an instrument.');
  const typed = {
    Name: 'Bench meter', 'Full scale': '20 V', Resolution: '0.01 V', '± % of reading': '0.5',
  };
  for (const [label, text] of Object.entries(typed)) {
    await type(page.getByLabel(label, { exact: true }), text);
  }
  await button(page, 'Save').tap();
  await see(heading(page, 'Negative rail'));
  await seeText(page, 'Bench meter is saved and is this job’s meter.');
  assert.equal(await field(page).inputValue(), '-8.0', 'what was typed is kept');
  await seeText(page, /^Pass\. U\s=\s/);
  await toTheTask(page);
  await see(page.locator('.hands').getByText('Bench meter'));
  assert.equal(await link(page, 'Another instrument').count(), 0);
});

// A reading of the rail, with the meter of the kit chosen at it by a tap.
async function readWithTheKit(t) {
  const { page, hand } = await behindTheStop(t, TABLET, 'rail');
  const there = page.url();
  await page.goto(there.replace(/job.*/, 'data'));
  await chooseFile(page, KIT);
  await button(page, 'Import selected').tap();
  await seeText(page, '1 item imported.');
  await page.goto(there);
  await enter(hand, '-8.05');
  await button(page, 'Club meter').tap();
  await seeText(page, /^Pass\. U\s=\s/);
  return { page, hand, there };
}

test('another instrument counts from the next reading on, and says so of those before', async (t) => {
  const { page, hand, there } = await readWithTheKit(t);
  // The details put another meter in its place.
  await page.goto(there.replace(/\/step.*/, '/details'));
  await see(heading(page, 'Set details'));
  await type(page.getByLabel('Meter', { exact: true }), 'Loan meter');
  await see(page.getByRole('group', { name: 'The new instrument counts' }));
  const option = whatItCountsFor(page);
  assert.equal(await option('From the next reading on').isChecked(), true);
  await seeText(page, 'What was read on the meter so far stays read with Club meter.');
  await button(page, 'Save').tap();
  await page.goto(there);
  await see(page.locator('.hands').getByText('Loan meter'));
  const rows = page.locator('table.taken tbody tr');
  await see(rows.first().getByText('read with Club meter'));
  await enter(hand, '-8.02');
  await see(rows.first().getByText('−8.02'));
  assert.equal(await rows.first().getByText('read with').count(), 0);
  await see(rows.nth(1).getByText('read with Club meter'));
  // Said to have been the loan meter all along, the last reading alone is its own.
  await page.goto(there.replace(/\/step.*/, '/details'));
  await type(page.getByLabel('Meter', { exact: true }), 'Loan meter 2');
  await option('For what was read before too').tap();
  await button(page, 'Save').tap();
  await page.goto(there);
  await see(page.locator('.hands').getByText('Loan meter 2'));
  assert.equal(await rows.first().getByText('read with').count(), 0);
  await see(rows.nth(1).getByText('read with Club meter'));
});

test('the end of a job names what was typed and not entered, with the way there', async (t) => {
  const { page, hand } = await behindTheStop(t, TABLET, 'bias');
  await hand.number('4.2');
  await toItsEnd(page);
  const unsent = page.getByRole('complementary', { name: 'Typed and not entered' });
  assert.equal(await unsent.getByRole('listitem').count(), 1);
  assert.deepEqual(await barriers(page), []);
  await unsent.getByRole('link', { name: /^Step \d+: Bias of the driver$/ }).tap();
  await see(heading(page, 'Bias of the driver'));
  assert.equal(await field(page).inputValue(), '4.2');
  await button(page, 'Clear the number').tap();
  await page.evaluate(() => history.back());
  await see(button(page, 'Sign off the job'));
  assert.equal(await unsent.count(), 0);
  // A part that was checked against another is typed into a form of its own.
  const end = page.url();
  await page.goto(end.replace(/finish.*/, 'changes/check'));
  await type(page.getByLabel('Fitted', { exact: true }), '470 µF');
  await page.goto(end);
  await see(unsent.getByRole('link', { name: 'Record part or change' }));
});

test('an undo says which of the details it changes back', async (t) => {
  const { page } = await behindTheStop(t, TABLET, 'rail');
  const there = page.url();
  await page.goto(there.replace(/\/step.*/, '/details'));
  await type(page.getByLabel('Owner', { exact: true }), 'Shelf 4');
  await button(page, 'Save').tap();
  await page.goto(there);
  await see(heading(page, 'Negative rail'));
  await button(page, 'Undo').tap();
  await seeText(page, /a change of the details \(owner\)/);
});

// The choice of what another instrument counts for.
function whatItCountsFor(page) {
  return (name) => page.getByRole('radio', { name: new RegExp(`^${name}`) });
}

test('where the accuracy is unknown, a tap takes a fitting instrument of the kit', async (t) => {
  const { page } = await readWithTheKit(t);
  await see(page.locator('.hands').getByText('Club meter'));
});
