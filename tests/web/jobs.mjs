// The four daily jobs, as a person does them. `act(page, name)` presses a control: by touch or through the mirror.
import assert from 'node:assert/strict';

export const byTouch = (page, name) => page.touch(name);
export const byMirror = (page, name) => page.press(name);

// The first control whose name begins so.
export async function first(page, beginning) {
  const told = await page.told();
  const found = told.items.find((one) => one.kind === 'control' && one.name.startsWith(beginning) && one.enabled !== false);
  assert.ok(found, `nothing on the screen begins with '${beginning}'; there are: ${told.items.map((one) => one.name).filter(Boolean).join(', ')}`);
  return found.name;
}

// Says who is here, where that is asked.
export async function beSomebody(page, act = byTouch) {
  if (await page.has('who:Bo')) await act(page, 'who:Bo');
  if (await page.has('who:done')) await act(page, 'who:done');
}

// To the page on which parcels go out.
export async function toParcels(page) {
  while (!await page.has('bar:start')) await page.touch('back');
  await page.touch('bar:start');
  await page.touch('link:parcels');
}

// Hands out all of the book; the file, as the browser saved it.
export async function handOut(page) {
  await toParcels(page);
  const download = page.tab.waitForEvent('download');
  await page.touch('hand out');
  await beSomebody(page);
  return download;
}

// From the batches to one of their pots, on the bench.
export async function takeAPot(page, act = byTouch) {
  const due = (await page.told()).items.some((one) => one.name.startsWith('batch:') && one.enabled !== false);
  await act(page, await first(page, due ? 'batch:' : 'other-batch:'));
  await beSomebody(page, act);
  if (!await page.has('pad:3') && (await page.told()).items.some((one) => one.name.startsWith('pot:'))) {
    await act(page, await first(page, 'pot:'));
  }
}

// Counts one pot, as far as Keep.
export async function countWithoutKeeping(page, act = byTouch) {
  if (!await page.has('pad:3')) {
    if (!await page.has('quarter:unpot')) await act(page, 'bar:start');
    await act(page, 'quarter:unpot');
    await takeAPot(page, act);
  }
  await act(page, 'pad:3');
  await act(page, 'pad:2');
}

// Counts one pot and taps Keep, whatever comes of it.
export async function countOne(page, act = byTouch) {
  await countWithoutKeeping(page, act);
  await act(page, 'keep');
}

// Counts one pot and keeps it. How many entries were acknowledged by then.
export async function countAPot(page, act = byTouch) {
  const before = await page.tab.evaluate(() => window.motherbulb.entries);
  await countOne(page, act);
  const told = await page.told();
  assert.match(told.kept, /kept/, `no slip; the screen says: ${told.trouble || told.items.map((one) => one.words).join(' | ')}`);
  return await page.tab.evaluate(() => window.motherbulb.entries) - before;
}
