// The four daily jobs in the page, by real touches on the canvas and through its mirror, as a screen reader presses; at
// three sizes and pixel ratios. What is kept is the same book as after a reload.
import assert from 'node:assert/strict';
import {Browser, run, test} from './drive.mjs';
import {beSomebody, byMirror, byTouch, countAPot, first} from './jobs.mjs';

async function fourJobs(page, act) {
  // Unpotting.
  assert.equal(await countAPot(page, act), 1);
  // Pests and damage, pot by pot.
  while (!await page.has('bar:pots')) await act(page, 'back');
  await act(page, 'bar:pots');
  await act(page, await first(page, 'bench:2'));
  if (!await page.has('see:mouse')) await act(page, await first(page, 'pot:'));
  const before = await page.tab.evaluate(() => window.motherbulb.entries);
  await act(page, 'see:mouse');
  await act(page, 'bad:2');
  await act(page, 'keep');
  assert.equal(await page.tab.evaluate(() => window.motherbulb.entries), before + 1, `a mouse was seen: ${(await page.told()).trouble}`);
  // What is due.
  await act(page, 'bar:due');
  await act(page, await first(page, 'due:act:'));
  if (await page.has('keep')) await act(page, 'keep');
  assert.ok(await page.tab.evaluate(() => window.motherbulb.entries) > before + 1, `what was due is done: ${await page.words()}`);
  // The day's merge.
  await act(page, 'bar:merge');
  await act(page, 'merge');
  const told = await page.told();
  assert.match(told.kept, /entries/);
  assert.ok(await page.tab.evaluate(() => window.motherbulb.entries) > before + 20);
}

for (const [size, ratio, act, how] of [[[1280, 800], 1, byTouch, 'touch'], [[1280, 800], 1, byMirror, 'mirror'],
  [[800, 1200], 2, byTouch, 'touch-tablet'], [[412, 900], 3, byTouch, 'touch-phone']]) {
  test(`the four daily jobs by ${how} at ${size.join(' x ')}, pixel ratio ${ratio}`, async () => {
    const browser = await Browser.open({size, ratio});
    try {
      const page = await browser.page('?demo');
      const canvas = await page.tab.evaluate(() => [document.getElementById('canvas').width, document.getElementById('canvas').height]);
      assert.deepEqual(canvas, size.map((one) => one * ratio), 'a pixel of the canvas is a pixel of the screen');
      await page.picture(`start-${how}`);
      await fourJobs(page, act);
      await page.picture(`merged-${how}`);
      const digest = await page.digest();
      await page.tab.reload();
      await page.running();
      assert.equal(await page.digest(), digest);
      assert.deepEqual(page.faults, []);
    } finally {
      await browser.close();
    }
  });
}

test('a screen reader finds a pot: real buttons with names and states, in reading order', async () => {
  const browser = await Browser.open();
  try {
    const page = await browser.page('?demo');
    await page.tab.getByRole('button', {name: /Unpot & count/}).focus();
    await page.tab.keyboard.press('Enter');
    await page.told();
    await byMirror(page, await first(page, 'batch:'));
    await beSomebody(page, byMirror);
    if (!await page.has('pad:3')) await byMirror(page, await first(page, 'pot:'));
    const three = page.tab.getByRole('button', {name: '3', exact: true});
    await three.focus();
    await page.tab.keyboard.press('Enter');
    await page.told();
    await page.tab.getByRole('button', {name: /Keep/}).first().focus();
    await page.tab.keyboard.press('Enter');
    const told = await page.told();
    assert.match(told.kept, /3 kept/);
    assert.match(await page.tab.getByRole('status').textContent(), /3 kept/);
    // The head before the screen, the screen before the bar.
    const order = told.items.map((one) => one.name).filter(Boolean);
    assert.ok(order.indexOf('back') < order.indexOf('pad:1'));
    // Each control has words.
    assert.deepEqual(told.items.filter((one) => one.kind === 'control' && !one.words.trim()), []);
  } finally {
    await browser.close();
  }
});

test('the way back goes back a screen, and leaves only from the start with nothing unsaved', async () => {
  const browser = await Browser.open();
  try {
    const page = await browser.page('?demo');
    await page.touch('quarter:unpot');
    await page.touch(await first(page, 'batch:'));
    await beSomebody(page);
    await page.touch('pad:3');
    await page.tab.evaluate(() => history.back());
    await page.tab.waitForTimeout(150);
    await page.told();
    assert.equal(await page.has('pad:3'), false, 'off the bench');
    for (let nth = 0; nth < 4 && !await page.has('quarter:unpot'); ++nth) {
      await page.tab.evaluate(() => history.back());
      await page.tab.waitForTimeout(150);
      await page.told();
    }
    assert.ok(await page.has('quarter:unpot'), 'at the start');
    await page.tab.evaluate(() => history.back());
    await page.tab.waitForTimeout(300);
    await page.told();
    assert.ok(await page.has('quarter:unpot'), 'three are counted and not kept: it does not leave');
  } finally {
    await browser.close();
  }
});

test('words come from the device\'s own keyboard, with accents and whatever else it writes', async () => {
  const browser = await Browser.open();
  try {
    const page = await browser.page('?demo');
    await page.touch('who');
    await page.touch('who:other');
    const field = page.tab.locator('#mirror input');
    await field.waitFor();
    await field.tap();
    await field.fill('Åsa Ørsted');
    const told = await page.told();
    assert.equal(told.items.find((one) => one.kind === 'field').value, 'Åsa Ørsted');
    await page.picture('typed');
  } finally {
    await browser.close();
  }
});

test('at rest nothing is drawn', async () => {
  const browser = await Browser.open();
  try {
    const page = await browser.page('?demo');
    await page.touch('bar:pots');
    const frames = await page.tab.evaluate(() => window.motherbulb.frames);
    await page.tab.waitForTimeout(3000);
    assert.equal(await page.tab.evaluate(() => window.motherbulb.frames), frames);
  } finally {
    await browser.close();
  }
});
await run();
