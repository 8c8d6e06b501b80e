/** Every tool and every formation, each with what a hand does and the panel that results; whatever the hand is. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isAlike, type PanelFile } from '../../src/panel/index.ts';
import { type Hand, layOver, type Spot, saved } from './hands.ts';
import { type Site, serveSite, startBrowser } from './site.ts';

/** Two roads, and a third across the upper one at 32 degrees; a lamp that stands beside them. */
const SHEET: PanelFile = {
  format: 'mimic-panel',
  version: 1,
  name: 'Bramble Siding',
  face: { width: 400, height: 200 },
  strips: [
    {
      id: 'main',
      path: [
        [20, 60],
        [380, 60],
      ],
    },
    {
      id: 'other',
      path: [
        [20, 110],
        [380, 110],
      ],
    },
    {
      id: 'across',
      path: [
        [152, 30],
        [248, 90],
      ],
    },
  ],
  lamps: [{ id: 'H1', at: [60, 150], part: 'led-3-green', shows: {} }],
};

/** A hand is drawn to a grid of 2 mm; half of that, and what a px is. */
const NEAR = 1.6;
const isNear = (at: Spot | undefined, to: Spot): boolean =>
  at !== undefined && Math.hypot(at[0] - to[0], at[1] - to[1]) <= NEAR;
const holds = (is: boolean, panel: PanelFile, what: string): void => {
  if (!is) throw new Error(`${what}: ${JSON.stringify(panel)}`);
};

interface Case {
  readonly tool: string;
  readonly form?: string;
  act(hand: Hand): Promise<void>;
  /** Throws where the panel is not as it should be. */
  check(panel: PanelFile): void;
}

const box = (thing: { readonly at: Spot; readonly size: Spot } | undefined, a: Spot, b: Spot): boolean =>
  thing !== undefined && isNear(thing.at, a) && isNear([thing.at[0] + thing.size[0], thing.at[1] + thing.size[1]], b);

/** So many strips more than there were. How many a formation has: common practice, no source. */
const more = (form: string, n: number, from: Spot, to: Spot): Case => ({
  tool: 'Strip',
  form,
  act: (hand) => hand.drag(from, to),
  check: (panel) => holds(panel.strips.length === SHEET.strips.length + n, panel, `${form}: ${n} strips more`),
});
const slip = (form: string, kind: string, act: (hand: Hand) => Promise<void>): Case => ({
  tool: 'Strip',
  form,
  act,
  check: (panel) => holds(panel.crossings?.some((each) => each.kind === kind) === true, panel, form),
});

const CASES: readonly Case[] = [
  {
    tool: 'Strip',
    act: (hand) => hand.drag([300, 110], [348, 140]),
    check(panel) {
      const path = panel.strips[3]?.path ?? [];
      holds(isNear(path[0], [300, 110]) && isNear(path[path.length - 1], [348, 140]), panel, 'a strip');
    },
  },
  {
    tool: 'Platform',
    act: (hand) => hand.drag([260, 130], [320, 144]),
    check: (panel) => holds(box(panel.platforms?.[0], [260, 130], [320, 144]), panel, 'a platform'),
  },
  {
    tool: 'Place',
    act: (hand) => hand.tap([380, 110]),
    check: (panel) => holds(panel.places?.some(({ at }) => isNear(at, [380, 110])) === true, panel, 'a place'),
  },
  {
    tool: 'Plate',
    act: (hand) => hand.tap([200, 170]),
    check(panel) {
      const plate = panel.plates?.[0];
      holds(isNear(plate?.at, [200, 170]) && plate?.text === 'BRAMBLE SIDING', panel, 'a plate with the name');
    },
  },
  {
    tool: 'Lever',
    act: (hand) => hand.tap([300, 170]),
    check: (panel) => holds(panel.levers?.some(({ at }) => isNear(at, [300, 170])) === true, panel, 'a lever'),
  },
  {
    tool: 'Button',
    act: (hand) => hand.tap([340, 170]),
    check: (panel) => holds(isNear(panel.buttons?.[0]?.at, [340, 170]), panel, 'a button'),
  },
  {
    tool: 'Lamp',
    act: (hand) => hand.tap([80, 60]),
    check: (panel) => holds(panel.lamps?.length === 2 && isNear(panel.lamps[1]?.at, [80, 60]), panel, 'a lamp'),
  },
  {
    tool: 'Lamp',
    act: (hand) => hand.drag([260, 60], [340, 60]),
    check: (panel) =>
      holds(
        (panel.lamps?.length ?? 0) >= 4 &&
          panel.lamps?.slice(1).every(({ at }) => Math.abs((at?.[1] ?? 0) - 60) < 0.1) === true,
        panel,
        'lamps along a strip',
      ),
  },
  {
    tool: 'Screw',
    act: (hand) => hand.tap([12, 186]),
    check: (panel) => holds(isNear(panel.face?.fixings?.[0]?.at, [12, 186]), panel, 'a screw hole'),
  },
  {
    tool: 'Keep clear',
    act: (hand) => hand.drag([4, 140], [40, 176]),
    check: (panel) => holds(box(panel.face?.keepOut?.[0], [4, 140], [40, 176]), panel, 'a space kept clear'),
  },
  more('Passing loop', 1, [100, 110], [300, 140]),
  more('Crossover', 1, [260, 60], [350, 110]),
  more('Lead', 1, [100, 110], [220, 150]),
  more('Ladder', 4, [40, 110], [360, 150]),
  slip('Double slip', 'double-slip', (hand) => hand.tap([200, 60])),
  slip('Single slip', 'single-slip', (hand) => hand.drag([200, 60], [200, 74])),
];

/** The tests of one hand. `own`: those that it alone has. */
export function testTools(
  handOf: (page: Page) => Promise<Hand> | Hand,
  options: Parameters<typeof layOver>[3],
  own: (bench: { readonly page: () => Page; readonly hand: () => Hand }) => void,
): void {
  let site: Site;
  let browser: Browser;
  let page: Page;
  let hand: Hand;
  let wrongs: readonly string[];
  beforeAll(async () => {
    site = await serveSite();
    browser = await startBrowser();
    ({ page, wrongs } = await layOver(browser, site.url, SHEET, options));
    page.setDefaultTimeout(8000);
    hand = await handOf(page);
  });
  afterAll(async () => {
    await browser.close();
    await site.close();
  });
  const undo = (): Promise<void> => page.keyboard.press('Control+z');
  describe('tools', () => {
    it.each(CASES.map((each) => [`${each.tool}${each.form === undefined ? '' : `, ${each.form}`}`, each] as const))(
      'puts what it should and nothing else: %s',
      async (_, { tool, form, act, check }) => {
        // A tool is taken anew: the one before may be in the hand with a formation chosen.
        await hand.take('Pick');
        await hand.take(tool);
        if (form !== undefined) await hand.form(form);
        await act(hand);
        check(await saved(page));
        await undo();
        const after = await saved(page);
        holds(isAlike(after, SHEET), after, 'one step back is as it was');
      },
    );
    it('measures and lays nothing', async () => {
      await hand.take('Measure');
      await hand.drag([100, 150], [200, 150]);
      await expect.poll(() => page.locator('.held').textContent()).toContain('100');
      const after = await saved(page);
      holds(isAlike(after, SHEET), after, 'nothing is laid');
    });
    it('says why nothing is named where there is nothing', async () => {
      await hand.take('Place');
      await hand.tap([200, 186]);
      await page.locator('.lay-foot').getByText('Nothing named: press a free end').waitFor();
    });
    own({ page: () => page, hand: () => hand });
    it('breaks no rule of the page', () => {
      expect(wrongs).toEqual([]);
    });
  });
}

/** Where the lamp of the sheet stands now. */
export const lampAt = async (page: Page): Promise<Spot | undefined> => (await saved(page)).lamps?.[0]?.at;
