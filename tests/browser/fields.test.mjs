// Every field there is, found on the page and not in a list: what is typed into it key by key
// stands, is kept over a reload, and is what is published.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { author, begin, field, pick, press, publish } from './author.mjs';
import { DIST, TABLET, openBrowser, openHost, running } from './bench.mjs';
import { UNTIL_A_BUTTON } from './everywhere.mjs';
import { erase, type } from './hand.mjs';
import { screens } from './screens.mjs';
import { button, heading, link, see } from './technician.mjs';

const FIELDS = 'input:not([type=checkbox], [type=radio], [type=file]), textarea';

// The fields in sight, by id.
const ids = (page) =>
  page.locator(FIELDS).evaluateAll((all) => all.filter((it) => it.checkVisibility() && !it.readOnly).map((it) => it.id));

const values = (page, wanted) =>
  page.evaluate((wanted) => wanted.map((id) => document.getElementById(id)?.value), wanted);

const at = (page, id) => page.locator(`[id="${id}"]`);

// What goes into a field that takes no other text than this; everything else takes any.
const FITTING = [
  [/^author-target$/, '9.0015 MHz'], [/^author-high$/, '9.5 MHz'],
  [/^author-margin$/, '20 Hz'], [/^author-below$/, '10 Hz'],
  [/^author-wait$/, '15'], [/^author-settles$/, '5 Hz'], [/^author-cross-figure$/, '50'],
  [/^author-pins-\d-0$/, 'A1'], [/^author-pins-\d-4$/, 'RX = 8 V ± 0.2 V; TX = 7.9 V ± 0.2 V'],
  [/calibrated|due|next-check/, '2027-03-31'],
  [/^currency$/, 'EUR'],
];

// A text like no other, with all that a field might swallow: blanks, separators, signs.
const anyText = (id) => `a;  ${id.slice(-6)}: Ω `;

const sample = (id) => FITTING.find(([fits]) => fits.test(id))?.[1] ?? anyText(id);

// Types into every field in sight that was not typed into since it is on the page, and adds to
// `kept` what should stand in each.
async function typeAll(page, kept) {
  for (const id of await ids(page)) {
    assert.ok(id, 'every field has an id');
    const isNew = await at(page, id).evaluate((it) => !it.dataset.typed && (it.dataset.typed = 'yes'));
    if (!isNew) continue;
    kept[id] = sample(id);
    await type(at(page, id), kept[id]);
  }
  await stands(page, kept, 'all stand beside each other');
}

async function stands(page, kept, when) {
  const here = await ids(page);
  const wanted = Object.fromEntries(here.map((id) => [id, kept[id]]));
  const found = Object.fromEntries(here.map((id, index) => [id, index]));
  const texts = await values(page, here);
  for (const id of here) found[id] = texts[found[id]];
  assert.deepEqual(found, wanted, when);
}

async function reload(page) {
  await page.waitForSelector('html[data-saved=yes]', { state: 'attached' });
  await page.reload();
  await running(page);
  await page.locator('h1').first().waitFor();
}

const READS = ['Set to target', 'Read', 'Peak', 'Dip'];
const KINDS = [...READS, 'Inspect', 'Action', 'Hold point', 'Replace part', 'Wire', 'Socket'];
const TARGETS = [
  'Nominal ±', 'At least', 'At most', 'Between', 'From another step', 'Frequency plan', 'The channel',
  'A published limit', 'No target',
];
const ROUTES = ['Same quantity', 'Power in a load, from volts', 'Current, from a drop', 'Plausible in itself'];

// Opens what is folded away and adds a row to whatever has rows and none yet.
async function unfold(page) {
  await page.locator('details.more').evaluateAll((all) => all.forEach((it) => (it.open = true)));
  for (const rows of await page.locator('.rows').all()) {
    const folded = rows.locator('.entry-key[aria-expanded=false]');
    if (await folded.count()) await folded.first().tap();
    else if ((await rows.locator('.row-cells').count()) === 0) await rows.locator('> button').tap();
  }
  const second = button(page, 'Add a cross-check');
  if (await second.count()) await second.tap();
}

test('every field of every kind of step and target holds what is typed, and keeps it', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t, { device: TABLET })).visit(host);
  const hand = author(page);
  await begin(hand, 'All kinds');
  await hand.tap(button(page, 'Add a step Section 1'));
  const kept = {};
  for (const kind of KINDS) {
    await press(hand, kind);
    await unfold(page);
    for (const target of READS.includes(kind) ? TARGETS : []) {
      if (!(await button(page, target).count())) continue;
      await press(hand, target);
      await typeAll(page, kept);
    }
    for (const route of kind === KINDS[0] ? ROUTES : []) {
      await press(hand, route);
      await typeAll(page, kept);
    }
    await typeAll(page, kept);
    await reload(page);
    await unfold(page);
    await stands(page, kept, `${kind}: all is kept`);
  }
  assert.ok(Object.keys(kept).length >= 30, `${Object.keys(kept).length} fields`);
});

// What is published is what was typed, in steps of the kinds whose fields hold most.
test('what is typed into a stop, a part, a lead and figures is what is published', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t, { device: TABLET })).visit(host);
  const hand = author(page);
  await begin(hand, 'As typed');
  await hand.tap(button(page, 'Add a step Section 1'));
  const texts = [];
  const into = async (label, text) => {
    await type(field(page, label), text);
    texts.push(text);
  };
  const step = async (kind, fields) => {
    if (texts.length) await hand.tap(button(page, 'New step below'));
    await into('Title', `The ${kind.toLowerCase()}`);
    await press(hand, kind);
    for (const [label, text] of Object.entries(fields)) await into(label, text);
  };
  await step('Hold point', { 'To be confirmed': 'A 50 Ω load is on the aerial socket; I have looked.' });
  await step('Replace part', { Removed: 'Old fuse', Fitted: '2 A fuse', Why: 'It was blown' });
  await step('Wire', { From: 'Pin 4', To: 'Tag C; rear', Colour: 'blue / white' });
  await step('Read', {});
  await pick(hand, 'Test point', 'TP1');
  await pick(hand, 'Instrument', 'counter');
  await press(hand, 'Nominal ±');
  await into('Figure', '9.0015 MHz');
  await into('Tolerance ±', '20 Hz');
  await into('Minus tolerance', '15 Hz');
  await hand.tap(button(page, 'New step below'));
  await into('Title', 'Two figures');
  await press(hand, 'Between');
  await into('Lower figure', '9.10 MHz');
  await into('Upper figure', '9.250 MHz');
  await hand.tap(button(page, 'Add a control'));
  await into('Control 1', 'S1: rear');
  await into('Setting 1', 'half past; 9');
  await hand.tap(link(page, 'All steps of the draft'));
  await see(heading(page, 'As typed'));
  const { procedure } = await publish(hand, 1);
  const held = JSON.stringify(procedure);
  assert.deepEqual(texts.filter((text) => !held.includes(JSON.stringify(text))), []);
});

// Forms that keep nothing before their button is pressed.
const BUTTON_SCREENS = ['Details', 'Channels'];

// Names the fields in sight, so that each is found again as the element it is: of those that
// are alike but for a number two.
const marked = (page) =>
  page.evaluate((fields) => {
    const seen = {};
    const open = document.querySelector('dialog[open]') ?? document;
    const all = [...open.querySelectorAll(fields)].filter((it) => it.checkVisibility() && !it.disabled);
    return all.flatMap((it, index) => {
      const shape = it.id.replaceAll(/\d+/g, '#');
      seen[shape] = (seen[shape] ?? 0) + 1;
      if (seen[shape] > 2) return [];
      it.dataset.field = index;
      return [{ id: it.id, index, value: it.value, day: it.type === 'date', asked: open !== document }];
    });
  }, FIELDS);

const NAMES = /^(author-(adjusters|test-points|instruments)-\d+|oscillator-\d+)$/;

test('every field of every screen holds what is typed, and keeps what no button takes in', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t, { device: TABLET })).visit(host);
  const lost = [];
  let count = 0;
  for await (const { route, name } of screens(page, host)) {
    const fields = await marked(page);
    const typed = {};
    for (const { id, index, value, day } of fields) {
      const box = page.locator(`[data-field="${index}"]`);
      const { width } = await box.boundingBox();
      assert.ok(width >= 48, `${name}: ${id} is ${width} px wide`);
      const text = NAMES.test(id) ? `Name ${index}` : day ? '2027-03-31' : sample(id);
      await type(box, text);
      count += 1;
      const isKept = id && !UNTIL_A_BUTTON.test(id) && !BUTTON_SCREENS.includes(route);
      if (isKept && !day) typed[id] = { text, value };
      // What other steps of the tour stand on is put back.
      else if (!day) await (value ? type(box, value) : erase(box));
    }
    if (Object.keys(typed).length === 0) continue;
    await page.keyboard.press('Tab');
    const row = await page.locator('.entry-key').evaluateAll((all) => all.findIndex((it) => it.ariaExpanded === 'true'));
    await reload(page);
    // What is folded away at first is unfolded as it was.
    await page.locator('details.more').evaluateAll((all) => all.forEach((it) => (it.open = true)));
    if (row >= 0) await page.locator('.entry-key').nth(row).tap();
    const texts = await values(page, Object.keys(typed));
    for (const [place, [id, { text, value }]] of Object.entries(typed).entries()) {
      if (texts[place] !== text) lost.push(`${name}: ${id}: “${texts[place]}”, not “${text}”`);
      if (texts[place] !== undefined) await (value ? type(at(page, id), value) : erase(at(page, id)));
    }
    await page.keyboard.press('Tab');
  }
  assert.deepEqual(lost, []);
  assert.ok(count > 80, `${count} fields`);
});

test('a blank that is typed first in the name of an instrument stands, like any other sign', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t)).visit(host);
  await button(page, 'Load the demo').tap();
  await link(page, 'Jobs').tap();
  await link(page, 'Start a job').tap();
  await page.getByRole('link', { name: /28 MHz/ }).first().tap();
  await page.locator('details.more > summary').tap();
  const name = page.locator('[id^=instrument-]').first();
  await type(name, '  club meter');
  assert.equal(await name.inputValue(), '  club meter');
});

test('what no data sheet states of an instrument is kept as typed, and a percentage of decibels is refused', async (t) => {
  const host = await openHost(t, DIST);
  const page = await (await openBrowser(t, { device: TABLET })).visit(host);
  await page.goto(`${host.url}#/kit/new`);
  await type(page.locator('#kit-name'), 'Club wattmeter');
  await button(page, 'Add an uncertainty').tap();
  await page.locator('#further-0-unit').selectOption('W');
  await type(page.locator('#further-0-within'), '5 %');
  assert.equal(await page.locator('#further-0-k').count(), 0, 'a load has no coverage factor');
  await button(page, 'Add an uncertainty').tap();
  await page.locator('#further-1-from').selectOption({ label: 'the certificate' });
  await page.locator('#further-1-unit').selectOption('dBm');
  await type(page.locator('#further-1-within'), '3 %');
  await type(page.locator('#further-1-k'), '2.01');
  await button(page, 'Save').tap();
  await page.getByText('A percentage of decibels says nothing').waitFor();
  await page.waitForFunction(() => document.activeElement?.id === 'further-1-within');
  await type(page.locator('#further-1-within'), '0.3 dB');
  await button(page, 'Save').tap();
  await page.getByText('Club wattmeter is saved.').waitFor();
  await reload(page);
  await page.getByRole('link', { name: /Club wattmeter/ }).tap();
  for (const [id, value] of Object.entries({
    'further-0-within': '5 %', 'further-0-unit': 'W', 'further-1-within': '0.3 dB', 'further-1-unit': 'dBm', 'further-1-k': '2.01',
  })) assert.equal(await page.locator(`#${id}`).inputValue(), value, id);
});
