// Two other browsers, by what they themselves listen to: Firefox by its own remote protocol (a length and JSON over TCP),
// WebKitGTK by WebDriver (W3C) over HTTP. Both: {evaluate, tap, reload, kill, close}.
import {spawn, spawnSync} from 'node:child_process';
import {existsSync, readdirSync, writeFileSync} from 'node:fs';
import {createServer, connect} from 'node:net';
import {join} from 'node:path';

const sleep = (ms) => new Promise((next) => setTimeout(next, ms));

async function freePort() {
  const server = createServer();
  await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
  const {port} = server.address();
  await new Promise((resolve) => server.close(resolve));
  return port;
}

async function patiently(what, seconds, attempt) {
  for (let end = Date.now() + seconds * 1000; ;) {
    try {
      return await attempt();
    } catch (fault) {
      if (Date.now() > end) throw new Error(`${what}: ${fault.message}`);
      await sleep(100);
    }
  }
}

function tapActions(x, y) {
  return [{type: 'pointer', id: 'finger', parameters: {pointerType: 'touch'}, actions: [
    {type: 'pointerMove', duration: 0, x: Math.round(x), y: Math.round(y)}, {type: 'pointerDown', button: 0},
    {type: 'pause', duration: 40}, {type: 'pointerUp', button: 0}]}];
}

export async function openFirefox(profile) {
  const port = await freePort();
  writeFileSync(join(profile, 'user.js'), [
    `user_pref("marionette.port", ${port});`, 'user_pref("browser.shell.checkDefaultBrowser", false);',
    'user_pref("datareporting.policy.dataSubmissionEnabled", false);', 'user_pref("app.update.enabled", false);',
    'user_pref("dom.w3c_touch_events.enabled", 1);', 'user_pref("webgl.force-enabled", true);',
    'user_pref("dom.disable_beforeunload", true);'].join('\n'));
  const browser = spawn('firefox-esr', ['--headless', '--marionette', '--no-remote', '--profile', profile],
    {stdio: 'ignore', detached: true, env: {...process.env, MOZ_HEADLESS_WIDTH: '1280', MOZ_HEADLESS_HEIGHT: '900'}});
  const socket = await patiently('Firefox does not listen', 60, () => new Promise((resolve, reject) => {
    const one = connect(port, '127.0.0.1', () => resolve(one));
    one.on('error', reject);
  }));
  let buffer = Buffer.alloc(0);
  const waiting = new Map();
  let greeted;
  const greeting = new Promise((resolve) => { greeted = resolve; });
  socket.on('error', () => {});
  socket.on('data', (more) => {
    buffer = Buffer.concat([buffer, more]);
    for (;;) {
      const colon = buffer.indexOf(':');
      if (colon < 0) return;
      const length = Number(buffer.subarray(0, colon).toString());
      if (buffer.length < colon + 1 + length) return;
      const message = JSON.parse(buffer.subarray(colon + 1, colon + 1 + length).toString());
      buffer = buffer.subarray(colon + 1 + length);
      if (!Array.isArray(message)) {
        greeted();
        continue;
      }
      const [, id, fault, result] = message;
      const {resolve, reject} = waiting.get(id);
      waiting.delete(id);
      if (fault) {
        reject(new Error(`${fault.error}: ${fault.message}`));
      } else {
        resolve(result);
      }
    }
  });
  let last = 0;
  const ask = (name, parameters = {}) => new Promise((resolve, reject) => {
    const id = ++last;
    waiting.set(id, {resolve, reject});
    const text = JSON.stringify([0, id, name, parameters]);
    socket.write(`${Buffer.byteLength(text)}:${text}`);
  });
  await greeting;
  await ask('WebDriver:NewSession', {capabilities: {alwaysMatch: {unhandledPromptBehavior: 'accept'}}});
  return {
    name: 'Firefox',
    open: (address) => ask('WebDriver:Navigate', {url: address}),
    reload: () => ask('WebDriver:Refresh'),
    evaluate: async (script) => (await ask('WebDriver:ExecuteScript', {script, args: []})).value,
    tap: async (x, y) => {
      await ask('WebDriver:PerformActions', {actions: tapActions(x, y)});
      await ask('WebDriver:ReleaseActions');
    },
    picture: async (path) => writeFileSync(path, Buffer.from((await ask('WebDriver:TakeScreenshot', {full: false})).value, 'base64')),
    kill() {
      socket.destroy();
      spawnSync('pkill', ['-9', '-f', '--', profile]);
    },
    async close() {
      socket.destroy();
      try {
        process.kill(-browser.pid, 'SIGKILL');
      } catch { /* gone already */ }
    },
  };
}

export async function openWebKit() {
  const port = await freePort();
  const driver = spawn('WebKitWebDriver', [`--port=${port}`], {stdio: 'ignore', detached: true});
  const ask = async (method, path, body) => {
    const response = await fetch(`http://127.0.0.1:${port}${path}`, {method, body: body === undefined ? undefined : JSON.stringify(body)});
    const {value} = await response.json();
    if (value && value.error) throw new Error(`${value.error}: ${value.message}`);
    return value;
  };
  await patiently('WebKitWebDriver does not listen', 30, () => ask('GET', '/status'));
  const folder = readdirSync('/usr/lib/x86_64-linux-gnu').filter((one) => one.startsWith('webkit2gtk-'))
    .map((one) => join('/usr/lib/x86_64-linux-gnu', one, 'MiniBrowser')).find((one) => existsSync(one));
  const session = (await ask('POST', '/session', {capabilities: {alwaysMatch: {
    'webkitgtk:browserOptions': {binary: folder, args: ['--automation']}}}})).sessionId;
  const at = `/session/${session}`;
  return {
    name: 'WebKitGTK',
    open: (address) => ask('POST', `${at}/url`, {url: address}),
    reload: () => ask('POST', `${at}/refresh`, {}),
    evaluate: (script) => ask('POST', `${at}/execute/sync`, {script, args: []}),
    tap: async (x, y) => {
      await ask('POST', `${at}/actions`, {actions: tapActions(x, y)});
    },
    picture: async (path) => writeFileSync(path, Buffer.from(await ask('GET', `${at}/screenshot`), 'base64')),
    async close() {
      await ask('DELETE', at).catch(() => {});
      try {
        process.kill(-driver.pid, 'SIGKILL');
      } catch { /* gone already */ }
    },
  };
}
