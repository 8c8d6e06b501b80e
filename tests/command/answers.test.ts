import { describe, expect, it } from 'vitest';
import { answerSchemas } from '../../src/cli/index.ts';
import { BRAMBLE, QUILLHAVEN, runInMemory } from './memory.ts';

/** The keys of each answer as its promise to the outside lists them. */
const KEYS = {
  check: ['format', 'version', 'panel', 'counts', 'findings'],
  routes: ['format', 'version', 'panel', 'places', 'routes', 'conflicts', 'grouping', 'proving'],
  solve: ['format', 'version', 'panel', 'levers', 'faults', 'supplies', 'drives', 'lamps', 'nodes', 'residual'],
  truth: [
    'format',
    'version',
    'panel',
    'settings',
    'lamps',
    'untruths',
    'doubtful',
    'contradictions',
    'silent',
    'leads',
  ],
} as const;

const examples = [
  { name: 'Bramble Siding', file: BRAMBLE },
  { name: 'Quillhaven Harbour', file: QUILLHAVEN },
];

async function answerOf<C extends keyof typeof KEYS>(command: C, args: readonly string[]) {
  const ran = await runInMemory([command, ...args, '--json']);
  expect(ran.stderr).toBe('');
  return answerSchemas[command].parse(JSON.parse(ran.stdout)) as ReturnType<(typeof answerSchemas)[C]['parse']>;
}

describe.each(examples)('every answer on $name', ({ name, file }) => {
  it.each(Object.entries(KEYS))('%s has its keys in its shape and the same bytes again', async (command, keys) => {
    const first = await runInMemory([command, file, '--json']);
    const again = await runInMemory([command, file, '--json']);
    expect(first.stderr).toBe('');
    expect([0, 1]).toContain(first.status);
    expect(again.stdout).toBe(first.stdout);
    const answer: unknown = JSON.parse(first.stdout);
    expect(answer).toMatchObject({ format: `mimic-${command}`, version: 1, panel: name });
    expect(Object.keys(answer as object)).toEqual(expect.arrayContaining([...keys]));
  });

  it.each(['check', 'routes', 'solve', 'truth'])('%s says it in words too', async (command) => {
    const ran = await runInMemory([command, file]);
    expect(ran.stdout.split('\n')[0]).toBe(name);
    expect(ran.stdout).not.toMatch(/undefined|NaN|\[object/);
    expect(ran.stdout.endsWith('\n')).toBe(true);
  });
});

describe('check', () => {
  it('counts what the file holds (counted by hand in the file)', async () => {
    const { counts } = await answerOf('check', [BRAMBLE]);
    expect(counts).toMatchObject({
      strips: 3,
      points: 3,
      crossings: 0,
      places: 5,
      levers: 2,
      lamps: 12,
      drives: 3,
      circuits: 2,
    });
  });

  it('answers 1 exactly where a finding is danger or wrong', async () => {
    for (const { file } of examples) {
      const ran = await runInMemory(['check', file, '--json']);
      const { findings } = answerSchemas.check.parse(JSON.parse(ran.stdout));
      const serious = findings.some(({ severity }) => severity === 'danger' || severity === 'wrong');
      expect(ran.status).toBe(serious ? 1 : 0);
    }
  });

  it('answers 1 for a branch nearer to square than 75 degrees, with a finding at its end', async () => {
    const square = JSON.stringify({
      format: 'mimic-panel',
      version: 1,
      strips: [
        {
          id: 'main',
          path: [
            [0, 60],
            [300, 60],
          ],
        },
        {
          id: 'spur',
          path: [
            [150, 60],
            [150, 20],
          ],
        },
      ],
    });
    const ran = await runInMemory(['check', 'square.mimic.json', '--json'], { 'square.mimic.json': square });
    const { findings } = answerSchemas.check.parse(JSON.parse(ran.stdout));
    expect(ran.status).toBe(1);
    expect(
      findings.some(({ severity, where }) => severity === 'wrong' && where.at?.[0] === 150 && where.at[1] === 60),
    ).toBe(true);
  });

  it('reads the least valid file', async () => {
    const least = '{"format":"mimic-panel","version":1,"strips":[]}';
    const ran = await runInMemory(['check', 'least.mimic.json', '--json'], { 'least.mimic.json': least });
    const answer = answerSchemas.check.parse(JSON.parse(ran.stdout));
    expect(answer.counts.strips).toBe(0);
    expect(answer.findings.length).toBeGreaterThan(0);
  });

  it('names a key that means nothing, on standard error', async () => {
    const odd = '{"format":"mimic-panel","version":1,"strips":[{"id":"main","path":[[0,60],[300,60]],"widht":4}]}';
    const ran = await runInMemory(['check', 'odd.mimic.json', '--json'], { 'odd.mimic.json': odd });
    expect(ran.stderr).toContain('strips[0].widht');
    expect(() => JSON.parse(ran.stdout)).not.toThrow();
  });
});

describe('routes', () => {
  // Read off the diagram by hand: loop leaves the main line at P1 and joins it at P2, the siding leaves at P3 between them.
  const byHand = [
    {
      from: 'west',
      to: 'east',
      points: { P1: 'normal', P2: 'normal', P3: 'normal' },
      levers: { L1: 'normal', L2: 'normal' },
    },
    { from: 'west', to: 'east', points: { P1: 'reverse', P2: 'reverse' }, levers: { L1: 'reverse' } },
    {
      from: 'west',
      to: 'siding-end',
      points: { P1: 'normal', P3: 'reverse' },
      levers: { L1: 'normal', L2: 'reverse' },
    },
    { from: 'west', to: 'loop-road', points: { P1: 'reverse' }, levers: { L1: 'reverse' } },
    {
      from: 'west',
      to: 'platform-road',
      points: { P1: 'normal', P3: 'normal' },
      levers: { L1: 'normal', L2: 'normal' },
    },
    { from: 'east', to: 'loop-road', points: { P2: 'reverse' }, levers: { L1: 'reverse' } },
    { from: 'east', to: 'platform-road', points: { P2: 'normal' }, levers: { L1: 'normal' } },
  ];

  it('lists those of Bramble Siding as read by hand', async () => {
    const { routes } = await answerOf('routes', [BRAMBLE]);
    expect(routes.map(({ from, to, points, levers }) => ({ from, to, points, levers }))).toEqual(byHand);
  });

  it('finds a place by id or by name, either way round', async () => {
    const there = await answerOf('routes', [BRAMBLE, '--from', 'west', '--to', 'Siding']);
    const back = await answerOf('routes', [BRAMBLE, '--from', 'siding-end', '--to', 'West']);
    expect(there.routes.map(({ from, to }) => [from, to])).toEqual([['west', 'siding-end']]);
    expect(back).toEqual(there);
  });

  it('keeps conflicts to the routes that are asked for, counted among them', async () => {
    const { routes, conflicts } = await answerOf('routes', [BRAMBLE, '--from', 'west', '--to', 'east']);
    expect(routes).toHaveLength(2);
    // Both use the track between West and P1, and need P1 differently: a point is told of first.
    expect(conflicts).toEqual([[0, 1, 'point:P1']]);
  });

  it('tells what the levers lose: into the loop from one side while the other road is entered from the other', async () => {
    const { grouping } = await answerOf('routes', [BRAMBLE]);
    // L1 works P1 and P2 alike; either can be wanted without the other while a train stands in the station. By the list above: siding
    // and loop from the east, loop and platform from the east, platform and loop from the east. P3 is wanted both ways with P1 normal,
    // and both ways with P2 normal: three points, three levers.
    expect(grouping).toEqual({
      lost: {
        routes: [],
        pairs: [],
        meets: [
          [2, 5],
          [3, 6],
          [4, 5],
        ],
        counts: { routes: 0, pairs: 0, meets: 3 },
        cut: false,
      },
      least: 3,
      proved: true,
      atLeast: 3,
      groups: [{ P1: 'normal' }, { P2: 'normal' }, { P3: 'normal' }],
    });
  });

  it('counts what is lost among the routes that are asked for, and the fewest levers on the whole panel', async () => {
    const { grouping } = await answerOf('routes', [BRAMBLE, '--from', 'west', '--to', 'east']);
    expect([grouping.lost.counts, grouping.least]).toEqual([{ routes: 0, pairs: 0, meets: 0 }, 3]);
  });

  it('proves every leg of every point, facing and trailing', async () => {
    const { proving } = await answerOf('routes', [BRAMBLE]);
    // Three points, two legs each, both ways. Straight through and back, by the loop and back, into the siding and out: six ways, five
    // reversals between them; the loop and the siding each want their lever reverse once.
    expect(proving).toMatchObject({
      legs: { covered: 12, all: 12 },
      missed: [],
      reversals: 5,
      throws: 2,
      bound: { reversals: 5, throws: 2 },
      proved: true,
    });
    expect(proving.moves).toHaveLength(6);
    const demo = await answerOf('routes', [QUILLHAVEN]);
    expect(demo.proving.legs).toEqual({ covered: 68, all: 68 });
  });

  it('moves a train of a given length, asks for what is not given, or refuses with the figures', async () => {
    const move = async (from: string, to: string, length: string) => {
      const { moves } = await answerOf('routes', [BRAMBLE, '--from', from, '--to', to, '--length', length]);
      return moves;
    };
    expect(await move('West', 'Siding', '600')).toMatchObject({
      from: 'west',
      to: 'siding-end',
      length: 600,
      outcome: 'found',
      reversals: 0,
      legs: [{ from: 'west', to: 'siding-end', turns: false, levers: { L1: 'normal', L2: 'reverse' } }],
    });
    expect(await move('West', 'Siding', '600,5')).toMatchObject({
      outcome: 'refused',
      legs: [],
      why: ['Siding holds 600 mm, the train is 600.5 mm'],
    });
    // Out of the siding one comes to West only, which has no length.
    expect(await move('Siding', 'Loop', '500')).toMatchObject({
      outcome: 'asked',
      reversals: null,
      asks: [{ place: 'west', question: 'How long may a train be to stand at West?' }],
    });
    expect((await answerOf('routes', [BRAMBLE, '--from', 'west', '--to', 'east'])).moves).toBeUndefined();
  });

  it('tells of a move and of the proving run in words', async () => {
    const moved = await runInMemory(['routes', QUILLHAVEN, '--from', 'Yard 1', '--to', 'Yard 4', '--length', '700']);
    expect(moved.stdout).toMatch(/from Yard 1 to Yard 4: 1 reversal\n.*\n.*Yard 1 +Neck.*\n.*back +Neck +Yard 4/);
    expect(moved.stdout).not.toContain('Proving run');
    const asked = await runInMemory(['routes', QUILLHAVEN, '--from', 'Yard 1', '--to', 'Yard 2', '--length', '900']);
    expect(asked.stdout).toContain('How long may a train be to stand at Tolland?');
    const whole = await runInMemory(['routes', BRAMBLE]);
    expect(whole.stdout).toMatch(/Proving run, from every lever normal: 12 of 12 legs, 5 reversals, 2 throws/);
  });
});

describe('solve', () => {
  it('gives every lever, unnamed ones normal', async () => {
    const { levers } = await answerOf('solve', [BRAMBLE, '--set', 'L2=reverse']);
    expect(levers).toEqual({ L1: 'normal', L2: 'reverse' });
  });

  it("delivers from its supply what drives and lamps take (Kirchhoff's current law)", async () => {
    for (const set of ['L1=normal', 'L1=reverse', 'L1=reverse,L2=reverse']) {
      const { supplies, drives, lamps } = await answerOf('solve', [BRAMBLE, '--set', set]);
      const taken = [...drives, ...lamps].reduce((sum, { amps }) => sum + Math.abs(amps), 0);
      const given = supplies.reduce((sum, { amps }) => sum + amps, 0);
      // 1 uA is the bar of accuracy; a lamp that is not lit may leak that much.
      expect(given).toBeGreaterThan(0.01);
      expect(Math.abs(given - taken)).toBeLessThan(1e-6);
    }
  });

  it('asks each point for the lie of its lever', async () => {
    const { drives } = await answerOf('solve', [BRAMBLE, '--set', 'L1=reverse']);
    expect(drives.map(({ point, moves }) => [point, moves])).toEqual([
      ['P1', 'reverse'],
      ['P2', 'reverse'],
      ['P3', 'normal'],
    ]);
    for (const { volts, amps, moves } of drives) {
      expect(Math.sign(volts)).toBe(moves === 'normal' ? 1 : -1);
      expect(Math.sign(amps)).toBe(Math.sign(volts));
      // typical stall motor: 15 mA at 12 V is 800 ohm, and 9 V less the drop in some ohm of wire stands across it
      expect(Math.abs(amps)).toBeCloseTo(9 / 800, 4);
    }
  });

  it('takes the history of a point and says it back', async () => {
    const { history } = await answerOf('solve', [BRAMBLE, '--lies', 'P3=reverse']);
    expect(history).toEqual({ P3: 'reverse' });
  });
});

describe('truth', () => {
  it('covers two lies of each of two levers: four settings', async () => {
    const { settings, lamps, untruths } = await answerOf('truth', [BRAMBLE]);
    expect(settings).toBe('4');
    expect(lamps).toHaveLength(12);
    expect(untruths).toEqual([]);
  });
});

describe('spice', () => {
  it('has a source of 0 V for every lamp and drive, and ends as a batch program wants it', async () => {
    const { stdout, status, stderr } = await runInMemory(['spice', BRAMBLE]);
    expect([status, stderr]).toEqual([0, '']);
    for (const id of ['H1', 'H12', 'P1', 'P2', 'P3']) expect(stdout).toMatch(new RegExp(`^V_${id} `, 'm'));
    expect(stdout.trimEnd().split('\n').slice(-1)).toEqual(['.end']);
    expect(stdout).toMatch(/^\.op$/m);
  });

  it('keeps to one lever', async () => {
    const { stdout } = await runInMemory(['spice', BRAMBLE, '--lever', 'L2']);
    expect(stdout).toMatch(/^V_P3 /m);
    expect(stdout).not.toMatch(/^V_P[12] /m);
  });

  it('differs where a lever lies otherwise', async () => {
    const normal = await runInMemory(['spice', BRAMBLE]);
    const reverse = await runInMemory(['spice', BRAMBLE, '--set', 'L1=reverse']);
    expect(reverse.stdout).not.toBe(normal.stdout);
  });
});

describe('build', () => {
  it('writes its files, and tells of each what was written', async () => {
    const ran = await runInMemory(['build', BRAMBLE, '--out', 'out', '--json']);
    expect(ran.status).toBe(0);
    const { files } = answerSchemas.build.parse(JSON.parse(ran.stdout));
    const names = [
      'book.pdf',
      'templates.pdf',
      'face.svg',
      'back.svg',
      'face.dxf',
      'holes.csv',
      'wires.csv',
      'pins.csv',
      'frogs.csv',
      'parts.csv',
      'routes.csv',
      'conflicts.csv',
      'tests.csv',
      'panel.cir',
    ];
    expect(files.map(({ path }) => path)).toEqual(expect.arrayContaining(names));
    expect([...ran.written.keys()]).toEqual(files.map(({ path }) => `out/${path}`));
    expect([...ran.written.values()].map((bytes) => bytes.byteLength)).toEqual(files.map(({ bytes }) => bytes));
    for (const { kind, pages } of files) expect(pages !== null).toBe(kind === 'pdf');
  });

  it('writes only what is asked for, on the paper that is asked for', async () => {
    const a4 = await runInMemory(['build', BRAMBLE, '--out', 'out', '--only', 'wires.csv,templates', '--json']);
    const letter = await runInMemory([
      'build',
      BRAMBLE,
      '--out',
      'out',
      '--only',
      'templates',
      '--paper',
      'Letter',
      '--json',
    ]);
    expect([...a4.written.keys()].sort()).toEqual(['out/templates.pdf', 'out/wires.csv']);
    expect([...letter.written.keys()]).toEqual(['out/templates.pdf']);
    expect(letter.written.get('out/templates.pdf')).not.toEqual(a4.written.get('out/templates.pdf'));
  });

  it('draws the templates to suit a bar that came out short, with a comma or a point, and leaves the rest', async () => {
    const built = (...more: string[]) =>
      runInMemory(['build', BRAMBLE, '--out', 'out', '--only', 'templates,face.svg', ...more]);
    const [plain, true100, short, comma] = await Promise.all([
      built(),
      built('--bar', '100'),
      built('--bar', '98.5'),
      built('--bar', '98,5'),
    ]);
    const bytes = (ran: Awaited<ReturnType<typeof built>> | undefined, path: string) => ran?.written.get(`out/${path}`);
    expect(bytes(true100, 'templates.pdf')).toEqual(bytes(plain, 'templates.pdf'));
    expect(bytes(short, 'templates.pdf')).not.toEqual(bytes(plain, 'templates.pdf'));
    expect(bytes(comma, 'templates.pdf')).toEqual(bytes(short, 'templates.pdf'));
    expect(bytes(short, 'face.svg')).toEqual(bytes(plain, 'face.svg'));
  });

  it('refuses a part that is not in the book, and writes nothing', async () => {
    const ran = await runInMemory(['build', BRAMBLE, '--out', 'out', '--only', 'cover']);
    expect([ran.status, ran.stdout, ran.written.size]).toEqual([2, '', 0]);
    expect(ran.stderr).toContain('cover');
  });
});

describe('new', () => {
  it('starts a panel that opens with nothing danger or wrong', async () => {
    const ran = await runInMemory(['new', 'far-yard']);
    expect(ran.stdout).toBe('far-yard/far-yard.mimic.json\n');
    const text = new TextDecoder().decode(ran.written.get('far-yard/far-yard.mimic.json'));
    expect(JSON.parse(text)).toMatchObject({
      format: 'mimic-panel',
      version: 1,
      name: 'Far yard',
      strips: [{ id: 'main' }],
    });
    expect((await runInMemory(['check', 'far.mimic.json'], { 'far.mimic.json': text })).status).toBe(0);
  });

  it('copies an example byte for byte', async () => {
    const ran = await runInMemory(['new', 'mine.mimic.json', '--example', 'bramble-siding']);
    const there = await runInMemory([]);
    expect(there.status).toBe(0);
    const { readFile } = await import('node:fs/promises');
    expect(new TextDecoder().decode(ran.written.get('mine.mimic.json'))).toBe(await readFile(BRAMBLE, 'utf8'));
  });

  it('names the examples where it knows none of that name', async () => {
    const ran = await runInMemory(['new', 'x', '--example', 'toString']);
    expect([ran.status, ran.written.size]).toEqual([2, 0]);
    expect(ran.stderr).toContain('bramble-siding, quillhaven-harbour');
  });
});
