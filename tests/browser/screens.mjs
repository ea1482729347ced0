// Every screen of the app in turn, each in the states in which it looks different, for whatever
// has to hold on all of them.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { type, uncovered } from './hand.mjs';
import { diagram } from './pdfs.mjs';
import { STEPS, button, heading, kindOf, link, see } from './technician.mjs';

const ROUTES = new URL('../../src/app/shell/route.rs', import.meta.url);
const ONE_OF_EACH_KIND = [...new Map(STEPS.map((step) => [kindOf(step), step])).values()];
const LAST = STEPS.at(-1);
const SETTLED = 'synth-am';

// The screens that the app knows addresses of: the variants of its `Route`.
function routes() {
  const [, body] = readFileSync(ROUTES, 'utf8').match(/pub enum Route \{([^]*?)\n\}/);
  return [...body.matchAll(/^ {4}([A-Z]\w*)/gm)].map(([, name]) => name);
}

// Yields { route, name } with each screen in front, from the start page on. Fails at the end when
// there is a route that it did not come by: whoever adds a screen adds it here.
export async function* screens(page, host) {
  const seen = new Set();
  for await (const screen of tour(page, host)) {
    seen.add(screen.route);
    yield screen;
  }
  assert.deepEqual([...seen].sort(), routes().sort(), 'each route of src/app/shell/route.rs is in the tour');
}

async function* tour(page, host) {
  const go = (address) => page.goto(`${host.url}#/${address}`);
  yield { route: 'Jobs', name: 'welcome' };
  await button(page, 'Load the demo').tap();
  await see(heading(page, 'All steps'));
  yield { route: 'Steps', name: 'all steps' };
  const job = new URL(page.url()).hash.split('/').slice(1, 3).join('/');
  yield* steps(page, go, job);
  for (const [route, name, address, sight] of plain(job)) {
    await go(address);
    await see(sight(page));
    yield { route, name };
  }
  yield* ownStep(page, go, job);
  yield* tracing(page, go, job);
  yield* papers(page, go, job);
  yield* starting(page, go);
  yield* procedures(page, go);
  yield* writing(page, go);
}

async function* steps(page, go, job) {
  for (const step of ONE_OF_EACH_KIND) {
    await go(`${job}/step/${step.id}`);
    await see(heading(page, step.title));
    yield { route: 'Step', name: `step: ${kindOf(step)}` };
  }
  await go(`${job}/step/${SETTLED}`);
  await see(page.getByRole('table', { name: 'Readings, newest first' }));
  await page.getByText('Uncertainty budget').tap();
  yield { route: 'Step', name: 'step: settled, with its budget' };
  await go(`${job}/step/${LAST.id}`);
  await see(page.getByText('Locked until'));
  yield { route: 'Step', name: 'step: behind a stop' };
  await go(job);
  await see(button(page, 'Enter'));
  await button(page, '9').tap();
  yield { route: 'Step', name: 'step: half typed' };
  await button(page, 'Enter').tap();
  await see(page.getByRole('table', { name: 'Readings, newest first' }));
  yield { route: 'Step', name: 'step: a reading saved' };
  await button(page, 'Waive').tap();
  await see(heading(page, 'Waive this step'));
  yield { route: 'Step', name: 'step: a question' };
  await button(page, 'Cancel').tap();
}

const titled = (name) => (page) => heading(page, name);

// Those that an address alone brings up: route, name, address, what is seen then.
const plain = (job) => [
  ['Details', 'details', `${job}/details`, (page) => page.getByLabel('Serial number')],
  ['Plan', 'frequency plan', `${job}/plan`, titled('Frequency plan')],
  ['StepInstrument', 'step: its instrument', `${job}/step/${SETTLED}/instrument`, (page) => page.getByRole('heading', { level: 1 })],
  ['AddStep', 'a step of one’s own', `${job}/add`, titled('Add a step of your own')],
  ['TakeOn', 'take on a procedure', `${job}/take-on`, titled('Take on a procedure')],
  ['Faults', 'faults', `${job}/faults`, titled('Faults')],
  ['Trace', 'find the fault', `${job}/trace`, titled('Find the fault')],
  ['Dealings', 'parts and the owner', `${job}/parts`, titled('Parts and the owner')],
  ['ToOrder', 'what to order', 'to-order', titled('What to order')],
  ['Scan', 'scan', 'scan', titled('Scan')],
  ['OneReading', 'take one reading', 'reading', titled('Take one reading')],
  ['Loose', 'what becomes of a reading', `${job}/keep`, titled('Save or discard it')],
  ['BookIn', 'book a set in', 'book-in', titled('Book a set in')],
  ['Off', 'what is off', `${job}/off`, titled('Removed parts')],
  ['Changes', 'changes', `${job}/changes`, (page) => page.getByRole('heading', { level: 1 })],
  ['Changes', 'changes: with a check', `${job}/changes/check`, (page) => page.getByRole('heading', { level: 1 })],
  ['Photos', 'photos', `${job}/photos`, titled('Photos')],
  ['Papers', 'papers', `${job}/papers`, titled('Papers of the set')],
  ['Finish', 'finish', `${job}/finish`, titled('Sign off')],
  ['Report', 'report', `${job}/report`, (page) => button(page, 'Save as a page')],
  ['Label', 'label', `${job}/label`, titled('Label')],
  ['Set', 'visits of a set', 'set/QRC-07', (page) => page.getByRole('heading', { level: 1 })],
  ['Verify', 'check a sheet', 'verify', titled('Verify a report')],
  ['Jobs', 'jobs', '', titled('Jobs')],
  ['Audio', 'audio', 'audio', titled('Audio')],
  ['Sums', 'sums', 'sums', titled('Calculations')],
  ['Sum', 'a sum', 'sums/match-swr', (page) => page.locator('.sum-results')],
  ['Channels', 'channels', 'channels', (page) => page.locator('.channels li')],
  ['Limits', 'limits', 'limits', (page) => page.locator('.limits td')],
  ['Substitution', 'substitution', 'substitution', (page) => page.getByRole('heading', { level: 1 })],
  ['Kit', 'kit', 'kit', titled('Instruments')],
  ['Instrument', 'a new instrument', 'kit/new', (page) => page.getByRole('heading', { level: 1 })],
  ['Instrument', 'an instrument', 'kit/named/Club%20counter%202', (page) => page.getByRole('heading', { level: 1 })],
  ['Data', 'data', 'data', titled('Files')],
  ['Settings', 'settings', 'settings', titled('Settings')],
  ['Glossary', 'glossary', 'glossary', titled('Glossary')],
  ['Export', 'what goes into a file', 'export', titled('Export selected')],
];

async function* tracing(page, go, job) {
  await go(`${job}/trace`);
  await button(page, 'Transmitter: 24 stages').tap();
  await see(heading(page, 'First confirm'));
  yield { route: 'Trace', name: 'find the fault: to be confirmed' };
  await button(page, 'I confirm').tap();
  await button(page, 'Not as expected').tap();
  await see(page.locator('.trace-mark'));
  yield { route: 'Trace', name: 'find the fault: after a look' };
  await button(page, 'Edit Driver').tap();
  await see(heading(page, 'Stage'));
  yield { route: 'Trace', name: 'find the fault: a stage' };
  await button(page, 'Discard changes').tap();
  await button(page, 'The path as a whole').tap();
  await see(page.getByLabel('Name of the path'));
  yield { route: 'Trace', name: 'find the fault: the path as a whole' };
  await button(page, 'Discard changes').tap();
}

async function* ownStep(page, go, job) {
  await go(`${job}/add`);
  await button(page, 'Do something').tap();
  await type(page.getByLabel('What', { exact: true }), 'Dust it');
  await button(page, 'Add it and go there').tap();
  await see(heading(page, 'Dust it'));
  await link(page, 'Edit this step').tap();
  await see(heading(page, 'Edit this step'));
  yield { route: 'ChangeStep', name: 'a step of one’s own, put right' };
}

async function* papers(page, go, job) {
  await go(`${job}/papers`);
  const chooser = page.waitForEvent('filechooser');
  await page.getByText('Choose a PDF or picture', { exact: true }).tap();
  await (await chooser).setFiles({ name: 'Diagram.pdf', mimeType: 'application/pdf', buffer: diagram() });
  await link(page, 'Open Diagram').tap();
  await see(page.locator('.frame img'));
  yield { route: 'Paper', name: 'a paper' };
  await button(page, 'Pin something').tap();
  await see(page.locator('.paper-palette .chip'));
  yield { route: 'Paper', name: 'a paper: what can be pinned' };
}

async function* starting(page, go) {
  await go('start');
  await see(heading(page, 'Start a job'));
  yield { route: 'Start', name: 'start: pick a procedure' };
  // The first card is for a set without a procedure.
  await page.locator('.card').nth(1).tap();
  await see(button(page, 'Start the job'));
  yield { route: 'Start', name: 'start: the set' };
  await button(page, 'Start the job').tap();
  await see(page.getByText('Enter make, model or serial number.'));
  yield { route: 'Start', name: 'start: refused' };
  await page.locator('details.more > summary').tap();
  yield { route: 'Start', name: 'start: all there is of the set' };
}

async function* procedures(page, go) {
  await go('procedures');
  await see(heading(page, 'Procedures'));
  yield { route: 'Procedures', name: 'procedures' };
  await page.locator('.card').first().tap();
  await see(button(page, 'Save as a file'));
  yield { route: 'Procedure', name: 'procedure' };
  await link(page, 'Read or print it').tap();
  await see(button(page, 'Print'));
  yield { route: 'ProcedureSheet', name: 'procedure: its sheet' };
  await page.goBack();
  await see(button(page, 'Save as a file'));
}

// A row of each of the lists, open.
async function* rows(page) {
  for (const list of await page.locator('.entries:has(> .entry-row)').all()) {
    await list.locator('.entry-key').first().tap();
    await see(list.locator('.entry-card'));
    yield { route: 'Author', name: 'writing: lists, a row open' };
  }
}

// The demo's procedure as a draft, from its own screen.
async function* writing(page, go) {
  await button(page, 'Edit').tap();
  await page.waitForFunction(() => location.hash.startsWith('#/author/'));
  const draft = new URL(page.url()).hash.slice(2).split('/').slice(0, 2).join('/');
  for (const part of ['', '/lists', '/pictures', '/papers', '/plan', '/table', `/step/${SETTLED}`, '/publish']) {
    await go(`${draft}${part}`);
    await see(page.locator('h1'));
    yield { route: 'Author', name: `writing${part.replace('/', ': ')}` };
    if (part === '/lists') yield* rows(page);
  }
  await go(draft);
  await button(page, 'Several readings Section 1').tap();
  await see(heading(page, 'Several readings, 1 reading'));
  await uncovered(page);
  yield { route: 'Author', name: 'writing: several readings' };
  await go('author');
  await see(heading(page, 'Write a procedure'));
  yield { route: 'Author', name: 'writing: how to begin' };
}
