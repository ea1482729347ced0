// Writing procedures on the device: a whole one by touch, published, worked by, changed, compared
// and gone back on; what is said while it is written; what is kept of it.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { readFileSync } from 'node:fs';
import { DIST, PHONE, TABLET, barriers, openBrowser, openHost, running } from './bench.mjs';
import {
  FORTY, SECTIONS, atDesk, begin, field, openRow, pick, press, publish, row, writeAll, writeStep,
} from './author.mjs';
import {
  button, byTouch, chooseFile, heading, link, savedFile, see, seeText, takeIn, work,
} from './technician.mjs';
import { erase, paste, type } from './hand.mjs';

const TITLE = 'Bench trainer, forty steps';

const remarks = (page) => page.locator('.remarks');
const differences = (page) => page.locator('.differences li').allInnerTexts();
const titles = (page) => page.locator('.draft-row .step-title').allInnerTexts();

async function workThrough(page, steps) {
  for (const step of steps) {
    await work(byTouch(page), step, {});
    await button(page, 'Next').tap();
  }
}

async function bringIn(page, { name, text }, told = 'New here: it will be added.') {
  await link(page, 'Files').first().tap();
  await chooseFile(page, { name, mimeType: 'application/json', buffer: Buffer.from(text) });
  await seeText(page, told);
  await button(page, 'Import selected').tap();
  await seeText(page, /imported\.$/);
}

const plain = (text) => text.replaceAll('\u00a0', ' ');

test('a procedure of forty steps by touch: written, published, worked by here and elsewhere, changed, gone back on', async (t) => {
  const { host, page, hand } = await atDesk(t);
  const taps = await writeAll(hand, TITLE);
  assert.equal(taps.length, 40);

  // A typical step sets something to a target; all its names are new, the rest goes on.
  const typical = taps.filter(({ step }) => step.adjuster).map((it) => it.taps);
  t.diagnostic(`taps for a step that sets to a target: ${Math.min(...typical)} to ${Math.max(...typical)}`);
  const usual = typical.toSorted((a, b) => a - b)[typical.length >> 1];
  assert.ok(usual < 12, `${usual} taps`);

  await seeText(page, 'No errors');
  assert.deepEqual(await titles(page), FORTY.map(({ title }) => title));
  const { procedure } = await publish(hand, 1);
  assert.deepEqual(procedure.sections.map(({ title }) => title), Object.keys(SECTIONS));
  const steps = procedure.sections.flatMap((section) => section.steps);
  assert.equal(steps[4].work.set.target.fixed.around.nominal, '10.0015 MHz');
  assert.equal(steps[30]['set-up'].signal, 'tx');
  assert.equal(procedure.adjusters.length, 35);

  // A job on it begins here, goes on to its end on another device, and comes back.
  await link(page, 'Start a job').tap();
  await byTouch(page).write(page.getByLabel('Serial number', { exact: true }), 'QRC-40');
  await byTouch(page).write(page.getByLabel('Technician', { exact: true }), 'Bench 1');
  await button(page, 'Start the job').tap();
  await workThrough(page, steps.slice(0, 3));
  await link(page, 'Files').first().tap();
  const begun = await savedFile(page, () => button(page, 'Save a backup').tap());

  const there = await (await openBrowser(t)).visit(host);
  await bringIn(there, begun);
  await link(there, 'Jobs').tap();
  await there.getByRole('link', { name: /QRC-40/ }).tap();
  await workThrough(there, steps.slice(3));
  await button(there, 'Sign off the job').tap();
  await see(heading(there, 'Signed off'));
  const done = await savedFile(there, () => button(there, 'Save the job as a file').tap());

  await bringIn(page, done, /^Here already: \d+ entries will be added to its log\.$/);
  await link(page, 'Jobs').tap();
  await see(page.getByRole('link', { name: /QRC-40.*Finished by Bench 1/ }));

  // Changed, and published again.
  await hand.tap(link(page, 'Procedures'));
  await hand.tap(page.getByRole('link', { name: new RegExp(`^${TITLE}`) }));
  await hand.tap(button(page, 'Edit'));
  await hand.tap(page.getByRole('link', { name: /^Oscillator 2/ }));
  await type(field(page, 'Figure'), '10.0013');
  await hand.tap(link(page, 'All steps of the draft'));
  await hand.tap(link(page, 'Publish …'));
  await see(page.locator('.differences li'));
  const changed = ['Target of step 5: 10.0015 MHz ± 20 Hz → 10.0013 MHz ± 20 Hz'];
  assert.deepEqual((await differences(page)).map(plain), changed);
  await hand.tap(button(page, 'Publish revision 2'));
  await seeText(page, 'Revision 2');

  // The job keeps its own.
  await hand.tap(link(page, 'Jobs'));
  await hand.tap(page.getByRole('link', { name: /QRC-40/ }));
  await see(heading(page, 'Signed off'));
  await page.goBack();
  await page.goBack();

  // Compared, and gone back on.
  await hand.tap(link(page, 'Revisions'));
  await see(heading(page, 'From revision 1 to 2'));
  assert.deepEqual((await differences(page)).map(plain), changed);
  await hand.tap(button(page, 'Restore revision 1'));
  await see(page.locator('.differences li'));
  assert.deepEqual((await differences(page)).map(plain), [
    'Target of step 5: 10.0013 MHz ± 20 Hz → 10.0015 MHz ± 20 Hz',
  ]);
  await hand.tap(button(page, 'Publish revision 3'));
  await hand.tap(link(page, 'Revisions'));
  await see(page.getByText('Revision 3, 40 steps'));
  await hand.tap(button(page.getByRole('group', { name: 'From', exact: true }), 'Revision 1'));
  await hand.tap(button(page.getByRole('group', { name: 'To', exact: true }), 'Revision 3'));
  await see(heading(page, 'From revision 1 to 3'));
  await seeText(page, 'Nothing differs.');
});

// A draft with three steps that lack nothing.
async function threeSteps(hand) {
  const { page } = hand;
  await begin(hand, 'Three steps');
  await hand.tap(button(page, 'Add a step Section 1'));
  for (const [index, step] of FORTY.slice(3, 6).entries()) {
    if (index > 0) await hand.tap(button(page, 'New step below'));
    await writeStep(hand, step);
  }
  await hand.tap(link(page, 'All steps of the draft'));
  await see(heading(page, 'Three steps'));
}

test('what is wrong is said at its field, and a remark leads there', async (t) => {
  const { page, hand } = await atDesk(t);
  await threeSteps(hand);
  await seeText(page, 'No errors');
  for (const [step, spoil, sentence, focus] of [
    [1, () => type(field(page, 'Figure'), '7.5 V'), /This is in V, but the step wants/, 'author-target'],
    [1, () => type(field(page, 'Figure'), '9.0015'), null],
    [2, () => type(field(page, 'Tolerance ±'), '20'), /has no unit/, 'author-margin'],
    [2, () => type(field(page, 'Tolerance ±'), '20 Hz'), null],
    [3, () => press(hand, 'TX'), /transmits with no hold point before it/, 'author-signal'],
    [3, () => press(hand, 'RX'), null],
    [3, () => erase(field(page, 'Title')), /has no title/, 'author-title'],
  ]) {
    await page.locator('.draft-title').nth(step - 1).tap();
    await spoil();
    if (sentence) await see(page.locator('.said').getByText(sentence));
    await hand.tap(link(page, 'All steps of the draft'));
    await see(heading(page, 'Three steps'));
    if (!sentence) {
      await seeText(page, 'No errors');
      continue;
    }
    await hand.tap(remarks(page).getByRole('link', { name: sentence }));
    await page.waitForFunction((id) => document.activeElement?.id === id, focus);
    await hand.tap(link(page, 'All steps of the draft'));
  }
  // Kept, but neither published nor started.
  await hand.tap(link(page, 'Publish …'));
  await seeText(page, 'Fix 1 error to publish.');
  assert.ok(await button(page, 'Publish revision 1').isDisabled());
  await page.goto(page.url().replace(/#.*/, '#/start'));
  await see(heading(page, 'Start a job'));
  assert.equal(await page.getByText('Three steps').count(), 0);
});

test('an adjuster that nobody turns is said in its list, and a name changed there changes everywhere', async (t) => {
  const { page, hand } = await atDesk(t);
  await threeSteps(hand);
  await hand.tap(link(page, 'Adjusters, test points, instruments'));
  await hand.write(field(page, 'New adjuster, such as L4'), 'L99');
  await hand.tap(button(page, 'Add').first());
  await seeText(page, 'No step turns the adjuster L99.');
  await openRow(hand, 'L99');
  await hand.tap(button(page, 'Remove L99'));
  await page.getByText('No step turns').waitFor({ state: 'detached' });
  await openRow(hand, 'L1');
  const name = field(page, 'Name L1');
  await type(name, 'T7');
  await name.press('Enter');
  await see(field(page, 'Name T7'));
  await hand.tap(link(page, 'All steps of the draft'));
  await seeText(page, 'Set to target · T7 · TP1');
  await hand.tap(button(page, /Undo/));
  await seeText(page, 'Set to target · L1 · TP1');
});

// A draft of as many names as a large set has: 45 adjusters, 30 test points, 12 instruments, and a
// socket of 25 pins.
function large() {
  const read = { at: 'TP1', with: 'meter-1', in: 'V' };
  const pins = Array.from({ length: 25 }, (_, i) => ({ pin: `${i + 1}`, signal: `Line ${i + 1}`, from: 'rear board', colour: 'blue' }));
  const adjusters = Array.from({ length: 45 }, (_, i) => ({
    ref: `L${i + 1}`, kind: 'core', note: `Stage ${i + 1} of the chain`, tool: 'hexagonal, 2 mm', clockwise: 'raises',
  }));
  const steps = adjusters.map(({ ref }, i) => ({
    id: `set-${i}`, title: `Set ${ref}`, work: { peak: { gauge: read, adjuster: ref } },
  }));
  return {
    id: 'large', title: 'Large', revision: 1, covers: 'Club trainers', adjusters,
    instruments: Array.from({ length: 12 }, (_, i) => ({ role: `meter-${i + 1}`, needs: 'volts' })),
    'test-points': Array.from({ length: 30 }, (_, i) => ({ ref: `TP${i + 1}`, where: `corner ${i + 1}` })),
    sections: [{ title: 'All', steps: [...steps, { id: 'socket', title: 'Socket', work: { socket: { name: 'SK9', with: 'meter-1', pins } } }] }],
  };
}

for (const [name, device, screens] of [['tablet', TABLET, 7], ['phone', PHONE, 8]]) {
  test(`on a ${name} 45 adjusters, 30 test points and 12 instruments are tables of which one row opens at a time`, async (t) => {
    const { page, hand } = await atDesk(t, device);
    await takeIn(page, { type: 'halfturn-procedure', version: 3, procedure: large() });
    await link(page, 'Procedures').tap();
    await page.getByRole('link', { name: /^Large/ }).tap();
    await hand.tap(button(page, 'Edit'));
    await hand.tap(link(page, 'Adjusters, test points, instruments'));
    await see(row(page, 'L45'));
    const high = () => page.evaluate(() => document.documentElement.scrollHeight / innerHeight);
    assert.ok((await high()) <= screens, `${await high()} screens`);
    const keys = await page.locator('.entry-key').evaluateAll((all) => all.map((it) => it.getBoundingClientRect().height));
    assert.equal(keys.length, 87);
    for (const height of keys) assert.ok(height >= 47.9 && height <= 62, `${height} px`);
    assert.match(await row(page, 'L7').innerText(), /core, Stage 7 of the chain, clockwise raises/);
    await openRow(hand, 'L7');
    await see(field(page, 'Name L7'));
    await openRow(hand, 'L30');
    await see(field(page, 'Name L30'));
    assert.equal(await page.locator('.entry-card').count(), 1, 'one at a time');
    assert.deepEqual(await barriers(page), []);
    // The pins of a socket too.
    await hand.tap(link(page, 'All steps of the draft'));
    await hand.tap(page.locator('.draft-title').last());
    await see(row(page, '25'));
    assert.ok((await high()) <= screens, `${await high()} screens for a socket`);
    await openRow(hand, '25');
    assert.equal(await page.locator('#author-pins-24-1').inputValue(), 'Line 25');
    assert.equal(await page.locator('.row-cells').count(), 1);
  });
}

test('what is said of a name leads to its field, in a long list too', async (t) => {
  const { page, hand } = await atDesk(t);
  await takeIn(page, { type: 'halfturn-procedure', version: 3, procedure: large() });
  await link(page, 'Procedures').tap();
  await page.getByRole('link', { name: /^Large/ }).tap();
  await hand.tap(button(page, 'Edit'));
  await hand.tap(link(page, 'Adjusters, test points, instruments'));
  await openRow(hand, 'L40');
  await type(field(page, 'Name L40'), '?last-stage');
  await page.keyboard.press('Tab');
  await hand.tap(link(page, 'All steps of the draft'));
  await hand.tap(page.getByRole('link', { name: /wait for their designators/ }));
  await page.waitForFunction(() => document.activeElement?.value === '?last-stage');
  const { y, height } = await page.locator(':focus').boundingBox();
  assert.ok(y >= 0 && y + height <= TABLET.viewport.height, `${y} px`);
});

// A page that is left in another way than by a tap, which leaves the field first.
test('a name that is being changed is kept where its field goes away under it', async (t) => {
  const { page, hand } = await atDesk(t);
  await threeSteps(hand);
  await hand.tap(link(page, 'Adjusters, test points, instruments'));
  await openRow(hand, 'L1');
  await type(field(page, 'Name L1'), 'L17');
  await page.evaluate(() => history.back());
  await seeText(page, 'Set to target · L17 · TP1');
  await hand.tap(button(page, /Undo/));
  await seeText(page, 'Set to target · L1 · TP1');
});

test('steps are dragged by touch, moved, split off, duplicated, removed and brought back', async (t) => {
  const { page, hand } = await atDesk(t);
  await threeSteps(hand);
  const [first, second, third] = FORTY.slice(3, 6).map(({ title }) => title);
  const order = async (...wanted) => {
    await page.waitForFunction(
      (wanted) =>
        JSON.stringify([...document.querySelectorAll('.draft-row .step-title')].map((it) => it.innerText)) === wanted,
      JSON.stringify(wanted),
    );
  };
  const middle = async (locator) => {
    const { x, y, width, height } = await locator.boundingBox();
    return { x: x + width / 2, y: y + height / 2 };
  };
  const handles = page.locator('.handle');
  await handles.nth(1).evaluate((it) => it.scrollIntoView({ block: 'center' }));
  const devtools = await page.context().newCDPSession(page);
  const touch = (type, points) => devtools.send('Input.dispatchTouchEvent', { type, touchPoints: points });
  const [from, to] = [await middle(handles.nth(2)), await middle(handles.nth(0))];
  await touch('touchStart', [from]);
  for (const share of [0.25, 0.5, 0.75, 1]) {
    await touch('touchMove', [{ x: from.x, y: from.y + share * (to.y - 12 - from.y) }]);
  }
  await see(page.locator('.drop-before'));
  await touch('touchEnd', []);
  await devtools.detach();
  await order(third, first, second);
  await page.locator('.held').waitFor({ state: 'detached' });

  const more = (number) => hand.tap(button(page, `More for step ${number}`));
  // A touch that follows at once counts as part of the drag; a hand needs longer to move on.
  await page.waitForTimeout(800);
  await more(1);
  await hand.tap(button(page, 'Down'));
  await order(first, third, second);
  await hand.tap(button(page, 'Split section here'));
  await hand.write(field(page, 'Section 2'), 'Second');
  await order(first, third, second);
  await more(3);
  await hand.tap(button(page, 'To “Alignment”'));
  await order(first, second, third);
  await more(1);
  await hand.tap(button(page, 'Duplicate'));
  await order(first, first, second, third);
  await hand.tap(button(page, 'Remove'));
  await seeText(page, 'is removed. Undo brings it back.');
  await order(first, second, third);
  await hand.tap(button(page, /Undo/));
  await order(first, first, second, third);
  await hand.tap(button(page, /Undo/));
  await order(first, second, third);
  await hand.tap(button(page, 'Move section 2 up'));
  await order(third, first, second);
});

test('a draft is there after a reload and after a crash, and in another tab', async (t) => {
  const { browser, page, hand } = await atDesk(t);
  await threeSteps(hand);
  await page.reload();
  await running(page);
  await see(heading(page, 'Three steps'));
  assert.equal((await titles(page)).length, 3);
  await page.locator('.draft-title').first().tap();
  await type(field(page, 'What to do'), 'Half a sent');
  const address = page.url();
  browser.expect(/crash/i);
  await browser.crash(page);
  const again = await browser.open(address);
  assert.equal(await field(again, 'What to do').inputValue(), 'Half a sent');

  // Two tabs on one step: each sees what the other types, and neither overwrites it.
  const other = await browser.open(address);
  await type(field(again, 'Title'), 'From the one');
  await other.waitForFunction(() => document.querySelector('#author-title').value === 'From the one');
  await type(field(other, 'What to do'), 'From the other');
  await again.waitForFunction(() => document.querySelector('#author-text').value === 'From the other');
  assert.equal(await field(again, 'Title').inputValue(), 'From the one');
  await link(again, 'Procedures').tap();
  await see(again.getByRole('link', { name: /^Three steps.*Draft of a new procedure, 3 steps/ }));
});

test('steps are written and reordered by keys alone', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device: { viewport: { width: 1180, height: 820 } } });
  const page = await browser.visit(host);
  const keys = page.keyboard;
  // Tabs on until the focus is there.
  const reach = async (target) => {
    await target.waitFor();
    for (let tabs = 0; tabs < 90; tabs += 1) {
      if (await target.evaluate((it) => it === document.activeElement)) return;
      await keys.press('Tab');
    }
    assert.fail(`no key leads to ${target}`);
  };
  const enter = async (target) => {
    await reach(target);
    await keys.press('Enter');
  };
  await enter(link(page, 'Procedures'));
  await enter(link(page, 'Write a procedure'));
  await enter(button(page, 'Blank'));
  await reach(field(page, 'Title of the procedure'));
  await keys.type('By keys');
  await enter(button(page, 'Add a step Section 1'));
  for (const [index, title] of ['One', 'Two', 'Three'].entries()) {
    if (index > 0) await enter(button(page, 'New step below'));
    await page.waitForFunction(() => document.activeElement?.id === 'author-title' && !document.activeElement.value);
    await keys.type(title);
  }
  // A list is opened, filtered, and a new name put on it, with the focus back on its key.
  await enter(button(page, 'Read'));
  await enter(button(page, 'Test point: choose'));
  await page.waitForFunction(() => document.activeElement?.id === 'author-at-find');
  await keys.type('TP5');
  await keys.press('Enter');
  await page.waitForFunction(() => document.activeElement?.getAttribute('aria-label') === 'Test point: TP5');
  await keys.press('Enter');
  await page.waitForFunction(() => document.activeElement?.id === 'author-at-find');
  await keys.press('Escape');
  await page.waitForFunction(() => document.activeElement?.id === 'author-at');

  await enter(link(page, 'All steps of the draft'));
  await reach(page.getByRole('button', { name: /^Move step 3, Three/ }));
  for (const wanted of [['One', 'Three', 'Two'], ['Three', 'One', 'Two']]) {
    await keys.press('ArrowUp');
    await page.waitForFunction(
      (wanted) => document.activeElement?.id.startsWith('draft-handle-')
        && [...document.querySelectorAll('.draft-row .step-title')].map((it) => it.innerText).join() === wanted,
      wanted.join(),
    );
  }
});

test('a table is pasted, looked at and taken in', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'From a table');
  await hand.tap(link(page, 'Steps from a table'));
  const rows = readFileSync(new URL('../forty_rows.tsv', import.meta.url), 'utf8');
  const count = rows.trim().split('\n').length - 1;
  await paste(field(page, 'The table'), rows);
  await see(heading(page, 'Preview'));
  await page.getByRole('button', { name: /^Add \d+ steps/ }).tap();
  await see(heading(page, 'From a table'));
  assert.ok((await titles(page)).length >= count);
  await hand.tap(button(page, /Undo/));
  await page.waitForFunction(() => document.querySelectorAll('.draft-row').length === 0);
});

// A table as a manual prints it: headings in two rows, a section, a column that nobody knows, a
// target that only its reader understands.
const PRINTED = [
  'Step\tReceiver output\tMeter indication (V)\t',
  '\t\tMin\tMax',
  'AUDIO\t\t\t',
  'Low end\t+9 dBm\t1.2\t1.6',
  'High end\t+6 dBm\tto taste\t',
].join('\n');

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`a printed table says what it is asked, and what stays open can’t be published, on a ${name}`, async (t) => {
    const { page, hand } = await atDesk(t, device);
    await begin(hand, 'From a manual');
    await hand.tap(link(page, 'Steps from a table'));
    await paste(field(page, 'The table'), PRINTED);
    await see(heading(page, 'What the columns are'));
    await seeText(page, 'One column is not known: tap it and say what it is.');
    const take = page.getByRole('button', { name: /^Add \d+ steps/ });
    assert.ok(await take.isDisabled());
    const column = page.getByRole('button', { name: /^Receiver output/ });
    assert.match(await column.innerText(), /\?/, 'told by a sign as well as by a frame');
    // By the keys: the column, then what it is.
    await column.focus();
    await page.keyboard.press('Enter');
    await see(page.getByRole('group', { name: '“Receiver output” is' }));
    await page.getByRole('button', { name: 'Condition', exact: true }).focus();
    await page.keyboard.press('Enter');
    await page.waitForFunction(() => !document.querySelector('.table-asked'));
    assert.ok(await take.isEnabled());
    await page.reload();
    await see(heading(page, 'What the columns are'));
    assert.equal(await page.locator('.table-asked').count(), 0, 'what was said of a column is kept');
    assert.ok(await take.isEnabled());
    assert.equal(await page.locator('.table-open').count(), 1, 'one line stays open');
    const wider = () => document.documentElement.scrollWidth > document.documentElement.clientWidth;
    assert.ok(!(await page.evaluate(wider)), 'the page is no wider than the screen');
    await barriers(page);
    await take.tap();
    await see(heading(page, 'From a manual'));
    assert.deepEqual(await titles(page), ['Low end', 'High end']);
    await page.locator('.draft-title').nth(1).tap();
    const open = field(page, 'Still open of its table');
    assert.match(await open.inputValue(), /to taste/);
    await hand.tap(link(page, 'All steps of the draft'));
    await hand.tap(link(page, 'Publish …'));
    await seeText(page, /is still open: settle it/);
    await page.goBack();
    await page.locator('.draft-title').nth(1).tap();
    await erase(field(page, 'Still open of its table'));
    await hand.tap(link(page, 'All steps of the draft'));
    await hand.tap(link(page, 'Publish …'));
    await page.waitForFunction(() => !document.body.innerText.includes('is still open'));
  });
}

// A table in the words of others (tests/files/tables), as tab-separated text.
function published(file) {
  const text = readFileSync(new URL(`../files/tables/${file}.txt`, import.meta.url), 'utf8');
  const lines = text.split('\n').filter((line) => line.includes('=> '));
  const cells = (line) => line.slice(0, line.lastIndexOf('=> ')).split('|').map((cell) => cell.trim());
  return lines.map((line) => cells(line).join('\t')).join('\n');
}

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`a published table shows every column it was taken for, and each can be told otherwise, on a ${name}`, async (t) => {
    const { page, hand } = await atDesk(t, device);
    await begin(hand, 'From a handbook');
    await hand.tap(link(page, 'Steps from a table'));
    await paste(field(page, 'The table'), published('first/coils'));
    await see(heading(page, 'What the columns are'));
    const column = (heading) => page.locator('.table-column', { hasText: heading });
    for (const [heading, is] of [
      ['Part', 'Step'],
      ['Measured between terminals', 'Test point'],
      ['Dc resistance (ohms ±10%)', 'Target, Ω ± 10%'],
    ]) {
      assert.equal((await column(heading).innerText()).trim(), `${heading}\n${is}`);
    }
    await column('Part').tap();
    await page.getByRole('button', { name: 'Condition', exact: true }).tap();
    await page.waitForFunction(() => !document.querySelector('#table-meaning'));
    assert.match(await column('Part').innerText(), /Condition/);
    await column('Part').tap();
    await page.getByRole('button', { name: 'Step', exact: true }).tap();
    await see(page.locator('.table-rows li').first());
    assert.equal(await page.locator('.table-open').count(), 0);
    const take = page.getByRole('button', { name: /^Add 7 steps/ });
    await barriers(page);
    await take.tap();
    await see(heading(page, 'From a handbook'));
    assert.equal((await titles(page)).length, 7);
    await page.locator('.draft-title').nth(1).tap();
    assert.equal(await field(page, 'Figure').inputValue(), '4 Ω');
    assert.equal(await field(page, 'Tolerance ±').inputValue(), '10 %');
  });
}

test('levels in volts of a kind that nothing states are asked about once for all', async (t) => {
  const { page, hand } = await atDesk(t);
  await begin(hand, 'Levels');
  await hand.tap(link(page, 'Steps from a table'));
  const rows = [
    'Step\tTP\tLimit (µV)',
    'Sensitivity, AM\tANT\t< 2',
    'Sensitivity, SSB\tANT\t< 0.5',
  ];
  await paste(field(page, 'The table'), rows.join('\n'));
  await see(heading(page, 'Preview'));
  assert.match(await page.locator('.table-column', { hasText: 'Limit' }).innerText(), /Target, µV/);
  assert.equal(await page.locator('.table-open').count(), 2);
  await page.getByRole('button', { name: 'V EMF', exact: true }).tap();
  await page.waitForFunction(() => !document.querySelector('.table-open'));
  await seeText(page, /0\.5\sµV\sEMF/);
});

// Every screen for writing, with the demo's procedure as a draft.
async function* screens(page) {
  const tap = (target) => target.first().tap();
  await tap(button(page, 'Load the demo'));
  await see(heading(page, 'All steps'));
  await tap(link(page, 'Procedures'));
  await tap(link(page, 'Write a procedure'));
  await see(heading(page, 'From an existing one'));
  yield 'new';
  await tap(page.getByRole('button', { name: /^Edit / }));
  await see(page.locator('.draft-row'));
  await tap(button(page, 'More for step 2'));
  yield 'outline';
  const draft = new URL(page.url()).hash;
  for (const step of [1, 16, 40]) {
    await tap(page.locator('.draft-title').nth(step - 1));
    await see(field(page, 'Title'));
    for (const details of await page.locator('.more').all()) {
      if (!(await details.evaluate((it) => it.open))) await tap(details.locator('summary').first());
    }
    yield `step ${step}`;
    const list = page.getByRole('button', { name: /^Test point: / });
    if (await list.count()) {
      await tap(list);
      yield `step ${step}, a list open`;
    }
    await tap(link(page, 'All steps of the draft'));
    await see(page.locator('.draft-row'));
  }
  for (const [way, there] of [
    ['Adjusters, test points, instruments', 'Interacting adjustments'],
    ['Frequency plan', 'Frequency plan'],
    ['Steps from a table', 'Steps from a table'],
  ]) {
    await tap(link(page, way));
    await see(heading(page, there));
    yield way;
    await page.goto(page.url().replace(/#.*/, draft));
    await see(page.locator('.draft-row'));
  }
  await erase(field(page, 'Title of the procedure'));
  await tap(link(page, 'Publish …'));
  await seeText(page, 'Fix 1 error to publish.');
  yield 'publish';
  await tap(link(page, 'Procedures'));
  await see(heading(page, 'Drafts'));
  yield 'procedures';
  await tap(page.locator('.card').last());
  await tap(link(page, 'Revisions'));
  await see(heading(page, /^Revisions of/));
  yield 'revisions';
}

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`every screen for writing on a ${name}`, async (t) => {
    const { page } = await atDesk(t, device);
    const findings = [];
    for await (const screen of screens(page)) {
      const find = (what, list) => findings.push(...list.map((it) => `${screen}, ${what}: ${it}`));
      for (const colorScheme of ['light', 'dark']) {
        await page.emulateMedia({ colorScheme });
        find(colorScheme, await barriers(page));
      }
      const beside = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      if (beside > 0) find('beside the screen', [`${beside} px`]);
      const small = await page.getByRole('button').evaluateAll((all) =>
        all
          .filter((it) => it.checkVisibility() && it.type !== 'file')
          .map((it) => [it.ariaLabel || it.innerText, it.getBoundingClientRect()])
          .filter(([, { width, height }]) => width < 44 || height < 47.5)
          .map(([name, { width, height }]) => `${name}: ${width} × ${height}`),
      );
      find('small', small);
      if (process.env.LOOK) {
        await page.emulateMedia({ colorScheme: process.env.LOOK_DARK ? 'dark' : 'light' });
        await page.screenshot({ path: `${process.env.LOOK}/${name}-${screen.replaceAll(/\W+/g, '-')}.png`, fullPage: true });
      }
    }
    assert.deepEqual(findings, []);
  });
}

for (const [name, device] of Object.entries({ tablet: TABLET, phone: PHONE })) {
  test(`a fault told below a field moves none of the fields beside it, on a ${name}`, async (t) => {
    const { page, hand } = await atDesk(t, device);
    await begin(hand, 'Limits');
    await hand.tap(button(page, 'Add a step Section 1'));
    const bias = {
      title: 'Bias', kind: 'Set to target', adjuster: 'R1', at: 'TP1', instrument: 'meter', unit: 'V',
      target: 'Nominal ±', value: '8.0', margin: '0.2 V',
    };
    await writeStep(hand, bias);
    const tops = () => page.locator('#author-target, #author-margin, #author-below').evaluateAll((all) => {
      const start = document.querySelector('#author-target').closest('.fields').getBoundingClientRect().top;
      return all.map((it) => Math.round(it.getBoundingClientRect().top - start));
    });
    const before = await tops();
    assert.equal(before.length, 3);
    if (name === 'tablet') assert.equal(new Set(before).size, 1, `in one row: ${before}`);
    await type(field(page, 'Figure'), 'eight or so');
    await see(page.locator('#author-target-said .said-fault'));
    if (process.env.SHOT) await page.screenshot({ path: `${process.env.SHOT}-${name}.png`, fullPage: true });
    // On a phone each has a row of its own, and what is told pushes down what is below.
    const after = await tops();
    if (name === 'tablet') assert.deepEqual(after, before);
    assert.equal(after[0], before[0]);
    // What is typed without a unit is listed with the one that it has.
    await type(field(page, 'Figure'), '8.0');
    await hand.tap(link(page, 'All steps of the draft'));
    const summary = page.locator('.draft-title .hint').first();
    assert.equal(plain(await summary.innerText()), 'Set to target · R1 · TP1 · 8.0 V ± 0.2 V');
    if (process.env.SHOT) await page.screenshot({ path: `${process.env.SHOT}-list-${name}.png`, fullPage: true });
  });
}
