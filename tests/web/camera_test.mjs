// A parcel that goes from screen to camera: the codes as the page draws them are what another page's camera sees (a
// video of them, given to Chromium as its camera), and both books are the same by their digest afterwards. And what the
// page says where it gets no camera.
import assert from 'node:assert/strict';
import {readFileSync, rmSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {Browser, Page, drop, run, say, scratch, test} from './drive.mjs';
import {beSomebody, countAPot, toParcels} from './jobs.mjs';

const SIDE = 720;  // px of the video

// The picture's grey values, SIDE x SIDE, shrunk as a camera at some distance would see them.
async function greyOf(page, png) {
  const grey = await page.tab.evaluate(async ([picture, side]) => {
    const image = new Image();
    image.src = `data:image/png;base64,${picture}`;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = canvas.height = side;
    const pen = canvas.getContext('2d');
    pen.fillStyle = '#777';
    pen.fillRect(0, 0, side, side);
    const share = side / Math.max(image.width, image.height);
    pen.drawImage(image, 0, 0, image.width * share, image.height * share);
    const {data} = pen.getImageData(0, 0, side, side);
    let text = '';
    for (let i = 0; i < side * side; ++i) text += String.fromCharCode(Math.round(0.299 * data[4 * i] + 0.587 * data[4 * i + 1] + 0.114 * data[4 * i + 2]));
    return btoa(text);
  }, [png.toString('base64'), SIDE]);
  return Buffer.from(grey, 'base64');
}

// YUV4MPEG2, as Chromium takes for a camera: each picture stands for half a second.
function film(greys) {
  const colours = Buffer.alloc(SIDE * SIDE / 2, 128);
  const parts = [Buffer.from(`YUV4MPEG2 W${SIDE} H${SIDE} F10:1 Ip A1:1 C420\n`)];
  for (const grey of greys) {
    for (let i = 0; i < 5; ++i) parts.push(Buffer.from('FRAME\n'), grey, colours);
  }
  return Buffer.concat(parts);
}

// A batch in so many pots, cut long ago and not unpotted yet: invented.
function table(pots) {
  const lines = ['when,helper,event,clone,genus,batch,pot,parent,method,sections,grade,count,cause,place,note',
    `2026-03-02,Bo,begun,Island Star,Hippeastrum,B1,,,chipping,8,26-28,${pots},,,`];
  for (let pot = 1; pot <= pots; ++pot) lines.push(`2026-03-02,Bo,potted,,,B1,${pot},,,,,8,,"Skerry House, bench ${1 + pot % 7}",`);
  return lines.join('\r\n') + '\r\n';
}

test('what one screen shows as codes another page reads by its camera: the books are the same', async () => {
  const at = scratch();
  const house = await Browser.open();
  let shed;
  try {
    writeFileSync(join(at, 'house.csv'), table(40));
    say('import', join(at, 'house.book'), join(at, 'house.csv'));
    say('parcel', join(at, 'house.book'), join(at, 'house.parcel'));
    const shows = await house.page();
    await drop(shows, 'house.parcel', readFileSync(join(at, 'house.parcel')));
    await shows.touch('merge');
    await beSomebody(shows);
    for (let i = 0; i < 2; ++i) await countAPot(shows);
    await toParcels(shows);
    await shows.touch('as codes');
    const codes = Number((await shows.words()).match(/\d+ of (\d+)/)[1]);
    assert.ok(codes > 1, 'more than one code');
    await shows.touch('codes:still');
    const greys = [];
    for (let i = 0; i < codes; ++i) {
      await shows.picture(`codes-${i + 1}`);
      greys.push(await greyOf(shows, await shows.tab.screenshot()));
      await shows.touch('codes:next');
    }
    writeFileSync(join(at, 'codes.y4m'), film(greys));

    shed = await Browser.open({flags: ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-video-capture=${join(at, 'codes.y4m')}`]});
    const reads = await shed.page();
    assert.notEqual(await reads.digest(), await shows.digest());
    if (!await reads.has('bar:merge')) await reads.touch('back');
    await reads.touch('bar:merge');
    await reads.touch('read codes');
    await reads.tab.waitForFunction(() => document.getElementById('camera').videoWidth > 0);
    await reads.told();
    // Its picture lies where the screen has left room for it.
    const [over, canvas] = await reads.tab.evaluate(() => ['camera', 'canvas'].map((id) => document.getElementById(id).getBoundingClientRect().toJSON()));
    assert.ok(over.width > 200 && over.height > 200 && over.top > canvas.top + 60 && over.bottom < canvas.bottom, JSON.stringify(over));
    await reads.picture('reading-codes');
    await reads.tab.waitForFunction(() => window.motherbulb.told.items.some((one) => one.name === 'merge'), null, {timeout: 60000});
    assert.ok(await reads.tab.evaluate(() => document.getElementById('camera').hidden && !document.getElementById('camera').srcObject), 'the camera is off again');
    await reads.picture('codes-read');
    await reads.touch('merge');
    assert.equal(await reads.digest(), await shows.digest());
    assert.deepEqual([...shows.faults, ...reads.faults], []);
  } finally {
    await house.close();
    if (shed) await shed.close();
    rmSync(at, {recursive: true, force: true});
  }
});

test('leaving the screen switches the camera off; so does another window that takes over', async () => {
  const browser = await Browser.open({flags: ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream']});
  const isOff = (page) => page.tab.evaluate(() => window.track.readyState === 'ended' && document.getElementById('camera').hidden);
  try {
    const page = await browser.page('?demo');
    const begin = async () => {
      await page.touch('bar:merge');
      await page.touch('read codes');
      await page.tab.waitForFunction(() => document.getElementById('camera').videoWidth > 0);
      await page.tab.evaluate(() => { window.track = document.getElementById('camera').srcObject.getVideoTracks()[0]; });
    };
    await begin();
    await page.touch('back');
    assert.ok(await isOff(page));
    await begin();
    const other = new Page(await browser.context.newPage());
    await other.tab.goto(`${browser.address}?demo`);
    await other.tab.waitForFunction(() => document.documentElement.dataset.state === 'panel');
    await other.tab.locator('#panel-act').tap();
    await other.tab.waitForFunction(() => document.documentElement.dataset.state === 'running');
    await page.tab.waitForFunction(() => document.documentElement.dataset.state === 'panel');
    assert.ok(await isOff(page), 'and when another window takes over');
  } finally {
    await browser.close();
  }
});

test('where there is no camera, or it is refused, the screen says so and what to do', async () => {
  for (const flags of [['--deny-permission-prompts'], ['--use-fake-ui-for-media-stream']]) {
    const browser = await Browser.open({flags});
    try {
      const page = await browser.page('?demo');
      await page.touch('bar:merge');
      await page.touch('read codes');
      await page.tab.waitForFunction(() => window.motherbulb.told.trouble);
      assert.match((await page.told()).trouble, /camera.*(Allow it|as a file instead)/s);
      assert.ok(await page.has('scan:start'));
      await page.picture(`no-camera-${flags[0].slice(2)}`);
    } finally {
      await browser.close();
    }
  }
});
await run();
