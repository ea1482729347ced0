// Looks through all dependencies with no network, by what cargo and the lock of npm say:
//
//   node tools/audit.mjs
//
// Fails on a licence that is not on the list, on a crate that goes twice into the app without a
// reason stated here, and on an entry here that no longer fits. Names what nobody maintains.

import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../', import.meta.url));

// All of them let the app be passed on under its own licence, with their notices.
export const LICENCES = [
  'MIT', 'MIT-0', 'Apache-2.0', 'BSD-2-Clause', 'BSD-3-Clause', 'BSL-1.0', '0BSD', 'ISC', 'Zlib',
  'Unlicense', 'Unicode-3.0', 'CC0-1.0', 'LLVM-exception',
];
// What only runs while building and testing, and is passed on to nobody.
const LICENCES_OF_TOOLS = [...LICENCES, 'MPL-2.0'];

// Crates of which two versions go into the app, and which of their users keeps the older one.
const TWICE = {
  'gloo-utils': 'gloo-net, through leptos, is behind gloo-storage',
  thiserror: 'users of either version, which have nothing in common but the name',
};

// No longer maintained, by their own pages or by an advisory, as known from memory at the end of
// 2026; who brings them, and what would take their place.
const UNMAINTAINED = {
  paste: 'leptos and its parts, while building only; its fork pastey, once they change over',
  console_error_panic_hook: 'we ourselves; a panic hook of ten lines around console.error',
};

// The packages of npm that go into the app: the readers of PDFs and of codes.
const IN_APP = ['node_modules/pdfjs-dist', 'node_modules/zxing-wasm'];

// Whether a licence expression (SPDX 2.3, annex D) can be met by what is allowed. Old crates write
// a slash for OR.
export function isAllowed(expression, allowed) {
  const words = expression.replaceAll('/', ' OR ').match(/[()]|[^\s()]+/g) ?? [];
  let at = 0;
  const operand = () => {
    if (words[at] !== '(') return allowed.includes(words[at++]);
    at += 1;
    const inner = either();
    at += 1;
    return inner;
  };
  const chain = (word, part, join) => {
    let met = part();
    while (words[at] === word) {
      at += 1;
      const next = part();
      met = join(met, next);
    }
    return met;
  };
  const excepted = () => chain('WITH', operand, (a, b) => a && b);
  const both = () => chain('AND', excepted, (a, b) => a && b);
  const either = () => chain('OR', both, (a, b) => a || b);
  return words.length > 0 && either() && at === words.length;
}

// The crates by what they say of themselves, those in the app marked: what is linked into it,
// not what makes it.
export function crates({ packages, resolve }) {
  const byId = new Map(packages.map((each) => [each.id, each]));
  const nodes = new Map(resolve.nodes.map((node) => [node.id, node]));
  const inApp = new Set();
  const isMacro = (id) => byId.get(id).targets.some(({ kind }) => kind.includes('proc-macro'));
  const visit = (id) => {
    if (inApp.has(id) || isMacro(id)) return;
    inApp.add(id);
    const linked = nodes.get(id).deps.filter(({ dep_kinds }) => dep_kinds.some(({ kind }) => kind === null));
    linked.forEach(({ pkg }) => visit(pkg));
  };
  visit(resolve.root);
  return [...nodes.keys()].map((id) => {
    const { name, version, license } = byId.get(id);
    return { name, version, licence: license ?? '', inApp: inApp.has(id) };
  });
}

// What is wrong, a sentence each.
export function problems(all, { twice, unmaintained }) {
  const found = [];
  for (const { name, version, licence, inApp } of all) {
    if (!isAllowed(licence, inApp ? LICENCES : LICENCES_OF_TOOLS)) {
      found.push(`${name} ${version} is under “${licence}”, which is not on the list: replace it, or add the licence once it was read.`);
    }
  }
  const inApp = all.filter((each) => each.inApp).map(({ name }) => name);
  const doubled = new Set(inApp.filter((name, index) => inApp.indexOf(name) !== index));
  for (const name of doubled) {
    if (!twice[name]) found.push(`${name} goes into the app in two versions: bring its users together, or state why not.`);
  }
  for (const name of Object.keys(twice)) {
    if (!doubled.has(name)) found.push(`${name} no longer goes into the app twice: take its entry out.`);
  }
  for (const name of Object.keys(unmaintained)) {
    if (!all.some((each) => each.name === name)) found.push(`${name} is no longer used: take its entry out.`);
  }
  return found;
}

// What cargo says of the crates of a folder, for a target or for this machine.
function metadata(folder, ...target) {
  const args = ['metadata', '--locked', '--offline', '--format-version', '1', ...target];
  const options = { cwd: `${ROOT}${folder}`, maxBuffer: 1 << 28, stdio: ['ignore', 'pipe', 'inherit'] };
  return JSON.parse(execFileSync('cargo', args, options));
}

function main() {
  const linked = crates(metadata('', '--filter-platform', 'wasm32-unknown-unknown'));
  // What packs the app goes into nothing.
  const packing = crates(metadata('tools/pack')).map((each) => ({ ...each, inApp: false }));
  const { packages } = JSON.parse(readFileSync(`${ROOT}package-lock.json`));
  const npm = Object.entries(packages).filter(([path]) => path !== '');
  const tools = npm.map(([path, { version, license }]) => ({
    name: path.replace('node_modules/', ''), version, licence: license ?? '', inApp: IN_APP.includes(path),
  }));
  const all = [...linked, ...packing, ...tools];
  const count = all.filter((each) => each.inApp).length;
  console.log(`${count} works in the app, itself among them; ${all.length - count} that make or test it.`);
  for (const [name, instead] of Object.entries(UNMAINTAINED)) console.log(`Not maintained: ${name} (${instead})`);
  const found = problems(all, { twice: TWICE, unmaintained: UNMAINTAINED });
  found.forEach((sentence) => console.log(sentence));
  process.exitCode = found.length ? 1 : 0;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) main();
