import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { answerSchemas, type RoutesAnswer } from '../../src/cli/answer-schemas.ts';
import { BRAMBLE, runInMemory } from './memory.ts';

const NAME = 'trains.mimic.json';

/** Bramble Siding with trains, and lengths for the two ends of its line. */
function panel(trains: readonly object[]): Record<string, string> {
  const file = JSON.parse(readFileSync(BRAMBLE, 'utf8')) as { places: { id: string; length?: number }[] };
  const places = file.places.map((place) =>
    place.id === 'west' || place.id === 'east' ? { ...place, length: 2000 } : place,
  );
  return { [NAME]: JSON.stringify({ ...file, places, trains }) };
}

const TWO = [
  { id: 'T1', name: 'Goods', length: 900, stands: 'loop-road', heads: 'west' },
  { id: 'T2', name: 'Railcar', length: 400, stands: 'west', heads: 'east' },
];

async function answer(args: readonly string[], trains: readonly object[] = TWO): Promise<RoutesAnswer> {
  const ran = await runInMemory(['routes', NAME, '--json', ...args], panel(trains));
  expect([ran.status, ran.stderr]).toEqual([0, '']);
  return answerSchemas.routes.parse(JSON.parse(ran.stdout));
}

describe('routes --stand', () => {
  it('[TS3] answers the fewest moves, each with what is thrown before it', async () => {
    const { standings } = await answer(['--stand', 'T1=West,Railcar=east']);
    // The railcar has to leave West first, and can run through by the platform: two moves, and each train needs one.
    expect(standings).toMatchObject({
      outcome: 'found',
      throws: 1,
      bound: { moves: 2, throws: 1 },
      proved: true,
      asks: [],
      why: [],
    });
    expect(standings?.moves).toMatchObject([
      { train: 'T2', from: 'west', to: 'east', through: ['platform-road'], throws: {}, head: 'first' },
      { train: 'T1', from: 'loop-road', to: 'west', through: [], throws: { L1: 'reverse' }, head: 'first' },
    ]);
    expect(standings?.ends.map(({ id, stands, heads }) => [id, stands, heads])).toEqual([
      ['T1', 'west', 'west'],
      ['T2', 'east', 'east'],
    ]);
  });

  it('[TS9] takes levers as --set says that they lie', async () => {
    const { standings } = await answer(['--stand', 'T1=West,T2=East', '--set', 'L1=reverse']);
    expect(standings).toMatchObject({ outcome: 'found', throws: 2 });
  });

  it('[TS5] takes a place for its head to point to', async () => {
    expect((await answer(['--stand', 'T1=east/west'])).standings).toMatchObject({ outcome: 'found', throws: 1 });
    // Nothing turns a train here: proved over every standing.
    expect((await answer(['--stand', 'T1=east/east'])).standings).toMatchObject({ outcome: 'refused', proved: true });
  });

  it('[TS7] lets others end anywhere, or leaves them, and keeps an order', async () => {
    // West holds both, one behind the other: the railcar need not go.
    const free = await answer(['--stand', 'T1=west,T2=west']);
    expect(free.standings?.moves).toHaveLength(1);
    expect(free.standings?.ends.map(({ id }) => id)).toEqual(['T2', 'T1']);
    // The goods nearer to the buffers: the railcar out of the way, the goods in, the railcar back.
    const order = await answer(['--stand', 'T1=west,T2=west', '--in-order']);
    expect(order.standings?.moves.map(({ train }) => train)).toEqual(['T2', 'T1', 'T2']);
    // East does not hold both: the railcar, which nobody names, has to go.
    const away = await answer(['--stand', 'T1=east'], [TWO[0] ?? {}, { ...TWO[1], stands: 'east', length: 1500 }]);
    expect(away.standings?.moves).toHaveLength(2);
    expect(away.standings?.ends.find(({ id }) => id === 'T2')?.stands).not.toBe('east');
    const stays = [TWO[0] ?? {}, { ...TWO[1], stands: 'east', length: 1500 }];
    expect((await answer(['--stand', 'T1=east', '--others-stay'], stays)).standings?.why).toEqual([
      'East holds 2000 mm, Railcar and Goods together are 2400 mm',
    ]);
  });

  it('[TS4] tells what trains can do now, and who is fouled by whom', async () => {
    const { trains, standings } = await answer([]);
    expect(standings).toBeUndefined();
    expect(trains?.standing.map(({ id, stands }) => [id, stands])).toEqual([
      ['T1', 'loop-road'],
      ['T2', 'west'],
    ]);
    const now = (answered: RoutesAnswer) =>
      answered.trains?.moves.filter((move) => move.now).map(({ train, to }) => [train, to]);
    expect(now(await answer([]))).toEqual([
      ['T2', 'east'],
      ['T2', 'platform-road'],
    ]);
    expect(now(await answer(['--set', 'L1=reverse']))).toContainEqual(['T1', 'east']);
    expect(trains?.fouled).toEqual([{ train: 'T2', by: 'T1', place: 'loop-road', moves: 1 }]);
    expect(trains?.cut).toBe(false);
    for (const [i, j] of trains?.conflicts ?? []) expect(trains?.moves[i]?.train).not.toBe(trains?.moves[j]?.train);
    expect((await answer([], [])).trains).toBeUndefined();
  });

  it('is a table that one can work from', async () => {
    const ran = await runInMemory(['routes', NAME, '--stand', 'Goods=West,Railcar=East'], panel(TWO));
    expect(ran.stdout).toContain(`Trains to where they are wanted: 2 moves, 1 throw; no plan has fewer
     train    from  to    throw first
  1  Railcar  West  East  nothing      pulled, by Platform
  2  Goods    Loop  West  L1 reverse   pulled
  At the end: Goods in West, Railcar in East.`);
    const asked = await runInMemory(['routes', NAME, '--stand', 'T1=west'], panel([{ id: 'T1', stands: 'loop-road' }]));
    expect(asked.stdout).toContain('  How long is T1?');
    const long = await runInMemory(['routes', NAME, '--stand', 'T1=siding-end'], panel(TWO));
    expect(long.stdout).toContain('  Siding holds 600 mm, the train Goods is 900 mm.');
  });

  it('refuses what it cannot read, saying how to mend it', async () => {
    const says = async (...args: readonly string[]) => {
      const ran = await runInMemory(['routes', NAME, ...args], panel(TWO));
      expect([ran.status, ran.stdout]).toEqual([2, '']);
      return ran.stderr;
    };
    expect(await says('--stand', 'T9=west')).toContain(
      '--stand: no train T9 stands on the plan; the trains are T1, T2.',
    );
    expect(await says('--stand', 'T1=nowhere')).toContain('--stand: there is no place nowhere');
    expect(await says('--stand', 'T1')).toContain('--stand: "T1" is not of the form TRAIN=PLACE.');
    expect(await says('--stand', '')).toContain('--stand: name a train and a place, as T1=Loop.');
    expect(await says('--stand', 'T1=west,Goods=east')).toContain('--stand: T1 is named twice.');
    expect(await says('--in-order')).toContain('--in-order: say where trains are wanted, with --stand.');
  });
});
