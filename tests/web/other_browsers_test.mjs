// The page in Firefox and WebKitGTK, shortly: a pot is counted by touch and kept, and is there after loading it again.
import assert from 'node:assert/strict';
import {rmSync} from 'node:fs';
import {join} from 'node:path';
import {folder, pictures, run, scratch, test} from './drive.mjs';
import {openFirefox, openWebKit} from './other_browsers.mjs';
import {serve} from './serve.mjs';

const sleep = (ms) => new Promise((next) => setTimeout(next, ms));

async function until(browser, what, script, seconds = 60) {
  for (const end = Date.now() + seconds * 1000; Date.now() < end; await sleep(100)) {
    const found = await browser.evaluate(script);
    if (found) return found;
  }
  throw new Error(`${what}: not within ${seconds} s; ${await browser.evaluate("return document.body.innerText.slice(0, 300);")}`);
}

// Where a control is, once the screen stands still.
const where = (beginning) => `
  const told = window.motherbulb && window.motherbulb.told;
  if (!told || window.motherbulb.pending > 0) return null;
  const found = told.items.find((one) => one.kind === 'control' && one.name.startsWith(${JSON.stringify(beginning)}));
  if (!found) return null;
  const share = told.scale / window.devicePixelRatio;
  return [(found.x + found.w / 2) * share, (found.y + found.h / 2) * share];`;

async function touch(browser, beginning) {
  const at = await until(browser, `'${beginning}' is on the screen`, where(beginning));
  await browser.tap(...at);
  await sleep(400);
}

async function countAndComeBack(browser, address) {
  await browser.open(`${address}?demo`);
  await until(browser, 'the page runs', "return document.documentElement.dataset.state === 'running';", 120);
  const way = await browser.evaluate('return window.motherbulb.way;');
  const before = await browser.evaluate('return window.motherbulb.entries;');
  await touch(browser, 'quarter:unpot');
  await touch(browser, 'batch:');
  await touch(browser, 'who:Bo');
  await touch(browser, 'pad:3');
  await touch(browser, 'keep');
  await until(browser, 'the slip', "return /kept/.test(window.motherbulb.told.kept) && window.motherbulb.pending === 0;");
  assert.equal(await browser.evaluate('return window.motherbulb.entries;'), before + 1);
  const digest = await browser.evaluate('return window.motherbulb.digest;');
  await browser.picture(join(pictures, `${browser.name}.png`));
  await browser.open(`${address}?demo&again`);
  await until(browser, 'the page runs again', "return document.documentElement.dataset.state === 'running';", 120);
  assert.equal(await browser.evaluate('return window.motherbulb.digest;'), digest);
  return way;
}

test('Firefox keeps a count', async () => {
  const server = await serve(folder);
  const profile = scratch();
  const browser = await openFirefox(profile);
  try {
    console.log(`Firefox keeps by ${await countAndComeBack(browser, server.address)}`);
  } finally {
    await browser.close();
    await server.stop();
    rmSync(profile, {recursive: true, force: true, maxRetries: 5, retryDelay: 200});
  }
});

test('WebKitGTK keeps a count', async () => {
  const server = await serve(folder);
  const browser = await openWebKit();
  try {
    console.log(`WebKitGTK keeps by ${await countAndComeBack(browser, server.address)}`);
  } finally {
    await browser.close();
    await server.stop();
  }
});
await run();
