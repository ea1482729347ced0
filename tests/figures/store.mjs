// What years of work cost: the room they take, and whether the start, the list, a reading and
// its verdict are as quick with a thousand finished jobs as with ten.

import { TABLET, openBrowser, openHost, running } from '../browser/bench.mjs';
import { byTouch, field, heading, link, see, startJob } from '../browser/technician.mjs';
import { interleaved, median } from './statistics.mjs';
import { fill, units } from './years.mjs';

const ROOM = 5 * 1024 * 1024;
const RATIO = 1.2;
const FRAME = 1000 / 60;
const SLOWER = 4;

export async function measure({ dist, quick, t }) {
  const [few, many] = quick ? [10, 40] : [10, 1000];
  const rounds = quick ? 3 : 25;
  const host = await openHost(t, dist);
  const pages = {};
  for (const count of [few, many]) pages[count] = await filled(t, host, count);
  const both = (run) =>
    interleaved(rounds, { few: () => run(pages[few]), many: () => run(pages[many]) });
  const started = await both(start);
  const listed = await both(list);
  const found = await both(find);
  for (const count of [few, many]) await toStep(pages[count]);
  const saved = await both(save);
  const ratio = (figure, { few: less, many: more }, how) => {
    const value = median(more) / median(less);
    return {
      figure: `${figure}, with ${many} jobs against ${few}`,
      value: value.toFixed(2),
      unit: '×',
      goal: `≤ ${RATIO} ×`,
      met: value <= RATIO,
      how: `medians ${median(more).toFixed(1)} ms and ${median(less).toFixed(1)} ms of ${rounds} each, by turns; ${how}`,
    };
  };
  return [
    await size(pages[many], many),
    ratio('Start', started, 'from the reload to the painted jobs screen'),
    ratio('Jobs screen', listed, 'from the tap on “Jobs”, on the screen of procedures, to the painted list'),
    ratio('Search', found, 'from the last letter to the painted finds: the same job, set and procedure in both'),
    ratio('Saving a reading', parts(saved, 'shown'), 'from Enter to the painted row'),
    ratio('A reading on the disk', parts(saved, 'safe'), 'from Enter to the strict commit of the journal'),
    await verdict(pages[many], many, quick ? [20] : [400], LAST_DIGIT),
    await verdict(pages[many], many, quick ? [10] : Array.from({ length: 10 }, () => 20), ENTER),
  ];
}

const parts = ({ few, many }, name) => ({
  few: few.map((each) => each[name]),
  many: many.map((each) => each[name]),
});

async function filled(t, host, count) {
  const browser = await openBrowser(t, { device: TABLET });
  await browser.context.addInitScript(helpers);
  const page = await browser.visit(host);
  await fill(page, count);
  return page;
}

async function size(page, jobs) {
  const taken = await units(page);
  return {
    figure: `Room that ${jobs} finished jobs of 40 steps take`,
    value: Math.round((taken / ROOM) * 100),
    unit: '% of 5 × 1024 × 1024 UTF-16 code units',
    goal: '≤ 100 %',
    met: taken <= ROOM,
    how: `${taken} code units in local storage, keys included; two readings a step`,
  };
}

// What runs in the page: the policy lets nothing be made there from a text.
const helpers = () => {
  globalThis.bench = {
    // Ends when the frame that shows what is there now has been painted.
    painted: () =>
      new Promise((done) => {
        requestAnimationFrame(() => {
          const { port1, port2 } = new MessageChannel();
          port1.onmessage = () => done(performance.now());
          port2.postMessage('');
        });
      }),
    // Puts a number into the field, as its keys do.
    type: (text) => {
      const field = document.querySelector('#reading');
      field.value = text;
      field.dispatchEvent(new Event('input', { bubbles: true }));
    },
  };
};

async function start(page) {
  await page.evaluate(() => (location.hash = '#/'));
  await see(heading(page, 'Jobs'));
  await page.reload();
  await running(page);
  await see(heading(page, 'Jobs'));
  return page.evaluate(() => globalThis.bench.painted());
}

async function list(page) {
  await link(page, 'Procedures').tap();
  await see(heading(page, 'Procedures'));
  return page.evaluate(async () => {
    const begun = performance.now();
    [...document.querySelectorAll('nav a')].find((a) => a.textContent === 'Jobs').click();
    while (document.querySelector('h1')?.textContent !== 'Jobs') {
      await new Promise((next) => setTimeout(next, 0));
    }
    return (await globalThis.bench.painted()) - begun;
  });
}

// Only the demo's half-done job has these words.
const WORDS = 'quillmere shelf';

async function find(page) {
  await link(page, 'Jobs').tap();
  await see(heading(page, 'Jobs'));
  return page.evaluate(async (words) => {
    const { painted } = globalThis.bench;
    const field = document.querySelector('#find');
    const type = (text) => {
      field.value = text;
      field.dispatchEvent(new Event('input', { bubbles: true }));
    };
    type(words.slice(0, -1));
    await painted();
    const begun = performance.now();
    type(words);
    const took = (await painted()) - begun;
    const cards = document.querySelectorAll('a.card').length;
    if (cards !== 1) throw new Error(`${cards} jobs found`);
    return took;
  }, WORDS);
}

async function toStep(page) {
  await link(page, 'Jobs').tap();
  await startJob(byTouch(page), 'QRC-999');
  await field(page).waitFor();
}

let typed = 0;

async function save(page) {
  typed += 1;
  return page.evaluate(async (text) => {
    const { painted, type } = globalThis.bench;
    type(text);
    await painted();
    const rows = () => document.querySelectorAll('table.taken tr').length;
    const before = rows();
    const root = document.documentElement;
    const safe = new Promise((done) => {
      new MutationObserver(() => {
        if (root.dataset.saved === 'yes') done(performance.now());
      }).observe(root, { attributeFilter: ['data-saved'] });
    });
    const begun = performance.now();
    document.querySelector('#reading').form.requestSubmit();
    // The verdict is painted before the row.
    let shown = await painted();
    while (rows() === before) shown = await painted();
    if (rows() !== before + 1) throw new Error('no row for the reading');
    shown -= begun;
    return { shown, safe: (await safe) - begun };
  }, `0.${String(typed % 1000).padStart(4, '0')}`);
}

// The two keys that can be the last one: the digit that makes the number, whose verdict is
// shown before it is entered, and Enter, which also writes it down.
const LAST_DIGIT = {
  figure: 'From the last digit to the painted verdict',
  digit: true,
  shows: '.verdict-typed',
};
const ENTER = {
  figure: 'From Enter to the painted verdict of the written reading',
  digit: false,
  shows: '.verdict:not(.verdict-typed)',
};

// Runs in the page: how long each frame took, from the key to its paint.
async function frames([times, key]) {
  const { type } = globalThis.bench;
  const pause = (time) => new Promise((next) => setTimeout(next, time));
  const delays = [];
  for (let round = 0; round < times; round += 1) {
    const number = `0.${(round % 89) + 10}`;
    type(key.digit ? number.slice(0, -1) : number);
    await pause(100);
    delays.push(await new Promise((done) => {
      requestAnimationFrame(() => {
        const begun = performance.now();
        if (key.digit) type(number);
        else document.querySelector('#reading').form.requestSubmit();
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => done(performance.now() - begun);
        port2.postMessage('');
      });
    }));
    if (!document.querySelector(key.shows)) throw new Error('no verdict is shown');
    await pause(100);
  }
  type('');
  return delays;
}

// All that the page does for a key, begun at the start of a frame, so that waiting for the next
// one is not counted as work. So many times, each batch in a job of its own, since a step has few
// readings.
async function verdict(page, jobs, batches, key) {
  const devtools = await page.context().newCDPSession(page);
  const delays = [];
  for (const times of batches) {
    await toStep(page);
    await devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
    delays.push(...(await page.evaluate(frames, [times, key])));
    await devtools.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  }
  const sorted = delays.sort((a, b) => a - b);
  const p99 = sorted[Math.ceil(sorted.length * 0.99) - 1];
  return {
    figure: `${key.figure}, p99, ${jobs} jobs stored, ${SLOWER} × slower`,
    value: p99.toFixed(1),
    unit: 'ms',
    goal: `≤ ${FRAME.toFixed(1)} ms, one frame at 60 Hz`,
    met: p99 <= FRAME,
    how: `${delays.length} times; median ${median(sorted).toFixed(1)} ms; script, style, layout and paint of the frame`,
  };
}
