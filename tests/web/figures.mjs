// What the page costs: size, start, a kept tap, a frame, rest, with 10,000 and with 100,000 entries.
//   node tests/web/figures.mjs [handles|chunks|10000|100000]...
// No test: a busy machine is slow.
import {execFileSync} from 'node:child_process';
import {readdirSync, readFileSync, rmSync, statSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {brotliCompressSync, gzipSync} from 'node:zlib';
import {Browser, drop, folder, say, scratch} from './drive.mjs';
import {countAPot} from './jobs.mjs';

function sizes() {
  let plain = 0, gzip = 0, brotli = 0;
  const look = (at) => {
    for (const name of readdirSync(at)) {
      const path = join(at, name);
      if (statSync(path).isDirectory()) {
        if (name !== 'licences') look(path);  // no browser fetches them
        continue;
      }
      if (/\.(br|gz)$/.test(name)) continue;
      const bytes = readFileSync(path);
      plain += bytes.length;
      gzip += gzipSync(bytes, {level: 9}).length;
      brotli += brotliCompressSync(bytes).length;
    }
  };
  look(folder);
  return {plain, gzip, brotli};
}

function middle(numbers) {
  return [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)];
}

// CPU time of all processes of a browser, in s.
function cpuSeconds(profile) {
  const pids = execFileSync('pgrep', ['-f', '--', `--user-data-dir=${profile}`]).toString().trim().split('\n');
  let ticks = 0;
  for (const pid of pids) {
    try {
      const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').replace(/^.*\) /s, '').split(' ');
      ticks += Number(fields[11]) + Number(fields[12]);
    } catch { /* ended meanwhile */ }
  }
  return ticks / 100;
}

// A table of so many rows: batches of sixty, begun, potted, looked at, watered, lost, unpotted. All of it invented.
function table(rows) {
  const lines = ['when,helper,event,clone,genus,batch,pot,parent,method,sections,grade,count,cause,place,note'];
  const start = Date.parse('2026-01-01T08:00:00Z');
  for (let row = 0; row < rows; ++row) {
    const at = row % 60, batch = `M${Math.floor(row / 60) + 1}`, pot = at % 12 + 1;
    const when = `${new Date(start + row * 60000).toISOString().slice(0, 19)}+00:00`;
    const beginning = `${when},${['Ines', 'Bo', 'Runa'][row % 3]}`;
    if (at === 0) {
      lines.push(`${beginning},begun,Clone ${row / 60 % 6 + 1},Hippeastrum,${batch},,,chipping,16,20-22,6,,,`);
    } else if (at <= 12) {
      lines.push(`${beginning},potted,,,${batch},${pot},,,,,8,,"house ${row % 3 + 1}, bench ${row % 9 + 1}",`);
    } else if (at < 48 || at >= 54) {
      lines.push(row % 12 === 0 ? `${beginning},lost,,,${batch},${pot},,,,,1,rot,,`
        : row % 2 === 0 ? `${beginning},looked,,,${batch},${pot},,,,,${row % 8},,,`
          : `${beginning},watered,,,${batch},${pot},,,,,,,,`);
    } else {
      lines.push(`${beginning},unpotted,,,${batch},${pot},,,,2-4,${row % 5},,,`);
    }
  }
  return lines.join('\n') + '\n';
}

// The parcel of a book with so many entries.
function parcelOf(rows, at) {
  const [book, csv, parcel] = ['book', 'csv', 'parcel'].map((end) => join(at, `${rows}.${end}`));
  writeFileSync(csv, table(rows));
  say('import', book, csv);
  say('parcel', book, parcel);
  return readFileSync(parcel);
}

async function oneWay(way, entries, parcel) {
  const browser = await Browser.open();
  const line = (words) => console.log(`${way}, ${entries.toLocaleString('en')} entries: ${words}`);
  try {
    let page = await browser.page(`?way=${way}`);
    await page.tab.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await drop(page, 'many.parcel', parcel);
    const merging = Date.now();
    await page.touch('merge');
    await page.tab.waitForFunction((wanted) => window.motherbulb.entries >= wanted && window.motherbulb.pending === 0, entries, {timeout: 600000});
    line(`merged in ${((Date.now() - merging) / 1000).toFixed(1)} s`);
    await page.tab.close();
    const starts = [];
    for (let nth = 0; nth < 5; ++nth) {
      page = await browser.page(`?way=${way}`);
      starts.push(await page.tab.evaluate(() => performance.getEntriesByName('first frame')[0].startTime));
      if (nth < 4) await page.tab.close();
    }
    line(`first frame after ${middle(starts).toFixed(0)} ms, median of ${starts.map((one) => one.toFixed(0)).join(', ')}`);
    for (let nth = 0; nth < 20; ++nth) await countAPot(page);
    const kept = await page.tab.evaluate(() => window.motherbulb.keptIn);
    line(`from handing over to safe ${middle(kept).toFixed(1)} ms, median of ${kept.length}`);
    await page.touch('back');
    for (let nth = 0; nth < 20; ++nth) await page.touch(nth % 2 ? 'bar:due' : 'bar:pots');
    line(`a frame ${middle(await page.tab.evaluate(() => window.motherbulb.drawnIn)).toFixed(2)} ms, median`);
    await page.touch('bar:start');
    await page.tab.waitForTimeout(3000);
    const frames = await page.tab.evaluate(() => window.motherbulb.frames);
    const before = cpuSeconds(browser.profile);
    await page.tab.waitForTimeout(10000);
    line(`at rest for 10 s: ${(await page.tab.evaluate(() => window.motherbulb.frames)) - frames} frames, ` +
      `${((cpuSeconds(browser.profile) - before) * 10).toFixed(1)} % of a core`);
  } finally {
    await browser.close();
  }
}

const only = process.argv.slice(2);
console.log('size in bytes:', sizes());
const at = scratch();
for (const entries of [10000, 100000]) {
  const parcel = parcelOf(entries, at);
  for (const way of ['handles', 'chunks']) {
    if (only.length === 0 || only.includes(way) || only.includes(String(entries))) await oneWay(way, entries, parcel);
  }
}
rmSync(at, {recursive: true, force: true});
