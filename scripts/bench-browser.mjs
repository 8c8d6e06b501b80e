// npm run bench:browser [-- --dist DIR] [-- --profile] [-- --only findings]: the built application in Debian's Chromium, timed; bench/README.md says how each figure comes about.
import { cpSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { runnerImport } from 'vite';
import { serveBuild, startChromium } from './browser.mjs';
import { build } from './build.mjs';
import { inRoot } from './tools.mjs';
import { weigh } from './weigh.mjs';

const option = process.argv.indexOf('--dist');
const profiling = process.argv.includes('--profile');
const only = process.argv.indexOf('--only');
/** Is this part of the bench asked for? */
const asked = (part) => only < 0 || process.argv[only + 1] === part;
if (option < 0) await build();
const work = mkdtempSync(join(tmpdir(), 'mimicwright-bench-'));
// A copy, so that a build meanwhile does not change what is timed.
const dist = join(work, 'web');
cpSync(resolve(option < 0 ? inRoot('dist/web') : (process.argv[option + 1] ?? '')), dist, { recursive: true });
const { generatePanel } = (await runnerImport(inRoot('tests/generate/panels.ts'))).module;

const SEED = 1;
const DRAG_MS = 3000;
/** The hand moves so often; a screen of 60 pictures a second shows every second move. */
const MOVE_MS = 8;
const STARTS = 5;
const OPENINGS = 5;
const THROWS = 20;
const ROUTES = 10;
const HEAP_EDITS = [500, 2000];
const CHECKED = 'Checked as you lay';

const sorted = (list) => [...list].sort((a, b) => a - b);
const share = (list, part) => sorted(list)[Math.min(list.length - 1, Math.ceil(list.length * part) - 1)] ?? Number.NaN;
const median = (list) => share(list, 0.5);
const p95 = (list) => share(list, 0.95);
const ms = (value) => `${value.toFixed(value < 100 ? 1 : 0)} ms`;
const wait = (time) => new Promise((done) => setTimeout(done, time));

const rows = [];
function row(what, figure, goal) {
  rows.push([what, figure, goal]);
  console.log(`${what}: ${figure}${goal === '' ? '' : `, wanted ${goal}`}`);
}

/** A generated panel with so many lamps, the further ones beside its strips. */
function panelOf(points, lamps) {
  const panel = generatePanel(SEED, points);
  const list = [...panel.lamps];
  const spots = panel.strips.flatMap(({ path }) =>
    path.slice(1).flatMap((to, k) => {
      const from = path[k];
      const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
      const count = Math.floor(length / 10);
      return Array.from({ length: count }, (_, i) => [
        from[0] + ((to[0] - from[0]) * (i + 0.5)) / count,
        from[1] + ((to[1] - from[1]) * (i + 0.5)) / count,
      ]);
    }),
  );
  for (let i = 0; list.length < lamps; i++) {
    const spot = spots[Math.floor((i * spots.length) / (lamps - panel.lamps.length))];
    if (spot === undefined) throw new Error(`There is no room for ${lamps} lamps.`);
    const of = panel.lamps[i % panel.lamps.length];
    list.push({ ...of, id: `X${i + 1}`, at: spot });
  }
  return { ...panel, lamps: list };
}

function fileOf(points, lamps = 0) {
  const panel = panelOf(points, lamps);
  const file = join(work, `generated-${points}.mimic.json`);
  writeFileSync(file, JSON.stringify(panel));
  return { panel, file };
}

const { url, close } = await serveBuild(dist, 4640);
/** The Lay stage over the demo or a file. */
async function toLay(browser, file = null) {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  page.setDefaultTimeout(60_000);
  page.on('pageerror', (error) => console.error(error.message));
  await page.goto(url);
  await page.locator('.sheet').waitFor();
  if (file !== null) {
    await page.locator('input[type=file]').first().setInputFiles(file);
    await page.getByRole('heading', { level: 1, name: /^Generated/ }).waitFor();
  }
  await page.getByRole('navigation').getByRole('button', { name: /^Lay/ }).click();
  await page.locator('.lay-sheet').waitFor();
  await page.getByText(CHECKED).waitFor();
  await wait(1500);
  return page;
}

/** Times between frames while something is done, in ms. */
async function frames(page, work) {
  await page.evaluate(() => {
    const times = [];
    window.benchFrames = times;
    const next = (time) => {
      times.push(time);
      if (window.benchFrames === times) requestAnimationFrame(next);
    };
    requestAnimationFrame(next);
  });
  await work();
  const times = await page.evaluate(() => {
    const list = window.benchFrames;
    window.benchFrames = null;
    return list;
  });
  return times.slice(1).map((time, i) => time - times[i]);
}

/** From millimetres on the face to px on the screen. */
const spots = (page) =>
  page.evaluate(() => {
    const sheet = document.querySelector('.lay-sheet');
    const box = sheet.getBoundingClientRect();
    return { x: box.x, y: box.y, scale: box.width / sheet.querySelector('.layer').viewBox.baseVal.width };
  });

/** The free end of a short strip, its way back, and px for both. */
async function endOf(page, panel) {
  const strip = panel.strips.find(
    ({ path }) => path.length === 3 && panel.places.some(({ at }) => at[0] === path[2][0] && at[1] === path[2][1]),
  );
  if (strip === undefined) throw new Error('The panel has no siding.');
  const { x, y, scale } = await spots(page);
  const px = ([across, down]) => [x + across * scale, y + down * scale];
  const [, bend, end] = strip.path;
  return { end: px(end), middle: px([bend[0] * 0.4 + end[0] * 0.6, bend[1]]) };
}

/** The hand goes round in a small circle with the end of a strip, by the browser's own input. */
async function drag(client, end, time) {
  const mouse = (type, x, y, buttons) =>
    client.send('Input.dispatchMouseEvent', { type, x, y, button: 'left', buttons, clickCount: 1 });
  await mouse('mouseMoved', end[0], end[1], 0);
  await mouse('mousePressed', end[0], end[1], 1);
  const began = performance.now();
  for (;;) {
    const gone = performance.now() - began;
    if (gone >= time) break;
    const turn = gone / 250;
    await mouse('mouseMoved', end[0] + 30 * Math.sin(turn), end[1] + 12 * (1 - Math.cos(turn)), 1);
    await wait(MOVE_MS);
  }
  // So far from where it was that it is not drawn back there.
  await mouse('mouseMoved', end[0] + 26, end[1] + 14, 1);
  await wait(50);
  await mouse('mouseReleased', end[0] + 26, end[1] + 14, 0);
}

/** From the key that moves what is picked to the picture in which the tray has what is found then, ms: so many edits one after the other. */
async function findingsAfterEdits(page, edits) {
  await page.evaluate((checked) => {
    window.benchTimes = [];
    let began = null;
    addEventListener(
      'keydown',
      () => {
        began = performance.now();
      },
      true,
    );
    const note = document.querySelector('.tray-note');
    new MutationObserver(() => {
      if (began === null || note.textContent !== checked) return;
      const from = began;
      began = null;
      // The frame after the next is drawn when this one is called.
      requestAnimationFrame(() => setTimeout(() => window.benchTimes.push(performance.now() - from)));
    }).observe(note, { characterData: true, childList: true, subtree: true });
  }, CHECKED);
  for (let i = 0; i < edits; i++) {
    await page.keyboard.press(i % 2 === 0 ? 'ArrowDown' : 'ArrowUp');
    await page.waitForFunction((n) => window.benchTimes.length > n, i);
    await wait(100);
  }
  return page.evaluate(() => window.benchTimes);
}

/** From a press on something to the picture in which something else is there, in ms, by the page's own clock. */
async function pressed(page, press, shows) {
  const target = page.locator(press).first();
  await target.waitFor();
  return target.evaluate(async (element, selector) => {
    const frame = () => new Promise((done) => requestAnimationFrame(done));
    const began = performance.now();
    element.click();
    // What stood there before does not count.
    await frame();
    while (document.querySelector(selector) === null) await frame();
    await frame();
    return performance.now() - began;
  }, shows);
}

/** From a lever pressed to the picture in which lamps have changed, ms; a lever that changes none counts until its bat lies over. */
async function lampsAfterThrow(page, i) {
  return page
    .locator('.lever-button')
    .nth(i)
    .evaluate(async (element) => {
      const frame = () => new Promise((done) => requestAnimationFrame(done));
      const layer = document.querySelector('.layer.moving');
      let changed = false;
      const observer = new MutationObserver((records) => {
        if (records.some(({ target }) => target.closest?.('[data-lever]') === null)) changed = true;
      });
      observer.observe(layer, { childList: true, subtree: true, attributes: true });
      const began = performance.now();
      element.click();
      while (!changed && performance.now() - began < 1000) await frame();
      await frame();
      observer.disconnect();
      return performance.now() - began;
    });
}

/** Work of the page's main thread in every frame, in ms, from a trace of the browser. */
async function workPerFrame(browser, page, work) {
  await browser.startTracing(page, {
    categories: ['disabled-by-default-devtools.timeline', 'devtools.timeline', '__metadata'],
  });
  await work();
  const { traceEvents } = JSON.parse(String(await browser.stopTracing()));
  const frameEvents = traceEvents.filter(({ name }) => name === 'FireAnimationFrame');
  const counts = new Map();
  for (const { pid, tid } of frameEvents) counts.set(`${pid} ${tid}`, (counts.get(`${pid} ${tid}`) ?? 0) + 1);
  const thread = [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
  const starts = sorted(frameEvents.filter(({ pid, tid }) => `${pid} ${tid}` === thread).map(({ ts }) => ts));
  const sums = starts.map(() => 0);
  let frame = 0;
  const tasks = traceEvents
    .filter(({ name, pid, tid }) => name === 'RunTask' && `${pid} ${tid}` === thread)
    .sort((a, b) => a.ts - b.ts);
  for (const { ts, dur = 0 } of tasks) {
    while (frame + 1 < starts.length && (starts[frame + 1] ?? 0) <= ts) frame++;
    sums[frame] += dur / 1000;
  }
  return sums;
}

/** Begins a profile of the page's worker; what is answered ends it. */
async function profileWorker(page) {
  const client = await page.context().newCDPSession(page);
  let session = null;
  const answers = new Map();
  client.on('Target.attachedToTarget', ({ sessionId, targetInfo }) => {
    if (targetInfo.type === 'worker') session = sessionId;
  });
  client.on('Target.receivedMessageFromTarget', ({ message }) => {
    const { id, result } = JSON.parse(message);
    answers.get(id)?.(result);
  });
  await client.send('Target.setAutoAttach', { autoAttach: true, waitForDebuggerOnStart: false, flatten: false });
  await wait(300);
  if (session === null) throw new Error('The page has no worker.');
  let last = 0;
  const send = (method) =>
    new Promise((done, fail) => {
      const id = ++last;
      answers.set(id, done);
      client
        .send('Target.sendMessageToTarget', { sessionId: session, message: JSON.stringify({ id, method }) })
        .catch(fail);
    });
  await send('Profiler.enable');
  await send('Profiler.start');
  return async () => (await send('Profiler.stop')).profile;
}

/** The functions that take most time of their own, of a profile of the page. */
function tellProfile({ nodes, samples, timeDeltas }) {
  const own = new Map();
  const names = new Map(
    nodes.map(({ id, callFrame }) => [
      id,
      `${callFrame.functionName || '(anonymous)'} ${callFrame.url.split('/').at(-1)}:${callFrame.lineNumber + 1}:${callFrame.columnNumber}`,
    ]),
  );
  samples.forEach((id, i) => own.set(names.get(id), (own.get(names.get(id)) ?? 0) + timeDeltas[i] / 1000));
  for (const [name, time] of [...own].sort((a, b) => b[1] - a[1]).slice(0, 25)) console.log(`${ms(time)} ${name}`);
}

const browser = await startChromium();
try {
  const hundred = fileOf(100);
  if (asked('drag')) {
    const page = await toLay(browser, hundred.file);
    const client = await page.context().newCDPSession(page);
    const idle = await frames(page, () => wait(DRAG_MS));
    row('idle, p95 between frames', ms(p95(idle)), '');
    const { end, middle } = await endOf(page, hundred.panel);
    await page.mouse.click(...middle);
    await wait(300);
    const picked = await page.locator('.handle').count();
    if (picked === 0) throw new Error('No strip was picked.');
    if (profiling) {
      await client.send('Profiler.enable');
      await client.send('Profiler.start');
    }
    const moving = await frames(page, () => drag(client, end, DRAG_MS));
    if (profiling) tellProfile((await client.send('Profiler.stop')).profile);
    row('100 points, end dragged: p95 between frames', ms(p95(moving)), '20 ms');
    row('100 points, end dragged: longest', ms(Math.max(...moving)), '34 ms');
    await page.keyboard.press('Control+z');
    await page.getByText(CHECKED).waitFor();
    await wait(500);
    const work = await workPerFrame(browser, page, () => frames(page, () => drag(client, end, DRAG_MS)));
    row('100 points, end dragged: work of the page per frame, p95', ms(p95(work)), '10 ms');
    await page.context().close();
  }
  if (asked('zoom')) {
    const many = fileOf(300, 3000);
    const page = await toLay(browser, many.file);
    const client = await page.context().newCDPSession(page);
    if (profiling) {
      await client.send('Profiler.enable');
      await client.send('Profiler.start');
    }
    const zooming = await frames(page, async () => {
      await page.mouse.move(600, 400);
      const began = performance.now();
      for (let i = 0; performance.now() - began < DRAG_MS; i++) {
        await page.mouse.wheel(0, i % 40 < 20 ? -60 : 60);
        await wait(MOVE_MS);
      }
    });
    if (profiling) tellProfile((await client.send('Profiler.stop')).profile);
    row('300 points, 3,000 lamps, zoomed: p95 between frames', ms(p95(zooming)), '20 ms');
    row('300 points, 3,000 lamps, zoomed: longest', ms(Math.max(...zooming)), '34 ms');
    await page.mouse.wheel(0, -900);
    await wait(500);
    const panning = await frames(page, async () => {
      await page.mouse.down({ button: 'middle' });
      const began = performance.now();
      while (performance.now() - began < DRAG_MS) {
        const turn = (performance.now() - began) / 250;
        await page.mouse.move(600 + 150 * Math.sin(turn), 400 + 100 * (1 - Math.cos(turn)));
        await wait(MOVE_MS);
      }
      await page.mouse.up({ button: 'middle' });
    });
    row('300 points, 3,000 lamps, moved about: p95 between frames', ms(p95(panning)), '20 ms');
    row('300 points, 3,000 lamps, moved about: longest', ms(Math.max(...panning)), '34 ms');
    await page.context().close();
  }
  if (asked('findings'))
    for (const [points, lamps, edits, goals] of [
      [100, 0, 60, ['50 ms', '100 ms']],
      [300, 3000, 20, ['', '150 ms']],
    ]) {
      const page = await toLay(browser, fileOf(points, lamps).file);
      // Lamps may lie over every strip of a sheet so full: the list of the sheet picks one.
      await page
        .locator('.outline-row', { hasText: ', strip of' })
        .first()
        .evaluate((row) => {
          row.click();
          document.querySelector('.table').focus();
        });
      await page.locator('.handle').first().waitFor();
      const profile = profiling ? await profileWorker(page) : null;
      const times = await findingsAfterEdits(page, edits);
      if (profile !== null) tellProfile(await profile());
      const what = `${points} points${lamps === 0 ? '' : `, ${lamps.toLocaleString('en-GB')} lamps`}: edit to findings drawn`;
      row(`${what}, median`, ms(median(times)), goals[0]);
      row(`${what}, p95`, ms(p95(times)), goals[1]);
      await page.context().close();
    }
  if (asked('stages')) {
    const page = await toLay(browser, hundred.file);
    // The first time a stage is fetched as well; what counts is every time after.
    const opened = { Work: [], Wire: [], Lay: [], Run: [] };
    const main = { Work: 'main.work', Wire: 'main.wire', Lay: 'main.lay', Run: 'main.run' };
    for (let round = 0; round <= OPENINGS; round++)
      for (const stage of Object.keys(opened)) {
        const time = await pressed(page, `nav .stage:has-text("${stage}")`, main[stage]);
        if (round > 0) opened[stage].push(time);
        await wait(300);
      }
    for (const [stage, times] of Object.entries(opened))
      row(`100 points: ${stage} opened, median of ${OPENINGS}`, ms(median(times)), '150 ms');
    await pressed(page, 'nav .stage:has-text("Wire")', 'main.wire');
    await wait(2000);
    const throws = [];
    for (let i = 0; i < THROWS; i++) {
      throws.push(
        await pressed(
          page,
          `.wire-head [aria-pressed="false"], .wire-head [role="radio"][aria-checked="false"]`,
          'main.wire[data-current="true"]',
        ),
      );
      await wait(120);
    }
    row('100 points: a lever thrown, circuit drawn, p95', ms(p95(throws)), '50 ms');
    const faults = [];
    for (let i = 0; i < THROWS; i++) {
      faults.push(await pressed(page, `.wire-faults li:nth-child(${i + 2}) button`, 'main.wire[data-current="true"]'));
      await wait(120);
    }
    row('100 points: a fault chosen, circuit drawn, p95', ms(p95(faults)), '50 ms');
    await pressed(page, 'nav .stage:has-text("Run")', 'main.run');
    await wait(1500);
    const levers = [];
    for (let i = 0; i < THROWS; i++) {
      levers.push(await lampsAfterThrow(page, i));
      await wait(120);
    }
    row('100 points: a lever thrown, lamps drawn, p95', ms(p95(levers)), '50 ms');
    const routes = [];
    for (let i = 0; i < ROUTES; i++) {
      routes.push(await pressed(page, `.side-row.pick >> nth=${i}`, '.state:not(.state-none)'));
      await page.getByRole('button', { name: /^Back to all/ }).click();
      await wait(120);
    }
    row('100 points: a route chosen, its levers shown, p95', ms(p95(routes)), '50 ms');
    await page.context().close();
  }
  if (asked('compare'))
    for (const [name, file, count, goal] of [
      ['demo', null, 8, '2 s'],
      ['100 points', hundred.file, 8, '15 s'],
    ]) {
      const page = await toLay(browser, file);
      await page.locator('.more > button').click();
      const began = performance.now();
      await page.getByRole('button', { name: 'Compare other ways to build it' }).click();
      await page
        .locator('.compare tbody tr')
        .nth(count - 1)
        .waitFor();
      row(`${name}: ${count} ways compared`, `${((performance.now() - began) / 1000).toFixed(1)} s`, goal);
      await page.context().close();
    }
  if (asked('start')) {
    const cold = [];
    const warm = [];
    for (let i = 0; i < STARTS; i++) {
      const fresh = await startChromium();
      const page = await fresh.newPage();
      const first = async () => {
        await page.locator('.sheet').waitFor();
        return page.evaluate(() => new Promise((done) => requestAnimationFrame(() => done(performance.now()))));
      };
      await page.goto(url, { waitUntil: 'commit' });
      cold.push(await first());
      await wait(2500);
      await page.reload({ waitUntil: 'commit' });
      warm.push(await first());
      await fresh.close();
    }
    row(`first picture, fresh browser, median of ${STARTS}`, ms(median(cold)), '2 s');
    row(`first picture, second visit, median of ${STARTS}`, ms(median(warm)), '0.8 s');
  }
  if (asked('weight')) {
    const { firstBytes, allBytes } = weigh(dist);
    const kB = (bytes) => `${(bytes / 1000).toFixed(0)} kB`;
    row('scripts before the first drawing, brotli', kB(firstBytes), '250 kB');
    row('scripts in all, brotli', kB(allBytes), '1 MB');
  }
  if (asked('heap')) {
    const page = await toLay(browser);
    const client = await page.context().newCDPSession(page);
    const { x, y, scale } = await spots(page);
    await page.mouse.click(x + 340 * scale, y + 154 * scale);
    const heap = async () => {
      await page.getByText(CHECKED).waitFor();
      await wait(1000);
      await client.send('HeapProfiler.collectGarbage');
      return (await client.send('Runtime.getHeapUsage')).usedSize / 1e6;
    };
    const before = await heap();
    let edits = 0;
    const figures = [];
    for (const goal of HEAP_EDITS) {
      for (; edits < goal; edits++) await page.keyboard.press(edits % 2 === 0 ? 'ArrowDown' : 'ArrowUp');
      figures.push(`${(await heap()).toFixed(1)} MB after ${goal.toLocaleString('en-GB')}`);
    }
    row('heap of the page, edits of the demo', `${before.toFixed(1)} MB before, ${figures.join(', ')}`, 'no growth');
    await page.context().close();
  }
} finally {
  await browser.close();
  await close();
  rmSync(work, { recursive: true, force: true });
}

console.log('\n| in the browser | figure | wanted |\n| --- | --- | --- |');
for (const cells of rows) console.log(`| ${cells.join(' | ')} |`);
