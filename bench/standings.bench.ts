/**
 * Trains on the demo from standing to standing: the fewest moves, then the fewest throws, proved. Seeded standings of four trains, each
 * wanted somewhere else; and shuffles of trains within the yard and the storage, where there is least room. Tolland has a length here, so
 * that nothing hangs on what is not given. Median and worst of the searches, each timed once after a warm-up; a checksum shows the work.
 */
import { readFileSync } from 'node:fs';
import { readPanel } from '../src/panel/index.ts';
import { readPlan } from '../src/plan/index.ts';
import { findStandings } from '../src/routes/index.ts';
import { type Random, randomOf } from '../tests/generate/random.ts';

const read = readPanel(readFileSync('examples/quillhaven-harbour.mimic.json', 'utf8'));
if (!read.ok) throw new Error('the demo cannot be read');
const plan = readPlan({
  ...read.panel,
  places: (read.panel.places ?? []).map((place) => (place.id === 'tolland' ? { ...place, length: 1500 } : place)),
});
const YARD = ['yard-road-1', 'yard-road-2', 'yard-road-3', 'yard-road-4', 'quay-end'];
const STORAGE = ['storage-1', 'storage-2', 'storage-3', 'storage-4', 'storage-5'];
const PLACES = plan.places.map(({ id }) => id);

function shuffled(random: Random, list: readonly string[]): string[] {
  const left = [...list];
  return list.map(() => left.splice(random.whole(0, left.length - 1), 1)[0] ?? '');
}

const KINDS: readonly {
  readonly name: string;
  readonly trains: number;
  readonly runs: number;
  readonly from: (random: Random) => string[];
}[] = [
  { name: 'anywhere to anywhere', trains: 4, runs: 60, from: (random) => shuffled(random, PLACES) },
  { name: 'within the yard', trains: 4, runs: 40, from: (random) => shuffled(random, YARD) },
  { name: 'within the storage', trains: 4, runs: 40, from: (random) => shuffled(random, STORAGE) },
  {
    name: 'yard and storage change over',
    trains: 4,
    runs: 40,
    from: (random) => [...shuffled(random, YARD).slice(0, 2), ...shuffled(random, STORAGE).slice(0, 2)],
  },
  { name: 'six, anywhere to anywhere', trains: 6, runs: 15, from: (random) => shuffled(random, PLACES) },
];

for (const { name, trains, runs, from } of KINDS) {
  const random = randomOf(20_260_301);
  const times: number[] = [];
  let worst = { seconds: 0, says: '' };
  const counts = { found: 0, asked: 0, refused: 0, stopped: 0, proved: 0 };
  let sum = 0;
  for (let i = 0; i <= runs; i++) {
    const lengths = Array.from({ length: trains }, () => 100 * random.whole(3, 7));
    const [here, there] = [from(random), from(random)];
    const standing = lengths.map((length, t) => ({
      id: `T${t + 1}`,
      name: null,
      length,
      stands: here[t] ?? '',
      heads: null,
    }));
    const changed = name.includes('change over') ? [...there.slice(2), ...there.slice(0, 2)] : there;
    const wanted = standing.map(({ id }, t) => ({ train: id, place: changed[t] ?? '' }));
    const start = performance.now();
    const found = findStandings(plan, standing, wanted);
    const seconds = (performance.now() - start) / 1000;
    sum += found.moves.length * 100 + (found.throws ?? 0);
    // The first warms up.
    if (i === 0) continue;
    times.push(seconds);
    counts[found.outcome] += 1;
    if (found.proved) counts.proved += 1;
    if (seconds > worst.seconds)
      worst = {
        seconds,
        says: `${found.outcome}, ${found.moves.length} moves, ${found.throws ?? 0} throws, bound ${found.bound.moves} and ${found.bound.throws}, ${found.standings} standings: ${standing.map(({ id, stands, length }, t) => `${id} ${length} ${stands}>${changed[t] ?? ''}`).join(', ')}`,
      };
  }
  times.sort((a, b) => a - b);
  console.log(
    `${name.padEnd(30)} median ${((times[times.length >> 1] ?? Number.NaN) * 1000).toFixed(0)} ms, worst ${(worst.seconds * 1000).toFixed(0)} ms of ${runs}; found ${counts.found}, refused ${counts.refused}, stopped ${counts.stopped}, proved ${counts.proved}; checksum ${sum}\n    worst: ${worst.says}`,
  );
}
