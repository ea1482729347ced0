// Files and tables that were made to hang the app or to fill the memory: how soon each is
// answered, by a sentence or by a bar with a key that stops it, what is said in the end, and how
// much memory the page takes for it.

import { createHash } from 'node:crypto';
import { readFileSync, readdirSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { deflateRawSync } from 'node:zlib';
import { TABLET, folder, openBrowser, openHost } from '../browser/bench.mjs';
import { author, begin } from '../browser/author.mjs';
import { goTo } from '../browser/everywhere.mjs';
import { button, link, see, stored, TRAINER } from '../browser/technician.mjs';
import { groupOf } from './ending.mjs';

const SOON = 2000;
const MOST = 300;
const LONGEST = 120_000;

const document = (type, rest) => JSON.stringify({ type: `halfturn-${type}`, version: 2, ...rest });

// Each gives a text; those of a table are pasted, the others opened as a file.
const CASES = [
  {
    name: '27 MB of {}',
    text: () => `{"type":"halfturn-backup","version":2,"backup":{"jobs":[${Array.from({ length: 9_000_000 }, () => '{}').join()}]}}`,
  },
  { name: 'a rescue file of 60 logs, each of which unpacks to 7 MB', text: (procedure) => rescue(procedure, 250_000, () => 'a') },
  { name: 'a rescue file of 60 logs, each as long as any that is read', text: (procedure) => rescue(procedure, 65_536, (number) => `e${number}`) },
  { name: 'a job file of eight pictures of 19000 × 19000', quick: true, text: pictures },
  { name: 'a cell of a million digits', pasted: true, quick: true, text: () => `Step\tTarget\nRail\t${'1234567890'.repeat(100_000)}` },
  { name: 'a table of 20,000 rows', pasted: true, quick: true, text: () => `Step\tTarget\n${'Rail\t5 V\n'.repeat(20_000)}` },
  { name: 'a table of 50,000 columns', pasted: true, text: () => `${'Step\t'.repeat(50_000)}\n${'a\t'.repeat(50_000)}` },
];

// A packed log as the store writes it: two deflated texts, 15 bits in a letter.
function packed(text) {
  const bits = [...deflateRawSync(text)].map((byte) => byte.toString(2).padStart(8, '0')).join('');
  return bits.match(/.{1,15}/g).map((each) => String.fromCharCode(0x4000 + parseInt(each.padEnd(15, '0'), 2))).join('');
}

function rescue(procedure, count, id) {
  const [key, text] = procedure;
  const noughts = Array.from({ length: count }, () => 0);
  const step = JSON.parse(text).sections[0].steps[0].id;
  const did = noughts.map((_, number) => (number ? { ticked: { step } } : { opened: { set: {} } }));
  const columns = { seq: noughts.map(() => 1), at: noughts, did };
  const ids = noughts.map((_, number) => `${id(number)}\n`).join('');
  const log = `${packed(ids)}.${packed(JSON.stringify(columns))}`;
  const job = JSON.stringify({ procedure: key.split(':').pop(), log });
  const jobs = Array.from({ length: 60 }, (_, number) => [`halfturn:job:j${number}`, job]);
  return JSON.stringify(Object.fromEntries([procedure, ...jobs].map(([key, value]) => [key, value ?? text])));
}

// Of each only the header is a picture's (ITU-T T.81, B.2.2): the rest is filled up.
function pictures() {
  const of = (number) => {
    const frame = [0xff, 0xd8, 0xff, 0xc0, 0, 11, 8, 19000 >> 8, 19000 & 255, 19000 >> 8, 19000 & 255, 1, 1, 0x11, 0];
    const bytes = Buffer.concat([Buffer.from(frame), Buffer.alloc(48_000, number), Buffer.from([0xff, 0xd9])]);
    const digest = createHash('sha256').update(bytes).digest('hex');
    return { digest, type: 'image/jpeg', data: bytes.toString('base64') };
  };
  const log = [{ id: 'e1', seq: 1, at: 1, did: { opened: { set: {} } } }];
  return document('job', { job: { id: 'j', procedure: TRAINER, log }, pictures: Array.from({ length: 8 }, (_, n) => of(n)) });
}

// How many MB the largest page of the browser takes.
function memory(group) {
  const sizes = readdirSync('/proc').filter((name) => /^\d+$/.test(name)).map((process) => {
    try {
      const stat = readFileSync(`/proc/${process}/stat`, 'utf8').split(') ')[1].split(' ');
      if (Number(stat[2]) !== group) return 0;
      if (!readFileSync(`/proc/${process}/cmdline`, 'utf8').includes('--type=renderer')) return 0;
      return Number(readFileSync(`/proc/${process}/status`, 'utf8').match(/VmRSS:\s*(\d+)/)?.[1] ?? 0) / 1024;
    } catch {
      return 0; // It has ended meanwhile.
    }
  });
  return Math.max(...sizes);
}

// In the page: notes when it answers, from the moment when it was given something.
const listen = (isTable) => {
  const told = { begun: undefined, bar: undefined, sentence: undefined, said: '' };
  globalThis.told = told;
  const begin = () => (told.begun ??= performance.now());
  window.addEventListener(isTable ? 'paste' : 'change', begin, { capture: true });
  const answer = () => {
    if (told.begun === undefined) return;
    if (document.querySelector('.long-work button')) told.bar ??= performance.now() - told.begun;
    const places = isTable
      ? '.author [role=status], .strip .line'
      : '.strip .line:not(.long-work), .preview .faulty .hint';
    const line = [...document.querySelectorAll(places)].find((it) => it.textContent.trim());
    if (line) {
      told.sentence ??= performance.now() - told.begun;
      told.said = line.textContent.trim();
    }
  };
  new MutationObserver(answer).observe(document.body, { childList: true, subtree: true, characterData: true });
};

async function give(page, { pasted, text, path }) {
  await page.evaluate(listen, Boolean(pasted));
  if (!pasted) {
    const chooser = page.waitForEvent('filechooser');
    await page.getByText('Choose a file', { exact: true }).tap();
    return (await chooser).setFiles(path);
  }
  await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
  await page.evaluate((it) => navigator.clipboard.writeText(it), text);
  await page.getByRole('textbox', { name: 'The table' }).focus();
  await page.keyboard.press('Control+v');
}

async function answered(page, group, isEnough) {
  const end = Date.now() + LONGEST;
  let most = 0;
  for (;;) {
    // A page that is busy does not answer a question, and its memory is looked at meanwhile.
    const asked = page.evaluate(() => ({ ...globalThis.told })).catch(() => ({}));
    let told;
    asked.then((it) => (told = it));
    while (!told && Date.now() < end) {
      most = Math.max(most, memory(group));
      await new Promise((next) => setTimeout(next, 50));
    }
    if (!told || isEnough(told) || Date.now() > end) return { ...told, most };
  }
}

async function atThe(page, { pasted }) {
  if (!pasted) return goTo(page, '#/data');
  await goTo(page, '#/procedures');
  await begin(author(page), 'From a table');
  await link(page, 'Steps from a table').tap();
  await see(page.getByRole('textbox', { name: 'The table' }));
}

export async function measure({ dist, quick, t }) {
  const host = await openHost(t, dist);
  const place = await folder(t);
  const rows = [];
  for (const each of CASES.filter((it) => it.quick || !quick)) {
    const browser = await openBrowser(t, { device: TABLET });
    const page = await browser.visit(host);
    const group = groupOf(browser);
    await button(page, 'Load the demo').tap();
    await see(button(page, 'Report').or(link(page, 'Report')));
    const procedure = Object.entries(await stored(page)).find(([key]) => key.startsWith('halfturn:procedure:'));
    const text = each.text(procedure);
    const path = join(place, 'hostile.json');
    await writeFile(path, text);
    await atThe(page, each);
    const before = memory(group);
    await give(page, { ...each, text, path });
    const whole = await answered(page, group, ({ sentence }) => sentence !== undefined);
    const stop = whole.bar === undefined ? undefined : await stopped(browser, page, each, { text, path });
    rows.push(...rowsOf(each, whole, before, stop));
    await browser.close();
  }
  return rows;
}

// The same once more, and the key of the bar as soon as it is there: what is said then, and when.
async function stopped(browser, page, each, given) {
  await page.reload();
  await see(page.getByText('Choose a file', { exact: true }));
  await give(page, { ...each, ...given });
  const key = button(page, 'Stop');
  const isThere = await key.waitFor({ timeout: 20_000 }).then(() => true, () => false);
  if (!isThere) return undefined;
  const begun = Date.now();
  await key.tap().catch(() => {});
  const said = page.getByText('Stopped. Nothing was changed.');
  const isSaid = await said.waitFor({ timeout: 20_000 }).then(() => true, () => false);
  return isSaid ? Date.now() - begun : undefined;
}

function rowsOf({ name }, { bar, sentence, said = '', most }, before, stop) {
  const first = Math.min(bar ?? Infinity, sentence ?? Infinity);
  const shown = bar === undefined ? 'no bar' : `the bar after ${Math.round(bar)} ms, ${stop === undefined ? 'over before its key was tapped' : `stopped ${stop} ms after its key`}`;
  return [
    {
      figure: `First answer to ${name}`,
      value: Number.isFinite(first) ? Math.round(first) : 'none',
      unit: 'ms',
      goal: `≤ ${SOON} ms`,
      met: first <= SOON,
      how: `${shown}; the sentence after ${Math.round(sentence)} ms: “${said.slice(0, 110)}”`,
      wrong: said ? undefined : `nothing is said of ${name}`,
    },
    {
      figure: `Memory of the page with ${name}`,
      value: Math.round(most),
      unit: 'MB',
      goal: `≤ ${MOST} MB`,
      met: most <= MOST,
      how: `resident set of the page's process, looked at every 50 ms; ${Math.round(before)} MB before`,
    },
  ];
}
