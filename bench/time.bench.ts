/**
 * What runs in time: closed forms, the integrator beside them, a settled rectifier, and how far each is from the other.
 * Rounds of the same circuit interleaved in one process; medians and least of 15 rounds after one warm-up; a checksum shows the work.
 */
import {
  type Coil,
  chargeFeedThrows,
  type DischargeUnit,
  feedFrom,
  integrate,
  type Rectifier,
  rectify,
  rlcResponse,
  secondThrow,
  TIGHTEST,
  throwByIntegrator,
  throwCoils,
  throwsAtOnce,
  WORKING,
} from '../src/circuit/index.ts';
import { sizeResistor } from '../src/lamps/index.ts';
import { lawFrom, resolveCatalogue } from '../src/parts/index.ts';

const ROUNDS = 15;
const COIL: Coil = { ohms: 5, henries: 0.002, wireOhms: 0, throwAmps: 2, throwSeconds: 0.008 };
const UNIT: DischargeUnit = {
  farads: 4700e-6,
  charger: { volts: 24, ohms: 100, most: null, drop: 0 },
  ohms: 0.0688,
  steering: null,
};
const coils = Array.from({ length: 6 }, (_, k) => Array.from({ length: k + 1 }, () => COIL));
const apart = [COIL, { ...COIL, ohms: 8 }, { ...COIL, henries: 0.004 }];
const LOOP = { farads: 4700e-6, henries: 0.002, ohms: 5.0688, drop: 0, feed: feedFrom(24, 100) };
const LAW = lawFrom(0.7, 0.01, 1.8, 0.05);
const HALF: Rectifier = { kind: 'half-wave', volts: 12, ohms: 0.5, law: LAW, farads: 1000e-6 };
const lamp = resolveCatalogue(undefined).find('lamp', 'led-3-amber');
if (lamp === undefined) throw new Error('no led-3-amber');
const LOADS = [{ series: [lamp], strings: 1, current: 0.002 }];

interface Job {
  readonly name: string;
  readonly times: number;
  readonly run: () => number;
}

let turn = 0;
const next = () => coils[turn++ % coils.length] ?? [COIL];
const jobs: readonly Job[] = [
  {
    name: 'closed form, peak of one loop',
    times: 20_000,
    run: () => {
      const response = rlcResponse(LOOP, { amps: 0, volts: 20 + (turn++ % 5) });
      return response.amps(response.extremes(1)[0] ?? 0);
    },
  },
  { name: 'throw of 1 to 6 equal coils, closed form', times: 2_000, run: () => throwCoils(UNIT, next()).amps },
  { name: 'the same by the integrator, 1e-8', times: 40, run: () => throwByIntegrator(UNIT, next(), {}, WORKING).amps },
  {
    name: 'the same by the integrator, 1e-12',
    times: 20,
    run: () => throwByIntegrator(UNIT, next(), {}, TIGHTEST).amps,
  },
  { name: 'throw of 3 coils that differ', times: 40, run: () => throwCoils(UNIT, apart).amps },
  {
    name: 'integrator alone, 1e-8, 100 ms of one loop',
    times: 100,
    run: () =>
      integrate(
        (_, state, into) => {
          const [i, v] = [state[0] ?? 0, state[1] ?? 0];
          into[0] = (v - 5.0688 * i) / 0.002;
          into[1] = ((24 - v) / 100 - i) / 4700e-6;
        },
        0,
        [0, 24],
        0.1,
      ).state[1] ?? 0,
  },
  { name: 'throws at once, 1 to 6', times: 300, run: () => throwsAtOnce(UNIT, COIL, 6).allMove },
  { name: 'second throw too soon', times: 1_000, run: () => secondThrow(UNIT, [COIL], 0.3).volts },
  {
    name: 'charge feed, three throws',
    times: 1_000,
    run: () =>
      chargeFeedThrows({ volts: 24, supplyOhms: 0, farads: 2200e-6, ohms: 0.5, drop: 0.8 }, COIL, COIL).first.amps,
  },
  { name: 'half-wave, settled behind 1,000 uF', times: 10, run: () => rectify(HALF, { ohms: 600 }).mean },
  { name: 'half-wave, no reservoir', times: 5, run: () => rectify({ ...HALF, farads: 0 }, { ohms: 600 }).mean },
  {
    name: 'lamp resistor with its corners',
    times: 2_000,
    run: () => sizeResistor({ low: 8.55, nominal: 9, high: 9.45 }, LOADS, null).ohms,
  },
];

const spent = new Map<string, number[]>(jobs.map(({ name }) => [name, []]));
let sum = 0;
for (let round = 0; round <= ROUNDS; round++) {
  for (const { name, times, run } of jobs) {
    const start = performance.now();
    for (let k = 0; k < times; k++) sum += run();
    if (round > 0) spent.get(name)?.push(((performance.now() - start) * 1000) / times);
  }
}
for (const [name, each] of spent) {
  const rising = [...each].sort((a, b) => a - b);
  const median = rising[rising.length >> 1] ?? Number.NaN;
  console.log(
    `${name.padEnd(46)} ${median.toFixed(2).padStart(10)} us (least ${(rising[0] ?? Number.NaN).toFixed(2)})`,
  );
}
console.log(`checksum ${sum.toFixed(6)}; medians of ${ROUNDS} rounds\n`);

console.log('peak of 1 to 6 coils, off the integrator at 1e-12:');
for (const list of coils) {
  const closed = throwCoils(UNIT, list);
  const stepped = throwByIntegrator(UNIT, list, {}, TIGHTEST);
  console.log(
    `  ${list.length}: ${closed.amps.toFixed(3)} A at ${((closed.coils[0]?.peakSeconds ?? 0) * 1000).toFixed(3)} ms, ${Math.abs(stepped.amps / closed.amps - 1).toExponential(1)}`,
  );
}
