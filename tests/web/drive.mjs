// Drives the page in Chromium as a person would: real touches by coordinates, or the mirror as assistive technology
// presses it. The browser is Debian's own; what speaks to it is fetched by tests/web/fetch_driver.
import {execFileSync, spawnSync} from 'node:child_process';
import {existsSync, mkdirSync, mkdtempSync, rmSync} from 'node:fs';
import {createRequire} from 'node:module';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import assert from 'node:assert/strict';
import {serve} from './serve.mjs';

export const source = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
export const build = process.env.MOTHERBULB_BUILD_DIR || join(source, 'build');
export const binary = process.env.MOTHERBULB_BINARY || join(build, 'motherbulb');
export const folder = join(build, 'web');
export const pictures = join(build, 'pictures', 'web');
mkdirSync(pictures, {recursive: true});

const driver = execFileSync(join(source, 'tests/web/fetch_driver'), [join(build, 'web-driver')]).toString().trim();
const {chromium} = createRequire(import.meta.url)(driver);

// What the machine's own program says: {code, out}.
export function motherbulb(...words) {
  const ran = spawnSync(binary, words, {encoding: 'utf8'});
  return {code: ran.status, out: ran.stdout, err: ran.stderr};
}

// Likewise, where it must do what it is told.
export function say(...words) {
  const said = motherbulb(...words);
  assert.ok(said.code === 0 || said.code === 1, `motherbulb ${words.join(' ')}: ${said.err}`);
  return said.out;
}

export function scratch() {
  return mkdtempSync(join(tmpdir(), 'motherbulb-web-'));
}

const FLAGS = ['--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--no-sandbox',
  '--disable-features=Translate', '--force-color-profile=srgb'];

// A browser with a profile of its own, which outlives it.
export class Browser {
  static async open({profile = scratch(), size = [1280, 800], ratio = 1, touch = true, flags = [], address, server, serviceWorkers = 'allow'} = {}) {
    const own = new Browser();
    own.profile = profile;
    own.server = server || (address ? null : await serve(folder));
    own.address = address || own.server.address;
    own.wish = {executablePath: '/usr/bin/chromium', headless: true, args: [...FLAGS, ...flags],
      viewport: {width: size[0], height: size[1]}, deviceScaleFactor: ratio, hasTouch: touch, acceptDownloads: true, serviceWorkers,
      timezoneId: 'Europe/Berlin', locale: 'en-GB'};
    await own.start();
    return own;
  }

  async start() {
    this.context = await chromium.launchPersistentContext(this.profile, this.wish);
    this.context.setDefaultTimeout(30000);
    this.dead = false;
  }

  async page(query = '') {
    const page = new Page(await this.context.newPage());
    await page.open(this.address + query);
    return page;
  }

  // As a crash, a full battery or a system that needs the memory: nothing of it gets to say a word more.
  kill() {
    this.dead = true;
    spawnSync('pkill', ['-9', '-f', '--', `--user-data-dir=${this.profile}`]);
  }

  async close() {
    try {
      if (!this.dead) await this.context.close();
    } catch { /* gone already */ }
    if (this.server) await this.server.stop();
    rmSync(this.profile, {recursive: true, force: true, maxRetries: 5, retryDelay: 100});
  }
}

export class Page {
  constructor(tab) {
    this.tab = tab;
    this.faults = [];
    tab.on('pageerror', (fault) => this.faults.push(String(fault)));
    tab.on('console', (line) => { if (line.type() === 'error') this.faults.push(line.text()); });
  }

  async open(address) {
    await this.tab.goto(address);
    await this.running();
  }

  state() {
    return this.tab.evaluate(() => document.documentElement.dataset.state || '');
  }
  async running() {
    await this.tab.waitForFunction(() => document.documentElement.dataset.state);
    const state = await this.state();
    assert.equal(state, 'running', `the page says: ${await this.panel()}; ${this.faults.join('; ')}`);
    await this.told();
  }
  async panel() {
    return this.tab.evaluate(() => {
      const panel = document.getElementById('panel');
      return panel.hidden ? '' : `${document.getElementById('panel-title').textContent}: ${document.getElementById('panel-words').textContent}`;
    });
  }
  digest() {
    return this.tab.evaluate(() => window.motherbulb.digest);
  }
  // What the screen says once it stands still.
  async told() {
    return this.tab.evaluate(async () => {
      const two = () => new Promise((next) => requestAnimationFrame(() => requestAnimationFrame(next)));
      for (let before = -1, tries = 0; tries < 400; ++tries) {
        await two();
        const now = window.motherbulb.frames;
        if (now === before && window.motherbulb.told && window.motherbulb.pending === 0) break;
        before = now;
      }
      await new Promise((next) => setTimeout(next, 5));
      return window.motherbulb.told;
    });
  }
  async item(name) {
    const told = await this.told();
    const found = told.items.find((one) => one.name === name);
    assert.ok(found, `there is no '${name}' on the screen; there are: ${told.items.map((one) => one.name).filter(Boolean).join(', ')}`);
    return found;
  }
  async has(name) {
    return (await this.told()).items.some((one) => one.name === name);
  }
  async words() {
    return (await this.told()).items.map((one) => one.words).join(' | ');
  }

  // A finger on the place where the control is drawn.
  async touch(name) {
    const item = await this.item(name);
    const told = await this.told();
    const share = told.scale / await this.tab.evaluate(() => window.devicePixelRatio);
    await this.tab.touchscreen.tap((item.x + item.w / 2) * share, (item.y + item.h / 2) * share);
    await this.told();
    await this.tab.waitForTimeout(90);  // a second touch nearer than 80 ms is water
  }
  // Turns the wheel so many lines down, in the middle of the page's left half.
  async wheelDown(lines) {
    const {width, height} = this.tab.viewportSize();
    const ratio = await this.tab.evaluate(() => window.devicePixelRatio);
    await this.tab.mouse.move(width * 0.4, height * 0.6);
    const before = await this.tab.evaluate(() => window.motherbulb.frames);
    await this.tab.mouse.wheel(0, 100 * lines * ratio);  // told in pixels; a page hears dp, a hundred to the line
    await this.tab.waitForFunction((so_far) => window.motherbulb.frames > so_far, before);
    await this.told();
  }
  // As assistive technology presses it.
  async press(name) {
    await this.item(name);
    await this.tab.evaluate((wanted) => {
      const button = [...document.querySelectorAll('#mirror button')].find((one) => one.dataset.name === wanted);
      button.focus();
      button.click();
    }, name);
    await this.told();
  }

  async kept() {
    return (await this.told()).kept;
  }
  async picture(name) {
    await this.told();
    const path = join(pictures, `${name}.png`);
    await this.tab.screenshot({path});
    return path;
  }
}

// As somebody drags a file onto the page.
export async function drop(page, name, bytes) {
  await page.tab.evaluate(([as, text]) => {
    const data = new DataTransfer();
    data.items.add(new File([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))], as));
    window.dispatchEvent(new DragEvent('drop', {dataTransfer: data, cancelable: true}));
  }, [name, bytes.toString('base64')]);
  await page.tab.waitForTimeout(200);
  await page.told();
}

// Runs what is handed in one after the other; says which failed. `name` is a sentence that says what holds.
const tests = [];
export function test(name, body) {
  tests.push({name, body});
}
export async function run() {
  const only = process.argv[2];
  let failed = 0;
  if (!existsSync(join(folder, 'index.html'))) {
    console.log(`${folder} is not built: platform/web/build makes it.`);
    process.exit(1);
  }
  for (const {name, body} of tests) {
    if (only && !name.includes(only)) continue;
    const start = Date.now();
    try {
      await body();
      console.log(`holds: ${name} (${((Date.now() - start) / 1000).toFixed(1)} s)`);
    } catch (fault) {
      ++failed;
      console.log(`DOES NOT HOLD: ${name}\n${fault.stack || fault}`);
    }
  }
  process.exit(failed > 0 ? 1 : 0);
}
