// What packs the program fits what it packs.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';

const text = (path) => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

test('the packer is of the version of wasm-bindgen that the app has', () => {
  const [, linked] = text('Cargo.lock').match(/name = "wasm-bindgen"\nversion = "(.*)"/);
  const [, packs] = text('tools/pack/Cargo.toml').match(/wasm-bindgen-cli-support = "=(.*)"/);
  assert.equal(packs, linked);
});
