// What tools/audit.mjs says of made-up dependencies.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { LICENCES, crates, isAllowed, problems } from '../../tools/audit.mjs';

const crate = (name, licence = 'MIT', inApp = true, version = '1.0.0') => ({ name, version, licence, inApp });
const NOTHING = { twice: {}, unmaintained: {} };

test('a licence is met by any side of OR and by both sides of AND', () => {
  for (const good of ['MIT', 'MIT OR GPL-3.0', 'GPL-3.0/MIT', '(MIT OR GPL-3.0) AND Zlib', 'Apache-2.0 WITH LLVM-exception']) {
    assert.ok(isAllowed(good, LICENCES), good);
  }
  for (const bad of ['', 'GPL-3.0', 'MIT AND GPL-3.0', '(GPL-3.0 OR LGPL-3.0) AND MIT', 'MIT GPL-3.0', 'Apache-2.0 WITH Other', 'MIT)']) {
    assert.ok(!isAllowed(bad, LICENCES), bad);
  }
});

test('what is linked is in the app, what makes it is not', () => {
  const one = (id, kind = 'lib') => ({ id, name: id, version: '1.0.0', license: 'MIT', targets: [{ kind: [kind] }] });
  const to = (pkg, kind = null) => ({ pkg, dep_kinds: [{ kind }] });
  const node = (id, ...deps) => ({ id, deps });
  const all = crates({
    packages: [one('app'), one('linked'), one('macro', 'proc-macro'), one('helper'), one('build'), one('test')],
    resolve: {
      root: 'app',
      nodes: [
        node('app', to('linked'), to('macro'), to('build', 'build'), to('test', 'dev')),
        node('linked'), node('macro', to('helper')), node('helper'), node('build'), node('test'),
      ],
    },
  });
  assert.deepEqual(all.filter((each) => each.inApp).map(({ name }) => name), ['app', 'linked']);
});

test('a licence that is not on the list is a problem, and a tool may have one more', () => {
  assert.deepEqual(problems([crate('a'), crate('b', 'MPL-2.0', false)], NOTHING), []);
  const [problem, ...others] = problems([crate('b', 'MPL-2.0')], NOTHING);
  assert.match(problem, /b 1\.0\.0 is under “MPL-2\.0”/);
  assert.deepEqual(others, []);
});

test('two versions in the app need a reason; an entry that no longer fits is a problem', () => {
  const two = [crate('a'), crate('a', 'MIT', true, '2.0.0')];
  assert.match(problems(two, NOTHING).join(), /a goes into the app in two versions/);
  assert.deepEqual(problems(two, { twice: { a: 'so' }, unmaintained: {} }), []);
  assert.deepEqual(problems([crate('a'), crate('a', 'MIT', false, '2.0.0')], NOTHING), []);
  assert.match(problems([crate('a')], { twice: { a: 'so' }, unmaintained: {} }).join(), /no longer/);
  assert.match(problems([crate('a')], { twice: {}, unmaintained: { b: 'c' } }).join(), /no longer used/);
});
