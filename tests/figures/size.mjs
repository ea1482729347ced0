// What the app weighs on the line and how soon it can be worked with, offline, in a browser just
// started: against a page with one word, made by the same tools in the same run.

import { cpSync, mkdirSync, readFileSync, readdirSync } from 'node:fs';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';
import { build } from '../../tools/build.mjs';
import { TABLET, folder, openBrowser, openHost, running } from '../browser/bench.mjs';
import { STEPS, button, byTouch, heading, link, see, startJob } from '../browser/technician.mjs';
import { interleaved, median } from './statistics.mjs';
import { between, traced } from './timeline.mjs';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
// Hosts send these as they are, since they are compressed already.
const COMPRESSED = ['.png', '.woff2'];

export async function measure({ dist, quick, t }) {
  const app = weigh(dist);
  const found = [...['raw', 'gzip', 'brotli'].map((kind) => ({
    figure: `All files of the app, ${kind}`,
    value: thousands(app.total[kind]),
    unit: 'bytes',
    how: `${app.files.length} files, each once, as a first visit fetches them`,
  })), ...heaviest(app)];
  const blank = quick ? undefined : buildBlank(await folder(t));
  if (blank) found.push(...weights(app, weigh(blank)));
  return [...found, ...(await starts({ dist, blank, t, rounds: quick ? 1 : 15 }))];
}

const thousands = (number) => Math.round(number).toLocaleString('en').replaceAll(',', '\u202f');
const sum = (values) => values.reduce((all, value) => all + value, 0);

// The size of each file of a build: as it is, and as a host would send it.
function weigh(dist) {
  const names = readdirSync(dist, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name).slice(dist.length + 1));
  const files = names.map((name) => {
    const body = readFileSync(join(dist, name));
    const packed = !COMPRESSED.includes(extname(name));
    const best = { params: { [constants.BROTLI_PARAM_QUALITY]: 11 } };
    return {
      name: name.replace(/-[0-9a-f]{16}/, ''),
      raw: body.length,
      gzip: packed ? gzipSync(body, { level: 9 }).length : body.length,
      brotli: packed ? brotliCompressSync(body, best).length : body.length,
    };
  });
  const total = {};
  for (const kind of ['raw', 'gzip', 'brotli']) total[kind] = sum(files.map((file) => file[kind]));
  return { files, total };
}

const heaviest = ({ files, total }) =>
  files.sort((a, b) => b.brotli - a.brotli).slice(0, 5).map(({ name, raw, gzip, brotli }) => ({
    figure: `of these, ${name}`,
    value: [raw, gzip, brotli].map(thousands).join(' / '),
    unit: 'bytes raw / gzip / brotli',
    how: `${Math.round((100 * brotli) / total.brotli)} % of what brotli leaves`,
  }));

// Builds the blank page with the app's own lock, scripts and settings. Of what else a build puts in,
// it has nothing.
function buildBlank(place) {
  cpSync(join(ROOT, 'tests/figures/blank'), place, { recursive: true });
  const scripts = ['offline', 'boot'].map((name) => `public/${name}.js`);
  mkdirSync(join(place, 'public'));
  for (const file of ['Cargo.lock', ...scripts]) cpSync(join(ROOT, file), join(place, file));
  process.env.CARGO_TARGET_DIR ??= join(ROOT, 'target');
  const out = join(place, 'dist');
  build({ root: place, name: 'blank', alone: [], joined: { 'start.js': scripts }, copies: {}, scripts: [], out });
  return out;
}

const weights = (app, blank) => [
  weight('The app\'s bytes to a blank page\'s', app.total, blank.total, 30),
  weight('Bytes until the first step is usable, to a blank page\'s', ofStart(app.files), ofStart(blank.files), 15),
];

// What a page asks for before its first step can be worked.
function ofStart(files) {
  const isOfStart = ({ name }) => !/(chunk|split)_/.test(name) && /^(app\/|index\.html$|fonts\/libre)/.test(name);
  return { gzip: sum(files.filter(isOfStart).map(({ gzip }) => gzip)) };
}

function weight(figure, app, blank, goal) {
  const ratio = app.gzip / blank.gzip;
  return {
    figure: `${figure}, gzip`,
    value: ratio.toFixed(1),
    unit: '×',
    goal: `≤ ${goal} ×`,
    met: ratio <= goal,
    how: `${thousands(app.gzip)} and ${thousands(blank.gzip)} bytes`,
  };
}

// A browser that has the page on board, its host gone: started again for each round, from the step
// that it was left at.
async function starts({ dist, blank, t, rounds }) {
  const app = await settled(t, dist, async (page) => {
    await button(page, 'Load the demo').tap();
    await see(heading(page, 'All steps'));
    await link(page, 'Jobs').tap();
    await startJob(byTouch(page), 'QRC-11');
  });
  const runs = { app: () => app.start('#reading') };
  if (blank) {
    const empty = await settled(t, blank, async () => {});
    runs.blank = () => empty.start('#blank');
  }
  const values = await interleaved(rounds, runs);
  const how = `median of ${rounds}, browser started anew for each, host gone; from navigation to the second frame`;
  const of = (name, when, what) => values[name].map((each) => each[when][what]);
  const found = [
    ['app', 'painted', 'the step as it was left, taking digits'],
    ['app', 'live', 'the app itself'],
    ['blank', 'live', 'the blank page'],
  ].filter(([name]) => values[name]).map(([name, when, what]) => {
    const times = of(name, when, 'wall');
    return {
      figure: `Cold offline start to ${what}`,
      value: Math.round(median(times)),
      unit: 'ms',
      how: `${how}; ${Math.round(Math.min(...times))} to ${Math.round(Math.max(...times))} ms`,
    };
  });
  if (!blank) return found;
  const passes = 'time that passes';
  const computes = 'main thread of the page, from its first script on';
  return [
    ...found,
    startRatio('The step as it was left, to a blank page', of('app', 'painted', 'wall'), of('blank', 'live', 'wall'), 1.3, passes),
    startRatio('The same, computed', of('app', 'painted', 'cpu'), of('blank', 'live', 'cpu'), 1.5, computes),
    startRatio('The app itself, to a blank page', of('app', 'live', 'wall'), of('blank', 'live', 'wall'), 2, passes),
    startRatio('The same, computed', of('app', 'live', 'cpu'), of('blank', 'live', 'cpu'), 2, computes),
  ];
}

function startRatio(figure, app, blank, goal, how) {
  const [more, less] = [median(app), median(blank)];
  const ratio = more / less;
  return {
    figure,
    value: ratio.toFixed(2),
    unit: '×',
    goal: `≤ ${goal} ×`,
    met: ratio <= goal,
    how: `${Math.round(more)} and ${Math.round(less)} ms, medians, rounds taken in turn; ${how}`,
  };
}

async function settled(t, dist, prepare) {
  const host = await openHost(t, dist);
  const first = await openBrowser(t, { device: TABLET });
  const page = await first.visit(host);
  await prepare(page);
  // The next start is by the service worker's copy alone, with what the browser keeps of it.
  await page.reload();
  await running(page);
  await leave(first, page);
  await host.stop();
  return { start: (selector) => start(t, { ...first, url: host.url }, selector) };
}

// As one leaves a page, which a browser that is closed at once has no time for.
async function leave(browser, page) {
  await page.goto('about:blank');
  await browser.close();
}

// How long it takes from navigation until the element has been painted, and until the app has
// started, and what the page's main thread computes for each.
async function start(t, { profile, url }, selector) {
  const browser = await openBrowser(t, { device: TABLET, profile });
  await browser.context.addInitScript((wanted) => {
    performance.mark('start-begun');
    globalThis.times = {};
    const once = (name, selector) => {
      const look = () => {
        if (!document.querySelector(selector)) return requestAnimationFrame(look);
        requestAnimationFrame(() => {
          performance.mark(`start-${name}`);
          globalThis.times[name] = performance.now();
        });
      };
      requestAnimationFrame(look);
    };
    once('painted', wanted);
    once('live', 'html[data-app=started]');
  }, selector);
  let walls;
  let page;
  const marks = await traced(browser.context.pages()[0], async () => {
    page = await browser.open(url);
    walls = await page.waitForFunction(() => globalThis.times.painted && globalThis.times.live && globalThis.times);
    walls = await walls.jsonValue();
    if (selector === '#reading') await see(heading(page, STEPS[0].title));
  });
  await leave(browser, page);
  const took = (name) => ({ wall: walls[name], cpu: between(marks, 'start-begun', `start-${name}`)[0].cpu });
  return { painted: took('painted'), live: took('live') };
}
