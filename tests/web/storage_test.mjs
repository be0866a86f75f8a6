// Storage that is full, refused, or not to be trusted: nothing is said to be kept that is not, and what to do is said.
import assert from 'node:assert/strict';
import {readFileSync, rmSync} from 'node:fs';
import {join} from 'node:path';
import {Browser, Page, drop, pictures, run, say, scratch, test} from './drive.mjs';
import {countAPot, countOne, countWithoutKeeping, toParcels} from './jobs.mjs';

async function withScript(script, query) {
  const browser = await Browser.open();
  await browser.context.addInitScript(script);
  const page = new Page(await browser.context.newPage());
  await page.tab.goto(browser.address + query);
  await page.tab.waitForFunction(() => document.documentElement.dataset.state);
  return {browser, page};
}

// Does that to the origin's storage while no page has it open: the one that had may still be closing.
async function withoutAPage(browser, what) {
  const tab = await browser.context.newPage();
  await tab.goto(`${browser.address}manifest.webmanifest`);
  for (let tries = 0; ; ++tries) {
    try {
      await tab.evaluate(what);
      break;
    } catch (fault) {
      if (tries > 50) throw fault;
      await tab.waitForTimeout(100);
    }
  }
  await tab.close();
}

// How the keeper's storage fills up. For pieces in IndexedDB the browser itself is told; it gives file handles room in
// large steps, so there the handle refuses to grow when it is told to, as the browser's would.
const FULL_HANDLES = `
  let full = false;
  new BroadcastChannel('test').onmessage = (event) => { full = event.data; };
  const write = FileSystemSyncAccessHandle.prototype.write;
  FileSystemSyncAccessHandle.prototype.write = function(bytes, where) {
    if (full && where.at + bytes.length > this.getSize()) throw new DOMException('no room', 'QuotaExceededError');
    return write.call(this, bytes, where);
  };
`;

async function setFull(browser, page, way, full) {
  if (way === 'handles') {
    await page.tab.evaluate((now) => new BroadcastChannel('test').postMessage(now), full);
    return;
  }
  const session = await browser.context.newCDPSession(page.tab);
  await session.send('Storage.overrideQuotaForOrigin', {origin: new URL(browser.address).origin, ...(full ? {quotaSize: 1000} : {})});
}

for (const way of ['handles', 'chunks']) {
  test(`full storage: the count is not kept, stays on the screen, and is kept once there is room (${way})`, async () => {
    const browser = await Browser.open({serviceWorkers: 'block'});
    try {
      if (way === 'handles') {
        await browser.context.route('**/keeper.js', async (route) => {
          const response = await route.fetch();
          await route.fulfill({response, body: FULL_HANDLES + await response.text()});
        });
      }
      const page = await browser.page(`?demo&way=${way}`);
      await countAPot(page);
      await setFull(browser, page, way, true);
      // A browser's own count of the room runs behind: until it is felt.
      let digest, entries, told;
      for (let nth = 0; nth < 40; ++nth) {
        digest = await page.digest();
        entries = await page.tab.evaluate(() => window.motherbulb.entries);
        await countOne(page);
        told = await page.told();
        if (told.trouble) break;
      }
      assert.match(told.trouble, /Not kept.*no more room.*parcel/s);
      assert.ok(told.items.some((one) => one.name === 'pad:3'), 'the pot is still on the bench');
      assert.equal(await page.digest(), digest, 'nothing of it is in the book');
      await page.picture(`full-${way}`);
      await setFull(browser, page, way, false);
      await page.touch('keep');
      told = await page.told();
      if (told.trouble) {  // it tries again by itself only after a pause
        await page.tab.waitForTimeout(2500);
        await page.touch('keep');
        told = await page.told();
      }
      assert.equal(told.trouble, '');
      assert.match(told.kept, /kept/);
      const last = await page.digest();
      assert.equal(await page.tab.evaluate(() => window.motherbulb.entries), entries + 1);
      await page.tab.reload();
      await page.running();
      assert.equal(await page.digest(), last);
    } finally {
      await browser.close();
    }
  });
}

test('storage that takes its time is seen to be at work, and the slip comes with its answer', async () => {
  const browser = await Browser.open({serviceWorkers: 'block'});
  try {
    await browser.context.route('**/keeper.js', async (route) => {
      const response = await route.fetch();
      await route.fulfill({response, body: `
        let slow = false;
        new BroadcastChannel('test').onmessage = (event) => { slow = event.data; };
        const flush = FileSystemSyncAccessHandle.prototype.flush;
        FileSystemSyncAccessHandle.prototype.flush = function() {
          for (const until = Date.now() + (slow ? 8000 : 0); Date.now() < until;);
          slow = false;
          return flush.call(this);
        };
        ${await response.text()}`});
    });
    const page = await browser.page('?demo');
    await countAPot(page);
    const before = await page.told();
    const entries = await page.tab.evaluate(() => window.motherbulb.entries);
    await countWithoutKeeping(page);
    await page.tab.evaluate(() => new BroadcastChannel('test').postMessage(true));
    await page.tab.waitForTimeout(100);
    await page.tab.evaluate(() => [...document.querySelectorAll('#mirror button')].find((one) => one.dataset.name === 'keep').click());
    await page.tab.waitForFunction(() => window.motherbulb.pending > 0 && window.motherbulb.told.items.some((one) => one.words.includes('Keeping')));
    await page.tab.screenshot({path: join(pictures, 'keeping.png')});
    await page.tab.waitForFunction(() => window.motherbulb.pending === 0);
    const told = await page.told();
    assert.notEqual(told.kept, before.kept);
    assert.match(told.kept, /kept/);
    assert.equal(await page.tab.evaluate(() => window.motherbulb.entries), entries + 1);
    assert.ok(!told.items.some((one) => one.words.includes('Keeping')));
  } finally {
    await browser.close();
  }
});

test('without file handles the book is kept in IndexedDB, and stays there when they come', async () => {
  const browser = await Browser.open({serviceWorkers: 'block'});
  try {
    await browser.context.route('**/keeper.js', async (route) => {
      const response = await route.fetch();
      await route.fulfill({response, body: `delete FileSystemFileHandle.prototype.createSyncAccessHandle;\n${await response.text()}`});
    });
    let page = await browser.page('?demo');
    assert.equal(await page.tab.evaluate(() => window.motherbulb.way), 'chunks');
    await countAPot(page);
    const digest = await page.digest();
    await page.tab.close();
    await browser.context.unroute('**/keeper.js');
    page = await browser.page('?demo');
    assert.equal(await page.tab.evaluate(() => window.motherbulb.way), 'chunks');
    assert.equal(await page.digest(), digest);
  } finally {
    await browser.close();
  }
});

test('where the browser cannot keep two windows apart, nothing is recorded', async () => {
  const {browser, page} = await withScript("Object.defineProperty(navigator, 'locks', {value: undefined});", '');
  try {
    assert.equal(await page.state(), 'panel');
    assert.match(await page.panel(), /Nothing can be recorded here/);
  } finally {
    await browser.close();
  }
});

test('a book that only stands here is read, and not written, where windows cannot be kept apart', async () => {
  const browser = await Browser.open();
  try {
    const page = await browser.page('?demo');
    await countAPot(page);
    const digest = await page.digest();
    await page.tab.close();
    await browser.context.addInitScript("Object.defineProperty(navigator, 'locks', {value: undefined});");
    const read = await browser.page('?demo');
    assert.equal(await read.digest(), digest);
    assert.match(await read.tab.locator('#banner-words').textContent(), /Read only/);
    await countOne(read);
    assert.match((await read.told()).trouble, /read only/, await read.words());
    assert.equal(await read.digest(), digest);
  } finally {
    await browser.close();
  }
});

test('where there is no storage at all the page says so', async () => {
  const {browser, page} = await withScript(
    "const real = window.Worker; window.Worker = function(path) { return new real('data:text/javascript,onmessage=()=>postMessage({refused:true,why:\"SecurityError\"})'); };",
    '?demo');
  try {
    assert.equal(await page.state(), 'panel');
    assert.match(await page.panel(), /gives no storage/);
  } finally {
    await browser.close();
  }
});

test('storage that was lost makes a new writer: no sequence is ever used twice', async () => {
  const browser = await Browser.open();
  try {
    let page = await browser.page('?demo');
    await countAPot(page);
    const first_ = await page.tab.evaluate(() => Object.keys(localStorage).filter((one) => one.includes('sequence')));
    assert.equal(first_.length, 1);
    await page.tab.close();
    // The book alone is lost, what lies beside it is not.
    await withoutAPage(browser, async () => (await navigator.storage.getDirectory()).removeEntry('motherbulb-demo', {recursive: true}));
    page = await browser.page('?demo');
    await countAPot(page);
    const second = await page.tab.evaluate(() => Object.keys(localStorage).filter((one) => one.includes('sequence')));
    assert.equal(second.length, 2);
  } finally {
    await browser.close();
  }
});

// Writes over the beginning of the book's file and of its log where the keeper has them, while no page is open.
const SPOIL = {
  handles: async () => {
    const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle('motherbulb');
    for (const name of ['motherbulb.book', 'motherbulb.book-wal']) {
      const out = await (await folder.getFileHandle(name)).createWritable({keepExistingData: true});
      await out.write({type: 'write', position: 0, data: new Uint8Array(8192).fill(7)});
      await out.close();
    }
  },
  chunks: async () => {
    const database = await new Promise((resolve, reject) => {
      const request = indexedDB.open('motherbulb', 1);
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const transaction = database.transaction('chunks', 'readwrite');
    for (const chunk of ['0/0', '1/0']) transaction.objectStore('chunks').put(new Uint8Array(32768).fill(7), chunk);
    await new Promise((end) => { transaction.oncomplete = end; });
    database.close();
  },
};

for (const way of ['handles', 'chunks']) {
  test(`a book that cannot be opened is saved as it is, and only then may a new one begin in its place (${way})`, async () => {
    const browser = await Browser.open();
    const at = scratch();
    try {
      const query = `?way=${way}`;
      let page = await browser.page(query);
      while (await page.has('first:later')) await page.touch('first:later');
      await page.touch('first:north');
      say('demo', join(at, 'house.book'), '--on', '2026-11-20');
      say('parcel', join(at, 'house.book'), join(at, 'house.parcel'));
      const parcel = readFileSync(join(at, 'house.parcel'));
      await drop(page, 'house.parcel', parcel);
      await page.touch('merge');
      const digest = await page.digest();
      await page.tab.close();
      await withoutAPage(browser, SPOIL[way]);

      page = new Page(await browser.context.newPage());
      for (let tries = 0; tries < 50; ++tries) {  // the page that held it may still be closing
        await page.tab.goto(browser.address + query);
        await page.tab.waitForFunction(() => document.documentElement.dataset.state);
        if (!/another window/.test(await page.panel())) break;
        await page.tab.waitForTimeout(100);
      }
      assert.match(await page.panel(), /cannot be opened.*Save its file first/s);
      await page.tab.screenshot({path: join(pictures, `set-aside-${way}.png`)});
      // Left as it is it is still there, and still asked about.
      await page.tab.evaluate(() => { window.before = true; });
      await page.tab.locator('#panel-other').click();
      await page.tab.waitForFunction(() => !window.before && document.documentElement.dataset.state === 'panel');
      assert.match(await page.panel(), /Save its file first/);
      // The log is a file of its own, and asked for by a tap of its own.
      for (const name of ['motherbulb.book', 'motherbulb.book-wal']) {
        const saved = page.tab.waitForEvent('download');
        await page.tab.locator('#panel-act').click();
        const file = await saved;
        assert.equal(file.suggestedFilename(), name);
        const bytes = readFileSync(await file.path());
        assert.ok(bytes.length >= 4096 && bytes.subarray(0, 4096).every((byte) => byte === 7), 'the spoilt file, as it was');
      }
      assert.match(await page.panel(), /motherbulb\.book and motherbulb\.book-wal among this browser's downloads/);
      await page.tab.locator('#panel-act').click();
      await page.tab.waitForFunction(() => document.documentElement.dataset.state === 'running');
      assert.equal(await page.tab.evaluate(() => window.motherbulb.way), way);
      assert.equal(await page.tab.evaluate(() => window.motherbulb.entries), 0);
      await drop(page, 'house.parcel', parcel);
      await page.touch('merge');
      assert.equal(await page.digest(), digest, 'the parcel brought all of it back');
    } finally {
      await browser.close();
      rmSync(at, {recursive: true, force: true});
    }
  });
}

test('a book that is found to be damaged can be set aside, or left, and then all goes on', async () => {
  const browser = await Browser.open();
  try {
    let page = await browser.page('?demo&way=handles');
    await countAPot(page);
    await page.tab.waitForTimeout(3000);  // the log goes into the file while nobody taps
    await page.tab.close();
    // One letter of an entry, as it lies in the file.
    await withoutAPage(browser, async () => {
      const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle('motherbulb-demo');
      const handle = await folder.getFileHandle('motherbulb.book');
      const text = new TextDecoder('latin1').decode(await (await handle.getFile()).arrayBuffer());
      const at = text.indexOf('back inside, mesh over it');
      if (at < 0) throw new Error('the entry is not there');
      const out = await handle.createWritable({keepExistingData: true});
      await out.write({type: 'write', position: at, data: 'B'});
      await out.close();
    });
    page = await browser.page('?demo&way=handles');
    await toParcels(page);
    for (let nth = 0; nth < 15 && !await page.has('check'); ++nth) await page.wheelDown(2);
    await page.touch('check');
    for (let nth = 0; nth < 15 && !await page.has('set aside'); ++nth) await page.wheelDown(2);
    const entries = await page.tab.evaluate(() => window.motherbulb.entries);
    await page.touch('set aside');
    assert.match(await page.panel(), /Set this book aside.*Save its file first/s);
    await page.tab.locator('#panel-other').click();
    assert.equal(await page.state(), 'running');
    assert.equal(await page.tab.evaluate(() => window.motherbulb.entries), entries);
    await page.touch('back');
    await countAPot(page);  // and all goes on
    assert.equal(await page.tab.evaluate(() => window.motherbulb.entries), entries + 1);
    await toParcels(page);
    for (let nth = 0; nth < 15 && !await page.has('set aside'); ++nth) await page.wheelDown(2);
    await page.touch('set aside');
    const saved = page.tab.waitForEvent('download');
    await page.tab.locator('#panel-act').click();
    const bytes = readFileSync(await (await saved).path());
    assert.ok(bytes.includes('Back inside, mesh over it'));
    const digest = await page.digest();
    assert.match(await page.panel(), /^Look whether.*Is motherbulb\.book among/s);
    await page.tab.evaluate(() => { window.before = true; });
    await page.tab.locator('#panel-act').click();
    await page.tab.waitForFunction(() => !window.before && document.documentElement.dataset.state === 'running');
    await page.told();
    assert.notEqual(await page.digest(), digest, 'the demo was made anew, by a new writer');
  } finally {
    await browser.close();
  }
});
await run();
