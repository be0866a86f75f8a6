// Two windows on one book: one writes; the other says so and can take over; a window that was taken over writes nothing.
import assert from 'node:assert/strict';
import {Browser, Page, run, test} from './drive.mjs';
import {countAPot} from './jobs.mjs';

for (const way of ['handles', 'chunks']) {
  test(`a second window waits, takes over with every entry, and the first says so (${way})`, async () => {
    const browser = await Browser.open();
    try {
      const one = await browser.page(`?demo&way=${way}`);
      await countAPot(one);
      const digest = await one.digest();
      const two = new Page(await browser.context.newPage());
      await two.tab.goto(`${browser.address}?demo&way=${way}`);
      await two.tab.waitForFunction(() => document.documentElement.dataset.state === 'panel');
      assert.match(await two.panel(), /open in another window/);
      await two.tab.screenshot();
      await two.tab.locator('#panel-act').tap();
      await two.tab.waitForFunction(() => document.documentElement.dataset.state === 'running');
      await two.told();
      assert.equal(await two.digest(), digest);
      await one.tab.waitForFunction(() => document.documentElement.dataset.state === 'panel');
      assert.match(await one.panel(), /open in another window/);
      await countAPot(two);
      // And back again.
      const later = await two.digest();
      await one.tab.bringToFront();
      await one.tab.locator('#panel-act').tap();
      await one.tab.waitForFunction(() => document.documentElement.dataset.state === 'running');
      await one.told();
      assert.equal(await one.digest(), later);
      // It was asked for once: started again, a window waits as at first.
      await two.tab.reload();
      await two.tab.waitForFunction(() => document.documentElement.dataset.state);
      assert.match(await two.panel(), /open in another window/);
      assert.equal(await one.state(), 'running');
    } finally {
      await browser.close();
    }
  });
}

test('a window that is still closing is waited for', async () => {
  const browser = await Browser.open();
  try {
    const closing = await browser.context.newPage();
    await closing.goto(`${browser.address}manifest.webmanifest`);
    await closing.evaluate(() => new Promise((held) => {
      navigator.locks.request('motherbulb-demo', () => new Promise((let_go) => {
        window.letGo = let_go;
        held();
      }));
    }));
    const next = new Page(await browser.context.newPage());
    const opening = next.open(`${browser.address}?demo`);
    for (let tries = 0; tries < 500; ++tries) {
      if (await closing.evaluate(async () => (await navigator.locks.query()).pending.length > 0)) break;
      await closing.waitForTimeout(20);
    }
    await closing.evaluate(() => window.letGo());
    await opening;
    assert.ok((await next.told()).items.length > 0);
  } finally {
    await browser.close();
  }
});

test('a window whose storage another took over in spite of all writes nothing more, and says so', async () => {
  const browser = await Browser.open();
  try {
    const one = await browser.page('?demo&way=chunks');
    await countAPot(one);
    const digest = await one.digest();
    // As if there were no locks: another owner's token stands in the storage.
    await one.tab.evaluate(() => new Promise((resolve) => {
      const request = indexedDB.open('motherbulb-demo', 1);
      request.onsuccess = () => {
        const transaction = request.result.transaction('about', 'readwrite');
        transaction.objectStore('about').put('another', 'owner');
        transaction.oncomplete = () => {
          request.result.close();
          resolve();
        };
      };
    }));
    await one.touch('pad:3').catch(() => {});
    await one.tab.evaluate(() => {
      const press = (name) => [...document.querySelectorAll('#mirror button')].find((button) => button.dataset.name === name)?.click();
      press('keep');
    });
    await one.tab.waitForFunction(() => document.documentElement.dataset.state === 'panel');
    assert.match(await one.panel(), /open in another window/);
    await one.tab.reload();
    await one.running();
    assert.equal(await one.digest(), digest, 'what was not acknowledged is not there, what was is');
  } finally {
    await browser.close();
  }
});
await run();
