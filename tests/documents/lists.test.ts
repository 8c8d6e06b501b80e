/** The lists as another program would read them, and what one could rebuild from them. */
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { BOOK_PATHS, type BuiltFile, buildBook, choosePaths } from '../../src/book/index.ts';
import type { Derived } from '../../src/derive.ts';
import { derivePanel, examplePanel, loadExample, readCsv, readFonts, textOf } from './load.ts';

const LISTS = ['holes', 'wires', 'pins', 'frogs', 'parts', 'routes', 'conflicts', 'tests'] as const;

describe.each(['quillhaven-harbour', 'bramble-siding'])('%s', (name) => {
  let derived: Derived;
  let files: BuiltFile[];
  const rows = (list: string): string[][] => readCsv(textOf(files, `${list}.csv`)).slice(1);
  beforeAll(async () => {
    derived = loadExample(name);
    files = await buildBook(derived, { paper: 'A4', fonts: readFonts(), only: [...LISTS, 'panel'] });
  });

  test('columns are those that are promised', () => {
    const heads = Object.fromEntries(LISTS.map((list) => [list, readCsv(textOf(files, `${list}.csv`))[0]?.join(',')]));
    expect(heads).toEqual({
      holes: 'no,x_mm,y_mm,drill_mm,for',
      wires: 'no,from,to,colour,gauge_mm2,length_mm,circuit',
      pins: 'connector,pin,net,colour,circuit,setting,volts',
      frogs: 'frog,of,kind,contact,rail_normal,rail_reverse,bus_normal,bus_reverse,when_normal,when_reverse,contact_by',
      parts: 'part,count,for,price',
      routes: ['from', 'to', ...derived.plan.levers.map((lever) => lever.id)].join(','),
      conflicts: 'from_1,to_1,from_2,to_2,reason',
      tests: 'id,stage,lever,do,expect,low,high,unit',
    });
  });

  test('wires.csv holds every wire, end to end', () => {
    expect(rows('wires').map(([no, from, to, colour]) => [no, from, to, colour])).toEqual(
      derived.loom.wires.map((wire) => [wire.id, wire.from, wire.to, wire.colour]),
    );
  });

  test('every end of a wire is a part of parts.csv, or a pin', () => {
    const ids = new Set(rows('parts').flatMap((row) => (row[2] ?? '').split(' ')));
    const loose = rows('wires')
      .flatMap(([, from = '', to = '']) => [from, to].map((end) => end.slice(0, end.lastIndexOf('.'))))
      .filter((owner) => !ids.has(owner));
    expect([...new Set(loose)]).toEqual([]);
  });

  test('parts.csv counts what it names, and gives each resistor its value', () => {
    for (const [part = '', count = '', ids = ''] of rows('parts'))
      if (!part.endsWith(', metre')) expect([part, Number(count)]).toEqual([part, ids.split(' ').length]);
    const resistors = rows('parts').filter(([part = '']) => part.startsWith('resistor '));
    expect(resistors.flatMap((row) => (row[2] ?? '').split(' ')).sort()).toEqual(
      derived.wiring.resistors.map((each) => each.id).sort(),
    );
    for (const [part] of resistors) expect(part).toMatch(/^resistor \d*[RkM]\d* [\d.]+ W$/);
  });

  test('pins.csv has one row a pin and position, volts between nothing and the supply', () => {
    const all = rows('pins');
    const pins = derived.wiring.connectors.flatMap((connector) => connector.pins);
    expect(all).toHaveLength(
      pins.reduce(
        (sum, pin) =>
          sum + (derived.wiring.circuits.find((circuit) => circuit.id === pin.circuit)?.positions.length ?? 0),
        0,
      ),
    );
    const most = Math.max(...derived.wiring.supplies.map((supply) => supply.volts));
    for (const [, , , colour, , , volts] of all) {
      expect(Number(volts)).toBeGreaterThanOrEqual(0);
      expect(Number(volts)).toBeLessThanOrEqual(most);
      expect(colour).toMatch(/^[A-Z]{2,4}$/);
    }
    // A reversing feed: what is plus in one position is minus in the other: common practice, no source.
    for (const pin of pins) {
      const [normal, reverse] = ['normal', 'reverse'].map((setting) =>
        Number(all.find((row) => row[0] === pin.connector && row[1] === String(pin.number) && row[5] === setting)?.[6]),
      );
      expect(Math.abs((normal ?? 0) - (reverse ?? 0))).toBeCloseTo(most, 6);
    }
  });

  test('pins.csv names the net that the panel\u2019s wires join to the pin', () => {
    const inside = rows('wires').filter(([, , to = '']) => !/^D/.test(to));
    for (const [connector, number, net = ''] of rows('pins')) {
      const reached = new Set([`${connector}.${number}`]);
      for (let before = 0; before < reached.size; ) {
        before = reached.size;
        for (const [, from = '', to = ''] of inside)
          if (reached.has(from) || reached.has(to)) {
            reached.add(from);
            reached.add(to);
          }
      }
      expect(reached).toContain(net);
    }
  });

  test('routes.csv and conflicts.csv stand in the order of the routes', () => {
    const { routes } = derived.routes();
    expect(rows('routes').map(([from, to]) => `${from} ${to}`)).toEqual(
      routes.map((route) => `${route.from} ${route.to}`),
    );
    expect(rows('conflicts')).toHaveLength(derived.conflicts().length);
  });

  test('frogs.csv has a row for every frog, and says that nothing is said', () => {
    const said = rows('frogs').map(([frog, of, kind]) => [frog, of, kind]);
    expect(said).toEqual(derived.plan.points.map(({ id }) => [`F-${id}`, id, 'not said']));
    // A crossing of two rails: the other lie always wants the other rail.
    for (const row of rows('frogs')) expect(new Set([row[4], row[5]])).toEqual(new Set(['left', 'right']));
  });

  test('tests.csv has a row for every expectation', () => {
    expect(rows('tests')).toHaveLength(derived.tests().reduce((sum, each) => sum + Math.max(1, each.expect.length), 0));
  });

  test('panel.cir ends as SPICE text must', () => {
    expect(textOf(files, 'panel.cir').trimEnd().endsWith('.end')).toBe(true);
  });
});

describe('what is asked for', () => {
  test('names go with or without their ending, in the order of the list', () => {
    expect(choosePaths(['wires', 'book.pdf', 'face', 'nothing'])).toEqual([
      'book.pdf',
      'face.svg',
      'face.dxf',
      'wires.csv',
    ]);
    expect(choosePaths(undefined)).toEqual(BOOK_PATHS);
  });
  test('lists alone load neither the PDF writer nor the fonts', async () => {
    vi.resetModules();
    const refuse = (): never => {
      throw new Error('loaded');
    };
    vi.doMock('pdfkit', refuse);
    vi.doMock('fontkit', refuse);
    const { buildBook: build } = await import('../../src/book/index.ts');
    const none = new Uint8Array();
    const fonts = Object.fromEntries(Object.keys(readFonts()).map((role) => [role, none])) as ReturnType<
      typeof readFonts
    >;
    expect(await build(loadExample('bramble-siding'), { paper: 'A4', fonts, only: LISTS })).toHaveLength(LISTS.length);
    await expect(build(loadExample('bramble-siding'), { paper: 'A4', fonts, only: ['book'] })).rejects.toThrow();
    vi.doUnmock('pdfkit');
    vi.doUnmock('fontkit');
  });
});

describe('names that a spreadsheet would run', () => {
  test('are defused in every list', async () => {
    const panel = examplePanel('bramble-siding');
    const derived = derivePanel({
      ...panel,
      strips: panel.strips.map((strip) => ({ ...strip, tape: '=HYPERLINK("http://x","y")' })),
      parts: [{ id: 'my-lamp', like: 'led-3-green', name: '@SUM(A1)' }],
      lamps: panel.lamps?.map((lamp) => ({ ...lamp, part: 'my-lamp' })) ?? [],
    });
    const files = await buildBook(derived, { paper: 'A4', fonts: readFonts(), only: LISTS });
    const fields = LISTS.flatMap((list) => readCsv(textOf(files, `${list}.csv`)).flat());
    expect(fields.filter((field) => /^[=+@\t\r\n]|^-(?!\d)/.test(field))).toEqual([]);
    expect(fields.some((field) => field.startsWith("'=HYPERLINK"))).toBe(true);
    expect(fields).toContain("'@SUM(A1)");
  });
});

describe('speed', () => {
  // 5 s is what the project allows; counted in processor time, so that a busy machine does not matter.
  test('every file of the larger example within 5 s', async () => {
    const fonts = readFonts();
    const start = process.cpuUsage();
    const files = await buildBook(loadExample('quillhaven-harbour'), { paper: 'A4', fonts });
    const { user, system } = process.cpuUsage(start);
    expect((user + system) / 1e6).toBeLessThan(5);
    expect(files.map((file) => file.path)).toEqual(BOOK_PATHS);
  });
});
