// Runs the measures in this folder, prints what they found and, with --write, renews their
// sections in docs/figures.md. A section that is not measured again stays as it is, so that a
// long run is not lost by repeating a short one.
//
//   node tests/figures/run.mjs [--quick] [--write] [names…]
//
// A measure is a file here that exports
//
//   export async function measure({ dist, quick, t }) → rows
//
//   dist    the folder of the release build
//   quick   true in the checks: few repeats, enough to see that the thing is done right
//   t       what openHost and openBrowser of tests/browser take; all ends with the measure
//
// and gives rows { figure, value, unit, goal, met, how }, all texts but `met`, which says whether
// the goal is reached and stays out where there is none. A goal that is missed fails nothing: how
// fast a machine is decides no check. Something done wrong does: the measure then throws, or adds
// `wrong`, a sentence, to the row that tells of it.

import { execFileSync } from 'node:child_process';
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import { fileURLToPath } from 'node:url';
import { DIST } from '../browser/bench.mjs';
import { renewed, table } from './document.mjs';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const DOCUMENT = `${ROOT}docs/figures.md`;
// More than this and what was measured shared the machine with other work.
const IDLE = 0.5;

const flags = process.argv.slice(2).filter((argument) => argument.startsWith('--'));
const names = process.argv.slice(2).filter((argument) => !argument.startsWith('--'));
const quick = flags.includes('--quick');

const said = (command, ...args) => {
  try {
    return execFileSync(command, args, { cwd: ROOT, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }).trim();
  } catch {
    return `${command} unknown`;
  }
};

const locked = (name) => {
  const lock = readFileSync(`${ROOT}Cargo.lock`, 'utf8');
  return `${name} ${lock.match(new RegExp(`name = "${name}"\\nversion = "(.*)"`))?.[1]}`;
};

function machine() {
  const memory = `${Math.round(os.totalmem() / 2 ** 30)} GB`;
  return `${os.cpus().length} × ${os.cpus()[0].model.trim()}, ${memory}, ${os.type()} ${os.release()}`;
}

function versions() {
  const changed = said('git', 'status', '--porcelain') ? ', with changes' : '';
  return [
    `commit ${said('git', 'rev-parse', '--short', 'HEAD')}${changed}`,
    said(process.env.CHROMIUM ?? '/usr/bin/chromium', '--version').match(/^\S+ [\d.]+/)?.[0],
    said('rustc', '--version').match(/^rustc [\d.]+/)?.[0],
    ...['wasm-bindgen', 'leptos'].map(locked),
  ].filter(Boolean).join('; ');
}

const load = () => {
  const average = os.loadavg()[0];
  const busy = average > IDLE ? ', busy with other work' : '';
  return `load average before: ${average.toFixed(2)}${busy}`;
};

// Stands in for the context of a test: what is to be undone is undone when the measure ends.
async function within(action) {
  const undo = [];
  const outcome = await Promise.resolve(action({ after: (each) => undo.push(each) })).then(
    (value) => ({ value }),
    (error) => ({ error }),
  );
  for (const each of undo.reverse()) await each().catch((error) => (outcome.error ??= error));
  if (outcome.error) throw outcome.error;
  return outcome.value;
}

async function measures() {
  const files = readdirSync(new URL('.', import.meta.url)).filter(
    (file) => file.endsWith('.mjs') && file !== 'run.mjs' && !file.endsWith('.test.mjs'),
  );
  const all = new Map();
  for (const file of files.sort()) {
    const { measure } = await import(`./${file}`);
    if (measure) all.set(file.replace('.mjs', ''), measure);
  }
  return all;
}

const known = await measures();
const unknown = names.filter((name) => !known.has(name));
if (unknown.length) {
  console.error(`No such measure: ${unknown.join(', ')}. There are: ${[...known.keys()].join(', ')}.`);
  process.exit(2);
}

const circumstances = [machine(), versions()];
// Of the machine before all of it: what one measure leaves behind is not other work.
const before = load();
console.log(`${circumstances.join('\n')}\n`);
let measured = 0;
const wrong = new Set();
for (const [name, measure] of known) {
  if (names.length && !names.includes(name)) continue;
  measured += 1;
  const fault = (text) => {
    wrong.add(name);
    console.log(`WRONG in ${name}: ${text}\n`);
  };
  try {
    const rows = await within((t) => measure({ dist: DIST, quick, t }));
    const day = new Date().toISOString().slice(0, 10);
    const told = `${day}; ${before}.\n\n${table(rows)}`;
    console.log(`## ${name}\n\n${told}\n`);
    for (const row of rows.filter((each) => each.wrong)) fault(row.wrong);
    if (flags.includes('--write')) {
      const section = `${day}; ${before}.\n${circumstances.join('; ')}.\n\n${table(rows)}`;
      writeFileSync(DOCUMENT, renewed(readFileSync(DOCUMENT, 'utf8'), name, section));
    }
  } catch (error) {
    fault(error.stack);
  }
}
console.log(`${measured - wrong.size} passed, ${wrong.size} failed`);
process.exitCode = wrong.size ? 1 : 0;
