// The page from the server that app/run --web starts: it goes out compressed, all of it in two megabytes at most, and runs.
import assert from 'node:assert/strict';
import {spawn} from 'node:child_process';
import {readFileSync} from 'node:fs';
import {get} from 'node:http';
import {join} from 'node:path';
import {createInterface} from 'node:readline';
import {Browser, folder, run, source, test} from './drive.mjs';
import {countAPot} from './jobs.mjs';

async function served(body) {
  const server = spawn(join(source, 'platform/web/serve.py'), [folder]);
  try {
    const address = await new Promise((found, failed) => {
      createInterface({input: server.stdout}).once('line', found);
      server.once('exit', (code) => failed(new Error(`the server ended with ${code}`)));
    });
    return await body(address);
  } finally {
    server.kill();
  }
}

// As it comes over the wire.
function fetched(address, takes) {
  return new Promise((found, failed) => {
    get(address, {headers: takes ? {'Accept-Encoding': takes} : {}}, (answer) => {
      const parts = [];
      answer.on('data', (part) => parts.push(part));
      answer.on('end', () => found({status: answer.statusCode, coding: answer.headers['content-encoding'] || '', type: answer.headers['content-type'], bytes: Buffer.concat(parts)}));
    }).on('error', failed);
  });
}

test('all that a browser fetches comes compressed in two megabytes', () => served(async (address) => {
  const service = readFileSync(join(folder, 'service.js'), 'utf8');
  const names = [...service.matchAll(/^  \['([^']+)', /gm)].map((one) => one[1]);
  assert.ok(names.includes('motherbulb.wasm') && names.includes('index.html'));
  const total = {};
  for (const takes of ['br', 'gzip', '']) {
    total[takes] = 0;
    for (const name of [...names, 'service.js']) {
      const answer = await fetched(address + name, takes);
      assert.equal(answer.status, 200, name);
      total[takes] += answer.bytes.length;
      if (!takes) assert.ok(answer.bytes.equals(readFileSync(join(folder, name))), name);
      if (takes && name.endsWith('.wasm')) {
        assert.equal(answer.coding, takes);
        assert.equal(answer.type, 'application/wasm');
      }
    }
  }
  console.log(`bytes: ${total.br} by brotli, ${total.gzip} by gzip, ${total['']} plain`);
  assert.ok(total.br <= 2e6);
}));

test('a browser that gets it so runs it, and counts a pot', () => served(async (address) => {
  const browser = await Browser.open({address});
  try {
    const page = await browser.page('?demo');
    await countAPot(page);
    assert.deepEqual(page.faults, []);
  } finally {
    await browser.close();
  }
}));
await run();
