// The same book, the same figures: what the page's own arithmetic says of the demo is what the desktop's says, to the
// printed digits; the program is the same, compiled for the web and run by node on the same file.
import assert from 'node:assert/strict';
import {spawnSync} from 'node:child_process';
import {rmSync} from 'node:fs';
import {join} from 'node:path';
import {build, motherbulb, run, scratch, test} from './drive.mjs';

function there(...words) {
  // What emscripten makes takes a fetch for a browser's.
  const ran = spawnSync('node', ['--eval', 'delete globalThis.fetch; require(process.argv[1])',
    join(build, 'emscripten', 'motherbulb_node.js'), ...words], {encoding: 'utf8', maxBuffer: 1 << 28});
  return {code: ran.status, out: ran.stdout, err: ran.stderr};
}

const at = scratch();
process.on('exit', () => rmSync(at, {recursive: true, force: true}));
const store = join(at, 'demo.book');
const on = '2026-11-20';

test('the demo written there and here is the same book', () => {
  assert.equal(motherbulb('demo', store, '--on', on).code, 0);
  const other = join(at, 'other.book');
  const made = there('demo', other, '--on', on);
  assert.equal(made.code, 0, made.err);
  const digest = (said) => JSON.parse(said.out).digest;
  assert.equal(digest(there('check', other, '--format', 'json')), digest(motherbulb('check', store, '--format', 'json')));
});

function alike(one, other, where) {
  if (typeof other === 'number' && !Number.isInteger(other)) {
    assert.ok(Math.abs(one - other) <= 1e-9 * Math.max(1, Math.abs(other)), `${where}: ${one}, ${other}`);
  } else if (other !== null && typeof other === 'object') {
    assert.deepEqual(Object.keys(one), Object.keys(other), where);
    for (const key of Object.keys(other)) alike(one[key], other[key], `${where}.${key}`);
  } else {
    assert.equal(one, other, where);
  }
}

// The mathematics too, of one clone of the demo.
const clone = ['--clone', 'Eighth Buoy'];
for (const [what, ...words] of [['stock', '--on', on], ['pots'], ['due', '--on', on], ['matters'], ['yields', ...clone],
  ['outlook', ...clone, '--target', '80'], ['plan', ...clone, '--target', '80'], ['plan', ...clone, '--by-season', '4'],
  ['cost', ...clone]]) {
  test(`${[what, ...words].join(' ')} says the same`, () => {
    const wish = [what, store, ...words];
    // What is printed for people: byte for byte.
    const here = motherbulb(...wish);
    assert.ok(here.code === 0 || here.code === 1, here.err);
    const said = there(...wish);
    assert.equal(said.code, here.code, said.err);
    assert.equal(said.out, here.out);
    // For scripts numbers are told to all their seventeen digits, and the two mathematical libraries round the last ones
    // differently: nothing but those may differ.
    alike(JSON.parse(there(...wish, '--format', 'json').out), JSON.parse(motherbulb(...wish, '--format', 'json').out), what);
  });
}
await run();
