// Whatever a person or a file puts into a text: it stays text, on every screen, on the sheet and
// in the saved sheet. Nothing of it runs, becomes an element or asks for anything.

import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';
import Ajv from 'ajv/dist/2020.js';
import { DIST, folder, openBrowser, openHost } from './bench.mjs';
import { addresses, few, goTo, stocked } from './everywhere.mjs';
import { button, chooseFile, heading, savedFile, see, seeText } from './technician.mjs';
import { paste, type } from './hand.mjs';

// Ends an attribute, a tag, a comment, a style and a script, and begins what would run.
const MARKUP = `'"--></style></script><img src=gone onerror=alert(1)><script>alert(2)</script><svg onload=alert(3)>`;
// As much of it as a name may hold.
const SHORT = `"><img src=gone onerror=alert(1)>`;

// Hears everything that would show that a text was taken for more than a text.
async function watched(t) {
  const host = await openHost(t, DIST);
  const browser = await openBrowser(t);
  const heard = [];
  const { context } = browser;
  context.on('dialog', (dialog) => {
    heard.push(`dialog: ${dialog.message()}`);
    dialog.dismiss();
  });
  context.on('console', (message) => heard.push(`console: ${message.text()}`));
  context.on('request', (request) => {
    if (request.url().endsWith('gone')) heard.push(`request: ${request.url()}`);
  });
  await context.addInitScript(() => {
    const check = (node) => {
      if (node.nodeType !== Node.ELEMENT_NODE) return;
      for (const each of [node, ...node.querySelectorAll('*')]) {
        const handler = [...each.attributes].find(({ name }) => name.startsWith('on'));
        const odd = each.matches('iframe, object, embed, form[action], a[href^="javascript:" i]');
        const script = each.matches('script:not([src]), img[src="gone"]');
        if (handler || odd || script) console.warn(`injected: ${each.outerHTML}`);
      }
    };
    new MutationObserver((records) => {
      for (const { addedNodes } of records) addedNodes.forEach(check);
    }).observe(document, { childList: true, subtree: true });
  });
  return { host, browser, heard, page: await browser.visit(host) };
}

test('what would be injected is heard', async (t) => {
  const { browser, page, heard } = await watched(t);
  browser.expect(/policy|404/i);
  await page.evaluate((html) => document.body.insertAdjacentHTML('beforeend', html), SHORT);
  await page.waitForTimeout(200);
  assert.ok(heard.some((text) => text.startsWith('request: ')), heard.join());
  assert.ok(heard.some((text) => text.startsWith('console: injected: <img')), heard.join());
});

// Fills and submits every field there is on the screen.
async function fillAll(page) {
  // No hand reaches behind an open question.
  const question = page.locator('dialog[open]');
  const place = (await question.count()) ? question.last() : page;
  const fields = place.locator('input:not([type=checkbox], [type=radio], [type=file]), textarea');
  for (let index = 0; index < (await fields.count()); index += 1) {
    const field = fields.nth(index);
    if (!(await field.isEditable()) || !(await field.isVisible())) continue;
    if (await field.evaluate((it) => globalThis.filled?.has(it))) continue;
    const isDay = (await field.getAttribute('type')) === 'date';
    // A field for a day takes only days.
    await (isDay ? type(field, '2027-01-31') : paste(field, MARKUP));
    await field.blur();
  }
  await page.evaluate(() => document.querySelectorAll('form').forEach((form) => {
    if (form.checkVisibility()) form.requestSubmit();
  }));
}

// Presses each button of the screen, coming back to it each time, and fills what it opens.
async function tryAll(page, address) {
  await goTo(page, address);
  const names = await page.getByRole('button').evaluateAll((all) =>
    all.map((each) => each.getAttribute('aria-label') ?? each.textContent));
  await fillAll(page);
  // The keypad's keys, and whatever takes data off the device, are for other tests.
  const keys = /^.$|^Remove|^Update now|^Change the sign|^Delete|^Clear/;
  for (const name of new Set(names.filter((text) => text.length && !keys.test(text)))) {
    await goTo(page, address);
    const target = page.getByRole('button', { name, exact: true }).first();
    if (!(await target.isVisible()) || !(await target.isEnabled())) continue;
    // What stands on the screen was filled in before; now it is the turn of what opens.
    await page.evaluate(() => {
      globalThis.filled = new WeakSet(document.querySelectorAll('input, textarea'));
    });
    await target.tap({ timeout: 5000 }).catch(() => {}); // It may have gone with the last press.
    // Another screen is among the addresses; what opened on this one is not.
    if (new URL(page.url()).hash === address) await fillAll(page);
    await page.keyboard.press('Escape');
  }
}

test('markup typed into every field of every screen stays text', async (t) => {
  const { page, heard } = await watched(t);
  await stocked(page);
  const screens = await addresses(page, few(2));
  assert.ok(screens.length > 20, screens.join(' '));
  for (const address of screens) await tryAll(page, address);
  // Once more, with all of it stored.
  await page.reload();
  for (const address of await addresses(page, few(3))) await goTo(page, address);
  assert.deepEqual(heard, []);
  assert.ok((await page.evaluate(() => JSON.stringify({ ...localStorage }))).includes('onerror'));
});

// A job's file in which every text that may be any text is one of markup, the same texts alike,
// so that names still fit each other.
function marked(text) {
  const document = JSON.parse(text);
  // An event without a check is taken as it is.
  for (const event of document.job.log) delete event.check;
  const folder = new URL('../../public/schema/', import.meta.url);
  const schemas = readdirSync(folder).filter((name) => name.startsWith('halfturn-job-'));
  const schema = JSON.parse(readFileSync(new URL(schemas.sort().at(-1), folder), 'utf8'));
  const valid = new Ajv({ strict: false }).compile(schema);
  assert.ok(valid(document), JSON.stringify(valid.errors));
  let count = 0;
  const walk = (parent) => {
    for (const [key, value] of Object.entries(parent)) {
      if (value && typeof value === 'object') walk(value);
      if (typeof value !== 'string' || value === '' || ['set', 'limit'].includes(key)) continue;
      parent[key] = SHORT;
      // What refuses this is a number, a unit, a day or one of a few words.
      const free = valid(document);
      parent[key] = free ? `${value.slice(0, 30)}${SHORT}` : value;
      count += free;
    }
  };
  walk(document.job);
  assert.ok(count > 300, `${count} texts`);
  return JSON.stringify(document);
}

test('markup in every text of a job’s file stays text, on the screens and on the saved sheet', async (t) => {
  const { host, browser, page, heard } = await watched(t);
  await stocked(page);
  await page.getByRole('link', { name: 'Jobs', exact: true }).tap();
  await page.getByRole('link', { name: /QRC-07/ }).tap();
  const id = new URL(page.url()).hash.split('/')[2];
  await goTo(page, `#/job/${id}/finish`);
  const file = await savedFile(page, () => button(page, 'Save the job as a file').tap());
  await page.evaluate(() => localStorage.clear());
  await page.goto(`${host.url}#/data`);
  await page.reload();
  await see(heading(page, 'Files'));
  const buffer = Buffer.from(marked(file.text));
  await chooseFile(page, { name: 'job.json', mimeType: 'application/json', buffer });
  await seeText(page, 'New here: it will be added.');
  await button(page, 'Import selected').tap();
  await seeText(page, '1 item imported.');

  const screens = await addresses(page, few(60));
  assert.ok(screens.filter((address) => address.includes('/step/')).length > 20, screens.join(' '));
  for (const address of screens) await goTo(page, address);
  // Other jobs may have come back from the database: that of the file has markup in its id too.
  const report = screens.find((address) => address.includes('onerror') && address.endsWith('/report'));
  await goTo(page, report);
  await see(page.getByText(SHORT));
  const sheet = await savedFile(page, () => button(page, 'Save as a page').tap());
  assert.deepEqual(heard, []);

  const place = await folder(t);
  await writeFile(join(place, 'index.html'), sheet.text);
  browser.expect(/request left: file:/);
  const kept = await browser.context.newPage();
  await kept.goto(`file://${join(place, 'index.html')}`);
  await see(kept.getByText(SHORT));
  assert.deepEqual(heard, []);
});

test('the page’s policy has no exception for inline scripts or styles, nor for other hosts', async () => {
  const page = readFileSync(join(DIST, 'index.html'), 'utf8');
  const policy = page.match(/http-equiv="Content-Security-Policy" content="([^"]*)"/)[1];
  const rules = Object.fromEntries(policy.split(';').map((rule) => {
    const [name, ...sources] = rule.trim().split(/\s+/);
    return [name, sources];
  }));
  assert.deepEqual(rules['default-src'], ["'none'"]);
  assert.deepEqual(rules['script-src'], ["'self'", "'wasm-unsafe-eval'"]);
  assert.deepEqual(rules['style-src'], ["'self'"]);
  assert.deepEqual(rules['base-uri'], ["'none'"]);
  assert.deepEqual(rules['form-action'], ["'none'"]);
  const allowed = ["'self'", "'none'", "'wasm-unsafe-eval'", 'data:', 'blob:'];
  for (const [name, sources] of Object.entries(rules)) {
    for (const source of sources) assert.ok(allowed.includes(source), `${name} ${source}`);
    if (name !== 'img-src') assert.ok(!sources.includes('data:') && !sources.includes('blob:'), name);
  }
  assert.ok(!/<script(?![^>]*\bsrc=)[^>]*>|<style|\sstyle=|\son[a-z]+=/i.test(page), 'nothing inline in the page itself');
});
