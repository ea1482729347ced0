// What a backup of years of work costs: writing and reading it against what the browser's own
// JSON takes for the same bytes, the whole way out and in, and the longest frame meanwhile.

import assert from 'node:assert/strict';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { TABLET, folder, openBrowser, openHost } from '../browser/bench.mjs';
import { button, heading, link, savedFile, see } from '../browser/technician.mjs';
import { median } from './statistics.mjs';
import { fill } from './years.mjs';

const RATIO = 3;
const FRAME = 100;
const PATIENCE = 300_000;

export async function measure({ dist, quick, t }) {
  const jobs = quick ? 6 : 1000;
  const rounds = quick ? 1 : 7;
  const host = await openHost(t, dist);

  const full = await opened(t, host);
  await fill(full, jobs);
  await link(full, 'Files').tap();
  await see(heading(full, 'Backup'));
  const out = [];
  for (let round = 0; round < rounds; round += 1) out.push(await save(full));
  const { text } = out[0];
  assert.ok(out.every((each) => each.text === text), 'each time the same bytes');
  assert.equal(JSON.parse(text).backup.jobs.length, jobs + 1, 'all jobs and the demo’s');
  const path = join(await folder(t), 'backup.json');
  writeFileSync(path, text);

  const empty = await opened(t, host);
  await link(empty, 'Files').tap();
  const looked = [];
  for (let round = 0; round < rounds; round += 1) {
    if (round > 0) await button(empty, 'Cancel').tap();
    looked.push(await look(empty, path));
  }
  const taken = await take(empty);
  const again = await save(empty);
  const same = again.text === text;

  const size = `${(text.length / 2 ** 20).toFixed(1)} MiB`;
  const of = (all, name) => median(all.map((each) => each[name]));
  const ratio = (figure, ours, theirs, how) => ({
    figure,
    value: (ours / theirs).toFixed(2),
    unit: '×',
    goal: `≤ ${RATIO} ×`,
    met: ours / theirs <= RATIO,
    how: `${ours.toFixed(0)} ms and ${theirs.toFixed(0)} ms, medians of ${rounds}, by turns in one page; ${size}; ${how}`,
  });
  const frame = (figure, longest) => ({
    figure,
    value: longest.gap.toFixed(0),
    unit: 'ms',
    goal: `≤ ${FRAME} ms`,
    met: longest.gap <= FRAME,
    how: `longest time between two animation frames; longest task ${longest.task.toFixed(0)} ms`,
  });
  const whole = (figure, ms, theirs, how) => ({
    figure,
    value: (ms / 1000).toFixed(2),
    unit: 's',
    how: `${(ms / theirs).toFixed(1)} × the browser’s own; ${how}`,
  });
  const most = (all) => ({
    gap: Math.max(...all.map((each) => each.gap)),
    task: Math.max(...all.map((each) => each.task)),
  });
  const wrong = same ? undefined : 'what was brought into an empty profile is exported otherwise';
  const spans = (each, ...names) => names.map((name) => `${name} ${each[name].toFixed(0)} ms`).join(', ');
  return [
    {
      ...ratio(
        `Writing a backup of ${jobs} jobs against JSON.stringify`, of(out, 'writing'), of(out, 'stringify'),
        'documents into the parts of a file, with the pauses for painting, against JSON.stringify with an indent of 2, which gives these bytes',
      ),
      wrong,
    },
    ratio(
      `Reading a backup of ${jobs} jobs against JSON.parse`, of(looked, 'reading'), of(looked, 'parse'),
      'text into documents that were checked, with the pauses for painting, against JSON.parse of the same text',
    ),
    whole(
      'The whole export', of(out, 'whole'), of(out, 'stringify'),
      `from the tap to the download; of it ${spans(out.at(-1), 'gathering', 'writing')} in the last round`,
    ),
    whole(
      'The whole import into an empty profile', of(looked, 'whole') + taken.whole, of(looked, 'parse'),
      `from the choice of the file to the list of what it holds, and from the tap to the sentence that all is taken; of it ${spans(looked.at(-1), 'reading', 'comparing')}, ${spans(taken, 'taking')}, the rest is the file’s text and what is shown`,
    ),
    frame(`Longest frame while ${jobs} jobs are saved`, most(out)),
    frame(`Longest frame while ${jobs} jobs are read and compared`, most(looked)),
    frame(`Longest frame while ${jobs} jobs are taken in`, taken),
  ];
}

async function opened(t, host) {
  const browser = await openBrowser(t, { device: TABLET });
  await browser.context.addInitScript(helpers);
  const page = await browser.visit(host);
  page.setDefaultTimeout(PATIENCE);
  return page;
}

// What runs in the page: the policy lets nothing be made there from a text.
const helpers = () => {
  // The file that the page reads, kept before the app empties the field.
  document.addEventListener('change', ({ target }) => {
    if (target.id === 'file') [globalThis.chosen] = target.files;
  }, true);
  const { createObjectURL } = URL;
  URL.createObjectURL = (blob) => createObjectURL.call(URL, (globalThis.written = blob));
  const longest = { gap: 0, task: 0, on: false, begun: 0 };
  new PerformanceObserver((list) => {
    for (const { startTime, duration } of list.getEntries()) {
      if (startTime >= longest.begun) longest.task = Math.max(longest.task, duration);
    }
  }).observe({ type: 'longtask' });
  globalThis.watch = () => {
    Object.assign(longest, { gap: 0, task: 0, on: true, begun: performance.now() });
    performance.clearMeasures();
    let last;
    const frame = (now) => {
      if (last !== undefined) longest.gap = Math.max(longest.gap, now - last);
      last = now;
      if (longest.on) requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  };
  // Ends two frames later, so that what the work left to paint is in.
  globalThis.watched = async () => {
    const whole = performance.now() - longest.begun;
    for (let frames = 0; frames < 2; frames += 1) await new Promise(requestAnimationFrame);
    longest.on = false;
    const { gap, task } = longest;
    const stages = { reading: 0, comparing: 0, taking: 0, gathering: 0, writing: 0 };
    for (const { name, duration } of performance.getEntriesByType('measure')) {
      const stage = name.replace('halfturn-', '');
      if (stage in stages) stages[stage] += duration;
    }
    return { whole, gap, task, ...stages };
  };
  globalThis.timed = (run) => {
    const begun = performance.now();
    const made = run();
    return [performance.now() - begun, made];
  };
};

// Saves a backup, and has the browser write the same.
async function save(page) {
  await page.evaluate(() => globalThis.watch());
  const { text } = await savedFile(page, () => button(page, 'Save a backup').tap());
  const seen = await page.evaluate(() => globalThis.watched());
  const [stringify, same] = await page.evaluate(async () => {
    const bytes = await globalThis.written.text();
    const value = JSON.parse(bytes);
    const [took, made] = globalThis.timed(() => JSON.stringify(value, null, 2));
    return [took, `${made}\n` === bytes];
  });
  assert.ok(same, 'JSON.stringify gives the same bytes');
  return { text, stringify, ...seen };
}

// Chooses a file until what it holds is listed, and has the browser read the same.
async function look(page, path) {
  await page.evaluate(() => globalThis.watch());
  await page.locator('#file').setInputFiles(path);
  await see(heading(page, 'Contents'));
  const seen = await page.evaluate(() => globalThis.watched());
  const parse = await page.evaluate(async () => {
    const text = await globalThis.chosen.text();
    const [took, value] = globalThis.timed(() => JSON.parse(text));
    if (value.type !== 'halfturn-backup') throw new Error('no backup');
    return took;
  });
  return { parse, ...seen };
}

async function take(page) {
  await page.evaluate(() => globalThis.watch());
  await button(page, 'Import selected').tap();
  await page.getByText('items imported.').waitFor();
  return page.evaluate(() => globalThis.watched());
}
