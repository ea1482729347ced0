// Builds the app, serves it on this machine, and builds it again when a source changes:
//
//   node tools/serve.mjs PORT [--look]
//
// A page that is loaded again finds the new version and offers it, as on any host.

import { spawn } from 'node:child_process';
import { watch } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import { TYPES } from './types.mjs';

const ROOT = fileURLToPath(new URL('../', import.meta.url));
const WATCHED = ['src', 'style', 'public', 'index.html', 'Cargo.toml', 'Cargo.lock'];
// An editor writes a file in several goes.
const QUIET = 200;

const [port, ...how] = process.argv.slice(2);
const folder = join(ROOT, how.includes('--look') ? 'dist-look' : 'dist');

// A change during a build begins another when that one ends.
let building = false;
let due = false;
function build() {
  due = building;
  if (building) return;
  building = true;
  const begun = Date.now();
  const child = spawn(process.execPath, [join(ROOT, 'tools/build.mjs'), ...how], { stdio: 'inherit' });
  child.on('close', (code) => {
    building = false;
    const took = `${((Date.now() - begun) / 1000).toFixed(1)} s`;
    console.log(code ? `\n==> Not built (${took}): see above.` : `\n==> http://localhost:${port} is built (${took}).`);
    if (due) build();
  });
}

let clock;
for (const path of WATCHED) {
  watch(join(ROOT, path), { recursive: true }, () => {
    clearTimeout(clock);
    clock = setTimeout(build, QUIET);
  });
}

const server = createServer(async (request, response) => {
  const { pathname } = new URL(request.url, 'http://localhost');
  const file = normalize(pathname.endsWith('/') ? `${pathname}index.html` : pathname);
  try {
    const body = await readFile(join(folder, file));
    response.writeHead(200, { 'content-type': TYPES[extname(file)] ?? 'text/plain', 'cache-control': 'no-store' });
    response.end(body);
  } catch {
    response.writeHead(404).end();
  }
});
server.on('error', (error) => {
  console.error(error.message);
  process.exit(1);
});
server.listen(Number(port), '127.0.0.1', build);
