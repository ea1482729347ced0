// The calculations on screen: each works by touch, shows what is in print, keeps what was
// typed and can hand its result to the step that is open.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { DIST, PHONE, TABLET, barriers, openBrowser, openHost, running } from './bench.mjs';
import { VALUES } from './sum_values.mjs';
import { type } from './hand.mjs';

const PRINTED = [
  ['level', { level: '0' }, 'Voltage (PD)', '224 mV rms', '0 dBm in 50 Ω is 223.6 mV rms: 1 mW by Joule’s law'],
  ['level', { level: '0.000' }, 'Voltage (PD)', '223.6 mV rms', 'the same with the digits to show it'],
  ['match-swr', { swr: '1.5' }, 'Return loss', '13.98 dB', 'published tables of SWR and return loss'],
  ['pep', { crest: '200' }, 'PEP', '100 W PEP', 'NCVEC question pool G5B06'],
  ['match-load', { load: '200' }, 'SWR', '4.00 :1', 'NCVEC question pool G9A09'],
  ['fm-index', { deviation: '5', tone: '3' }, 'Modulation index', '1.67', 'NCVEC question pool E8B03'],
  ['s-meter-level', { units: '9' }, 'Level', '−73.00 dBm', 'IARU Region 1 Technical Recommendation R.1'],
];

async function open(t, device = TABLET) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t, { device });
  const page = await browser.visit(host);
  await page.getByRole('link', { name: 'Calculations' }).tap();
  await page.getByRole('heading', { name: 'Calculations', level: 1 }).waitFor();
  return page;
}

// The ids of all sums in the list.
const listed = (page) =>
  page.$$eval('.index a', (links) => links.map((link) => link.getAttribute('href').slice(7)));

async function choose(page, id) {
  await page.locator(`.index a[href="#/sums/${id}"]`).tap();
  await page.locator('.sum-results').waitFor();
}

async function fill(page, values) {
  for (const [input, value] of Object.entries(values)) {
    await type(page.locator(`#sum-${input}`), value);
  }
}

// What stands beside a label, with plain spaces.
async function result(page, label) {
  const rows = page.locator('.result').filter({ has: page.locator('dt', { hasText: label }) });
  const text = await rows.first().locator('dd').first().textContent();
  return text.replaceAll('\u00a0', ' ');
}

const back = (page) => page.getByRole('link', { name: 'All calculations' }).tap();

for (const [name, device] of [['tablet', TABLET], ['phone', PHONE]]) {
  test(`every sum is opened and worked by touch on a ${name}`, async (t) => {
    const page = await open(t, device);
    const ids = await listed(page);
    assert.deepEqual([...ids].sort(), Object.keys(VALUES).sort(), 'a value for every sum');
    for (const id of ids) {
      await choose(page, id);
      await fill(page, VALUES[id]);
      const outcome = page.locator('.results');
      await outcome.waitFor({ timeout: 5000 }).catch(() => assert.fail(`${id} shows no result`));
      assert.match(await outcome.textContent(), /\S/, id);
      const faults = await page.locator('.sum .error').allTextContents();
      assert.deepEqual(faults.filter(Boolean), [], `${id} complains`);
      for (const picture of await page.locator('svg.picture').all()) {
        const said = await picture.getAttribute('aria-label');
        assert.doesNotMatch(said, /NaN|∞|undefined/, id);
        assert.doesNotMatch(await picture.innerHTML(), /NaN|inf/, id);
      }
      const wider = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      assert.ok(wider <= 0, `${id} is ${wider} px wider than the screen`);
      if (device === TABLET) assert.deepEqual(await barriers(page), [], id);
      await back(page);
    }
  });
}

test('results that are in print stand on the screen', async (t) => {
  const page = await open(t);
  for (const [id, values, label, expected, source] of PRINTED) {
    await choose(page, id);
    await fill(page, values);
    assert.equal(await result(page, label), expected, source);
    await back(page);
  }
});

test('a sum is found by what is typed, and says what it needs', async (t) => {
  const page = await open(t);
  const find = page.getByLabel('Find');
  await type(find, 'forward reflected');
  assert.deepEqual(await listed(page), ['match-powers']);
  await type(find, 'zzz');
  await page.getByText('No calculation has “zzz”').waitFor();
  await type(find, 'pep crest');
  await choose(page, 'pep');
  await page.getByText('Still needed: Voltage at the crest of the envelope').waitFor();
  const crest = page.getByLabel('Voltage at the crest of the envelope', { exact: true });
  await type(crest, '20x');
  await page.getByText('“x” is not a unit that is known here').waitFor();
  assert.equal(await crest.getAttribute('aria-invalid'), 'true');
  await type(crest, '20 W');
  await page.getByText('W does not belong here: use one of V p-p, mV p-p.').waitFor();
  await type(crest, '20');
  assert.equal(await result(page, 'PEP'), '1.00 W PEP');
  await page.getByRole('button', { name: 'millivolts peak to peak' }).tap();
  assert.equal(await result(page, 'PEP'), '1.00 µW PEP');
});

test('what was typed is there after a reload, until it is cleared', async (t) => {
  const page = await open(t);
  await choose(page, 'level');
  await page.getByLabel('Unit of Level').selectOption('W');
  await fill(page, { level: '4.00', impedance: '75' });
  const before = await page.locator('.results').textContent();
  await page.reload();
  await running(page);
  await page.getByRole('heading', { name: 'Level: power, volts and decibels' }).waitFor();
  assert.equal(await page.locator('#sum-level').inputValue(), '4.00');
  assert.equal(await page.locator('#sum-impedance').inputValue(), '75');
  assert.equal(await page.getByLabel('Unit of Level').inputValue(), 'W');
  assert.equal(await page.locator('.results').textContent(), before);
  await page.getByRole('button', { name: 'Clear' }).tap();
  assert.equal(await page.locator('#sum-level').inputValue(), '');
  assert.equal(await page.locator('#sum-impedance').inputValue(), '50');
  await page.reload();
  await running(page);
  assert.equal(await page.locator('#sum-level').inputValue(), '');
});

test('tables of channels and limits name their sources', async (t) => {
  const page = await open(t);
  await page.getByRole('link', { name: 'Channel tables' }).tap();
  await page.getByText('Source: 47 CFR 95.963').waitFor();
  const channel = page.locator('.channels li').filter({ hasText: /^19/ });
  assert.equal((await channel.textContent()).replaceAll('\u00a0', ' '), '1927.185 MHz');
  assert.deepEqual(await barriers(page), []);
  await back(page);
  await page.getByRole('link', { name: 'Limits', exact: true }).tap();
  await page.getByText('and the licence, decide').waitFor();
  const row = page.getByRole('row').filter({ hasText: '95.967(b)' });
  assert.match(await row.textContent(), /12\u00a0W.*read in the document/);
  assert.deepEqual(await barriers(page), []);
});

// Opens a step of the demo by its title and goes on to the sums from there.
async function sumsFrom(page, title) {
  await page.getByRole('link', { name: title }).tap();
  await page.getByRole('heading', { name: title, level: 1 }).waitFor();
  await page.locator('.step-head').getByRole('link', { name: 'Calculations' }).tap();
  await page.locator('.index').first().waitFor();
}

test('a result goes into the open step with its working, or is refused with a reason', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await page.getByRole('button', { name: 'Load the demo' }).tap();
  await sumsFrom(page, 'Current at rest');
  await choose(page, 'quiescent');
  await fill(page, { drop: '0.504', resistance: '2' });
  // The way back and the button outlive a reload.
  await page.reload();
  await running(page);
  await page.getByRole('link', { name: 'Back to step 9' }).waitFor();
  await page.getByRole('button', { name: 'Use as the reading of step 9' }).tap();
  await page.getByRole('heading', { name: 'Current at rest', level: 1 }).waitFor();
  assert.equal((await page.locator('.figure').textContent()).replaceAll('\u00a0', ' '), '252 mA');
  const working = 'Worked out: Quiescent current from a drop: ' +
    'Drop across the resistor 0.504 V, Resistor 2 Ω → Current 252 mA';
  const notes = (await page.locator('.notes').textContent()).replaceAll('\u00a0', ' ');
  assert.ok(notes.includes(working), notes);
  // The last entry is the reading, so that is what an undo takes back.
  await page.getByRole('button', { name: 'Undo' }).tap();
  await page.getByText('Undone:').waitFor();
  assert.doesNotMatch(await page.locator('.taken').textContent().catch(() => ''), /252/);

  await page.getByRole('link', { name: 'All steps' }).tap();
  await sumsFrom(page, 'SSB peak power');
  await choose(page, 'pep');
  await fill(page, { crest: '63.2' });
  const use = page.getByRole('button', { name: /^Use as the reading of step \d+: PEP/ });
  await use.tap();
  await page.getByText('Locked until hold point').waitFor();
  await page.getByRole('heading', { name: 'PEP from the crest', level: 1, exact: false }).waitFor();
});

test('a channel table of one’s own is kept beside the others, and says what it can’t read', async (t) => {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const page = await browser.visit(host);
  await page.evaluate(() => (location.hash = '#/channels'));
  const press = (name) => page.getByRole('button', { name, exact: true }).tap();
  await type(page.getByLabel('Name of the table'), 'Quillmere trainers');
  await type(page.getByLabel('Where it is from'), 'The club’s own plan');
  await type(page.getByLabel('Channels', { exact: true }), '1 28.300\n2 28,31');
  await press('Save the table');
  await page.getByText('Line 2: The decimal sign is a point here').waitFor();
  await type(page.getByLabel('Channels', { exact: true }), '1 28.300\n2 28.310');
  await press('Save the table');
  await page.getByRole('list', { name: 'Quillmere trainers' }).getByText('28.310').waitFor();
  await page.reload();
  await press('Quillmere trainers');
  await page.getByText('The club’s own plan').waitFor();
  await press('Remove this table');
  await page.getByRole('button', { name: 'Quillmere trainers' }).waitFor({ state: 'detached' });
});
