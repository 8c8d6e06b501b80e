/** Names and numbers of wires, pins, groups and tags, and what the file fixes of them, on panels written by hand. */
import { describe, expect, it } from 'vitest';
import { answerOn, BRANCH, expectAbout, findingsOn, LOOP, listOn, loopOhms, runOn, stringAmps } from './by-hand.ts';

const H = (id: string, x: number, lie: 'normal' | 'reverse', point = 'P1') => ({
  id,
  at: [x, lie === 'normal' ? 60 : 100],
  part: 'led-3-green',
  shows: { [point]: lie },
});

const rows = async (keys: object, name: string) => (await listOn({ ...keys }, name)).slice(1);
/** `W7 R-G1.2 H1.a`, one a wire. */
const wires = async (keys: object) => (await rows(keys, 'wires.csv')).map((cells) => cells.slice(0, 3).join(' '));
/** `A.1 L1.t2`, one a pin. */
const pins = async (keys: object) => [
  ...new Set((await rows(keys, 'pins.csv')).map(([connector, pin, net]) => `${connector}.${pin} ${net}`)),
];

describe('wires, pins and resistors', () => {
  it('are numbered by lever, then lie, then terminal', async () => {
    const keys = { ...LOOP, lamps: [{ ...H('H1', 78, 'normal'), at: [78, 60] }] };
    const list = await wires(keys);
    expect(list.map((wire) => wire.split(' ')[0])).toEqual(list.map((_, i) => `W${i + 1}`));
    // One lever after the other, but for the feed that comes first.
    const levers = list.map((wire) => /L2|P2|A\.[34]/.test(wire));
    expect(levers.indexOf(true)).toBe(levers.filter((each) => !each).length);
    // Tags by pole: normal, common, reverse. The commons leave; plus is on the normal tag of pole 1 and the reverse tag of pole 2.
    expect(list.some((wire) => / L1\.t1 L1\.t6$| L1\.t6 L1\.t1$/.test(wire))).toBe(true);
    expect(list.some((wire) => / L1\.t3 L1\.t4$| L1\.t4 L1\.t3$/.test(wire))).toBe(true);
    expect(await pins(keys)).toEqual(['A.1 L1.t2', 'A.2 L1.t5', 'A.3 L2.t2', 'A.4 L2.t5']);
    expect(list.filter((wire) => / P[12]\.[ab]$/.test(wire)).map((wire) => wire.split(' ').slice(1).join(' '))).toEqual(
      ['A.1 P1.a', 'A.2 P1.b', 'A.3 P2.a', 'A.4 P2.b'],
    );
  });

  it('are as many as are counted', async () => {
    const keys = { ...LOOP, lamps: [{ ...H('H1', 78, 'normal'), at: [78, 60] }] };
    const { counts } = await answerOn(keys, 'check');
    expect(counts.wires).toBe((await wires(keys)).length);
    expect([counts.circuits, counts.connectors, counts.levers, counts.drives]).toEqual([2, 1, 2, 2]);
  });

  it('name the resistor of a group, of a lamp on its own, and guards after what they stand for', async () => {
    const text = (await wires({ ...BRANCH, lamps: [H('H1', 140, 'normal'), H('H2', 200, 'reverse')] })).join('\n');
    expect(text).toMatch(/R-G1\.1/);
    expect(text).toMatch(/FU-S1\.1/);
    const alone = (await wires({ ...BRANCH, lamps: [H('H1', 140, 'normal')] })).join('\n');
    expect(alone).toMatch(/R-H1\.1/);
    expect(alone).toMatch(/GD-H1/);
    expect(alone).not.toMatch(/R-G/);
  });

  it('group lamps by lever, then lie, and pass over groups that the file has', async () => {
    const lamps = [
      { id: 'H5', at: [90, 85], part: 'led-3-green', shows: { P2: 'reverse' } },
      { id: 'H6', at: [220, 60], part: 'led-3-green', shows: { P2: 'normal' } },
      { id: 'H7', at: [85, 60], part: 'led-3-green', shows: { P1: 'normal' } },
      { id: 'H8', at: [100, 85], part: 'led-3-green', shows: { P1: 'reverse' } },
      { id: 'H9', at: [120, 60], part: 'led-3-green', shows: { P1: 'normal' } },
    ];
    const list = (await wires({ ...LOOP, lamps, lampGroups: [{ id: 'G1', lamps: ['H9'], arrange: 'own' }] })).join(
      '\n',
    );
    expect(list).toMatch(/R-G2\.2 H7\.a/);
    expect(list).toMatch(/R-G3\.2 H6\.a/);
    expect(list).toMatch(/R-H9\.2 H9\.a/);
  });

  it('have ids of their own: a connector is not named after a record that differs by case alone', async () => {
    const keys = {
      ...BRANCH,
      places: [
        { id: 'a', at: [0, 60] },
        { id: 'b', at: [300, 60] },
      ],
    };
    expect(await pins(keys)).toEqual(['C.1 L1.t2', 'C.2 L1.t5']);
  });
});

describe('what the file fixes', () => {
  it('keeps its pins, and gives the other wire of the pair the neighbour', async () => {
    const fixed = (pinsOf: object) => ({ ...BRANCH, connectors: [{ id: 'A', part: 'dsub-25', pins: pinsOf }] });
    expect(await pins(fixed({ '7': 'P1.a' }))).toEqual(['A.7 L1.t2', 'A.8 L1.t5']);
    expect(await pins(fixed({ '4': 'P1.b', '9': 'P1.a' }))).toEqual(['A.4 L1.t5', 'A.9 L1.t2']);
  });

  it('keeps its wires: number, colour, gauge, length, and the pin that one ends at', async () => {
    const keys = {
      ...BRANCH,
      wires: [
        { id: 'W3', from: 'A.5', to: 'P1.b', length: 4500, gauge: 0.5, colour: 'BU' },
        { id: 'W7', from: 'L1.t2', to: 'A.6', colour: 'RD' },
      ],
    };
    expect(await pins({ ...keys, wires: keys.wires.slice(0, 1) })).toEqual(
      expect.arrayContaining(['A.5 L1.t5', 'A.6 L1.t2']),
    );
    const list = await rows(keys, 'wires.csv');
    expect(list.find(([no]) => no === 'W3')?.slice(0, 6)).toEqual(['W3', 'A.5', 'P1.b', 'BU', '0.5', '4500']);
    expect(list.find(([no]) => no === 'W7')?.slice(0, 4)).toEqual(['W7', 'L1.t2', 'A.6', 'RD']);
    expect(new Set(list.map(([no]) => no)).size).toBe(list.length);
    expect((await findingsOn(keys)).filter((each) => each.startsWith('wire'))).toEqual([]);
    const { drives } = await answerOn(keys, 'solve');
    expectAbout(drives[0]?.amps, 9 / (800 + loopOhms() / 2 + loopOhms(4500, 0.5) / 2));
  });

  it('is found where it cannot be', async () => {
    const wiresOf = [
      { id: 'W8', from: 'H9.a', to: 'A.2' },
      { id: 'W9', from: 'A.1', to: 'P1.a', colour: 'GNYE' },
    ];
    const found = await findingsOn({ ...BRANCH, wires: wiresOf });
    expect(found).toEqual(expect.arrayContaining(['wire-joins-nothing W8', 'wire-green-and-yellow W9']));
    const connectors = [{ id: 'K', part: 'dsub-9', pins: { '10': 'P1.b', '3': 'P8.a' } }];
    expect(await findingsOn({ ...BRANCH, connectors })).toEqual(
      expect.arrayContaining(['pin-unknown K', 'pin-leads-nowhere K.3']),
    );
  });

  it('fills no more than there is, and says for which drive no pin is left', async () => {
    const screw = { ...LOOP, connectors: [{ id: 'T', part: 'screw-4', spare: 0 }] };
    expect(await pins(screw)).toEqual(['T.1 L1.t2', 'T.2 L1.t5', 'T.3 L2.t2', 'T.4 L2.t5']);
    expect(await findingsOn(screw)).not.toContain('connector-full P2');
    expect(await findingsOn({ ...LOOP, connectors: [{ id: 'T', part: 'screw-2', spare: 0 }] })).toContain(
      'connector-full P2',
    );
  });
});

describe('what is built', () => {
  const built = {
    revision: 'A',
    date: '2026-03-01',
    wires: { W20: { from: 'A.9', to: 'P1.a', colour: 'BU', gauge: 0.14, length: 2222 } },
    pins: { 'A.9': 'P1.a', 'A.13': 'P1.b' },
    groups: { G4: { lamps: ['H1', 'H2'], ohms: 2700 } },
  };
  const keys = { ...BRANCH, lamps: [H('H1', 140, 'normal'), H('H2', 200, 'reverse')], built };

  it('stays: pins, wires and resistors, with no connector or group in the file', async () => {
    expect(await pins(keys)).toEqual(['A.9 L1.t2', 'A.13 L1.t5']);
    const list = await rows(keys, 'wires.csv');
    expect(list.find(([no]) => no === 'W20')?.slice(0, 6)).toEqual(['W20', 'A.9', 'P1.a', 'BU', '0.14', '2222']);
    expect(list.some(([, from]) => from === 'R-G4.1' || from === 'R-G4.2')).toBe(true);
    const { lamps, drives } = await answerOn(keys, 'solve');
    expectAbout(lamps[0]?.amps, stringAmps(9, 2700, [1.9]));
    expectAbout(drives[0]?.amps, 9 / (800 + loopOhms(2222, 0.14) / 2 + loopOhms() / 2));
  });

  it('names what is not there: a finding', async () => {
    const gone = { ...BRANCH, built: { pins: { 'A.7': 'D9.a' }, groups: { G1: { lamps: ['H9'], ohms: 100 } } } };
    expect(await findingsOn(gone)).toEqual(expect.arrayContaining(['pin-leads-nowhere A.7', 'reference-unknown G1']));
  });
});

describe('the lists of the book', () => {
  it('have the columns that are promised', async () => {
    const heads = {
      'holes.csv': 'no,x_mm,y_mm,drill_mm,for',
      'wires.csv': 'no,from,to,colour,gauge_mm2,length_mm,circuit',
      'pins.csv': 'connector,pin,net,colour,circuit,setting,volts',
      'frogs.csv':
        'frog,of,kind,contact,rail_normal,rail_reverse,bus_normal,bus_reverse,when_normal,when_reverse,contact_by',
      'parts.csv': 'part,count,for,price',
      'routes.csv': 'from,to,L1,L2',
      'conflicts.csv': 'from_1,to_1,from_2,to_2,reason',
      'tests.csv': 'id,stage,lever,do,expect,low,high,unit',
    };
    for (const [name, head] of Object.entries(heads)) {
      expect((await listOn(LOOP, name))[0]?.join(','), name).toBe(head);
    }
    expect((await rows(LOOP, 'routes.csv')).map((cells) => cells.join(','))).toEqual([
      'E1,E2,normal,normal',
      'E1,E2,reverse,reverse',
    ]);
    expect((await rows(LOOP, 'conflicts.csv')).map((cells) => cells.join(','))).toEqual(['E1,E2,E1,E2,point:P1']);
  });

  it('give the holes of levers in a row of 44 mm, 22 mm below the lowest strip', async () => {
    const holes = (await rows(LOOP, 'holes.csv')).map(([, x, y, drill, what]) => ({ x, y, drill, what }));
    expect(holes.map(({ y, drill }) => [y, drill])).toEqual([
      ['107', '12.2'],
      ['107', '12.2'],
    ]);
    expect(Number(holes[1]?.x) - Number(holes[0]?.x)).toBe(44);
  });

  it('give the volts of each pin in each setting of its lever', async () => {
    const list = await rows(BRANCH, 'pins.csv');
    expect(list.map((cells) => [cells[1], cells[5], Number(cells[6])])).toEqual([
      ['1', 'normal', 9],
      ['1', 'reverse', 0],
      ['2', 'normal', 0],
      ['2', 'reverse', 9],
    ]);
  });

  it('answer by file what was written, and write only that', async () => {
    const ran = await runOn(BRANCH, 'build', '--out', 'book', '--only', 'panel.cir,holes', '--json');
    const { files } = JSON.parse(ran.stdout) as { files: { path: string; kind: string; bytes: number }[] };
    expect(files.map(({ path, kind }) => [path, kind])).toEqual([
      ['holes.csv', 'csv'],
      ['panel.cir', 'spice'],
    ]);
    for (const { path, bytes } of files) expect(ran.written.get(`book/${path}`)?.length).toBe(bytes);
    expect(ran.written.size).toBe(2);
    // The titles differ; the cards do not.
    const cards = (text: string) => text.slice(text.indexOf('* node 0'));
    expect(cards(new TextDecoder().decode(ran.written.get('book/panel.cir')))).toBe(
      cards((await runOn(BRANCH, 'spice')).stdout),
    );
  });
});
