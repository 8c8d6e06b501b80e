/** What lamps claim, when they lie, and in how many settings, on panels written by hand. */
import { describe, expect, it } from 'vitest';
import { answerOn, BRANCH, findingsOn, LOOP, runOn } from './by-hand.ts';

const one = (keys: object, lamp: object) => ({ ...keys, lamps: [{ id: 'H1', at: [140, 60], ...lamp }] });
const bothWays = [
  { id: 'H1', at: [140, 60], shows: { P1: 'normal' } },
  { id: 'H2', at: [200, 100], shows: { P1: 'reverse' } },
];

describe('settings', () => {
  /** The loop, a branch off it, and a line with two points that belongs to nothing: five points. */
  const FIVE = {
    strips: [
      ...LOOP.strips,
      {
        id: 'x',
        path: [
          [100, 60],
          [140, 20],
          [300, 20],
        ],
      },
      {
        id: 'y',
        path: [
          [300, 130],
          [0, 130],
        ],
      },
      {
        id: 'z',
        path: [
          [100, 130],
          [150, 160],
          [300, 160],
        ],
      },
      {
        id: 'zz',
        path: [
          [200, 160],
          [250, 190],
          [300, 190],
        ],
      },
    ],
  };
  // By x: P1 (60, 60), P2 (100, 60), P3 (100, 130), P4 (200, 160), P5 (240, 60).
  const works = (...points: readonly string[]) => points.map((point) => ({ point }));

  it.each([
    ['a lever a point: 2 x 2 x 2 x 2 x 2', {}, '32'],
    ['a point worked by hand counts by itself', { points: [{ id: 'P4', at: [200, 160], drive: 'hand' }] }, '32'],
    ['nothing works anything', { levers: [] }, '32'],
    ['one lever for two: 2, and three by none', { levers: [{ id: 'L1', works: works('P1', 'P5') }] }, '16'],
    [
      'centre off with two points 2 + 4, sprung with two 4, one by none 2',
      {
        levers: [
          { id: 'L1', switch: 'toggle-2p-centre-off', works: works('P1', 'P2') },
          { id: 'L2', switch: 'toggle-2p-sprung', works: works('P3', 'P4') },
        ],
      },
      '48',
    ],
    [
      'a point counts once, though two levers work it',
      {
        levers: [
          { id: 'L1', works: works('P1', 'P2') },
          { id: 'L2', works: works('P2') },
        ],
      },
      '32',
    ],
  ])('%s', async (_, keys, settings) => {
    expect((await answerOn({ ...FIVE, ...keys }, 'truth')).settings).toBe(settings);
  });

  it('of a hundred points are counted to the last digit', async () => {
    const strips = [
      {
        id: 'm',
        path: [
          [0, 60],
          [6000, 60],
        ],
      },
      ...Array.from({ length: 100 }, (_, i) => ({
        id: `b${i}`,
        path: [
          [50 + 55 * i, 60],
          [80 + 55 * i, 80],
        ],
      })),
    ];
    const truth = await answerOn({ strips, levers: [] }, 'truth');
    expect(truth.settings).toBe('1267650600228229401496703205376');
  });
});

describe('a claim', () => {
  it('is the leg that a lamp lies on, and on a span between two points both', async () => {
    const lamps = [
      { id: 'H1', at: [78, 60] },
      { id: 'H2', at: [90, 85], claims: 'leg' },
    ];
    const levers = [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2' }] }];
    const truth = await answerOn({ ...LOOP, levers, lamps }, 'truth');
    expect(truth.untruths).toEqual([]);
    expect(truth.lamps.map(({ kind }) => kind)).toEqual(['span', 'leg']);
    // With a lever each, no lamp across one feed knows both.
    expect(await findingsOn({ ...LOOP, lamps })).toContain('lamp-needs-two-levers H1');
  });

  it('is an untruth in each setting in which the lamp should be lit and cannot be wired', async () => {
    const truth = await answerOn({ ...LOOP, lamps: [{ id: 'H1', at: [78, 60] }] }, 'truth');
    expect(truth.untruths).toEqual([
      { levers: { L1: 'normal', L2: 'normal' }, history: {}, lamp: 'H1', shown: 'unlit', should: 'lit' },
    ]);
  });

  it.each([
    ['away from any leg', { at: [50, 60] }, 'lamp-claims-nothing H1'],
    ['off every strip', { at: [20, 20] }, 'lamp-claims-nothing H1'],
    ['of a point that is not there', { shows: { P77: 'normal' } }, 'lamp-point-unknown H1'],
    ['that its nearest leg denies', { shows: { P1: 'reverse' } }, 'lamp-denies-its-leg H1'],
    ['that always holds', { shows: [{ P1: 'normal' }, { P1: 'reverse' }] }, 'lamp-never-or-always H1'],
    ['of nothing at all', { shows: {} }, 'lamp-never-or-always H1'],
    ['of none of nothing', { shows: [] }, 'lamp-never-or-always H1'],
    ['of what no circuit is made of', { claims: 'occupancy' }, 'not-built-yet H1'],
  ])('%s is found', async (_, lamp, finding) => {
    expect(await findingsOn(one(BRANCH, lamp))).toContain(finding);
    const { lamps } = await answerOn(one(BRANCH, lamp), 'solve');
    expect(lamps.map(({ id }) => id)).toEqual(['H1']);
  });

  it('may deny a leg that is more than 10 mm away', async () => {
    // 15 mm below the main line and 25 mm above the branch.
    const found = await findingsOn(one(BRANCH, { at: [220, 75], shows: { P1: 'reverse' } }));
    expect(found.filter((each) => each.startsWith('lamp-'))).toEqual([]);
  });

  it('is the same as an object and as a list of one', async () => {
    const as = async (shows: unknown) => (await answerOn(one(BRANCH, { shows }), 'solve')).lamps[0]?.amps;
    expect(await as([{ P1: 'normal' }])).toBe(await as({ P1: 'normal' }));
    expect(await as([{ P1: 'normal' }])).toBeGreaterThan(0.001);
  });
});

describe('truth', () => {
  it('leads the blades by the time that its drive takes', async () => {
    const truth = await answerOn({ ...BRANCH, lamps: bothWays }, 'truth');
    expect(truth.leads).toEqual([
      { lamp: 'H1', seconds: 2.5 },
      { lamp: 'H2', seconds: 2.5 },
    ]);
    expect(truth.lamps.map(({ id, basis }) => [id, basis])).toEqual([
      ['H1', 'asked'],
      ['H2', 'asked'],
    ]);
    const quick = { ...BRANCH, lamps: bothWays, points: [{ id: 'P1', at: [100, 60], drive: 'limit-2-wire' }] };
    expect((await answerOn(quick, 'truth')).leads.map(({ seconds }) => seconds)).toEqual([1.5, 1.5]);
  });

  it('doubts a lamp whose band spans what is seen, on the right side of it or as an untruth', async () => {
    // 9 V, amber: 0.21 mA nominal and 0.18 mA at worst behind 35k; 0.19 mA nominal and 0.22 mA at best behind 38k.
    const keys = (ohms: number) => ({
      ...BRANCH,
      lamps: bothWays,
      lampGroups: [{ id: 'G1', lamps: ['H1', 'H2'], ohms }],
    });
    const right = await answerOn(keys(35000), 'truth');
    expect(right.untruths).toEqual([]);
    expect(right.doubtful.map(({ lamp }) => lamp)).toEqual(['H1', 'H2']);
    expect(await findingsOn(keys(35000))).toContain('lamp-doubtful H1');
    const wrong = await answerOn(keys(38000), 'truth');
    expect(wrong.untruths.map(({ lamp, levers, shown, should }) => [lamp, levers.L1, shown, should])).toEqual([
      ['H1', 'normal', 'unlit', 'lit'],
      ['H2', 'reverse', 'unlit', 'lit'],
    ]);
    expect(await findingsOn(keys(38000))).toContain('lamp-lies H1');
  });

  it('hears a lamp that is destroyed as dark', async () => {
    const keys = { ...BRANCH, lamps: bothWays, lampGroups: [{ id: 'G1', lamps: ['H1', 'H2'], ohms: 100 }] };
    expect((await answerOn(keys, 'truth')).untruths.map(({ lamp }) => lamp)).toEqual(['H1', 'H2']);
    expect((await answerOn(keys, 'check')).findings[0]?.severity).toBe('danger');
  });

  it('lets no lamp fall silent that speaks when dark', async () => {
    const levers = [{ id: 'L1', switch: 'toggle-2p-centre-off', works: [{ point: 'P1' }] }];
    const alone = await answerOn({ ...BRANCH, levers, lamps: bothWays.slice(0, 1) }, 'truth');
    expect(alone.untruths).toEqual([
      { levers: { L1: 'centre' }, history: { P1: 'normal' }, lamp: 'H1', shown: 'unlit', should: 'lit' },
    ]);
    const said = { ...BRANCH, levers, lamps: bothWays.slice(0, 1).map((lamp) => ({ ...lamp, dark: 'nothing' })) };
    expect((await answerOn(said, 'truth')).untruths).toEqual([]);
  });
});

describe('exit status', () => {
  const status = async (keys: object, ...args: readonly string[]) =>
    (await runOn({ ...keys }, 'check', ...args)).status;

  it('of check is 0 where nothing is danger or wrong, and 1 where something is', async () => {
    expect(await status(BRANCH)).toBe(0);
    expect(await status({ strips: [] })).toBe(0);
    expect(await status({ strips: [{ id: 'm', path: [] }] })).toBe(1);
    expect(await status({ ...BRANCH, feed: { kind: 'split', supplies: ['S1'] } })).toBe(1);
  });

  it.each([
    ['an id twice', { points: [{ id: 'm', at: [100, 60] }] }, /points\[0\]\.id/],
    ['differing by case alone', { points: [{ id: 'M', at: [100, 60] }] }, /points\[0\]\.id/],
    ['against the pattern', { trains: [{ id: '1st' }] }, /trains\[0\]\.id/],
    ['a connector with a digit', { connectors: [{ id: 'A1', part: 'dsub-9' }] }, /connectors\[0\]\.id/],
    ['wrong types', { lamps: [{ id: 'H1', at: '140, 60' }] }, /lamps\[0\]\.at/],
    ['a newer version', { version: 2 }, /version/],
    ['another format', { format: 'other' }, /format/],
    ['no strips', { strips: undefined }, /strips/],
    ['how many more', { lamps: [{ id: 'H1' }, { id: 'H2' }] }, /lamps\[0\]\.at.*1 more/],
  ])('is 2 and one line for %s', async (_, keys, line) => {
    const ran = await runOn({ ...BRANCH, ...keys }, 'solve', '--json');
    expect([ran.status, ran.stdout]).toEqual([2, '']);
    expect(ran.stderr).toMatch(line);
    expect(ran.stderr.trimEnd().split('\n')).toHaveLength(1);
    const built = await runOn({ ...BRANCH, ...keys }, 'build', '--out', 'book');
    expect([built.status, built.written.size]).toEqual([2, 0]);
  });

  it.each([
    ['a lever', { levers: [{ id: 'L1', works: [{ point: 'P77' }] }] }, 'L1'],
    ['a supply', { feed: { kind: 'reversing', supplies: ['S9'] } }, 'S9'],
    ['a drive', { points: [{ id: 'P1', at: [100, 60], drive: 'D9' }] }, 'P1'],
    ['a group', { lampGroups: [{ id: 'G1', lamps: ['H9'] }] }, 'G1'],
    ['a return', { returns: [{ id: 'R0', supply: 'S9', levers: ['L9'], pins: 1 }] }, 'R0'],
    ['a train', { trains: [{ id: 'T1', stands: 'nowhere' }] }, 'T1'],
    ['a frog', { frogs: [{ id: 'F1', of: 'P9', kind: 'live', from: 'D9.c1' }] }, 'F1'],
    ['a part', { parts: [{ id: 'mine', like: 'nothing' }] }, 'mine'],
  ])('is no concern of %s that names what is not there: a finding', async (_, keys, id) => {
    const { findings } = await answerOn({ ...BRANCH, ...keys }, 'check');
    expect(findings.some(({ where, severity }) => where.ids.includes(id) && severity === 'wrong')).toBe(true);
  });
});
