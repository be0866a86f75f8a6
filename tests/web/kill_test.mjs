// A browser that dies right after it said "kept" has lost nothing: killed with SIGKILL, all its processes at once, again
// and again, in both ways of keeping. MOTHERBULB_KILLS: how often in all (50).
import assert from 'node:assert/strict';
import {Browser, run, test} from './drive.mjs';
import {countAPot} from './jobs.mjs';

const kills = Number(process.env.MOTHERBULB_KILLS || 50);

async function killAgainAndAgain(way, times) {
  const browser = await Browser.open();
  try {
    let page = await browser.page(`?demo&way=${way}`);
    assert.equal(await page.tab.evaluate(() => window.motherbulb.way), way);
    let entries = await page.tab.evaluate(() => window.motherbulb.entries);
    for (let nth = 1; nth <= times; ++nth) {
      // In one task of the page: the answer is seen, and no more than that happens before the kill.
      const acknowledged = await countAPot(page);
      const digest = await page.digest();
      browser.kill();
      await browser.start();
      page = await browser.page(`?demo&way=${way}`);
      const found = await page.tab.evaluate(() => window.motherbulb.entries);
      assert.ok(found >= entries + acknowledged, `kill ${nth}: ${entries} and ${acknowledged} acknowledged, ${found} found`);
      assert.equal(await page.digest(), digest, `kill ${nth}: another book than was acknowledged`);
      entries = found;
    }
  } finally {
    await browser.close();
  }
}

test('nothing acknowledged is lost by a kill, with file handles', () => killAgainAndAgain('handles', Math.ceil(kills / 2)));
test('nothing acknowledged is lost by a kill, in IndexedDB', () => killAgainAndAgain('chunks', Math.floor(kills / 2)));
await run();
