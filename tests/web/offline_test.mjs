// The page without its server, and a server with a new version: nothing half done, nothing swapped under a running count.
import assert from 'node:assert/strict';
import {cpSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {Browser, folder, run, scratch, test} from './drive.mjs';
import {byTouch, countAPot, takeAPot} from './jobs.mjs';

async function ready(page) {
  await page.tab.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.tab.waitForFunction(() => navigator.serviceWorker.controller);
}

// The same page with another title, and its service worker with the digest of that.
async function anotherVersion() {
  const {createHash} = await import('node:crypto');
  const other = scratch();
  cpSync(folder, other, {recursive: true});
  const html = readFileSync(join(other, 'index.html'), 'utf8').replace('<title>Motherbulb</title>', '<title>Motherbulb next</title>');
  writeFileSync(join(other, 'index.html'), html);
  const digest = `sha256-${createHash('sha256').update(html).digest('base64')}`;
  const service = readFileSync(join(other, 'service.js'), 'utf8')
    .replace(/\['index\.html', '[^']*'\]/, `['index.html', '${digest}']`)
    .replace(/const VERSION = '[^']*'/, "const VERSION = 'next'");
  writeFileSync(join(other, 'service.js'), service);
  return other;
}

test('with the server gone it loads again, in a new browser too, with every entry, and keeps more', async () => {
  const browser = await Browser.open();
  try {
    let page = await browser.page('?demo');
    await ready(page);
    await countAPot(page);
    const digest = await page.digest();
    await browser.server.stop();
    await page.tab.reload();
    await page.running();
    assert.equal(await page.digest(), digest);
    await countAPot(page);
    const later = await page.digest();
    assert.notEqual(later, digest);
    await browser.context.close();
    await browser.start();
    page = await browser.page('?demo&from=icon');
    assert.equal(await page.digest(), later);
    await browser.server.again();
  } finally {
    await browser.close();
  }
});

test('a half-done new version fails whole; a good one waits for a person, and not under a running count', async () => {
  const browser = await Browser.open();
  const next = await anotherVersion();
  try {
    let page = await browser.page('?demo');
    await ready(page);
    await countAPot(page);
    const digest = await page.digest();
    browser.server.handOut(next);
    browser.server.breakOff(/motherbulb\.wasm|index\.html/);
    await page.tab.evaluate(() => navigator.serviceWorker.getRegistration().then((one) => one.update()).catch(() => {}));
    await page.tab.waitForTimeout(500);
    assert.equal(await page.tab.evaluate(() => navigator.serviceWorker.getRegistration().then((one) => Boolean(one.waiting))), false);
    await page.tab.reload();
    await page.running();
    assert.equal(await page.tab.title(), 'Motherbulb');

    browser.server.breakOff(null);
    await page.tab.evaluate(() => navigator.serviceWorker.getRegistration().then((one) => one.update()));
    await page.tab.waitForFunction(() => !document.getElementById('banner').hidden);
    // A count is begun: the new version is not taken, and says why.
    await byTouch(page, 'bar:start');
    await byTouch(page, 'quarter:unpot');
    await takeAPot(page);
    await byTouch(page, 'pad:4');
    await page.picture('new-version');
    await page.tab.locator('#banner-now').tap();
    await page.tab.waitForTimeout(300);
    assert.match(await page.tab.locator('#banner-words').textContent(), /Keep what you are counting/);
    assert.equal(await page.tab.title(), 'Motherbulb');
    assert.ok((await page.words()).includes('4'));
    await byTouch(page, 'keep');
    const kept = await page.digest();
    assert.notEqual(kept, digest);
    await page.tab.locator('#banner-now').tap();
    await page.tab.waitForFunction(() => document.title === 'Motherbulb next');
    await page.running();
    assert.equal(await page.digest(), kept);
  } finally {
    await browser.close();
    rmSync(next, {recursive: true, force: true});
  }
});

test('a new version that was already coming when the page was opened is offered too', async () => {
  const browser = await Browser.open();
  const next = await anotherVersion();
  try {
    const page = await browser.page('?demo');
    await ready(page);
    browser.server.handOut(next);
    const release = browser.server.holdBack(/motherbulb\.wasm/);
    await page.tab.evaluate(() => navigator.serviceWorker.getRegistration().then((one) => one.update()));
    await page.tab.reload();  // from the store of the version that is there
    await page.running();
    await page.tab.waitForFunction(() => navigator.serviceWorker.getRegistration().then((one) => Boolean(one.installing)));
    assert.ok(await page.tab.locator('#banner').isHidden());
    release();
    await page.tab.waitForFunction(() => !document.getElementById('banner').hidden);
  } finally {
    await browser.close();
    rmSync(next, {recursive: true, force: true});
  }
});

test('the manifest is one by which a browser installs the page', async () => {
  const browser = await Browser.open();
  try {
    const page = await browser.page('?demo');
    await ready(page);
    const session = await browser.context.newCDPSession(page.tab);
    const {errors} = await session.send('Page.getAppManifest');
    assert.deepEqual(errors, []);
    const {installabilityErrors} = await session.send('Page.getInstallabilityErrors');
    assert.deepEqual(installabilityErrors.filter((one) => one.errorId !== 'in-incognito'), []);
  } finally {
    await browser.close();
  }
});
await run();
