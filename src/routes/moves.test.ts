import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { printTracks, tracks } from '../../tests/generate/tracks.ts';
import { type PanelFile, readPanel } from '../panel/index.ts';
import { type Plan, readPlan } from '../plan/index.ts';
import { findMoves } from './moves.ts';
import type { Moves } from './types.ts';

/** A kickback: from the platform to the kick one must go to the neck and turn back there. */
const KICK = `main 0,60 300,60
  kick 120,60 60,25
  @west West 0,60 length=900
  @neck Neck 300,60 length=800
  @kick Kick 60,25 length=500`;

function moves(text: string, from: string, to: string, length: number | null, more: Partial<PanelFile> = {}): Moves {
  return findMoves(readPlan(tracks(text, more)), { from, to, length });
}

/** `west>neck P1n, turns, neck>kick P1r` */
function line({ legs }: Moves): string {
  return legs
    .map((leg) => {
      const lies = Object.entries(leg.points).map(([id, lie]) => `${id}${lie[0]}`);
      return `${leg.turns ? 'turns ' : ''}${[`${leg.from}>${leg.to}`, ...lies].join(' ')}`;
    })
    .join(', ');
}

function example(name: string): Plan {
  const read = readPanel(readFileSync(`examples/${name}.mimic.json`, 'utf8'));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return readPlan(read.panel);
}

describe('a move', () => {
  it('[MV1] turns back where it must, each leg with its lies and levers', () => {
    const found = moves(KICK, 'west', 'kick', 400);
    expect(line(found)).toBe('west>neck P1n, turns neck>kick P1r');
    expect(found).toMatchObject({ outcome: 'found', reversals: 1, complete: true, asks: [], why: [] });
    expect(found.legs.map((leg) => leg.levers)).toEqual([{ L1: 'normal' }, { L1: 'reverse' }]);
  });

  it('[MV2] is refused where the train is too long to turn back, or to stand where it ends', () => {
    expect(moves(KICK, 'west', 'kick', 500).outcome).toBe('found');
    expect(moves(KICK, 'west', 'kick', 501)).toMatchObject({
      outcome: 'refused',
      reversals: null,
      legs: [],
      why: ['Kick holds 500 mm, the train is 501 mm'],
    });
    expect(moves(KICK, 'west', 'kick', 850).why).toEqual([
      'Neck holds 800 mm, the train is 850 mm',
      'Kick holds 500 mm, the train is 850 mm',
    ]);
    expect(moves(KICK, 'west', 'kick', null).outcome).toBe('found');
  });

  it('[MV3] asks for a length that it hangs on', () => {
    const unknown = KICK.replace(' length=800', '');
    expect(moves(unknown, 'west', 'kick', 400)).toMatchObject({
      outcome: 'asked',
      legs: [],
      asks: [{ place: 'neck', question: 'How long may a train be to stand at Neck?' }],
    });
    // Where it sets out it stands already.
    expect(moves(KICK.replace(' length=900', ''), 'west', 'kick', 400).outcome).toBe('found');
    // Too long for the end: no length of the neck would help.
    expect(moves(unknown, 'west', 'kick', 501).why).toEqual(['Kick holds 500 mm, the train is 501 mm']);
  });

  it('[MV3] asks beside a move that a length could better', () => {
    // The kick can be reached by turning in the near road, or further on at the neck.
    const near = KICK.replace('@kick', '@near Near 180,60\n  @kick');
    expect(line(moves(near, 'west', 'kick', null))).toBe('west>near P1n, turns near>kick P1r');
    const found = moves(near, 'west', 'kick', 400);
    expect(line(found)).toBe('west>neck P1n, turns neck>kick P1r');
    expect(found.asks.map(({ place }) => place)).toEqual(['near']);
    expect(moves(near.replace('180,60', '180,60 length=300'), 'west', 'kick', 400).asks).toEqual([]);
  });

  it('[MV4] goes on without turning back where one way would need a point both ways', () => {
    // A balloon: round the loop and out again over the same point, thrown while the train stands in the loop.
    const balloon = 'loop 0,60 100,60 200,60 260,100 200,140 140,100 80,60\n@in In 0,60\n@back Back 200,140';
    const round = moves(balloon.replace('@back', '@far Far 40,60\n@back'), 'in', 'back', null);
    expect(line(round)).toBe('in>back P1r');
    const kick = `${balloon}\nspur 40,60 80,25\n@spur Spur 80,25\nother 60,60 20,25\n@other Other 20,25`;
    const out = moves(kick, 'in', 'other', null);
    expect(out.reversals).toBe(0);
    expect(out.legs.map(({ from, to, turns }) => [from, to, turns])).toEqual([
      ['in', 'back', false],
      ['back', 'other', false],
    ]);
  });

  it('[MV5] takes what the levers can set before what is shorter; where nothing can be set, says why', () => {
    const levers = [{ id: 'L1', works: [{ point: 'P1' }] }];
    const idle = moves('main 0,60 300,60\nb 100,60 180,110\nc 200,60 240,25\n@e E 300,60', 'E1', 'e', null, { levers });
    expect(idle.legs.map((leg) => [leg.levers, leg.why])).toEqual([[null, 'no lever works P2']]);
    const loop = 'main 0,60 300,60\nloop 60,60 100,85 200,85 240,60\n@west West 0,60\n@east East 300,60';
    const crossed = [{ id: 'L1', works: [{ point: 'P1' }, { point: 'P2', opposite: true }] }];
    expect(moves(loop, 'west', 'east', null, { levers: crossed }).legs.map((leg) => leg.why)).toEqual([
      'L1 works P1 and P2 together: P1 normal and P2 normal cannot both be had',
    ]);
  });

  it('[MV6] refuses what is no move', () => {
    expect(moves(KICK, 'west', 'west', null).why).toEqual(['the train stands at West already']);
    expect(moves(KICK, 'west', 'nowhere', null).why).toEqual(['there is no place nowhere']);
    const apart = 'a 0,0 100,0\nb 0,90 100,90\n@here Here 0,0\n@there There 0,90';
    expect(moves(apart, 'here', 'there', null).why).toEqual(['no way leads from Here to There, turning back or not']);
  });

  it('[MV2] in the demo trains are drawn back into the neck, as far as it holds them', () => {
    const plan = example('quillhaven-harbour');
    const shunt = (to: string, length: number) => findMoves(plan, { from: 'yard-road-1', to, length });
    expect(line(shunt('yard-road-4', 700))).toMatch(/^yard-road-1>neck .*, turns neck>yard-road-4 /);
    expect(shunt('yard-road-4', 780).why).toEqual(['Yard 4 holds 750 mm, the train is 780 mm']);
    // The neck holds 800: a train of 900 would have to go out on the line, and how far is not said.
    expect(shunt('yard-road-2', 900)).toMatchObject({ outcome: 'asked', asks: [{ place: 'tolland' }] });
  });
});

/** A leg as brute force finds it: stands are `place heading`. */
interface SlowLeg {
  readonly from: string;
  readonly to: string;
  readonly length: number;
}

/** Every leg from every stand, walked out one passage at a time; shares no code with the search. */
function everyLeg(plan: Plan): readonly SlowLeg[] {
  const legs: SlowLeg[] = [];
  const lengthOf = (id: string) => plan.spans.find((span) => span.id === id)?.length ?? Number.NaN;
  const workers = new Map<string, string>();
  const turned = new Map<string, boolean>();
  for (const lever of plan.levers) {
    for (const { point, whenNormal } of lever.works) {
      if (workers.has(point)) continue;
      workers.set(point, lever.id);
      turned.set(point, whenNormal === 'reverse');
    }
  }
  const go = (
    from: string,
    span: string,
    toward: 0 | 1,
    at: number,
    passed: readonly string[],
    set: ReadonlyMap<string, boolean>,
    length: number,
    entered: boolean,
  ): void => {
    const far = toward === 1 ? lengthOf(span) : 0;
    for (const place of plan.places) {
      const beyond = toward === 1 ? place.along - at : at - place.along;
      if (place.span !== span || beyond < 0 || (beyond === 0 && !entered)) continue;
      if (place.kind === 'end' && place.along !== far) continue;
      legs.push({ from, to: `${place.id} ${toward}`, length: length + beyond });
    }
    for (const { between, asks } of plan.passages) {
      for (const [a, b] of [between, [between[1], between[0]] as const]) {
        if (a.span !== span || a.end !== toward || passed.includes(b.span)) continue;
        const next = new Map(set);
        const clash = Object.entries(asks).some(([point, lie]) => {
          const key = workers.get(point) ?? point;
          const value = (lie === 'reverse') !== (turned.get(point) ?? false);
          if ((next.get(key) ?? value) !== value) return true;
          next.set(key, value);
          return false;
        });
        if (clash) continue;
        const [heading, start] = b.end === 0 ? ([1, 0] as const) : ([0, lengthOf(b.span)] as const);
        go(from, b.span, heading, start, [...passed, b.span], next, length + Math.abs(far - at), true);
      }
    }
  };
  for (const place of plan.places) {
    for (const toward of [0, 1] as const)
      go(`${place.id} ${toward}`, place.span, toward, place.along, [place.span], new Map(), 0, false);
  }
  return legs;
}

/** Fewest reversals, then length, by relaxing every leg until nothing changes; null where there is no move. */
function slowMove(
  plan: Plan,
  legs: readonly SlowLeg[],
  from: string,
  to: string,
  train: number,
): readonly [number, number] | null {
  const fits = (id: string) => (plan.places.find((place) => place.id === id)?.length ?? 0) >= train;
  const placeOf = (stand: string) => stand.split(' ')[0] ?? '';
  const best = new Map<string, readonly [number, number]>([
    [`${from} 0`, [0, 0]],
    [`${from} 1`, [0, 0]],
  ]);
  const better = (a: readonly [number, number], b: readonly [number, number] | undefined) =>
    b === undefined || a[0] < b[0] || (a[0] === b[0] && a[1] < b[1] - 1e-6);
  for (let changed = true; changed; ) {
    changed = false;
    const offer = (stand: string, cost: readonly [number, number]) => {
      if (!better(cost, best.get(stand))) return;
      best.set(stand, cost);
      changed = true;
    };
    for (const [stand, [turns, length]] of [...best])
      offer(`${placeOf(stand)} ${stand.endsWith('1') ? 0 : 1}`, [turns + 1, length]);
    for (const leg of legs) {
      const cost = best.get(leg.from);
      if (cost !== undefined && fits(placeOf(leg.to))) offer(leg.to, [cost[0], cost[1] + leg.length]);
    }
  }
  const ends = [best.get(`${to} 0`), best.get(`${to} 1`)].filter((cost) => cost !== undefined);
  // A reversal at the very end only turns the heading round.
  return ends.reduce<readonly [number, number] | null>(
    (least, cost) => (better(cost, least ?? undefined) ? cost : least),
    null,
  );
}

describe('the best move', () => {
  const LENGTHS = [300, 600, 900];
  /** Every place with a length from a short list, so that some hold the train and some do not. */
  const withLengths = (panel: PanelFile, pick: readonly number[]): PanelFile => ({
    ...panel,
    places: (panel.places ?? []).map((place, i) => ({ ...place, length: LENGTHS[pick[i % pick.length] ?? 0] ?? 300 })),
  });
  const picks = fc.array(fc.integer({ min: 0, max: 2 }), { minLength: 5, maxLength: 5 });

  function agree(panel: PanelFile, train: number): void {
    const plan = readPlan(panel);
    const legs = everyLeg(plan);
    for (const a of plan.places) {
      for (const b of plan.places) {
        if (a.id === b.id) continue;
        const found = findMoves(plan, { from: a.id, to: b.id, length: train });
        const slow = slowMove(plan, legs, a.id, b.id, train);
        if (found.outcome === 'found' && found.legs.every((leg) => leg.levers !== null)) {
          const length = found.legs.reduce((sum, leg) => sum + leg.faceLength, 0);
          expect([found.reversals, length.toFixed(2)], `${a.id} ${b.id}\n${printTracks(panel)}`).toEqual([
            slow?.[0],
            slow?.[1].toFixed(2),
          ]);
        } else {
          expect(slow, `${a.id} ${b.id}\n${printTracks(panel)}`).toBeNull();
        }
      }
    }
  }

  it('[MV7] is what brute force finds, on generated panels (seed 20260301)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 1, max: 6 }), picks, (seed, size, pick) =>
        agree(withLengths(generatePanel(seed, size), pick), 500),
      ),
      { seed: 20_260_301, numRuns: 60 },
    );
  });

  it('[MV7] on tangles (seed 20260301)', () => {
    const corner = fc.tuple(fc.integer({ min: 0, max: 12 }), fc.integer({ min: 0, max: 8 }));
    fc.assert(
      fc.property(
        fc.array(fc.array(corner, { minLength: 2, maxLength: 4 }), { minLength: 2, maxLength: 6 }),
        picks,
        (paths, pick) => {
          const strips = paths.map((path, i) => ({
            id: `s${i}`,
            path: path.map(([x, y]): [number, number] => [x * 40, y * 25]),
          }));
          const spots = strips.flatMap(({ path }) => {
            const [a, b] = path;
            return a === undefined || b === undefined
              ? []
              : [a, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] as [number, number]];
          });
          const places = spots.map((at, i) => ({ id: `place${i}`, at }));
          agree(withLengths({ format: 'mimic-panel', version: 1, strips, places }, pick), 500);
        },
      ),
      { seed: 20_260_301, numRuns: 150 },
    );
  });

  it('[MV8] there is back again, with as many reversals and as long (seed 20260301)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 1, max: 30 }), (seed, size) => {
        const plan = readPlan(generatePanel(seed, size));
        const [a, b] = [plan.places[seed % plan.places.length], plan.places[(7 * seed + 3) % plan.places.length]];
        fc.pre(a !== undefined && b !== undefined && a.id !== b.id);
        const length = (found: Moves) => found.legs.reduce((sum, leg) => sum + leg.faceLength, 0);
        const there = findMoves(plan, { from: a.id, to: b.id, length: null });
        const back = findMoves(plan, { from: b.id, to: a.id, length: null });
        expect([back.outcome, back.reversals]).toEqual([there.outcome, there.reversals]);
        expect(length(back)).toBeCloseTo(length(there), 4);
      }),
      { seed: 20_260_301, numRuns: 60 },
    );
  });

  it('[MV9] has never more reversals than one that goes by another place (seed 20260301)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 1, max: 20 }), (seed, size) => {
        const plan = readPlan(generatePanel(seed, size));
        const pick = (k: number) => plan.places[k % plan.places.length]?.id ?? '';
        const [a, via, b] = [pick(seed), pick(5 * seed + 1), pick(7 * seed + 3)];
        fc.pre(new Set([a, via, b]).size === 3);
        const turns = (from: string, to: string) => findMoves(plan, { from, to, length: null }).reversals;
        const [direct, one, two] = [turns(a, b), turns(a, via), turns(via, b)];
        fc.pre(one !== null && two !== null);
        // One who comes to stand at `via` may have to turn back there.
        expect(direct ?? Number.POSITIVE_INFINITY).toBeLessThanOrEqual((one ?? 0) + (two ?? 0) + 1);
      }),
      { seed: 20_260_301, numRuns: 60 },
    );
  });
});
