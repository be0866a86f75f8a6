// What takes long is reckoned beside the page: it shows how far it is and can be stopped, and what comes of it is what
// the machine's own program says of the same book.
import assert from 'node:assert/strict';
import {rmSync} from 'node:fs';
import {join} from 'node:path';
import {Browser, run, say, scratch, test} from './drive.mjs';
import {first, handOut} from './jobs.mjs';

async function openClone(page) {
  await page.touch('bar:start');
  await page.touch('link:outlook');
  const row = await first(page, 'ahead:');
  await page.touch(row);
  return row.split(':');
}
const shows = (page, name) => page.tab.waitForFunction((wanted) => window.motherbulb.told && window.motherbulb.told.items.some((one) => one.name === wanted),
  name, {timeout: 120000});

test('the years ahead are reckoned while the page lives, and Stop stops it', async () => {
  const browser = await Browser.open();
  try {
    const page = await browser.page('?demo');
    // The longest while in which the page answers to nothing, from here on.
    await page.tab.evaluate(() => {
      window.longest = 0;
      let before = performance.now();
      setInterval(() => {
        const now = performance.now();
        window.longest = Math.max(window.longest, now - before);
        before = now;
      }, 10);
    });
    await openClone(page);
    await shows(page, 'work:stop');
    await page.picture('reckoning');
    await page.touch('work:stop');
    await shows(page, 'again');
    await page.picture('reckoning-stopped');
    await page.touch('again');
    await shows(page, 'target:more');
    // The season's plan is worked out beside the screen, which can be used meanwhile.
    await page.touch('target:more');
    await page.tab.waitForFunction(() => !window.motherbulb.reckons, null, {timeout: 120000});
    await page.picture('outlook-reckoned');
    const longest = await page.tab.evaluate(() => window.longest);
    console.log(`the longest that the page answered to nothing: ${longest.toFixed(0)} ms`);
    assert.ok(longest < 1000, `the page stood still for ${longest.toFixed(0)} ms`);
    assert.deepEqual(page.faults, []);
  } finally {
    await browser.close();
  }
});

test('a plan that is stopped shows the best that was found by then', async () => {
  const browser = await Browser.open({serviceWorkers: 'block'});
  try {
    // While its plan is walked through chance it stands still until Stop comes.
    await browser.context.route('**/reckoner.js', async (route) => {
      const response = await route.fetch();
      await route.fulfill({response, body: `${await response.text()}
        const {reckoningGoesOn, reckoningIsWanted} = page;
        let stands = false;
        page.reckoningGoesOn = (share, target) => {
          reckoningGoesOn(share, target);
          if (stands || target === 0 || share < 0.5) return;
          stands = true;
          self.postMessage({share, target: 1});
          for (const until = Date.now() + 60000; reckoningIsWanted() && Date.now() < until;);
        };`});
    });
    await browser.context.addInitScript(() => {
      const Real = window.Worker;
      window.Worker = class extends Real {
        constructor(...given) {
          super(...given);
          this.addEventListener('message', (event) => { if (event.data.target === 1) window.stands = true; });
        }
      };
    });
    const page = await browser.page('?demo');
    await page.touch('bar:start');
    await page.touch('link:outlook');
    await page.touch('plan:all');  // of all clones, which takes longest
    await shows(page, 'plan:stop');
    await page.tab.waitForFunction(() => window.stands, null, {timeout: 120000});
    await page.touch('plan:stop');
    await page.picture('plan-ends');
    await page.tab.waitForFunction(() => !window.motherbulb.reckons, null, {timeout: 10000});
    await page.picture('plan-ended');
    const words = await page.words();
    assert.doesNotMatch(words, /Stopped before a plan was found/);
    assert.deepEqual(page.faults, []);
  } finally {
    await browser.close();
  }
});

test('the chance on the page is the one that the program says of the same book', async () => {
  const at = scratch();
  const browser = await Browser.open();
  try {
    const page = await browser.page('?demo');
    const [, clone] = await openClone(page);
    await shows(page, 'target:more');
    const words = await page.words();
    const [, target] = words.match(/to have ([\d,]+) saleable/);
    // Handed out, and merged into a book of the machine's.
    await (await handOut(page)).saveAs(join(at, 'page.parcel'));
    say('merge', join(at, 'same.book'), join(at, 'page.parcel'));
    const told = JSON.parse(say('outlook', join(at, 'same.book'), '--clone', clone, '--target', target.replace(/,/g, ''), '--format', 'json'));
    const season = told.seasons[3];
    const hundred = Math.round(100 * season.p_target);
    const found = Number(words.match(/\b(\d+) \| in 100/)[1]);
    assert.equal(found, hundred, `${words}: ${JSON.stringify(season)}`);
  } finally {
    await browser.close();
    rmSync(at, {recursive: true, force: true});
  }
});
await run();
