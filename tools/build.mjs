// Builds the app into a folder that any static host serves, under any path:
//
//   node tools/build.mjs           the release, into dist
//   node tools/build.mjs --look    for looking at a change, in seconds, into dist-look
//
// tools/setup.sh finds what it runs (cargo, the packer in PACK, wasm-opt on the path).
//
// All that belongs to one version and starts with it lies in one folder that is named by what it
// holds, so that a host half way through publishing never hands out a mix. A page names it `./app/`.

import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const TOOLS = fileURLToPath(new URL('.', import.meta.url));
const ROOT = join(TOOLS, '..');
const TARGET = 'wasm32-unknown-unknown';

const STYLES = [
  'main/base', 'main/controls', 'main/frame', 'main/lists', 'main/step', 'main/reading', 'main/keypad',
  'main/waits', 'main/socket', 'main/parts', 'main/sums', 'main/lookup', 'main/narrow', 'main/trace',
  'sheet', 'author', 'pictures', 'papers', 'find', 'audio', 'report', 'print',
];

// What a build is made of. Sheets and scripts that a start needs are joined, in the order in which
// they follow each other: each file that a page asks for costs it some time of its start.
export const APP = {
  root: ROOT,
  name: 'halfturn',
  locked: true,
  parts: true,
  alone: ['public/theme.js', 'public/crash.css'],
  joined: {
    'halfturn.css': STYLES.map((name) => `style/${name}.css`),
    'start.js': ['crash', 'incoming', 'scan', 'audio', 'papers', 'offline', 'last', 'boot'].map((name) => `public/${name}.js`),
  },
  copies: {
    'public/manifest.webmanifest': 'manifest.webmanifest',
    'public/icons': 'icons',
    'public/fonts': 'fonts',
    'public/audio-worklet.js': 'audio-worklet.js',
    'node_modules/zxing-wasm/dist/es/share.js': 'decoder/share.js',
    'node_modules/zxing-wasm/dist/es/reader/index.js': 'decoder/reader/index.js',
    'node_modules/zxing-wasm/dist/reader/zxing_reader.wasm': 'decoder/zxing_reader.wasm',
  },
  scripts: ['licences.sh', 'pdf.sh'],
};

// The optimiser is told what the compiler uses by default, for that note is stripped with the
// symbols. It keeps screens apart: a browser compiles a whole function when it is first called.
const OPTIMISE = [
  '-Oz', '--strip-debug', '--enable-bulk-memory', '--enable-multivalue', '--enable-mutable-globals',
  '--enable-nontrapping-float-to-int', '--enable-reference-types', '--enable-sign-ext',
  '--one-caller-inline-max-function-size=400',
];

// Builds what is described into `out`, which changes only once all of it is there.
export function build({ look = false, out, ...what }) {
  const stage = `${out}.new`;
  rmSync(stage, { recursive: true, force: true });
  const app = join(stage, 'app');
  mkdirSync(app, { recursive: true });
  compile(what, look, app);
  if (!look) optimise(app);
  for (const file of what.alone) cpSync(join(what.root, file), join(app, file.replace(/^.*\//, '')));
  for (const [name, files] of Object.entries(what.joined)) writeFileSync(join(app, name), joined(what.root, files));
  const folder = `app-${digestOf(app)}`;
  renameSync(app, join(stage, folder));
  writeFileSync(join(stage, 'index.html'), page(what.root, stage, folder));
  for (const [from, to] of Object.entries(what.copies)) {
    mkdirSync(dirname(join(stage, to)), { recursive: true });
    cpSync(join(what.root, from), join(stage, to), { recursive: true });
  }
  for (const script of [...what.scripts, 'service-worker.sh']) {
    const env = { ...process.env, STAGE: stage };
    execFileSync('sh', [join(TOOLS, script)], { cwd: ROOT, env, stdio: 'inherit' });
  }
  rmSync(out, { recursive: true, force: true });
  renameSync(stage, out);
}

// Compiles the program and packs it for the browser, by one name whatever is built, for boot.js.
function compile(what, look, app) {
  execFileSync(process.env.PACK, [compiled(what, look), app, 'halfturn'], { stdio: 'inherit' });
}

// The compiled program. The linker leaves names and places in one that has parts, by which it is taken
// apart; the packer takes them out again.
export function compiled({ root, name, locked, parts }, look = false) {
  const target = process.env.CARGO_TARGET_DIR ?? join(root, 'target');
  const profile = look ? 'look' : 'release';
  const args = ['rustc', ...(locked ? ['--locked'] : []), '--profile', profile, '--target', TARGET, '--bin', name];
  const linker = parts ? ['-C', 'link-args=--emit-relocs', '-C', 'strip=none'] : [];
  execFileSync('cargo', [...args, '--', ...linker], { cwd: root, stdio: 'inherit' });
  return join(target, TARGET, profile, `${name}.wasm`);
}

// On every core by itself. What it complains of in names that it takes out is told by no one.
function optimise(app) {
  for (const file of readdirSync(app).filter((it) => it.endsWith('.wasm'))) {
    execFileSync('wasm-opt', [...OPTIMISE, file, '-o', file], { cwd: app, stdio: 'pipe' });
  }
}

// Scripts keep their names to themselves when they are joined.
function joined(root, files) {
  const texts = files.map((file) => readFileSync(join(root, file), 'utf8'));
  const isScript = files.every((file) => file.endsWith('.js'));
  return texts.map((text) => (isScript ? `{\n${text}}\n` : `${text}\n`)).join('');
}

const hash = (algorithm, ...parts) => {
  const found = createHash(algorithm);
  for (const part of parts) found.update(part);
  return found;
};

function digestOf(folder) {
  const names = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name))
    .sort();
  return hash('sha256', ...names.flatMap((name) => [name.slice(folder.length), readFileSync(name)])).digest('hex').slice(0, 16);
}

// The page, which names the folder of this version, and of each file that a link asks for the
// digest; of a program, which a script asks for, browsers look at none.
function page(root, stage, folder) {
  const text = readFileSync(join(root, 'index.html'), 'utf8');
  return text.replace(/(?:href|src)="\.\/app\/([^"]+)"/g, (link, file) => {
    const path = join(stage, folder, file);
    if (!existsSync(path)) throw new Error(`index.html names ${file}, which is not built`);
    const named = link.replace('./app/', `./${folder}/`);
    if (file.endsWith('.wasm')) return named;
    const digest = hash('sha384', readFileSync(path)).digest('base64');
    return `${named} integrity="sha384-${digest}"`;
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const look = process.argv.includes('--look');
  build({ ...APP, look, out: join(ROOT, look ? 'dist-look' : 'dist') });
}
