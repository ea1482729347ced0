// Where the bytes of the compiled program go, all parts of it: while its names are still in it, the
// size of each function is added to its crate, the app's own to their rooms.

import { readFileSync } from 'node:fs';
import { APP, compiled } from '../../tools/build.mjs';

const SHOWN = 14;

export async function measure({ quick }) {
  return quick ? [] : rows(readFileSync(compiled(APP)));
}

export function rows(program) {
  const { functions, data, whole } = sizes(program);
  const groups = new Map([['data', data]]);
  for (const { name, size } of functions) {
    const group = groupOf(name);
    groups.set(group, (groups.get(group) ?? 0) + size);
  }
  const share = (size) => `${((100 * size) / whole).toFixed(1)} % of code and data, before the optimiser`;
  const kilobytes = (size) => (size / 1024).toFixed(0);
  const sorted = [...groups].sort(([, a], [, b]) => b - a);
  return sorted.slice(0, SHOWN).map(([name, size]) => ({
    figure: name, value: kilobytes(size), unit: 'KiB', how: share(size),
  }));
}

// What reads and writes documents is `serde`, for whatever type. Any other function belongs to the
// crate that its name begins with, or where that is a trait's, to that of the type it is for. Names
// are mangled in one of two ways, and rustc changes which: by RFC 2603, where a crate is `C`, perhaps
// `s`, its number and `_`, then each part of the path with its length before it; or as `_ZN` with the
// parts alone, where an `impl` is one part in which `..` stands between names and `$LT$` for brackets.
export function groupOf(name) {
  if (name.includes('serde')) return 'serde';
  const crate = name.match(/^_R.*?C(?:s[0-9a-zA-Z]*_)?(?=\d)(.*)$/);
  if (crate) return grouped(parts(crate[1]));
  return name.startsWith('_ZN') ? grouped(legacy(name.slice(3))) : 'other';
}

const grouped = ([root, room]) => (root === 'halfturn' && room ? `halfturn::${room}` : (root ?? 'other'));

// The first two names of a path without a crate's mark: those of the first type in an `impl` that
// is no letter for any type.
function legacy(path) {
  const [first, second] = parts(path);
  if (!first?.includes('$')) return [first, second];
  const paths = first.split(/\$(?:LT|GT|u20|RF|LP|RP|C|BP|u7b|u7d)\$/);
  const typed = paths.map((it) => it.replace(/^_/, '').split('..').filter(Boolean));
  return typed.find(([crate, room]) => room && /^[a-z_][a-z0-9_]*$/.test(crate)) ?? [];
}

// The first two parts of a mangled path.
function parts(path) {
  const found = [];
  let rest = path;
  while (found.length < 2) {
    const length = rest.match(/^(?:s[0-9a-zA-Z]*_)?(\d+)_?/);
    if (!length) break;
    const end = length[0].length + Number(length[1]);
    found.push(rest.slice(length[0].length, end));
    rest = rest.slice(end);
  }
  return found;
}

// Reads sections of a WebAssembly module (WebAssembly Core Specification 2.0, 5.5; the name
// section: appendix 7.4.1).
function sizes(program) {
  let at = 8;
  const byte = () => program[at++];
  const number = () => {
    for (let value = 0, shift = 0; ; shift += 7) {
      const next = byte();
      value += (next & 0x7f) * 2 ** shift;
      if (next < 0x80) return value;
    }
  };
  const text = () => {
    const length = number();
    at += length;
    return program.toString('utf8', at - length, at);
  };
  const bodies = [];
  const names = new Map();
  let imported = 0;
  let data = 0;
  const limits = () => {
    const flags = byte();
    number();
    if (flags & 1) number();
  };
  const importKinds = [() => ((imported += 1), number()), () => (byte(), limits()), limits, () => (byte(), byte()), () => (byte(), number())];
  while (at < program.length) {
    const id = byte();
    const length = number();
    const end = at + length;
    if (id === 2) {
      for (let left = number(); left > 0; left -= 1) {
        text();
        text();
        importKinds[byte()]();
      }
    }
    if (id === 10) {
      for (let left = number(); left > 0; left -= 1) {
        const size = number();
        bodies.push(size);
        at += size;
      }
    }
    if (id === 11) data = length;
    if (id === 0 && text() === 'name') {
      while (at < end) {
        const kind = byte();
        const next = number() + at;
        if (kind === 1) for (let left = number(); left > 0; left -= 1) names.set(number(), text());
        at = next;
      }
    }
    at = end;
  }
  const functions = bodies.map((size, place) => ({ size, name: names.get(place + imported) ?? 'other' }));
  return { functions, data, whole: data + bodies.reduce((sum, size) => sum + size, 0) };
}
