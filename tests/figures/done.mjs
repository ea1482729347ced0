// Everything that the app calls done is done by hand, and the whole browser killed the moment it
// says so. At the next start all of it must be there, and all that was called done before.
//
//   tools/figures done               all kinds in turn, 504 kills; SEED=… takes them in another order
//   KILLS=280 tools/figures done     that many
//   MINUTES=30 tools/figures done    as many as come about in that time

import { createHash } from 'node:crypto';
import { setTimeout as sleep } from 'node:timers/promises';
import { TABLET, newerVersion, openBrowser, openHost, running } from '../browser/bench.mjs';
import { drawBoard } from '../browser/boards.mjs';
import { goTo } from '../browser/everywhere.mjs';
import { add, type } from '../browser/hand.mjs';
import { button, chooseFile, field, link, savedFile, see, shortProcedure, stored } from '../browser/technician.mjs';
import { groupOf, watch, watchPages } from './ending.mjs';
import { seeded } from './statistics.mjs';

const SEED = Number(process.env.SEED ?? 1);
const DAY = 86_400_000;
// How many kills the long form owes, over all kinds.
const GOAL = 500;

const PROCEDURE = shortProcedure('qrc-carrier', 'Carrier check', [
  { id: 'rail', title: 'Supply rail', work: { read: { gauge: { at: 'TP1', with: 'meter', in: 'V' } } } },
  { id: 'lid', title: 'Lid on', work: 'tick' },
]);

const at = 1_767_225_600_000;
const opened = (serial) => ({ opened: { number: serial, set: { serial }, technician: 'Bench 1' } });
const reading = { reading: { step: 'rail', phase: 'as-found', value: '8.1 V' } };
const done = [reading, { ticked: { step: 'lid' } }];
// Those with short names are the latest, so that they are first in each list.
const logOf = (name, deeds) => deeds.map((did, place) => ({
  id: `${name}-e${place}`, seq: place + 1, at: at + place + (name.length < 7 ? DAY : 0), did,
}));

// Jobs by serial: `deeds` behind the intake.
const jobsOf = (procedure, serials, deeds) =>
  serials.map((serial) => ({ id: serial.toLowerCase(), procedure, log: logOf(serial, [opened(serial), ...deeds]) }));
const fileOf = (backup) => ({
  name: 'several.json',
  mimeType: 'application/json',
  buffer: Buffer.from(JSON.stringify({ type: 'halfturn-backup', version: 2, backup: { procedures: [PROCEDURE], ...backup } })),
});

const MANY = Array.from({ length: 120 }, (_, place) => `QRC-1${String(place).padStart(3, '0')}`);
const AT_START = ['QRC-01', 'QRC-02', 'QRC-03', 'QRC-04'];
const addressOf = (serial, screen) => `#/job/${serial.toLowerCase()}/${screen}`;
const TOLD = '.strip .line';

// What is done, by hand, up to the last press, which says it: `facts` must be there from then on.
//   { said: { selector, text }, press, facts: [{ told, holds(found) }] }
const KINDS = {
  'a reading': async (series, page) => {
    await goTo(page, addressOf('QRC-01', 'step/rail'));
    return entry(series, page);
  },
  'readings in three tabs: one a day old, one slowed down, one of the version before': async (series, page) => {
    const tabs = [await aside(series), await aside(series), page];
    const slow = await series.browser.context.newCDPSession(tabs[1]);
    await slow.send('Emulation.setCPUThrottlingRate', { rate: 6 });
    for (const tab of tabs) await goTo(tab, addressOf('QRC-01', 'step/rail'));
    await tabs[0].evaluate((day) => (globalThis.shift = 1.1 * day), DAY);
    // A newer version takes over in the third; the others go on with what they run.
    const update = await newVersion(series, page);
    await update.press();
    await page.waitForFunction((title) => document.title.includes(title), update.title);
    await running(page);
    await goTo(page, addressOf('QRC-01', 'step/rail'));
    return entries(series, tabs);
  },
  'readings while the clock jumps on and back': async (series, page) => {
    await goTo(page, addressOf('QRC-01', 'step/rail'));
    const jump = (days) => page.evaluate((shift) => (globalThis.shift = shift), days * DAY);
    return entries(series, [page, page, page], [2, -2, 0].map((days) => () => jump(days)));
  },
  'a sign-off': async (series, page) => {
    await goTo(page, addressOf('QRC-02', 'finish'));
    const is = (log) => log.some(({ did }) => did['signed-off']);
    return {
      said: { selector: '#screen h2', text: 'Signed off' },
      press: await ready(button(page, 'Sign off the job')),
      facts: [inLog('the sign-off', 'QRC-02', is)],
    };
  },
  'an import of 1 job': (series, page) => bringIn(page, series.files.one, ['QRC-90']),
  'an import of 120 jobs': (series, page) => bringIn(page, series.files.many, MANY),
  'a published procedure': async (series, page) => {
    await goTo(page, '#/procedures');
    await page.getByRole('link', { name: PROCEDURE.title }).first().tap();
    await button(page, 'Edit').tap();
    await add(page.getByRole('textbox', { name: 'Covers' }), ' 2');
    await link(page, 'Publish …').tap();
    const is = ({ id, revision }) => id === PROCEDURE.id && revision === 2;
    return {
      said: { selector: TOLD, text: 'Revision 2 is published' },
      press: await ready(button(page, 'Publish revision 2')),
      facts: [{ told: 'revision 2', holds: ({ backup }) => backup.procedures.some(is) }],
    };
  },
  'a draft': async (series, page) => {
    await goTo(page, '#/procedures');
    await link(page, 'Write a procedure').tap();
    await button(page, 'Blank').tap();
    const title = `Draft ${series.random()}`.slice(0, 12);
    await type(page.getByRole('textbox', { name: 'Title of the procedure', exact: true }), title);
    const is = ([key, text]) => key.startsWith('halfturn:authoring:') && text.includes(title);
    return {
      said: { selector: 'a.card .hint', text: 'Saved' },
      press: await ready(link(page, 'Procedures')),
      facts: [{ told: title, holds: ({ texts }) => Object.entries(texts).some(is) }],
    };
  },
  'an instrument': async (series, page) => {
    await goTo(page, '#/kit');
    await link(page, 'Add an instrument').tap();
    await type(page.getByLabel('Name', { exact: true }), 'Club meter');
    await type(page.getByLabel('Role', { exact: true }), 'meter');
    const is = ({ name }) => name === 'Club meter';
    return {
      said: { selector: TOLD, text: 'Club meter is saved' },
      press: await ready(button(page, 'Save')),
      facts: [{ told: 'the instrument', holds: ({ backup }) => backup.kit?.some(is) }],
    };
  },
  'a setting': async (series, page) => {
    await goTo(page, '#/settings');
    await type(page.locator('#technician-name'), 'Bench ');
    await page.waitForSelector('html[data-saved=yes]', { state: 'attached' });
    return {
      // Nothing is said of settings; they are saved once nothing is on its way any more.
      said: { selector: 'html[data-saved=yes]', after: 'html[data-saved=saving]' },
      press: () => page.keyboard.press('7'),
      facts: [{ told: 'the setting', holds: ({ backup }) => backup.preferences.technician === 'Bench 7' }],
    };
  },
  'a photo': async (series, page) => {
    await goTo(page, addressOf('QRC-01', 'photos'));
    const buffer = series.pictures.pop();
    const chooser = page.waitForEvent('filechooser');
    await page.getByText('Choose a picture', { exact: true }).tap();
    const choice = await chooser;
    return {
      said: { selector: TOLD, text: 'Photo saved' },
      press: () => choice.setFiles({ name: 'a.jpg', mimeType: 'image/jpeg', buffer }),
      facts: [{ told: 'the photo', holds: photosWhole }],
    };
  },
  'a removal': async (series, page) => {
    await goTo(page, '#/data');
    const entry = page.locator('li.removable').filter({ hasText: 'QRC-03' });
    await button(entry, 'Remove…').tap();
    return {
      said: { selector: TOLD, text: 'was removed from this device' },
      press: await ready(button(entry, 'Delete permanently')),
      facts: [{ told: 'the removal', holds: ({ backup }) => !backup.jobs.some(({ id }) => id === 'qrc-03') }],
    };
  },
  'an update of the app': async (series, page) => {
    const { title, press } = await newVersion(series, page);
    const said = { selector: 'html[data-app=started] title', text: title };
    // It is said by the page that comes.
    await series.browser.context.addInitScript((it) => (globalThis.awaited = it), said);
    const holds = ({ started }) => started.includes(title);
    return { press, facts: [{ told: 'the new version', holds }], offline: true };
  },
  'an upgrade of the store': async (series, page) => {
    const { 'halfturn:job:qrc-04': text, 'halfturn:layout': layout } = await stored(page);
    const { procedure } = JSON.parse(text);
    // As layout 1 had it: finished, and not packed.
    const log = logOf('QRC-04', [opened('QRC-04'), ...done, { 'signed-off': { by: 'Bench 1', remarks: '' } }]);
    await page.evaluate((text) => {
      localStorage.setItem('halfturn:job:qrc-04', text);
      localStorage.setItem('halfturn:layout', '1');
      localStorage.removeItem('halfturn:line:qrc-04');
    }, JSON.stringify({ procedure, log }));
    // Closed in order, a browser writes its storage to the disk.
    await series.browser.close();
    return {
      press: () => startBrowser(series, { selector: 'html[data-app=started][data-saved=yes]' }),
      facts: [
        inLog('the job of the earlier layout', 'QRC-04', (now) => now.length === log.length),
        { told: 'the layout', holds: ({ texts }) => texts['halfturn:layout'] === layout },
      ],
    };
  },
};

const ready = async (target) => {
  await see(target);
  return () => target.tap();
};

async function entry({ random }, page) {
  const value = (1 + random() * 8).toFixed(4);
  await see(field(page));
  await type(field(page), value);
  const is = (log) => log.some(({ did }) => did.reading?.value === `${value} V`);
  return {
    said: { selector: 'table.taken tr[data-saved=true] td.number', text: value },
    press: () => page.keyboard.press('Enter'),
    facts: [inLog(`the reading ${value}`, 'QRC-01', is)],
  };
}

// An entry in each page, each called saved before the next.
async function entries(series, pages, before = []) {
  const facts = [];
  for (const [place, page] of pages.entries()) {
    await page.bringToFront();
    await before[place]?.();
    const last = await entry(series, page);
    facts.push(...last.facts);
    if (place === pages.length - 1) return { ...last, page, facts };
    await last.press();
    await page.locator(last.said.selector).filter({ hasText: last.said.text }).waitFor();
  }
}

async function bringIn(page, file, serials) {
  await goTo(page, '#/data');
  await chooseFile(page, file);
  return {
    said: { selector: TOLD, text: serials.length === 1 ? '1 item imported.' : `${serials.length} items imported.` },
    press: await ready(button(page, 'Import selected')),
    facts: serials.map((serial) => inLog(`the imported ${serial}`, serial, (log) => log.length === 3)),
  };
}

const inLog = (told, serial, is) => ({
  told,
  holds: ({ backup }) => {
    const job = backup.jobs.find(({ id }) => id === serial.toLowerCase());
    return job && is(job.log);
  },
});

// Every photo of the log has its bytes, which are those of its name.
function photosWhole({ backup, pictures }) {
  const named = backup.jobs.flatMap(({ log }) => log.flatMap(({ did }) => did.photographed?.picture ?? []));
  const bytes = new Map(pictures.map(({ digest, data }) => [digest, Buffer.from(data, 'base64')]));
  const isWhole = (digest) => createHash('sha256').update(bytes.get(digest) ?? '').digest('hex') === digest;
  return named.length > 0 && named.every(isWhole);
}

// A newer version is there, and offered.
async function newVersion(series, page) {
  const { host, newer } = series;
  const { folder, title } = newer.find((each) => each.folder !== host.folder);
  host.folder = folder;
  await page.waitForSelector('html[data-looked]', { state: 'attached' });
  await page.evaluate(() => {
    delete document.documentElement.dataset.looked;
    document.dispatchEvent(new Event('visibilitychange'));
  });
  return { title, press: await ready(button(page, 'Update now')) };
}

async function aside(series) {
  const page = await series.browser.context.newPage();
  await page.goto(series.host.url);
  await running(page);
  return page;
}

async function startBrowser(series, first, profile = series.browser?.profile) {
  const browser = await openBrowser(series.t, { device: TABLET, profile });
  browser.expect(/./); // What a dying browser logs is no matter here.
  const group = groupOf(browser);
  Object.assign(series, { browser, isDead: false });
  await watchPages(browser, () => {
    // What one that was killed still had to say comes when the next one is there.
    if (series.isDead || series.browser !== browser) return;
    process.kill(-group, 'SIGKILL');
    series.isDead = true;
  }, first);
  await browser.context.addInitScript(() => {
    globalThis.shift = 0;
    const now = Date.now.bind(Date);
    Date.now = () => now() + globalThis.shift;
  });
  const opening = browser.open(series.host.url);
  if (first) return opening;
  series.page = await opening;
  await series.page.waitForSelector('html[data-saved=yes]', { state: 'attached' });
}

// A device as it is before: the procedure and some jobs.
async function newDevice(series) {
  series.host.folder = series.dist;
  series.facts = [];
  await startBrowser(series, null, null);
  const { page } = series;
  await page.waitForSelector('html[data-offline=ready]', { state: 'attached' });
  await goTo(page, '#/data');
  await chooseFile(page, series.files.first);
  await button(page, 'Import selected').tap();
  await see(page.getByText('5 items imported.'));
}

async function killAt(series, kind) {
  const { page = series.page, said, press, ...done } = await KINDS[kind](series, series.page);
  if (said) await watch(page, said);
  // Nobody is left to say what became of the press.
  press().catch(() => {});
  await within(60_000, kind, series);
  return done;
}

// Until the browser in hand is dead.
async function within(time, kind, series) {
  const end = Date.now() + time;
  while (!series.isDead) {
    if (Date.now() > end) throw new Error(`${kind}: nothing was said`);
    await sleep(5);
  }
  await series.browser.close().catch(() => {});
  series.browser.close = async () => {};
}

async function lookAgain(series, kind, { facts, offline }) {
  if (offline) await series.host.stop();
  await startBrowser(series);
  const { page } = series;
  const started = await page.title();
  if (offline) await series.host.start();
  series.facts.push(...facts);
  await goTo(page, '#/data');
  const alerts = await page.getByRole('alert').allTextContents();
  series.damaged.push(...alerts.filter(Boolean).map((text) => `after ${kind}: ${text}`));
  const file = await savedFile(page, () => button(page, 'Save a backup').tap());
  const { backup, pictures = [] } = JSON.parse(file.text);
  const found = { backup, pictures, started, texts: await stored(page) };
  const lost = series.facts.filter((fact) => !fact.holds(found));
  // What came later is not what a start then tells.
  series.facts = series.facts.filter((fact) => !lost.includes(fact) && !(offline && facts.includes(fact)));
  lost.forEach(({ told }) => console.error(`done: killed at ${kind}: lost ${told}`));
  series.tally[kind].lost += lost.length;
}

export async function measure({ dist, quick, t }) {
  const wanted = process.env.KINDS?.split(',') ?? Object.keys(KINDS);
  const kills = quick ? wanted.length : Number(process.env.KILLS ?? wanted.length * Math.ceil(GOAL / wanted.length));
  const end = Date.now() + 60_000 * Number(process.env.MINUTES ?? Infinity);
  const random = seeded(SEED);
  const newer = [];
  for (const title of ['Newer', 'Newest']) newer.push({ title, folder: await newerVersion(t, title) });
  const tally = Object.fromEntries(wanted.map((kind) => [kind, { kills: 0, told: 0, lost: 0 }]));
  const series = { t, dist, random, newer, tally, damaged: [], host: await openHost(t, dist) };
  await prepare(series, kills);
  for (let count = 0; count < kills && Date.now() < end; count += 1) {
    const place = count % wanted.length;
    if (place === 0) {
      await series.browser?.close();
      await newDevice(series);
      series.order = shuffled(wanted, random);
    }
    const kind = series.order[place];
    const done = await killAt(series, kind);
    tally[kind].kills += 1;
    tally[kind].told += done.facts.length;
    await lookAgain(series, kind, done);
    if (count % 14 === 13) console.error(`done: ${count + 1} kills`);
  }
  await series.browser.close();
  return rows(series);
}

// The files of the series, and its pictures, which the app keeps as they are.
async function prepare(series, kills) {
  const browser = await openBrowser(series.t, { device: TABLET });
  const page = await browser.visit(series.host);
  await goTo(page, '#/data');
  await chooseFile(page, fileOf({}));
  await button(page, 'Import selected').tap();
  await see(page.getByText('1 item imported.'));
  const key = Object.keys(await stored(page)).find((each) => each.startsWith('halfturn:procedure:'));
  const digest = key.split(':').pop();
  const jobs = (serials, deeds) => jobsOf(digest, serials, deeds);
  series.files = {
    first: fileOf({ jobs: [...jobs(AT_START.slice(0, 1), []), ...jobs(AT_START.slice(1), done)] }),
    one: fileOf({ jobs: jobs(['QRC-90'], done) }),
    many: fileOf({ jobs: jobs(MANY, done) }),
  };
  series.pictures = [];
  for (let hue = 0; hue < Math.ceil(kills / Object.keys(series.tally).length); hue += 1) {
    series.pictures.push(await drawBoard(page, { width: 800, height: 600, hue }));
  }
  await browser.close();
}

function shuffled(all, random) {
  const order = all.map((each) => [random(), each]).sort(([a], [b]) => a - b);
  return order.map(([, each]) => each);
}

function rows({ tally, damaged }) {
  const all = Object.values(tally);
  const sum = (part) => all.reduce((sum, each) => sum + each[part], 0);
  return [
    ...Object.entries(tally).map(([kind, { kills, told, lost }]) => ({
      figure: `Lost of what the app had called done, ${kind}`,
      value: lost,
      unit: `in ${kills} kills`,
      goal: '0',
      met: lost === 0,
      how: `${told} called done; SIGKILL to the whole process group in the task that said so`,
    })),
    {
      figure: 'Kills in all, at the sentence that says done',
      value: sum('kills'),
      goal: `${GOAL}, 0 lost`,
      met: sum('kills') >= GOAL && sum('lost') === 0,
      how: `seed ${SEED}; after each a start with the same profile, whose backup is compared with all that was called done on that device`,
      wrong: sum('lost') ? `${sum('lost')} things lost that the app had called done` : undefined,
    },
    {
      figure: 'Starts that found the store damaged, after those kills',
      value: damaged.length,
      goal: '0',
      met: damaged.length === 0,
      how: 'alerts on the screen',
      wrong: damaged.length ? damaged.join('; ') : undefined,
    },
  ];
}
