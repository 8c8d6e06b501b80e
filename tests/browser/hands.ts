/** Three kinds of hand on the sheet, and a fourth on the keys: the same deeds, each by its own means alone. */
import type { Browser, CDPSession, Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import type { PanelFile } from '../../src/panel/index.ts';
import { openPage } from './site.ts';

export type Spot = readonly [number, number];

/** What a hand can do. Spots are millimetres of the face. */
export interface Hand {
  /** Press a button, or whatever else answers to a press; a hand on the keys presses `key` where there is one for it. */
  press(on: Locator, key?: string): Promise<void>;
  /** Take a tool by its word on the rail. */
  take(tool: string): Promise<void>;
  /** Choose what a drag lays. */
  form(formation: string): Promise<void>;
  /** A press on the sheet. */
  tap(at: Spot): Promise<void>;
  drag(from: Spot, to: Spot): Promise<void>;
  /** Put text into a field, and accept it. */
  write(field: Locator, text: string): Promise<void>;
  /** Open a field that chooses one of several, and choose one by its words. */
  choose(field: Locator, option: string): Promise<void>;
  /** Drag what is seen onto something else; a hand on the keys presses one and then the other. */
  carry(from: Locator, to: Locator): Promise<void>;
}

/** How many things a hand has done: presses, drags, keys and words typed each count as one. */
export interface Counted {
  gestures: number;
}

/** From millimetres on the face to px on the screen, as the sheet lies now. */
async function pxOf(page: Page): Promise<(spot: Spot) => Spot> {
  const { x, y, scale } = await page.evaluate(() => {
    const sheet = document.querySelector('.lay-sheet');
    const layer = sheet?.querySelector('svg.layer');
    if (!(layer instanceof SVGSVGElement) || sheet === null) throw new Error('the sheet is not drawn');
    const box = sheet.getBoundingClientRect();
    return { x: box.x, y: box.y, scale: box.width / layer.viewBox.baseVal.width };
  });
  return ([across, down]) => [x + across * scale, y + down * scale];
}

const between = (from: Spot, to: Spot, share: number): Spot => [
  from[0] + (to[0] - from[0]) * share,
  from[1] + (to[1] - from[1]) * share,
];
const WAY = [0.25, 0.5, 0.75, 1];

/** The middle of what is seen, scrolled to where it can be pressed. */
async function middleOf(on: Locator): Promise<Spot> {
  await on.scrollIntoViewIfNeeded();
  const box = await on.boundingBox();
  if (box === null) throw new Error('there is nothing to press');
  return [box.x + box.width / 2, box.y + box.height / 2];
}

/** What a hand does that presses what it sees: tools and formations by their words, fields before it writes. */
function pressing(
  page: Page,
  press: (on: Locator) => Promise<void>,
  counted: Counted = { gestures: 0 },
): Pick<Hand, 'press' | 'take' | 'form' | 'write' | 'choose'> {
  const button = (bar: string, word: string): Locator =>
    page.locator(bar).getByRole('button', { name: word, exact: true });
  return {
    press,
    take: (tool) => press(button('.rail', tool)),
    form: (formation) => press(button('.formations', formation)),
    async write(field, text) {
      await press(field);
      counted.gestures++;
      // On a screen alone it is the screen's own keyboard that writes, and its last key is Enter.
      await field.fill(text);
      await field.press('Enter');
    },
    async choose(field, option) {
      await press(field);
      await press(page.getByRole('option', { name: option, exact: true }));
      await page.getByRole('listbox').waitFor({ state: 'detached' });
    },
  };
}

export function mouse(page: Page, counted: Counted = { gestures: 0 }): Hand {
  const press = async (on: Locator): Promise<void> => {
    counted.gestures++;
    await on.click();
  };
  const trace = async (from: Spot, to: Spot): Promise<void> => {
    counted.gestures++;
    await page.mouse.move(...from);
    await page.mouse.down();
    for (const share of WAY) await page.mouse.move(...between(from, to, share));
    await page.mouse.up();
  };
  return {
    ...pressing(page, press, counted),
    async tap(at) {
      counted.gestures++;
      await page.mouse.click(...(await pxOf(page))(at));
    },
    async drag(from, to) {
      const px = await pxOf(page);
      await trace(px(from), px(to));
    },
    carry: async (from, to) => trace(await middleOf(from), await middleOf(to)),
  };
}

/** One touch of the screen: where, and how wide the skin is that lies on it. */
export interface Skin {
  readonly at: Spot;
  readonly radius?: number;
}

/** Fingers as the browser's own input has them: at each step all that touch. None touch after the last. */
export async function fingers(client: CDPSession, steps: readonly (readonly Skin[])[]): Promise<void> {
  for (const [k, skins] of steps.entries()) {
    const touchPoints = skins.map(({ at: [x, y], radius = 5 }, id) => ({ x, y, id, radiusX: radius, radiusY: radius }));
    await client.send('Input.dispatchTouchEvent', { type: k === 0 ? 'touchStart' : 'touchMove', touchPoints });
  }
  await client.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
}

export async function touch(page: Page, counted: Counted = { gestures: 0 }): Promise<Hand> {
  const client = await page.context().newCDPSession(page);
  const press = async (on: Locator): Promise<void> => {
    counted.gestures++;
    await on.tap();
  };
  const trace = async (...px: readonly Spot[]): Promise<void> => {
    counted.gestures++;
    await fingers(
      client,
      px.map((at) => [{ at }]),
    );
  };
  const along = (from: Spot, to: Spot): Promise<void> => trace(from, ...WAY.map((share) => between(from, to, share)));
  return {
    ...pressing(page, press, counted),
    tap: async (at) => trace((await pxOf(page))(at)),
    async drag(from, to) {
      const px = await pxOf(page);
      await along(px(from), px(to));
    },
    carry: async (from, to) => along(await middleOf(from), await middleOf(to)),
  };
}

/** A pen on the screen; it presses buttons as a finger does. */
export async function pen(page: Page): Promise<Hand> {
  const client = await page.context().newCDPSession(page);
  const trace = async (...px: readonly Spot[]): Promise<void> => {
    const send = async (type: 'mousePressed' | 'mouseMoved' | 'mouseReleased', [x, y]: Spot): Promise<void> => {
      const buttons = type === 'mouseReleased' ? 0 : 1;
      await client.send('Input.dispatchMouseEvent', {
        type,
        x,
        y,
        button: 'left',
        buttons,
        clickCount: 1,
        pointerType: 'pen',
        force: 0.5,
      });
    };
    const [first] = px;
    if (first === undefined) return;
    await send('mousePressed', first);
    for (const spot of px.slice(1)) await send('mouseMoved', spot);
    await send('mouseReleased', px[px.length - 1] ?? first);
  };
  const press = async (on: Locator): Promise<void> => trace(await middleOf(on));
  const along = (from: Spot, to: Spot): Promise<void> => trace(from, ...WAY.map((share) => between(from, to, share)));
  return {
    ...pressing(page, press),
    tap: async (at) => trace((await pxOf(page))(at)),
    async drag(from, to) {
      const px = await pxOf(page);
      await along(px(from), px(to));
    },
    carry: async (from, to) => along(await middleOf(from), await middleOf(to)),
  };
}

const KEYS: Readonly<Record<string, string>> = {
  Pick: 'v',
  Strip: 's',
  Platform: 'f',
  Place: 'n',
  Plate: 't',
  Lever: 'l',
  Button: 'b',
  Lamp: 'k',
  Screw: 'h',
  'Keep clear': 'x',
  Measure: 'm',
};

/** What has arrow keys from one to the next, and is one stop of Tab. */
const GROUPS = '.outline ul, .rail, .lever-buttons, .place-buttons, .face-spots, [role="listbox"]';
/** The key towards a goal, by where it lies from what has the focus. */
const WAYS = { before: 'ArrowUp', after: 'ArrowDown', back: 'Shift+Tab', on: 'Tab' } as const;

/** Keys alone: no pointer ever touches the page. */
export function keys(page: Page, counted: Counted = { gestures: 0 }): Hand {
  const key = async (name: string): Promise<void> => {
    counted.gestures++;
    await page.keyboard.press(name);
  };
  const to = async (on: Locator): Promise<void> => {
    const goal = on.first();
    await goal.waitFor({ state: 'attached' });
    // What waits for an answer cannot be reached until it is there.
    await expect.poll(() => goal.isEnabled()).toBe(true);
    // Where the keys are: there, in the same list or bar (arrow keys go on), or elsewhere (Tab goes on, there or back).
    const where = () =>
      goal.evaluate((element, groups) => {
        const active = document.activeElement;
        if (active === null || element === active) return 'there';
        const isBack = (active.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_PRECEDING) !== 0;
        const isRadio = (each: Element) => each instanceof HTMLInputElement && each.type === 'radio';
        const beside =
          active.closest(groups)?.contains(element) === true ||
          (isRadio(active) && isRadio(element) && active.getAttribute('name') === element.getAttribute('name'));
        const isBody = active === document.body;
        return beside ? (isBack ? 'before' : 'after') : isBack && !isBody ? 'back' : 'on';
      }, GROUPS);
    for (let k = 0; k < 300; k++) {
      const now = await where();
      if (now === 'there') return;
      await key(WAYS[now]);
    }
    throw new Error('the keys do not come there');
  };
  const type = async (text: string): Promise<void> => {
    const field = page.getByLabel('Where, typed');
    if (!(await field.evaluate((element) => element === document.activeElement))) await to(field);
    counted.gestures++;
    await page.keyboard.type(text);
    await key('Enter');
  };
  const figures = ([x, y]: Spot): string => `${x} ${y}`;
  return {
    async press(on, own) {
      if (own !== undefined) {
        // A letter that is pressed in a field is typed: there the long way is the only one.
        const typed = page.locator('input:focus:not([type="radio"], [type="checkbox"])');
        if (own.length > 1 || (await typed.count()) === 0) return key(own);
      }
      await to(on);
      // A box to tick is ticked by the space bar; a radio button is chosen by the arrow key that comes to it.
      const kind = await on.first().getAttribute('type');
      if (kind === 'checkbox') await key('Space');
      else if (kind !== 'radio') await key('Enter');
    },
    async choose(field, option) {
      await to(field);
      await key('Enter');
      await page.getByRole('listbox').waitFor();
      // The list takes the keys itself.
      await expect.poll(() => page.locator('[role="option"]:focus').count()).toBe(1);
      await to(page.getByRole('option', { name: option, exact: true }));
      await key('Enter');
      await page.getByRole('listbox').waitFor({ state: 'detached' });
    },
    async carry(from, on) {
      for (const each of [from, on]) {
        await to(each);
        await key('Enter');
      }
    },
    async take(tool) {
      // Out of whatever field has the keys, to the sheet.
      if (await page.evaluate(() => document.activeElement instanceof HTMLInputElement)) await key('Escape');
      await key(KEYS[tool] ?? '');
      const held = page.locator('.rail').getByRole('button', { name: tool, exact: true });
      await expect.poll(() => held.getAttribute('aria-pressed')).toBe('true');
      if (tool !== 'Pick' && (await page.evaluate(() => document.activeElement?.matches('body, .table') === true)))
        await key('Enter');
    },
    async form(formation) {
      await to(page.locator('.formations').getByRole('button', { name: formation, exact: true }));
      await key('Enter');
    },
    tap: (at) => type(figures(at)),
    drag: (from, to_) => type(`${figures(from)} to ${figures(to_)}`),
    async write(field, text) {
      await to(field);
      await key('ControlOrMeta+a');
      counted.gestures++;
      await page.keyboard.type(text);
      await key('Enter');
    },
  };
}

/** Files that are saved come to `saved` and `savedBy`, and nowhere else. */
export async function catchFiles(page: Page): Promise<void> {
  // Without the picker, which would wait for a hand, a file is a download; its text is taken on its way there.
  await page.evaluate(() => {
    Reflect.deleteProperty(window, 'showSaveFilePicker');
    const make = URL.createObjectURL.bind(URL);
    URL.createObjectURL = (file) => {
      if (file instanceof Blob)
        void file.text().then((text) => document.dispatchEvent(new CustomEvent('saved', { detail: text })));
      return make(file);
    };
    HTMLAnchorElement.prototype.click = () => {};
  });
}

/** A page in Lay over a panel that is given as a file; files that are saved are caught. */
export async function layOver(
  browser: Browser,
  url: string,
  panel: PanelFile,
  options: Parameters<typeof openPage>[2] = {},
) {
  const { page, wrongs } = await openPage(browser, url, options);
  await catchFiles(page);
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles({
      name: 'sheet.mimic.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(panel)),
    });
  await page.getByRole('heading', { level: 1, name: panel.name ?? '' }).waitFor();
  await page.getByRole('navigation').getByRole('button', { name: /^Lay/ }).click();
  await page.locator('.lay-sheet').waitFor();
  await page.getByText('Checked as you lay').waitFor();
  return { page, wrongs };
}

/** The panel as its file says, saved by the keys for it. */
export const saved = (page: Page): Promise<PanelFile> => savedBy(page, () => page.keyboard.press('Control+s'));

/** The panel as the file says that something saves. */
export async function savedBy(page: Page, save: () => Promise<void>): Promise<PanelFile> {
  const text = page.evaluate(
    () =>
      new Promise<string>((done) =>
        document.addEventListener('saved', (event) => done(event instanceof CustomEvent ? String(event.detail) : ''), {
          once: true,
        }),
      ),
  );
  await save();
  return JSON.parse(await text) as PanelFile;
}
