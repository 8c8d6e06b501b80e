/** Panels that differ from an example in what the circuits take from the file, chosen by a seed. */
import { seeded } from './seeded.ts';

type Lie = 'normal' | 'reverse';

/** What is altered of the panel file; the rest is carried along. */
interface Draft {
  supplies: { volts: number; ohms?: number; fuse?: object | null }[];
  parts?: object[];
  points: { id: string; drive: string; sense?: string }[];
  drives: { id: string; part: string; positive: string; wire: object; measured?: object }[];
  levers: { id: string; switch: string; works: { point: string; opposite?: boolean }[] }[];
  lamps: { id: string; part: string; claims?: string; shows?: Readonly<Record<string, Lie>> }[];
  lampGroups?: object[];
}

/** Which point and leg each lamp of Bramble Siding lies beside, read off the drawing by hand. */
const BESIDE: Readonly<Record<string, Readonly<Record<string, Lie>>>> = {
  H1: { P1: 'normal' },
  H2: { P1: 'normal' },
  H3: { P2: 'normal' },
  H4: { P2: 'normal' },
  H5: { P1: 'reverse' },
  H6: { P1: 'reverse' },
  H7: { P2: 'reverse' },
  H8: { P2: 'reverse' },
  H9: { P3: 'normal' },
  H10: { P3: 'normal' },
  H11: { P3: 'reverse' },
  H12: { P3: 'reverse' },
};

/**
 * Bramble Siding, but with stall and limit-switched drives, centre-off levers, points worked opposite, senses, tags and wires turned and
 * stretched, parts of the user's own, a supply with ohms, and lamps in groups of every arrangement, as the seed says. What each lamp
 * shows stands in the file. Lamps of one group show lies of one lever; strings are short enough to light on 12 V.
 */
export function variant(bramble: string, seed: number): string {
  const { below, one, some } = seeded(seed);
  const panel: Draft = JSON.parse(bramble);
  const [supply] = panel.supplies;
  const [p1, p2, p3] = panel.points;
  if (supply === undefined || p1 === undefined || p2 === undefined || p3 === undefined)
    throw new RangeError('the example has a supply and three points');
  const coin = (): boolean => below(2) === 0;
  const opposite: Record<string, boolean> = { P1: coin(), P2: coin(), P3: coin() };

  supply.volts = one([9, 12]);
  if (below(3) > 0) supply.ohms = one([0.5, 2.2, 10]);
  if (coin()) supply.fuse = null;
  panel.parts = [
    { id: 'my-motor', like: 'stall-2-wire', stallAmps: 0.0185 },
    { id: 'my-lamp', like: 'led-3-amber', vf: 1.98, at: 0.005, rs: 8 },
  ];
  for (const drive of panel.drives) {
    drive.part = one(['stall-2-wire', 'limit-2-wire', 'my-motor']);
    drive.positive = one(['normal', 'reverse']);
    drive.wire = { length: 500 + 100 * below(90), gauge: one([0.14, 0.22, 0.5]) };
    if (below(3) === 0 && drive.part !== 'limit-2-wire') drive.measured = { amps: 0.012 + 0.001 * below(8) };
  }
  if (below(3) === 0) {
    // No record: a drive of the point's own, three metres away.
    panel.drives = panel.drives.filter((drive) => drive.id !== 'D3');
    p3.drive = one(['stall-2-wire', 'limit-2-wire']);
  }
  for (const point of panel.points) if (coin()) point.sense = one(['same', 'opposite']);
  // One drive for both points of the loop: its one lie must suit them both.
  if (below(4) === 0) {
    p2.drive = 'D1';
    const turned = (p1.sense === 'opposite') !== (opposite.P1 === true);
    p2.sense = turned === (opposite.P2 === true) ? 'same' : 'opposite';
    panel.drives = panel.drives.filter((drive) => drive.id !== 'D2');
  }
  for (const lever of panel.levers) {
    lever.switch = one(['toggle-2p', 'toggle-2p-centre-off']);
    for (const worked of lever.works) if (opposite[worked.point]) worked.opposite = true;
  }
  for (const lamp of panel.lamps) {
    lamp.shows = BESIDE[lamp.id] ?? {};
    lamp.claims = 'leg';
    lamp.part = one(['led-3-green', 'led-3-red', 'led-3-amber', 'led-3-white', 'my-lamp']);
  }

  panel.lampGroups = [];
  const L1 = ['H1', 'H2', 'H3', 'H4', 'H5', 'H6', 'H7', 'H8'];
  const L2 = ['H9', 'H10', 'H11', 'H12'];
  for (const [lever, all] of [
    ['L1', L1],
    ['L2', L2],
  ] as const) {
    const left = [...some(all, all.length)];
    for (let k = 0; left.length > 0 && below(5) > 0; k += 1) {
      const arrange = one(['pair', 'own', 'series', 'parallel']);
      const lamps = left.splice(0, arrange === 'pair' ? 2 : 1 + below(3));
      const way = (id: string): boolean => {
        const [point = '', lie] = Object.entries(BESIDE[id] ?? {})[0] ?? [];
        return (lie === 'normal') !== (opposite[point] === true);
      };
      // A pair is one each way.
      const [first = '', second = ''] = lamps;
      if (arrange === 'pair' && (lamps.length < 2 || way(first) === way(second))) continue;
      // Side by side, lamps of unlike colours do not share: all light in the one with the least volts. In a string white ones want too many.
      if (arrange === 'parallel' || arrange === 'series')
        for (const lamp of panel.lamps) if (lamps.includes(lamp.id)) lamp.part = 'led-3-green';
      // A diode across a lamp conducts when the lamps that face the other way behind the same resistor should: 0.7 V, and all are dark.
      const opposed = arrange !== 'own' && lamps.some((id) => way(id) !== way(first));
      panel.lampGroups.push({
        id: `G${lever.slice(1)}${k + 1}`,
        lamps,
        arrange,
        ohms: one([1000, 1500, 2200, 3300, 4700]),
        guard: !opposed && coin() ? 'antiparallel' : 'none',
      });
    }
  }
  return JSON.stringify(panel);
}
