// Fuzzing of every entrance of `tests/entrances`, each for MINUTES (10 unless said otherwise),
// two at a time, from the corpus in the tree and what earlier runs grew. Needs cargo-fuzz. The
// checks go through the same entrances natively instead, in `tests/incoming.rs`.
//
// TARGETS="store rescue" fuzzes these alone; of the others, what docs/figures.md says stays.

import { execFileSync, spawn } from 'node:child_process';
import { mkdirSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const FUZZ = fileURLToPath(new URL('../../fuzz/', import.meta.url));
const DOCUMENT = fileURLToPath(new URL('../../docs/figures.md', import.meta.url));
const MINUTES = Number(process.env.MINUTES ?? 10);
// The compiler's own switches for coverage are behind this name; the code stays the same.
const ENV = { ...process.env, RUSTC_BOOTSTRAP: '1', CARGO_TARGET_DIR: join(FUZZ, 'target') };

export async function measure({ quick }) {
  if (quick) return [];
  try {
    execFileSync('cargo', ['fuzz', '--version'], { stdio: 'ignore' });
  } catch {
    throw new Error('cargo-fuzz is missing: run `cargo install cargo-fuzz` first.');
  }
  execFileSync('cargo', ['fuzz', 'build', '-s', 'none'], { cwd: FUZZ, env: ENV, stdio: 'inherit' });
  const all = readdirSync(join(FUZZ, 'fuzz_targets'))
    .map((file) => file.replace('.rs', ''))
    .filter((name) => name !== 'twister');
  const left = process.env.TARGETS?.split(' ') ?? [...all];
  const unknown = left.filter((name) => !all.includes(name));
  if (unknown.length) throw new Error(`No such target: ${unknown.join(', ')}. There are: ${all.join(', ')}.`);
  const rows = earlier(readFileSync(DOCUMENT, 'utf8'), all.filter((name) => !left.includes(name)));
  const worker = async () => {
    while (left.length) rows.push(row(...(await fuzz(left.shift()))));
  };
  await Promise.all([worker(), worker()]);
  return rows.sort((a, b) => a.figure.localeCompare(b.figure));
}

async function fuzz(name) {
  for (const place of ['grown', 'corpus', 'artifacts']) mkdirSync(join(FUZZ, place, name), { recursive: true });
  const limits = [`-max_total_time=${60 * MINUTES}`, '-timeout=20', '-rss_limit_mb=1024', '-max_len=200000'];
  const places = [join('grown', name), join('corpus', name)];
  const child = spawn('cargo', ['fuzz', 'run', '-s', 'none', name, ...places, '--', ...limits, '-print_final_stats=1'], {
    cwd: FUZZ,
    env: ENV,
  });
  let log = '';
  child.stderr.on('data', (text) => (log += text));
  const code = await new Promise((done) => child.on('close', done));
  return [name, log, code];
}

const figure = (name) => `Faults found at the entrance “${name}”`;

// The rows that the document has of these targets, with the day they are of.
export function earlier(text, names) {
  const section = text.match(/^## fuzz\n([^]*?)(?=^## |$(?![^]))/m)?.[1] ?? '';
  const [, day, commit] = section.match(/^(\d{4}-\d\d-\d\d)[^]*?commit (\w+)/m) ?? [];
  const lines = section.split('\n').map((line) => line.split('|').map((cell) => cell.trim()));
  return names.flatMap((name) => {
    const found = lines.find(([, cell]) => cell === figure(name));
    if (!found) return [];
    const [, , value, goal, how] = found;
    const dated = how.includes('; as of ') ? how : `${how}; as of ${day}, commit ${commit}`;
    return [{ figure: figure(name), value, goal: goal.split(':')[0], met: goal.endsWith(': met'), how: dated }];
  });
}

// What libFuzzer's log of a target says.
export function row(name, log, code) {
  const last = (pattern) => [...log.matchAll(pattern)].at(-1)?.[1] ?? '?';
  const stat = (key) => Number(last(new RegExp(`stat::${key}:\\s+(\\d+)`, 'g')));
  const found = log.match(/SUMMARY: .*/)?.[0] ?? (code ? `ended with ${code}` : undefined);
  return {
    figure: figure(name),
    value: found ? 1 : 0,
    unit: `in ${stat('number_of_executed_units').toLocaleString('en').replaceAll(',', '\u202f')} runs`,
    goal: '0',
    met: !found,
    how: `coverage ${last(/cov: (\d+)/g)} edges, at most ${stat('peak_rss_mb')} MB, slowest ${stat('slowest_unit_time_sec')} s; limits 1024 MB and 20 s`,
    wrong: found && `${name}: ${found}`,
  };
}
