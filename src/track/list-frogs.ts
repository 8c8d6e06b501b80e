/** Every frog of the plan: which rail it takes when, and what the file says of it or it would want. */
import type { Lie, Lies, PanelFile } from '../panel/index.ts';
import { newIds } from '../panel/index.ts';
import { byId, type Plan, type PlanCrossing, type SpanEnd } from '../plan/index.ts';
import type { Route, RouteList } from '../routes/index.ts';
import type { Spot } from '../units/index.ts';
import type { WiredDrive, Wiring } from '../wiring/index.ts';
import { type Body, type BodyFrog, other, railOfSpan } from './bodies.ts';
import { liesText } from './lies.ts';
import { stockWire } from './name-wires.ts';
import type { BusWire, FrogCase, Rail, SpanRails, TrackFrog } from './types.ts';

type FrogRecord = NonNullable<PanelFile['frogs']>[number];

/** A frog before the file and the contacts have been asked. */
interface Raw {
  readonly of: string;
  readonly at: Spot;
  readonly what: TrackFrog['what'];
  readonly legs: readonly SpanEnd[];
  readonly toldBy: string | null;
  readonly normal: FrogCase;
  readonly reverse: FrogCase;
  readonly care: TrackFrog['care'];
  /** Ids that a record may name it by: its point or crossing first. */
  readonly names: readonly string[];
  /** Frogs of one body that take the same rail at the same time: one contact serves them. */
  readonly shares: string;
}

/** A frog of the list, and where it lies in its body; null for the four of a diamond. */
export interface ListedFrog {
  readonly frog: TrackFrog;
  readonly place: { readonly body: Body; readonly index: number } | null;
}

export interface FrogInput {
  readonly panel: PanelFile;
  readonly plan: Plan;
  readonly wiring: Wiring;
  readonly routes: () => RouteList;
}

/** What the record of a drive says of a contact that feeds a frog: "frog:F1". */
const FROG = 'frog:';

/** By the point or crossing that they belong to, then as they stand in it. */
export function listFrogs(
  { panel, plan, wiring, routes }: FrogInput,
  bodies: readonly Body[],
  rails: ReadonlyMap<string, SpanRails>,
): readonly ListedFrog[] {
  const raws: { raw: Raw; place: ListedFrog['place'] }[] = [];
  for (const body of bodies)
    body.frogs.forEach((frog, index) => {
      raws.push({ raw: rawOf(panel, body, frog, rails), place: { body, index } });
    });
  for (const crossing of plan.crossings) {
    if (crossing.kind !== 'diamond') continue;
    const lines = bodies.filter((body) => body.what === 'line' && body.feature === crossing.id);
    for (const raw of diamondFrogs(plan, crossing, lines, rails, routes)) raws.push({ raw, place: null });
  }
  raws.sort((a, b) => byId(a.raw.of, b.raw.of));

  const records = panel.frogs ?? [];
  const recordOf = matchRecords(
    raws.map(({ raw }) => raw),
    records,
  );
  const contacts = contactsOf(panel, wiring);
  const names = newIds(panel);
  const counted = new Map<string, number>();
  const shared = new Map<string, { id: string; stated: boolean }>();
  const done = raws.map(({ raw, place }, i): ListedFrog => {
    const { own, kindOf } = recordOf[i] ?? { own: null, kindOf: null };
    const number = (counted.get(raw.of) ?? 0) + 1;
    counted.set(raw.of, number);
    const id = own?.id ?? nameOf(raw, number);
    const kind = kindOf?.kind ?? 'not-said';
    const fixed = raw.normal.bus !== null && raw.normal.bus === raw.reverse.bus;
    const stated = kind === 'dead' || kind === 'module' ? null : (own?.from ?? contacts.statedFor(own?.id ?? null));
    const contact = stated === null ? null : { id: stated, stated: true };
    if (contact !== null && !shared.has(raw.shares)) shared.set(raw.shares, contact);
    const frog: TrackFrog = {
      id,
      record: own?.id ?? kindOf?.id ?? null,
      of: raw.of,
      at: raw.at,
      what: raw.what,
      legs: raw.legs,
      kind,
      toldBy: raw.toldBy,
      normal: raw.normal,
      reverse: raw.reverse,
      fixed,
      contact,
      wants: 'nothing',
      care: raw.care,
    };
    return { frog, place };
  });

  // Contacts are proposed once all that the file states are known.
  return done.map(({ frog, place }, i): ListedFrog => {
    if (frog.kind === 'dead' || frog.kind === 'module' || frog.fixed || frog.contact !== null) return { frog, place };
    if (frog.toldBy === null) return { frog: { ...frog, wants: 'module' }, place };
    const key = raws[i]?.raw.shares ?? frog.id;
    const proposed = shared.get(key) ?? propose(frog.toldBy);
    if (proposed !== null) shared.set(key, proposed);
    const wants = proposed?.stated === true ? 'nothing' : 'contact';
    return { frog: { ...frog, contact: proposed, wants }, place };
  });

  function propose(point: string): { id: string; stated: boolean } | null {
    const id = contacts.take(point);
    return id === null ? null : { id, stated: false };
  }

  function nameOf(raw: Raw, number: number): string {
    const several = raw.what.startsWith('diamond') || number > 1;
    const wanted = several ? `F-${raw.of}-${number}` : `F-${raw.of}`;
    return names.claim(wanted) ?? names.next(`${wanted}-`);
  }
}

function rawOf(panel: PanelFile, body: Body, frog: BodyFrog, rails: ReadonlyMap<string, SpanRails>): Raw {
  const caseOf = (lie: Lie): FrogCase => {
    const stock = frog[lie];
    // The left leg's inner rail is its right one.
    const leg = frog.between[stock === 'right' ? 0 : 1];
    const rail = frog.side === 'out' ? stock : other(stock);
    return { when: { [frog.toldBy]: lie }, leg, strip: null, rail, bus: stockWire(body, rails, stock) };
  };
  const [left, right] = frog.between;
  return {
    of: frog.of,
    at: body.at,
    what: body.what === 'slip' ? 'slip-end' : body.what === 'three-way' ? 'three-way' : 'point',
    legs: frog.side === 'out' ? [left, right] : [right, left],
    toldBy: frog.toldBy,
    normal: caseOf('normal'),
    reverse: caseOf('reverse'),
    care: frog.care,
    names: [frog.of, ...whole(panel, body)],
    shares: `${body.id} ${frog.toldBy} ${frog.normal} ${frog.side}`,
  };
}

/** The id of the slip or three-way as a whole, by which a record may name its frogs one after the other. */
function whole(panel: PanelFile, body: Body): readonly string[] {
  if (body.what === 'slip') return [body.id];
  if (body.what !== 'three-way') return [];
  const points = new Set(body.frogs.map(({ of }) => of));
  return (panel.threeWays ?? [])
    .filter((record) => record.points?.some((id) => points.has(id)) === true)
    .map(({ id }) => id);
}

/**
 * Four crossings of a diamond. With both lines running about the same way (turned by a right angle at most), left meets left and right
 * meets right at the wide sides, the obtuse crossings; left meets right before and behind, the acute ones.
 */
function diamondFrogs(
  plan: Plan,
  crossing: PlanCrossing,
  lines: readonly Body[],
  rails: ReadonlyMap<string, SpanRails>,
  routes: () => RouteList,
): readonly Raw[] {
  const spans = new Map(plan.spans.map((span) => [span.id, span]));
  const along = lines.map((body) => {
    const [from, to] = body.ports;
    if (from === undefined || to === undefined) throw new RangeError(`crossing ${crossing.id} has a line without ends`);
    const a = away(spans.get(from.leg.span)?.path ?? [], from.leg.end);
    const b = away(spans.get(to.leg.span)?.path ?? [], to.leg.end);
    const way: Spot = [b[0] - a[0], b[1] - a[1]];
    return { from, to, way, back: false };
  });
  const [l, m] = along;
  if (l === undefined || m === undefined) return [];
  // Both run to the right (straight up and down: down), so that the first acute crossing is the one further left.
  const turned = l.way[0] * m.way[0] + l.way[1] * m.way[1] < 0;
  const middle: Spot = turned ? [l.way[0] - m.way[0], l.way[1] - m.way[1]] : [l.way[0] + m.way[0], l.way[1] + m.way[1]];
  const backwards = middle[0] < -LEVEL || (Math.abs(middle[0]) <= LEVEL && middle[1] < 0);
  l.back = backwards;
  m.back = backwards !== turned;
  const [fromL, fromM] = [l, m].map(({ from, to, back }) => (back ? to : from).leg);
  if (fromL === undefined || fromM === undefined) return [];
  const heading = ({ way, back }: typeof l): Spot => (back ? [-way[0], -way[1]] : way);
  const [u, v] = [heading(l), heading(m)];
  // y runs down: a positive turn from the first line to the second is to the right.
  const secondIsRight = u[0] * v[1] - u[1] * v[0] > 0;
  const told = toldByRoutes(
    crossing.id,
    [l, m].map(({ from, to }) => [from.leg.span, to.leg.span] as const),
    routes,
  );
  const strip = (leg: SpanEnd): string | null => {
    const stretches = spans.get(leg.span)?.stretches ?? [];
    return stretches[leg.end === 0 ? 0 : stretches.length - 1]?.strip ?? null;
  };
  const railOf = (leg: SpanEnd, hand: Rail): BusWire | null =>
    rails.get(leg.span)?.[leg.end === 1 ? hand : other(hand)] ?? null;
  const frog = (what: Raw['what'], ofL: Rail, ofM: Rail): Raw => {
    const used = (leg: SpanEnd, rail: Rail, when: Lies): FrogCase => ({
      when,
      leg,
      strip: strip(leg),
      rail,
      bus: railOf(leg, rail),
    });
    const first = told === null || told.first === 'normal';
    const when = (lie: Lie): Lies => (told === null ? {} : { [told.point]: lie });
    const byL = used(fromL, ofL, when(first ? 'normal' : 'reverse'));
    const byM = used(fromM, ofM, when(first ? 'reverse' : 'normal'));
    return {
      of: crossing.id,
      at: crossing.at,
      what,
      legs: [l.from.leg, l.to.leg, m.from.leg, m.to.leg],
      toldBy: told?.point ?? null,
      normal: first ? byL : byM,
      reverse: first ? byM : byL,
      care: [],
      names: [crossing.id],
      shares: `${crossing.id} ${what} ${ofL} ${ofM}`,
    };
  };
  // Seen forward, the line that runs to the left comes from the right: behind, its left rail meets the other's right one.
  return secondIsRight
    ? [
        frog('diamond-acute', 'left', 'right'),
        frog('diamond-acute', 'right', 'left'),
        frog('diamond-obtuse', 'left', 'left'),
        frog('diamond-obtuse', 'right', 'right'),
      ]
    : [
        frog('diamond-acute', 'right', 'left'),
        frog('diamond-acute', 'left', 'right'),
        frog('diamond-obtuse', 'left', 'left'),
        frog('diamond-obtuse', 'right', 'right'),
      ];
}

/** Directions are unit vectors: one that lies nearer to upright than this counts as upright, however the sheet was turned. */
const LEVEL = 1e-9;

/** Unit direction of a span's path away from its end. */
function away(path: readonly Spot[], end: 0 | 1): Spot {
  const [a, b] = end === 0 ? [path[0], path[1]] : [path[path.length - 1], path[path.length - 2]];
  if (a === undefined || b === undefined) return [0, 0];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return length === 0 ? [0, 0] : [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
}

/** The point that every route over one line asks one way and every route over the other line the other way: the first by id. */
function toldByRoutes(
  crossing: string,
  lines: readonly (readonly [string, string])[],
  routes: () => RouteList,
): { readonly point: string; readonly first: Lie } | null {
  const list = routes();
  if (list.cut) return null;
  const over = list.routes.filter((route) => route.crossings.includes(crossing));
  const [first, second] = lines.map((line) => asked(over.filter((route) => passes(route, line))));
  if (first === undefined || second === undefined) return null;
  const point = Object.keys(first)
    .filter((id) => second[id] !== undefined && second[id] !== first[id])
    .sort(byId)[0];
  return point === undefined ? null : { point, first: first[point] ?? 'normal' };
}

function passes({ spans }: Route, [a, b]: readonly [string, string]): boolean {
  return spans.some((span, i) => (span === a && spans[i + 1] === b) || (span === b && spans[i + 1] === a));
}

/** What all of some routes ask alike. */
function asked(routes: readonly Route[]): Lies {
  const [first, ...others] = routes;
  if (first === undefined) return {};
  return Object.fromEntries(
    Object.entries(first.points).filter(([point, lie]) => others.every((route) => route.points[point] === lie)),
  );
}

interface Matched {
  /** The record of this very frog. */
  readonly own: FrogRecord | null;
  /** The record that says its kind. */
  readonly kindOf: FrogRecord | null;
}

/** Records go to the frogs of what they name in the order of the file, those that change over first; one record says the kind of all. */
function matchRecords(frogs: readonly Raw[], records: readonly FrogRecord[]): readonly Matched[] {
  const matched: Matched[] = frogs.map(() => ({ own: null, kindOf: null }));
  const byName = new Map<string, number[]>();
  const changes = ({ normal, reverse }: Raw) => normal.bus === null || normal.bus !== reverse.bus;
  frogs.forEach((frog, i) => {
    for (const name of frog.names) byName.set(name, [...(byName.get(name) ?? []), i]);
  });
  for (const [, list] of byName) list.sort((a, b) => rank(frogs[a]) - rank(frogs[b]) || a - b);
  for (const record of records) {
    const list = byName.get(record.of) ?? [];
    const free = list.find((i) => matched[i]?.own === null);
    if (free !== undefined) matched[free] = { own: record, kindOf: record };
  }
  for (const [, list] of byName) {
    const said = list.map((i) => matched[i]?.own ?? null).filter((own) => own !== null);
    const last = said[said.length - 1];
    if (last === undefined) continue;
    for (const i of list) if (matched[i]?.kindOf === null) matched[i] = { own: null, kindOf: last };
  }
  return matched;

  function rank(frog: Raw | undefined): number {
    return frog !== undefined && changes(frog) ? 0 : 1;
  }
}

/** What contacts the file gives away, and the ones that are left. */
function contactsOf(panel: PanelFile, wiring: Wiring) {
  const used = new Set<string>();
  const statedFor = new Map<string, string>();
  for (const frog of panel.frogs ?? []) if (frog.from !== undefined && frog.kind !== 'module') used.add(frog.from);
  for (const drive of panel.drives ?? [])
    for (const [name, by] of Object.entries(drive.contacts ?? {})) {
      used.add(`${drive.id}.${name}`);
      if (by.startsWith(FROG)) statedFor.set(by.slice(FROG.length), `${drive.id}.${name}`);
    }
  // Lamps have theirs already, from the last free one down.
  for (const { id, carrier } of wiring.contacts) if (carrier.kind === 'drive') used.add(id);
  const ofPoint = new Map<string, WiredDrive>(
    wiring.drives.flatMap((drive) => drive.points.map((point) => [point, drive] as const)),
  );
  return {
    statedFor: (frog: string | null): string | null => (frog === null ? null : (statedFor.get(frog) ?? null)),
    /** The first free contact of a point's drive, used from then on; null where it has none. */
    take(point: string): string | null {
      const drive = ofPoint.get(point);
      for (let number = 1; drive !== undefined && number <= drive.part.contacts; number++) {
        const id = `${drive.id}.c${number}`;
        if (used.has(id)) continue;
        used.add(id);
        return id;
      }
      return null;
    },
  };
}

/** How a list says when a case holds: "P1=normal", or the strip of a diamond's line in use. */
export function caseText({ when, strip }: FrogCase): string {
  return Object.keys(when).length > 0 ? liesText(when) : (strip ?? '');
}

/** Stock rails of a body's frog, by hand. */
export function railsOfFrog(
  body: Body,
  index: number,
): readonly { readonly port: number; readonly hand: Rail; readonly rail: Rail }[] {
  return body.ports.flatMap((port, i) =>
    (['left', 'right'] as const)
      .filter((hand) => port[hand] === index)
      .map((hand) => ({ port: i, hand, rail: railOfSpan(port, hand) })),
  );
}
