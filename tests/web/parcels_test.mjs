// Parcels in and out of the page, against the machine's own program: one made there is merged here and back, and both
// books are the same by their digest; the stock and what is open are the same to the digit.
import assert from 'node:assert/strict';
import {readFileSync, rmSync} from 'node:fs';
import {join} from 'node:path';
import {Browser, drop, run, say, scratch, test} from './drive.mjs';
import {beSomebody, countAPot, handOut, toParcels} from './jobs.mjs';

const digestOf = (store) => JSON.parse(say('check', store, '--format', 'json')).digest.replace(/-/g, ' ');

test('a parcel made on the desktop is merged here and one made here there: the books are the same', async () => {
  const at = scratch();
  const browser = await Browser.open();
  try {
    const store = join(at, 'house.book');
    say('demo', store, '--on', '2026-11-20');
    say('parcel', store, join(at, 'house.parcel'));
    const page = await browser.page('?demo');
    await drop(page, 'house.parcel', readFileSync(join(at, 'house.parcel')));
    if (!await page.has('merge')) await page.touch('bar:merge');
    await page.touch('merge');
    assert.match((await page.told()).kept, /entries/);
    await countAPot(page);
    // And handed out: saved where the browser saves things.
    const file = await handOut(page);
    assert.match(file.suggestedFilename(), /\.parcel$/);
    await file.saveAs(join(at, 'page.parcel'));
    await page.picture('handed-out');
    say('merge', store, join(at, 'page.parcel'));
    assert.equal(digestOf(store), await page.digest());
  } finally {
    await browser.close();
    rmSync(at, {recursive: true, force: true});
  }
});

// Nobody but a person opens the device's own sheet: it is stood in for, in all that it may answer.
for (const [answer, saved] of [['taken', false], ['AbortError', false], ['NotAllowedError', true]]) {
  test(`a parcel goes to the device's own sheet where there is one (${answer}); what it refuses is saved`, async () => {
    const browser = await Browser.open();
    try {
      await browser.context.addInitScript((says) => {
        window.shared = [];
        navigator.canShare = (what) => what.files.length === 1;
        navigator.share = async (what) => {
          window.shared.push([what.files[0].name, what.files[0].size]);
          if (says !== 'taken') throw new DOMException('', says);
        };
      }, answer);
      const page = await browser.page('?demo');
      let download = null;
      const comes = new Promise((came) => page.tab.on('download', (file) => {
        download = file;
        came();
      }));
      await toParcels(page);
      const places = (await page.told()).items.filter((one) => one.name.startsWith('place:'));
      assert.equal(places.length, 2);
      assert.match(places[1].words, /Share/);
      await page.touch(places[1].name);
      await page.picture('share');
      await page.touch('hand out');
      await beSomebody(page);
      await (saved ? comes : page.tab.waitForTimeout(500));
      const shared = await page.tab.evaluate(() => window.shared);
      assert.equal(shared.length, 1);
      assert.match(shared[0][0], /\.parcel$/);
      assert.ok(shared[0][1] > 1000);
      assert.equal(download !== null, saved);
      if (saved) assert.equal(download.suggestedFilename(), shared[0][0]);
      assert.match(await page.words(), /device's own sheet/);
      assert.deepEqual(page.faults, []);
    } finally {
      await browser.close();
    }
  });
}

test('a table is taken in and taken back on the page, and one with faults is refused', async () => {
  const browser = await Browser.open();
  try {
    const page = await browser.page('?demo');
    const digest = await page.digest();
    const table = (count) => Buffer.from('when,helper,event,clone,genus,batch,pot,method,sections,grade,count,cause\n' +
      '2026-09-01T09:00+02:00,Ines,begun,Sleet Lantern,Hippeastrum,S1,,chipping,8,24-26,1,\n' +
      `2026-09-01T09:10+02:00,Ines,potted,,,S1,1,,,,${count},\n`);
    await drop(page, 'spoilt.csv', table('many'));
    await page.touch('table');
    assert.match((await page.told()).trouble, /spoilt\.csv: nothing was taken in.*"many"/);
    assert.equal(await page.digest(), digest);
    await page.touch('error:aside');
    await page.touch('bar:start');
    await drop(page, 'september.csv', table('8'));
    assert.doesNotMatch(await page.words(), /damaged/, 'a table is no damaged parcel');
    await page.picture('table');
    await page.touch('table');
    assert.equal((await page.told()).kept, '2 rows new, 0 known already');
    await page.touch('table');
    await beSomebody(page);
    if (await page.has('table')) await page.touch('table');
    assert.equal((await page.told()).kept, '2 rows taken back');
    const download = page.tab.waitForEvent('download');
    await toParcels(page);
    for (let nth = 0; nth < 10 && !await page.has('write table'); ++nth) await page.wheelDown(2);
    await page.touch('write table');
    assert.match((await download).suggestedFilename(), /\.csv$/);
    assert.deepEqual(page.faults, []);
  } finally {
    await browser.close();
  }
});

test('a backup made on one page is taken in by another that has nothing: the books are the same', async () => {
  const at = scratch();
  const browser = await Browser.open();
  const other = await Browser.open({size: [800, 1280]});
  try {
    const page = await browser.page('?demo');
    await countAPot(page);
    await toParcels(page);
    for (let nth = 0; nth < 10 && !await page.has('back up'); ++nth) await page.wheelDown(2);
    const download = page.tab.waitForEvent('download');
    await page.touch('back up');
    const file = await download;
    assert.match(file.suggestedFilename(), /^backup-.*\.book$/);
    await file.saveAs(join(at, 'latest.book'));
    assert.equal(digestOf(join(at, 'latest.book')), await page.digest());
    const bytes = readFileSync(join(at, 'latest.book'));

    const empty = await other.page('');
    const spoilt = Buffer.from(bytes);
    for (let i = 4096; i < spoilt.length; i += 512) spoilt[i] ^= 0xff;
    while (await empty.has('first:later')) await empty.touch('first:later');
    await empty.touch('first:north');
    await empty.touch('first:merge');
    await drop(empty, 'spoilt.book', spoilt);
    assert.match((await empty.told()).trouble, /spoilt\.book/);
    assert.equal(await empty.tab.evaluate(() => window.motherbulb.entries), 0);
    await empty.touch('error:aside');
    await empty.tab.locator('#pick').setInputFiles(join(at, 'latest.book'));
    for (let tries = 0; tries < 100 && !await empty.has('merge'); ++tries) await empty.tab.waitForTimeout(100);
    await empty.picture('backup-waits');
    await empty.touch('merge');
    assert.match((await empty.told()).kept, /entries/);
    assert.equal(await empty.digest(), await page.digest());
    assert.doesNotMatch(await empty.words(), /cannot be read/, 'what was taken in, or refused, waits no longer');
    // And it stays: the browser has it.
    await empty.tab.reload();
    await empty.running();
    assert.equal(await empty.digest(), await page.digest());
    assert.deepEqual(empty.faults, []);
  } finally {
    await browser.close();
    await other.close();
    rmSync(at, {recursive: true, force: true});
  }
});

test('a damaged parcel is refused in words, and nothing is changed', async () => {
  const browser = await Browser.open();
  try {
    const page = await browser.page('?demo');
    const digest = await page.digest();
    await drop(page, 'bad.parcel', Buffer.from('this is no parcel'));
    assert.match((await page.told()).trouble, /bad\.parcel/);
    assert.equal(await page.digest(), digest);
  } finally {
    await browser.close();
  }
});
await run();
