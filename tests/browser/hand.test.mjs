// The hands that all browser tests type with: they feel a field that loses what is typed, and no
// test writes into a field without them.

import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { test } from 'node:test';
import { openBrowser } from './bench.mjs';
import { add, compose, correct, erase, paste, type } from './hand.mjs';

// Each does to what is typed what an app has done somewhere.
const FAULTS = {
  'the field is made anew': (field) => field.addEventListener('input', () => field.replaceWith(field.cloneNode())),
  'the focus goes': (field) => field.addEventListener('input', () => field.blur()),
  'a blank at the end goes': (field) => field.addEventListener('input', () => (field.value = field.value.trimEnd())),
  'a sign goes later': (field) =>
    field.addEventListener('input', () => setTimeout(() => (field.value = field.value.slice(0, 1)))),
};

async function blankPage(t) {
  const browser = await openBrowser(t);
  const page = await browser.context.newPage();
  await page.setContent('<label>Field <input></label> <label>Lines <textarea></textarea></label> <label>Day <input type="date"></label>');
  return page;
}

test('hands write whatever stands, by keys, the clipboard, composition, correction and deleting', async (t) => {
  const page = await blankPage(t);
  const [field, lines] = ['Field', 'Lines'].map((label) => page.getByLabel(label));
  for (const box of [field, lines]) {
    await type(box, 'Probe  at TP1; Ω ± 5 ');
    await add(box, '%');
    await erase(box, 2);
    await compose(box, 'にほん');
    await type(box, 'Turn the cora');
    await correct(box, 'cora', 'core');
    assert.equal(await box.inputValue(), 'Turn the core');
    await erase(box);
  }
  await type(lines, 'one\ntwo');
  assert.equal(await lines.inputValue(), 'one\ntwo');
  await type(page.getByLabel('Day'), '2027-03-31');
});

for (const [name, spoil] of Object.entries(FAULTS)) {
  test(`hands feel it when ${name}`, async (t) => {
    const page = await blankPage(t);
    const field = page.getByLabel('Field');
    await field.evaluate(spoil);
    await assert.rejects(type(field, 'To be confirmed'), /Field|text/);
  });
}

test('no test writes into a field but with these hands', () => {
  const found = ['./', '../figures/'].flatMap((folder) => {
    const url = new URL(folder, import.meta.url);
    const files = readdirSync(url).filter((name) => name.endsWith('.mjs'));
    // The monkey presses whatever comes.
    return files.filter((name) => !['hand.mjs', 'hand.test.mjs', 'monkey.mjs'].includes(name)).flatMap((name) => {
      const lines = readFileSync(new URL(name, url), 'utf8').split('\n');
      const strokes = /\.fill\(|insertText\(|\.pressSequentially\(/;
      return lines.flatMap((line, index) => (strokes.test(line) ? [`${folder}${name}:${index + 1}: ${line.trim()}`] : []));
    });
  });
  assert.deepEqual(found, [], 'use type, add, erase, paste, compose or correct of hand.mjs');
});
