// Every browser test file, two at a time: a file waits for its browser for half of its time.
//
//   node tests/browser/run.mjs
//
// A browser on a machine that is busy with other work now and then does what it never does again.
// Files that failed run once more, by themselves, and are named: a fault of the app fails twice, and
// a name that comes back in many runs is one to look into.

import { spawn } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';

const HERE = fileURLToPath(new URL('.', import.meta.url));
const LANES = Math.min(2, availableParallelism());

// These take minutes each and begin first, so that no lane is left with one of them in the end.
const LONG = ['fields', 'sheet', 'every_starter', 'script', 'author', 'hand-under', 'sums', 'journey'];

function files() {
  const all = readdirSync(HERE).filter((name) => name.endsWith('.test.mjs'));
  const place = (file) => (LONG.indexOf(file.replace('.test.mjs', '')) + 1 || LONG.length + 1);
  return all.sort((one, other) => place(one) - place(other) || one.localeCompare(other));
}

// Runs a file, shows in one piece what it printed, and says whether it passed.
function passes(file) {
  const begun = Date.now();
  const child = spawn(process.execPath, ['--test', `${HERE}${file}`], { stdio: ['ignore', 'pipe', 'pipe'] });
  const printed = [];
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (piece) => printed.push(piece));
  return new Promise((done) => {
    child.on('close', (code) => {
      process.stdout.write(Buffer.concat(printed));
      console.log(`${file}: ${code === 0 ? 'passed' : 'failed'} after ${Math.round((Date.now() - begun) / 1000)} s\n`);
      done(code === 0);
    });
  });
}

// Runs files in so many lanes and gives those that failed.
async function failing(files, lanes) {
  const waiting = [...files];
  const failed = [];
  const lane = async () => {
    for (let file = waiting.shift(); file; file = waiting.shift()) {
      if (!(await passes(file))) failed.push(file);
    }
  };
  await Promise.all(Array.from({ length: lanes }, lane));
  return failed;
}

const once = await failing(files(), LANES);
if (once.length) {
  console.log(`==> Once more: ${once.join(' ')}\n`);
  const twice = await failing(once, 1);
  if (twice.length) console.log(`Failed twice: ${twice.join(' ')}`);
  else console.log(`Passed at the second try only: ${once.join(' ')}`);
  process.exitCode = twice.length ? 1 : 0;
}
