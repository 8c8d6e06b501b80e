/**
 * Names that stay: after an edit of the strips the records go to where their things are, what is new gets a record at once, and what
 * has gone leaves its ids in `retired`. The rule is written down in SPEC.md, KN.
 * Idea: read the strips after the edit without any records, tell by the tape which thing is which, and write the records anew. A second
 * reading, with them, is needed only where roads or traps hang on how spans run.
 */
import {
  applyTransaction,
  type Change,
  type CrossingRecord,
  foldId,
  newIds,
  type PanelFile,
  type PlaceRecord,
  type PointRecord,
  squash,
  type ThreeWayRecord,
  type Transaction,
} from '../panel/index.ts';
import type { Spot } from '../units/index.ts';
import { byId } from './by-id.ts';
import {
  bridgePorts,
  type CrossingFeature,
  type EndFeature,
  type Features,
  featuresOf,
  otherLegs,
  type PointFeature,
} from './features-of.ts';
import { roomForRoads, stripAt } from './keep-roads.ts';
import { keepSlip, shiftCurve } from './keep-slip.ts';
import { layLines } from './lay-lines.ts';
import { compareSpots, distance } from './line.ts';
import { listChanges, patched } from './list-changes.ts';
import { matchCrossings, matchEnds, matchPoints, type PointMatch, switchesOf } from './match-features.ts';
import { recordReach } from './match-records.ts';
import { readPlan } from './read-plan.ts';
import { rounded } from './records-to-add.ts';
import { sayNormal } from './say-normal.ts';
import { mapStrips, type StripMap, type StripSpot } from './strip-map.ts';
import { CLOSE_SPOTS, NUMBERING_STEP } from './tolerances.ts';
import type { Place, Plan, Span } from './types.ts';

/**
 * The edit that does what `tx` does to the strips of a panel and keeps the names of the things on them; `tx` itself where it leaves the
 * strips alone. `plan` is the reading of `panel`. Undone, it gives the panel before, byte for byte. At most two readings.
 * @example keepNames(panel, readPlan(panel), moveStrips(panel, ['main'], [20, 0]))
 */
export function keepNames(panel: PanelFile, plan: Plan, tx: Transaction): Transaction {
  const after = applyTransaction(panel, tx);
  const changes = nameChanges(panel, plan, after);
  return changes.length === 0 ? tx : squash(tx, { name: tx.name, changes });
}

/** The changes of records that keep the names of a panel whose strips have become those of `after`; none where they are the same. */
export function nameChanges(panel: PanelFile, plan: Plan, after: PanelFile): readonly Change[] {
  if (after.strips === panel.strips) return [];
  const lists = recordsAfter(panel, plan, after);
  const changes = (['places', 'points', 'crossings', 'threeWays'] as const).flatMap((list) =>
    listChanges(list, after[list], lists[list]),
  );
  const retired = retiredAfter(plan, after, lists);
  if (retired.length > 0)
    changes.push({ kind: 'set', key: 'retired', from: after.retired, to: [...(after.retired ?? []), ...retired] });
  return changes;
}

interface RecordLists {
  readonly places: readonly PlaceRecord[];
  readonly points: readonly PointRecord[];
  readonly crossings: readonly CrossingRecord[];
  readonly threeWays: readonly ThreeWayRecord[];
}

/** Records of one kind while they are written: in the order of the file, then those that are added. */
class Records<R extends { id: string; at: [number, number] }> {
  private readonly kept = new Map<string, R>();
  private readonly known: ReadonlyMap<string, R>;
  private readonly reading: ReadonlySet<string>;
  private readonly list: readonly R[];

  /** `reading`: ids of those that the plan before knows; the rest found nothing and stay as they are, or name something new. */
  constructor(list: readonly R[] | undefined, reading: ReadonlySet<string>) {
    this.list = list ?? [];
    this.known = new Map(this.list.map((record) => [record.id, record]));
    this.reading = reading;
  }

  has(id: string): boolean {
    return this.kept.has(id);
  }

  get(id: string): R | undefined {
    return this.kept.get(id) ?? this.known.get(id);
  }

  keep(record: R): void {
    this.kept.set(record.id, record);
  }

  drop(id: string): void {
    this.kept.delete(id);
  }

  /** The nearest record in reach of a new thing that names nothing yet. */
  lost(at: Spot, reach: number, may: (record: R) => boolean = () => true): R | undefined {
    let best: R | undefined;
    let least = reach;
    for (const record of this.list) {
      if (this.reading.has(record.id) || this.kept.has(record.id) || !may(record)) continue;
      const off = distance(record.at, at);
      if (off > least || (off === least && best !== undefined)) continue;
      [best, least] = [record, off];
    }
    return best;
  }

  all(): readonly R[] {
    const told = this.list.flatMap((record) => {
      const kept = this.kept.get(record.id);
      return kept !== undefined ? [kept] : this.reading.has(record.id) ? [] : [record];
    });
    const added = [...this.kept.values()].filter(({ id }) => !this.known.has(id)).sort((a, b) => byId(a.id, b.id));
    return [...told, ...added];
  }
}

/** A thing that waits for a number. */
interface Wanting {
  readonly prefix: string;
  readonly at: Spot;
  readonly give: (id: string) => void;
}

function recordsAfter(panel: PanelFile, plan: Plan, after: PanelFile): RecordLists {
  const { points: _, crossings: __, threeWays: ___, places: ____, ...bare } = after;
  const read = readPlan({ ...bare, levers: [] });
  const was = featuresOf(plan);
  const is = featuresOf(read);
  const map = mapStrips(panel, after);
  const lineAt = layLines(read, is, map.after);
  const lineOf = (strip: string) => lineAt({ strip, along: 0 }).line;
  const retired = new Set(after.retired?.map(foldId));
  const alive = (id: string) => !retired.has(foldId(id));
  const wanting: Wanting[] = [];
  const reach = (strips: readonly string[]) =>
    recordReach(strips.reduce((most, id) => Math.max(most, map.after.get(id)?.half ?? 0), 0));

  const waysBefore = new Set(was.points.filter(({ ids }) => ids.length === 2).flatMap(({ ids }) => ids));
  const wayRecords = (after.threeWays ?? []).filter((record) => record.points?.some((id) => waysBefore.has(id)));
  const points = new Records(after.points, new Set(plan.points.map(({ id }) => id)));
  const threeWays = new Records(after.threeWays, new Set(wayRecords.map(({ id }) => id)));
  namePoints();
  const { crossings } = nameCrossings();
  const { places, roads, room } = namePlaces();
  const lists = (): RecordLists => ({
    places: places.all(),
    points: points.all(),
    crossings: crossings.all(),
    threeWays: threeWays.all(),
  });
  number();
  const traps = points.all().filter((record) => record.trap === true && record.normal === undefined);
  if (roads.length > 0 || traps.length > 0) {
    const settled = readPlan({ ...after, ...copied(lists()), levers: [] });
    keepTraps(settled);
    keepRoads(settled);
  }
  return lists();

  function namePoints(): void {
    const before = switchesOf(was.points).filter(({ id }) => alive(id));
    const matched = matchPoints(before, is.points, map);
    const unknown = new Set(
      plan.problems.flatMap((problem) => (problem.code === 'normal-unknown' ? [problem.point] : [])),
    );
    const spots = is.points.map(({ at }) => at);
    is.points.forEach((feature, i) => {
      const matches = matched.get(i) ?? [];
      const at = spotOf(feature.at, spots);
      if (feature.ids.length === 2) nameThreeWay(feature, matches, at);
      else namePoint(feature, matches[0], at, unknown);
    });
  }

  function namePoint(
    feature: PointFeature,
    match: PointMatch | undefined,
    at: [number, number],
    unknown: ReadonlySet<string>,
  ): void {
    const strips = feature.legs.map(({ strip }) => strip);
    if (match === undefined) {
      const lost = points.lost(feature.at, reach(strips));
      if (lost !== undefined) points.keep(patched(lost, { at }));
      else wanting.push({ prefix: 'P', at: feature.at, give: (id) => points.keep({ id, at }) });
      return;
    }
    const { id } = match;
    const record = points.get(id);
    const byItself = record?.trap === true ? null : feature.normal;
    const normal = unknown.has(id) ? record?.normal : sayNormal(record?.normal, strips, match.normal, byItself);
    points.keep(patched(record ?? { id, at }, { at, normal }));
  }

  function nameThreeWay(feature: PointFeature, matches: readonly PointMatch[], at: [number, number]): void {
    const strips = feature.legs.map(({ strip }) => strip);
    const ids = matches.map(({ id }) => id);
    const own = wayRecords.find((each) => !threeWays.has(each.id) && each.points?.some((id) => ids.includes(id)));
    const record = own ?? (ids.length === 0 ? threeWays.lost(feature.at, reach(strips)) : undefined);
    const normal = normalOf(feature, matches);
    const others = otherLegs({ ...feature, normal });
    const slots: (string | undefined)[] = [undefined, undefined];
    for (const match of matches) {
      const leg = match.reverse === normal ? match.normal : match.reverse;
      const slot = others.indexOf(leg) === 1 ? 1 : 0;
      slots[slots[slot] === undefined ? slot : 1 - slot] = match.id;
    }
    const lostIds = own === undefined ? (record?.points ?? []) : [];
    const said = sayNormal(record?.normal, strips, normal, feature.normal);
    let id = record?.id;
    const write = () => {
      const [one, two] = slots.map((slot, k) => slot ?? lostIds[k]);
      if (id === undefined || one === undefined || two === undefined) return;
      const pair = [one, two];
      threeWays.keep(patched(record ?? { id, at }, { at, points: pair, normal: said }));
      for (const each of pair) {
        const point = points.get(each);
        if (point !== undefined) points.keep(patched(point, { at }));
      }
    };
    slots.forEach((slot, k) => {
      if (slot !== undefined || lostIds[k] !== undefined) return;
      const give = (given: string) => {
        slots[k] = given;
        write();
      };
      wanting.push({ prefix: 'P', at: feature.at, give });
    });
    if (id === undefined) {
      const give = (given: string) => {
        id = given;
        write();
      };
      wanting.push({ prefix: 'Y', at: feature.at, give });
    }
    write();
  }

  function nameCrossings() {
    const bridges = plan.bridges.map(({ at, strips, record: { id } }) => ({ id, at, strips }));
    const before = [
      ...was.crossings.map((crossing) => ({ ...crossing, over: false })),
      ...bridges.flatMap(({ id, at, strips }) => {
        const lines = bridgePorts(at, strips, map.before);
        return lines === null ? [] : [{ id, at, strips, lines, slip: null, over: true }];
      }),
    ].filter(({ id }) => alive(id));
    const crossings = new Records(after.crossings, new Set([...plan.crossings, ...bridges].map(({ id }) => id)));
    const matched = matchCrossings(before, is.crossings, map, lineAt);
    const source = new Map([...matched].map(([i, j]) => [j, before[i]]));
    const spots = is.crossings.map(({ at }) => at);
    is.crossings.forEach((crossing, j) => {
      const at = spotOf(crossing.at, spots);
      const known = source.get(j);
      if (known === undefined) {
        const lost = crossings.lost(crossing.at, reach(crossing.strips));
        if (lost !== undefined) crossings.keep(patched(lost, { at }));
        else wanting.push({ prefix: 'X', at: crossing.at, give: (id) => crossings.keep({ id, at }) });
        return;
      }
      const record = crossings.get(known.id);
      if (record === undefined) crossings.keep({ id: known.id, at });
      else crossings.keep(patched(record, { at, ...slipPatch(record, known, crossing, map) }));
    });
    return { crossings };
  }

  function namePlaces() {
    const places = new Records(after.places, new Set(plan.places.map(({ id }) => id)));
    const ends = was.ends.filter(({ id }) => alive(id));
    const matched = matchEnds(ends, is.ends, map);
    const named = new Set(matched.values());
    ends.forEach(({ id }, i) => {
      const end = is.ends[matched.get(i) ?? -1];
      if (end !== undefined) places.keep(patched(places.get(id) ?? { id, at: exact(end.at) }, { at: exact(end.at) }));
    });
    is.ends.forEach(({ at, port }, j) => {
      if (named.has(j)) return;
      const lost = places.lost(at, reach([port.strip]));
      if (lost !== undefined) places.keep(patched(lost, { at: exact(at) }));
      else wanting.push({ prefix: 'E', at, give: (id) => places.keep({ id, at: exact(at) }) });
    });

    const spans = new Map(plan.spans.map((span) => [span.id, span]));
    const wanted: { readonly place: Place; readonly spot: StripSpot }[] = [];
    for (const place of plan.places) {
      if (!alive(place.id)) continue;
      const span = spans.get(place.span);
      const from = span === undefined || place.kind === 'end' ? null : stripAt(span, place.along);
      const spot = from === null ? joinedEnd(place) : map.carry(from);
      if (spot !== null) wanted.push({ place, spot });
    }
    const room = roomForRoads(map.after, is.ends, lineOf);
    const roads: { readonly place: Place; readonly spot: StripSpot }[] = [];
    for (const { place, spot } of wanted) {
      const at = room.take(spot);
      const record = places.get(place.id);
      if (at === null || record === undefined) continue;
      places.keep(patched(record, { at }));
      roads.push({ place, spot });
    }
    return { places, roads, room };

    /** An end with a name that has been butted onto another strip, or joined to it, is a road now. */
    function joinedEnd(place: Place): StripSpot | null {
      if (place.kind !== 'end' || place.name === null || places.has(place.id)) return null;
      const end = ends.find(({ id }) => id === place.id);
      const there = end === undefined ? null : map.carry(end.port);
      return there === null || isHeld(there, is) ? null : there;
    }
  }

  function number(): void {
    const order = ['P', 'X', 'Y', 'E'];
    wanting.sort(
      (a, b) => order.indexOf(a.prefix) - order.indexOf(b.prefix) || compareSpots(a.at, b.at, NUMBERING_STEP),
    );
    if (wanting.length === 0) return;
    const ids = newIds({ ...after, ...copied(lists()) });
    for (const { id } of [...plan.points, ...plan.crossings, ...plan.places]) ids.claim(id);
    for (const id of idsOfRecords(present(panel))) ids.claim(id);
    for (const { prefix, give } of wanting) give(ids.next(prefix));
  }

  /** The trap of a trap point is read by how its spans run on: where that would turn it over, the record says which leg it is. */
  function keepTraps(settled: Plan): void {
    const now = switchesOf(featuresOf(settled).points);
    for (const point of switchesOf(was.points)) {
      const record = points.get(point.id);
      if (!points.has(point.id) || record?.trap !== true || record.normal !== undefined) continue;
      const found = now.find(({ id }) => id === point.id);
      const feature = is.points.find(
        ({ at, ids }) => ids.length === 1 && found !== undefined && distance(at, found.at) === 0,
      );
      const wanted = map.carry(point.reverse);
      if (found === undefined || feature === undefined || wanted === null) continue;
      const turned = isSame(wanted, found.normal) && !isSame(wanted, found.reverse);
      if (!turned) continue;
      const strips = feature.legs.map(({ strip }) => strip);
      const leg = feature.legs.findIndex((each) => isSame(each, found.reverse));
      const normal = sayNormal(undefined, strips, leg, 1 - leg);
      points.keep(patched(record, { normal }));
    }
  }

  /** A road stays between the same two things: where they have passed it by, it goes as far along between them as it was. */
  function keepRoads(settled: Plan): void {
    const spans = new Map(settled.spans.map((span) => [span.id, span]));
    const before = new Map(plan.spans.map((span) => [span.id, span]));
    const now = new Map(settled.places.map((place) => [place.id, place]));
    for (const { place, spot: carried } of roads) {
      const old = before.get(place.span);
      const here = spans.get(now.get(place.id)?.span ?? '');
      if (old === undefined || here === undefined || sameEnds(old, here)) continue;
      // By what lies at its ends and by its tape: which of two between the same things is numbered first may have changed.
      const home = settled.spans.find(
        (span) => sameEnds(old, span) && span.stretches.some(({ strip }) => lineOf(strip) === lineOf(carried.strip)),
      );
      if (home === undefined) continue;
      const spot = stripAt(home, old.length === 0 ? 0 : (place.along / old.length) * home.length);
      const at = spot === null ? null : room.take(spot);
      const record = places.get(place.id);
      if (at !== null && record !== undefined) places.keep(patched(record, { at }));
    }
  }
}

/** Normal of a three-way: the leg that most of its points have for normal, then that most of them have at all, then the reading's. */
function normalOf(feature: PointFeature, matches: readonly PointMatch[]): number {
  const votes = feature.legs.map((_, leg) => {
    const normal = matches.filter((match) => match.normal === leg).length;
    const either = normal + matches.filter((match) => match.reverse === leg).length;
    // Only a leg that every point has can be normal to all of them.
    return { leg, all: either === matches.length ? 1 : 0, normal, own: leg === feature.normal ? 1 : 0 };
  });
  votes.sort((a, b) => b.all - a.all || b.normal - a.normal || b.own - a.own || a.leg - b.leg);
  return votes[0]?.leg ?? feature.normal;
}

function slipPatch(record: CrossingRecord, before: CrossingFeature, after: CrossingFeature, map: StripMap) {
  const { slip } = before;
  return slip === null ? shiftCurve(record, before.at, after.at) : keepSlip(record, { ...before, slip }, after, map);
}

function sameEnds(a: Span, b: Span): boolean {
  return a.ends[0] === b.ends[0] && a.ends[1] === b.ends[1];
}

/** Does a point or crossing lie at this spot of a strip, or a free end? */
function isHeld(spot: StripSpot, { points, crossings, ends }: Features): boolean {
  const ports: readonly StripSpot[] = [
    ...points.flatMap(({ toe, legs }) => [toe, ...legs]),
    ...crossings.flatMap(({ lines }) => lines.flat()),
    ...ends.map(({ port }: EndFeature) => port),
  ];
  return ports.some(({ strip, along }) => strip === spot.strip && Math.abs(along - spot.along) <= NUMBERING_STEP);
}

function isSame(a: StripSpot, b: StripSpot): boolean {
  return a.strip === b.strip && (a.way === b.way || a.way === 0 || b.way === 0);
}

/** To 0.01 mm, or as it is where another of its kind lies so near that rounding could change them over. */
function spotOf(at: Spot, others: readonly Spot[]): [number, number] {
  const close = others.some((other) => other !== at && distance(other, at) <= CLOSE_SPOTS);
  return close ? exact(at) : rounded(at);
}

/** A free end's record lies just on the end, so that no strip that passes there is nearer. */
function exact([x, y]: Spot): [number, number] {
  return [x, y];
}

function copied(lists: RecordLists) {
  return {
    places: [...lists.places],
    points: [...lists.points],
    crossings: [...lists.crossings],
    threeWays: [...lists.threeWays],
  };
}

function idsOfRecords({ places, points, crossings, threeWays }: RecordLists): readonly string[] {
  return [
    ...[...places, ...points].map(({ id }) => id),
    ...crossings.flatMap(({ id, ends }) => [id, ...(ends ?? []).map((end) => end.id)]),
    ...threeWays.flatMap((record) => [record.id, ...(record.points ?? [])]),
  ];
}

/** Ids that the plan or its records had, and that nothing has any longer. */
function retiredAfter(plan: Plan, after: PanelFile, lists: RecordLists): readonly string[] {
  const still = new Set([...idsOfRecords(lists), ...(after.retired ?? [])].map(foldId));
  const had = [
    ...[...plan.points, ...plan.crossings, ...plan.places].map(({ id }) => id),
    ...idsOfRecords(present(after)),
  ];
  const gone: string[] = [];
  for (const id of had) {
    if (still.has(foldId(id))) continue;
    still.add(foldId(id));
    gone.push(id);
  }
  return gone;
}

function present({ places, points, crossings, threeWays }: PanelFile): RecordLists {
  return { places: places ?? [], points: points ?? [], crossings: crossings ?? [], threeWays: threeWays ?? [] };
}
