// Every screen of the page against the desktop's: what they tell must be the same, and the pictures as near as two ways
// of drawing the same triangles are. The desktop's come from tests/screens/page_twin_test.cpp.
import assert from 'node:assert/strict';
import {existsSync, readFileSync} from 'node:fs';
import {join} from 'node:path';
import {Browser, Page, build, pictures, run, source, test} from './drive.mjs';

const NOW = 1794476400000;  // 2026-11-12T10:00+01:00, as there
const desktop = join(build, 'pictures');

const walk = {windows: [], steps: []};
for (const line of readFileSync(join(source, 'tests/web/walk.txt'), 'utf8').split('\n')) {
  if (!line || line.startsWith('#')) continue;
  const [act, ...rest] = line.split(' ');
  if (act === 'window') {
    const [name, width, height, ratio, theme] = rest;
    walk.windows.push({name, width: Number(width), height: Number(height), ratio: Number(ratio), theme});
  } else {
    walk.steps.push({act, on: rest.join(' ')});
  }
}

async function openAt(browser, shape) {
  await browser.context.addInitScript(([now, theme]) => {
    const Real = Date;
    window.Date = class extends Real {
      constructor(...given) {
        super(...(given.length > 0 ? given : [now]));
      }
      static now() { return now; }
    };
    localStorage.setItem('motherbulb-demo window', `helper Ines\ntheme ${theme}\nmotion less\n`);
  }, [NOW, shape.theme]);
  const page = new Page(await browser.context.newPage());
  await page.open(`${browser.address}?demo`);
  return page;
}

// The control of that name; of a name that ends with * the first that begins so and is enabled; null where there is none.
async function control(page, wanted) {
  const told = await page.told();
  if (!wanted.endsWith('*')) return told.items.some((one) => one.name === wanted) ? wanted : null;
  const found = told.items.find((one) => one.kind === 'control' && one.enabled !== false && one.name.startsWith(wanted.slice(0, -1)));
  return found ? found.name : null;
}

// How far two pictures are apart: the share of pixels that differ by more than 40 in any colour, of 255.
function difference(page, one, other) {
  const address = (path) => `data:image/png;base64,${readFileSync(path).toString('base64')}`;
  return page.tab.evaluate(async ([first_, second]) => {
    const pixels = async (of) => {
      const image = new Image();
      image.src = of;
      await image.decode();
      const canvas = new OffscreenCanvas(image.width, image.height);
      const context = canvas.getContext('2d');
      context.drawImage(image, 0, 0);
      return context.getImageData(0, 0, image.width, image.height);
    };
    const a = await pixels(first_), b = await pixels(second);
    if (a.width !== b.width || a.height !== b.height) return {size: `${a.width}x${a.height}, ${b.width}x${b.height}`};
    let far = 0, most = 0;
    for (let i = 0; i < a.data.length; i += 4) {
      const apart = Math.max(...[0, 1, 2].map((c) => Math.abs(a.data[i + c] - b.data[i + c])));
      most = Math.max(most, apart);
      if (apart > 40) ++far;
    }
    return {far: far * 4 / a.data.length, most};
  }, [address(one), address(other)]);
}

for (const shape of walk.windows) {
  if (shape.name === 'portrait' && !process.env.MOTHERBULB_LONG) continue;
  test(`the page shows what the desktop shows, screen by screen (${shape.name})`, async () => {
    const browser = await Browser.open({size: [shape.width, shape.height], ratio: shape.ratio, serviceWorkers: 'block'});
    try {
      const page = await openAt(browser, shape);
      const blank = new Page(await browser.context.newPage());
      await page.tab.bringToFront();
      const faults = [];
      let compared = 0, farthest = 0;
      for (const {act, on} of walk.steps) {
        // What is reckoned beside the page is reckoned there before the next step; one reckoning may lead to the next.
        while (await page.tab.evaluate(() => window.motherbulb.reckons)) {
          await page.tab.waitForFunction(() => !window.motherbulb.reckons, null, {timeout: 120000});
          await page.told();
        }
        if (act === 'touch') {
          await page.touch(await control(page, on) || on);
        } else if (act === 'maybe') {
          const name = await control(page, on);
          if (name) await page.touch(name);
        } else if (act === 'find') {
          for (let i = 0; i < 30 && !await control(page, on); ++i) await page.wheelDown(2);
          await page.wheelDown(2);
          await page.touch(await control(page, on));
        } else if (act === 'picture' || act === 'words') {
          const name = `walk-${shape.name}-${on}`;
          const there = join(desktop, `${name}.png`);
          assert.ok(existsSync(there), `${there} is not there: the window test page_twin_test makes it`);
          const here = await page.picture(name);
          const told = await page.told();
          const wanted = JSON.parse(readFileSync(join(desktop, `${name}.json`), 'utf8'));
          // Of what moves by itself and of what is in bytes of its own only the words, and no number.
          const listed = (all) => all.items.map(({kind, name: of, words, value, enabled, chosen, ...place}) => act === 'words'
            ? words.replace(/\d+/g, '#')
            : {kind, of, words, value, enabled, chosen, place: Object.values(place).map((one) => Math.round(one * 2) / 2)});
          try {
            assert.deepEqual(listed(told), listed(wanted));
          } catch (fault) {
            faults.push(`${name} tells something else:\n${fault.message}`);
          }
          if (act === 'words') continue;
          const apart = await difference(blank, here, there);
          ++compared;
          farthest = Math.max(farthest, apart.far || 0);
          if (apart.size || apart.far > 0.001) faults.push(`${name} looks different: ${JSON.stringify(apart)}`);
        } else {
          assert.fail(`the walk knows no '${act}'`);
        }
      }
      assert.deepEqual(page.faults, []);
      assert.deepEqual(faults, [], faults.join('\n'));
      console.log(`${compared} pictures; the farthest has ${(farthest * 100).toFixed(4)} % of its pixels elsewhere`);
    } finally {
      await browser.close();
    }
  });
}
await run();
