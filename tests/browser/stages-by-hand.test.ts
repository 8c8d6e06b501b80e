/**
 * Work, Wire and Run from end to end, one job each, done by mouse, by finger and by keys alone, on both examples. What the screen says is checked
 * beside the panel as it would be saved. One page for each hand and example, which goes through the stages in turn.
 */
import { readFileSync } from 'node:fs';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { isAlike, type PanelFile } from '../../src/panel/index.ts';
import { catchFiles, type Hand, keys, mouse, saved, touch } from './hands.ts';
import { bat, dropFile, example, lever, litOf, openPage, type Site, soon, withSite } from './site.ts';

let site: Site;
let browser: Browser;
withSite((served, started) => {
  [site, browser] = [served, started];
});

/** What is done on a panel, and what comes of it: counted and read in its file by hand. */
interface Job {
  readonly file: string;
  readonly name: string;
  readonly points: number;
  readonly levers: number;
  /** Point, the lever it is put under, and what that works then. */
  readonly put: {
    readonly point: string;
    readonly lever: string;
    readonly works: readonly string[];
    readonly said: string;
  };
  /** A lever of several points that is parted, once the point is on its own again; and how many it makes more. */
  readonly part: string;
  /** Two levers that could be one, what works then, and how many levers there are once that is parted. */
  readonly join: { readonly points: string; readonly said: string; readonly lost: string; readonly parted: number };
  /** What is said of the number of levers. */
  readonly number: string;
  /** Levers after a press on what makes them other than they are, and after one more where there is one to press. */
  readonly arranged: readonly number[];
  readonly route: {
    readonly from: string;
    readonly to: string;
    readonly cannot: number;
    readonly can: number;
    /** A route that cannot stand with it, and why; another that can, and what it asks. */
    readonly remarks: readonly (readonly [route: string, remark: string])[];
    /** Levers that it asks for normal and reverse. */
    readonly normal: readonly string[];
    readonly reverse: readonly string[];
    /** Lamps that shine along it. */
    readonly lamps: readonly string[];
  };
  readonly wire: {
    readonly circuit: string;
    readonly volts: string;
    /** Lamps of the circuit that shine with its lever normal and reverse. */
    readonly lit: readonly (readonly string[])[];
    readonly stuck: string;
    readonly ohms: string;
    /** Supply less an amber lamp of 1.9 to 2.2 V, over 1 kΩ: mA. */
    readonly milliamps: readonly [number, number];
  };
  readonly trains: readonly {
    readonly name: string;
    readonly length: string;
    readonly from: string;
    readonly to: string;
    /** What the route says, and the button that sends it. */
    readonly asks: RegExp;
    readonly throws: RegExp;
  }[];
  /** Of the levers after both trains have gone, those that lie reverse. */
  readonly after: readonly string[];
}

const HARBOUR: Job = {
  file: 'quillhaven-harbour',
  name: 'Quillhaven Harbour',
  points: 17,
  levers: 12,
  put: { point: 'P3', lever: 'L5', works: ['P6', 'P3'], said: 'P6 and P3' },
  part: 'L10',
  join: { points: 'P2 and P3', said: 'P2 and P3, same', lost: 'pairs are lost', parted: 12 },
  number: 'The fewest that keep all 41 routes, and all 253 pairs of routes that can stand together.',
  arranged: [17, 12],
  route: {
    from: 'Tolland',
    to: 'Yard 3',
    cannot: 26,
    can: 14,
    remarks: [
      ['Tolland to Shed', 'needs L1 reverse'],
      ['Platform 1 to Storage 1', 'throw L9, L10'],
    ],
    normal: ['L1', 'L6', 'L7'],
    reverse: ['L2', 'L4', 'L5', 'L8'],
    lamps: ['H1', 'H6', 'H7', 'H15', 'H16', 'H17', 'H18', 'H19', 'H22', 'H23', 'H26', 'H31', 'H32'],
  },
  wire: {
    circuit: 'L3',
    volts: '12.00 V',
    lit: [
      ['H8', 'H9'],
      ['H10', 'H11'],
    ],
    stuck: 'P3',
    ohms: 'R-G1',
    milliamps: [9.8, 10.1],
  },
  trains: [
    { name: 'Mail', length: '700', from: 'Quay', to: 'Neck', asks: /Route set/, throws: /^Go$/ },
    {
      name: 'Parcels',
      length: '400',
      from: 'Platform 2',
      to: 'Storage 3',
      asks: /1 lever to throw/,
      throws: /^Throw L3 and go$/,
    },
  ],
  after: ['L3'],
};

const BRAMBLE: Job = {
  file: 'bramble-siding',
  name: 'Bramble Siding',
  points: 3,
  levers: 2,
  put: { point: 'P3', lever: 'L1', works: ['P1', 'P2', 'P3'], said: 'P1 to P3' },
  part: 'L1',
  join: { points: 'P1 and P2 with P3', said: 'P1 to P3, same', lost: '1 route', parted: 3 },
  number: '3 pairs are lost. 3 levers can keep all.',
  arranged: [3],
  route: {
    from: 'West',
    to: 'Siding',
    // East to Platform alone asks for nothing else: the others need a point, a lever or a length of tape of it.
    cannot: 5,
    can: 1,
    remarks: [
      ['West to Loop', 'needs L1 reverse'],
      ['East to Platform', 'no lever to throw'],
    ],
    normal: ['L1'],
    reverse: ['L2'],
    lamps: ['H1', 'H11', 'H12', 'H2'],
  },
  wire: {
    circuit: 'L2',
    volts: '9.00 V',
    lit: [
      ['H10', 'H9'],
      ['H11', 'H12'],
    ],
    stuck: 'P3',
    ohms: 'R-G5',
    milliamps: [6.8, 7.1],
  },
  trains: [
    { name: 'Goods', length: '500', from: 'Siding', to: 'West', asks: /1 lever to throw/, throws: /^Throw L2 and go$/ },
    { name: 'Local', length: '700', from: 'Platform', to: 'East', asks: /Route set/, throws: /^Go$/ },
  ],
  after: ['L2'],
};

const HANDS: readonly (readonly [
  name: string,
  handOf: (page: Page) => Hand | Promise<Hand>,
  options: BrowserContextOptions,
])[] = [
  ['mouse', mouse, {}],
  // The narrow one, where everything stands in one column.
  ['finger', touch, { hasTouch: true, viewport: { width: 820, height: 1180 } }],
  ['keys alone', keysThatStay, {}],
];

/** Keys alone; after every press something has the focus still, whatever has gone from the screen. */
function keysThatStay(page: Page): Hand {
  const hand = keys(page);
  return {
    ...hand,
    async press(on, key) {
      await hand.press(on, key);
      if (key === undefined) await soon(() => page.evaluate(() => document.activeElement !== document.body)).toBe(true);
    },
  };
}

/** Rows that stand in the table before more are asked for. */
const FEW = 5;

const leversWork = (n: number): string => `${n} ${n === 1 ? 'lever works' : 'levers work'}`;
const read = (file: string): string => readFileSync(example(file), 'utf8');
/** Where trains are, by their markers. */
const standing = async (page: Page): Promise<string> =>
  (await page.locator('.train-button').evaluateAll((all) => all.map((each) => each.getAttribute('aria-label') ?? '')))
    .sort()
    .join('; ');

describe.each(
  HANDS.flatMap(([by, handOf, options]) =>
    [HARBOUR, BRAMBLE].map((job) => [by, job.name, job, handOf, options] as const),
  ),
)('by %s, on %s', (_by, _name, job, handOf, options) => {
  const asFile = JSON.parse(read(job.file)) as PanelFile;
  let page: Page;
  let hand: Hand;
  let wrongs: readonly string[];
  beforeAll(async () => {
    ({ page, wrongs } = await openPage(browser, site.url, options));
    page.setDefaultTimeout(8000);
    await catchFiles(page);
    await dropFile(page, `${job.file}.mimic.json`, read(job.file));
    await page.getByRole('heading', { level: 1, name: job.name }).waitFor();
    hand = await handOf(page);
    return () => page.context().close();
  });

  const ends = () => page.locator('.route-bar .sel-value').allTextContents();
  const goTo = (stage: string, key: string): Promise<void> =>
    hand.press(page.getByRole('navigation').getByRole('button', { name: new RegExp(`^${stage}`) }), key);
  const undo = (): Promise<void> => hand.press(page.getByRole('button', { name: /^Undo/ }), 'Control+z');
  /** So many steps back, and the panel is what the file says; nothing more can be undone. */
  const undone = async (steps: number): Promise<void> => {
    for (let k = 0; k < steps; k++) await undo();
    await page.getByRole('button', { name: 'Nothing to undo' }).waitFor();
    expect(isAlike(await saved(page), asFile)).toBe(true);
  };

  it('Work: puts, turns over, sets switch and drive, parts, joins, picks a route, and takes all of it back', async () => {
    await goTo('Work', '2');
    await page.locator('.joined').waitFor();
    const head = () => page.locator('.lever-number h2').textContent();
    const heads = (levers: number) => soon(head).toBe(`${leversWork(levers)} ${job.points} points`);
    const spot = (name: string) => page.locator(`[data-spot="${name}"]`);
    const edit = page.locator('.lever-edit');
    const worked = async (id: string) => (await saved(page)).levers?.find((each) => each.id === id);
    const { point, lever: under, works, said } = job.put;
    // What the picked lever works: in its row, or under the face.
    const sum = () => page.locator('.lever-item.picked .lever-name > span, .strip-sum').textContent();
    await heads(job.levers);

    await hand.carry(spot(`point ${point}`), spot(`lever ${under}`));
    await heads(job.levers - 1);
    await soon(sum).toContain(`${said}, same`);
    expect((await worked(under))?.works).toEqual(works.map((each) => ({ point: each })));

    await hand.press(edit.getByRole('group', { name: `${point} lies` }).getByRole('button', { name: 'Opposite' }));
    await soon(sum).toContain(`${said}; ${point} opposite`);
    expect((await worked(under))?.works?.at(-1)).toEqual({ point, opposite: true });

    await hand.press(edit.getByRole('button', { name: 'Centre-off' }));
    await soon(() => edit.getByRole('button', { name: 'Centre-off' }).getAttribute('aria-pressed')).toBe('true');
    expect((await worked(under))?.switch).toContain('centre-off');

    await hand.choose(
      edit.locator('.choice-field', { hasText: `Drive of ${point}` }).locator('.choice-button'),
      'Limit',
    );
    await soon(() => page.locator('.drive-row', { hasText: 'Limit-switched' }).locator('em').textContent()).toBe('1');
    const changed = await saved(page);
    const drive = changed.points?.find(({ id }) => id === point)?.drive;
    expect(changed.drives?.find(({ id }) => id === drive)?.part).toBe('limit-2-wire');

    // In hand by a press on the face, and off to a lever of its own.
    await hand.press(spot(`point ${point}`));
    await soon(() => page.locator('.hand-bar b').textContent()).toBe(`${point} in hand`);
    await hand.press(page.getByRole('button', { name: 'A lever of its own' }));
    await heads(job.levers);
    await soon(() => page.locator('.hand-bar').count()).toBe(0);

    await hand.press(page.locator('.joined').getByRole('button', { name: new RegExp(`^Separate ${job.part}:`) }));
    await heads(job.levers + 1);
    await undone(6);
    await heads(job.levers);

    const number = () => page.locator('.lever-number p').textContent();
    await soon(number).toBe(job.number);

    // In hand by a press, and under the lever that is pressed next.
    await hand.press(spot(`point ${point}`));
    await hand.press(spot(`lever ${under}`));
    await heads(job.levers - 1);
    await soon(sum).toContain(`${said}, same`);
    await undone(1);

    const { join } = job;
    await hand.press(page.getByRole('button', { name: `Join ${join.points}`, exact: true }));
    await heads(job.levers - 1);
    // The join is picked, and unfolds.
    await soon(sum).toContain(join.said);
    await soon(number).toContain(join.lost);
    await hand.press(edit.getByRole('button', { name: 'Separate', exact: true }));
    await heads(join.parted);
    await undone(2);

    for (const levers of job.arranged) {
      await hand.press(page.locator('.line-deeds .btn').last());
      await heads(levers);
    }
    await soon(() => page.locator('.line-deeds .btn', { hasText: 'Make it' }).count()).toBe(0);
    await soon(number).toContain(`that keep all`);
    await hand.press(page.locator('.drive-row input').nth(1));
    await soon(() => page.locator('.drive-row.on').textContent()).toContain('Limit-switched');
    await undone(job.arranged.length + 1);

    const { from, to, cannot, can, remarks, normal, reverse } = job.route;
    await hand.press(page.locator('.control-table').getByRole('button', { name: `${from} to ${to}`, exact: true }));
    await soon(() => page.locator('.row-picked th').textContent()).toContain(`${from} to ${to}`);
    await soon(() => page.locator('.row-group th').allTextContents()).toEqual([
      `Cannot stand with it ${cannot}`,
      `Can stand with it ${can}`,
    ]);
    for (const [route, remark] of remarks)
      await soon(() =>
        page.locator('.control-table tbody tr', { hasText: route }).first().locator('.v').textContent(),
      ).toBe(remark);
    expect(await page.locator('.route-line .route-ink').count()).toBe(1);
    expect(await page.locator('.lever-sign').count()).toBe(normal.length + reverse.length);
    expect(await page.locator('.lever-sign.r').count()).toBe(reverse.length);
    if (cannot > FEW) {
      await hand.press(page.getByRole('button', { name: `${cannot - FEW} more` }));
      // With the row that says how many.
      expect(await page.locator('.control-table tbody').nth(1).locator('tr').count()).toBe(cannot + 1);
    }
    // It goes along to Run, and back.
    await goTo('Run', '6');
    await soon(ends).toEqual([from, to]);
    await goTo('Work', '2');
    await soon(() => page.locator('.row-picked th').textContent()).toContain(`${from} to ${to}`);
  });

  it('Wire: throws a lever, reads its volts and lamps, tries a fault, turns the connector, and fixes a value', async () => {
    await goTo('Wire', '3');
    const current = () => page.locator('.wire[data-current="true"]').waitFor();
    await current();
    const { circuit, volts, lit, stuck, ohms, milliamps } = job.wire;
    const row = page.locator(`[data-circuit="${circuit}"]`);
    await hand.press(row);
    await soon(() => row.getAttribute('aria-current')).toBe('true');
    await current();
    const rail = (name: string) =>
      page
        .locator('.cct-value text')
        .filter({ hasText: new RegExp(`^${name} `) })
        .first()
        .innerHTML();
    const shining = () =>
      page
        .locator('.cct-symbol.lamp.seen-lit')
        .evaluateAll((all) => all.map((each) => each.getAttribute('data-part') ?? '').sort());
    /** What the list for the ear says of a thing. */
    const told = async (what: string): Promise<string> => {
      const rows = await page.locator('section[aria-label="The circuit in reading order"] li').allTextContents();
      return rows.find((text) => text.startsWith(`${what},`)) ?? '';
    };
    const [normal = [], reverse = []] = lit;
    for (const [word, high, low, shine, dark] of [
      ['Normal', 'A', 'B', normal, reverse],
      ['Reverse', 'B', 'A', reverse, normal],
    ] as const) {
      const press = page.locator('.wire-throw').getByRole('button', { name: word });
      await hand.press(press, word.slice(0, 1).toLowerCase());
      await soon(() => press.getAttribute('aria-pressed')).toBe('true');
      await soon(() => rail(high)).toBe(`${high} ${volts}`);
      expect(await rail(low)).toBe(`${low} 0.00 V`);
      expect(await shining()).toEqual([...shine].sort());
      for (const lamp of shine) expect(await told(`Lamp ${lamp}`)).toMatch(/, lit, \d+\.\d mA$/);
      for (const lamp of dark) expect(await told(`Lamp ${lamp}`)).toContain(', unlit, 0.00 mA');
    }

    // The sums speak of the lamps of each position, whichever the lever lies in.
    for (const [word, shine] of [
      ['Normal', normal],
      ['Reverse', reverse],
    ] as const) {
      const sums = page.locator('.sum-column', { has: page.getByRole('heading', { name: word }) });
      expect(await sums.locator('h3').textContent()).toContain(`${shine.length} lamps, lit`);
      for (const lamp of shine) expect(await sums.locator('.sum-of').textContent()).toContain(lamp);
    }

    const left = page
      .locator('.sum')
      .last()
      .getByRole('button', { name: /^Left for/ });
    await hand.press(left);
    await soon(() => left.getAttribute('aria-pressed')).toBe('true');
    expect(await page.locator('.cct-symbol.resistor.hot').count()).toBe(1);

    const code = `stuck:${stuck}=normal`;
    await hand.write(page.locator('#wire-fault'), code);
    await hand.press(page.locator(`[data-fault="${code}"]`));
    await page.getByText(/^Tried: .*stuck normal/).waitFor();
    await soon(() =>
      page.locator('[data-lies]').evaluateAll((all) => all.map((each) => each.getAttribute('data-lies') ?? '').sort()),
    ).toEqual([...reverse].sort());
    expect(await page.locator('.sf-lies').count()).toBe(reverse.length);
    await hand.press(page.getByRole('button', { name: 'Take it away' }));
    await soon(() => page.locator('[data-lies], .sf-lies').count()).toBe(0);
    expect(isAlike(await saved(page), asFile)).toBe(true);

    // Pin 1 stands at the left of one half and at the right of the other.
    const shell = page.locator('.wire-connector').first();
    const pin = () =>
      shell
        .locator('.wire-shell .pin circle')
        .first()
        .evaluate((each) => Number(each.getAttribute('cx')));
    await shell.getByText('Panel half, socket, from the wiring side').waitFor();
    const before = await pin();
    await hand.press(shell.getByRole('button', { name: 'Layout half' }));
    await shell.getByText('Layout half, plug, from the wiring side').waitFor();
    expect(await pin()).toBeCloseTo(330 - before, 0);

    await hand.press(page.locator('summary', { hasText: 'Values' }));
    const value = page.locator(`[data-value="ohms ${ohms}"]`);
    await hand.write(value.locator('input'), '1000');
    await value.getByText('yours').waitFor();
    await soon(() => page.locator(`[data-part="${ohms}"] .cct-note`).innerHTML()).toBe('1k0');
    await current();
    const milli = Number(/([\d.]+) mA$/.exec(await told(`Resistor ${ohms}`))?.[1]);
    expect(milli).toBeGreaterThanOrEqual(milliamps[0]);
    expect(milli).toBeLessThanOrEqual(milliamps[1]);
    expect((await saved(page)).lampGroups?.map((group) => group.ohms)).toContain(1000);
    await undone(1);
    await value.getByText('computed').waitFor();
  });

  it('Run: sets a route, throws its levers, tells two trains and moves them over the sheet, back and on', async () => {
    await goTo('Run', '6');
    await page.locator('.run').waitFor();
    const { from, to, normal, reverse, lamps } = job.route;
    // The route that was picked in Work is put away, and picked anew.
    await soon(ends).toEqual([from, to]);
    await hand.press(page.getByRole('button', { name: /^Back to all/ }));
    await soon(ends).toEqual(['Choose', 'Choose']);
    const fields = page.locator('.route-bar button.sel-field');
    await hand.choose(fields.nth(0), from);
    await hand.choose(fields.nth(1), to);
    const n = reverse.length;
    await soon(() => page.locator('.state').textContent()).toContain(`${n} ${n === 1 ? 'lever' : 'levers'} to throw`);
    for (const id of reverse) {
      await hand.press(lever(page, id));
      await soon(() => bat(page, id).getAttribute('data-position')).toBe('reverse');
    }
    await page.locator('.state-set').waitFor();
    for (const id of normal) expect(await bat(page, id).getAttribute('data-position')).toBe('normal');
    await soon(() => page.locator('.foot').textContent()).toContain(`${lamps.length} on this route`);
    for (const lamp of lamps) expect(await litOf(page)).toContain(lamp);
    await hand.press(page.getByRole('button', { name: 'All normal' }));
    await soon(() => page.locator('[data-position="reverse"]').count()).toBe(0);

    await hand.press(page.getByRole('button', { name: 'Trains', exact: true }));
    for (const { name, length, from: place } of job.trains) {
      await hand.press(page.getByRole('button', { name: 'Add a train' }));
      await hand.write(page.getByLabel('Name', { exact: true }), name);
      await hand.press(page.getByRole('button', { name: 'Change', exact: true }));
      await hand.choose(page.locator('.train-form button.sel-field'), place);
      await hand.write(page.getByLabel('Length in mm'), length);
      await soon(() => standing(page)).toContain(`${name}, at ${place}`);
      await soon(() => page.locator('.train.picked .side-words').first().textContent()).toContain(`${length} mm`);
    }
    const first = await standing(page);
    for (const [k, { name, from: place, to: end, asks, throws }] of job.trains.entries()) {
      const row = page.locator('.train > .side-row', { hasText: name });
      if (k === 0) {
        // Picked and sent on the face.
        await hand.press(page.getByRole('button', { name: `${name}, at ${place}`, exact: true }));
        await hand.press(page.locator(`.place-button[aria-label^="${end}"]`));
      } else {
        // Picked and sent in the list.
        await hand.press(row);
        await hand.press(page.locator('.move .side-row', { has: page.getByText(end, { exact: true }) }).first());
      }
      await soon(() => row.getAttribute('aria-expanded')).toBe('true');
      // The route stands on the face before anything is thrown.
      await soon(ends).toEqual([place, end]);
      await soon(() => page.locator('.state').textContent()).toMatch(asks);
      const go = page.locator('.move.chosen .btn.primary');
      await soon(() => go.textContent()).toMatch(throws);
      await hand.press(go);
      await soon(() => standing(page)).toContain(`${name}, at ${end}`);
    }
    const last = await standing(page);
    const thrown = () =>
      page
        .locator('[data-position="reverse"]')
        .evaluateAll((all) => all.map((each) => each.getAttribute('data-lever')));
    expect(await thrown()).toEqual(job.after);
    const lines = page.locator('.sheet-lines li');
    expect(await lines.count()).toBe(2);
    for (const [k, { name, from: place, to: end }] of job.trains.entries())
      expect(await lines.nth(k).textContent()).toContain(`${k + 1} ${name}, ${place} to ${end}`);
    for (let k = 0; k < 2; k++) await hand.press(page.getByRole('button', { name: 'Back', exact: true }));
    await soon(() => standing(page)).toBe(first);
    await soon(thrown).toEqual([]);
    for (let k = 0; k < 2; k++) await hand.press(page.getByRole('button', { name: 'On', exact: true }));
    await soon(() => standing(page)).toBe(last);
    await soon(thrown).toEqual(job.after);
    // Kept: another visit finds the trains where they were told to be.
    await page.reload();
    await soon(() => standing(page)).toBe(last);
    expect(wrongs).toEqual([]);
  });
});
