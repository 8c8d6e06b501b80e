/**
 * What the stage Work draws and says of a panel, as plain data: first who works what, from what lies on the sheet alone; then, piece by piece,
 * what takes longer, so that a hand is answered in between.
 */
import { type DriveTrap, drivesOfPoints, driveTrap, polesForLever } from '../../contacts/index.ts';
import { type Derived, type DerivedPanel, deriveMore } from '../../derive.ts';
import type { SketchedPanel } from '../../derive-panel.ts';
import { actionOf, sizeOf, switchLike, TOGGLE_SIZES, type ToggleSize } from '../../laying/index.ts';
import { DEFAULTS, feedOf, keptFor, type Lie, lightingOf, type PanelFile } from '../../panel/index.ts';
import { type DrivePart, TOGGLE_ACTIONS, type ToggleAction } from '../../parts/index.ts';
import { byId, type Plan, pointsWithoutLever } from '../../plan/index.ts';
import {
  type Beside,
  besideRoute,
  countConflicts,
  type FewestLevers,
  fewestLevers,
  findLosses,
  type Join,
  type JoinedAs,
  joinedAs,
  joinLevers,
  type Losses,
  type NamedRoute,
  nameLosses,
  presser,
  type RouteList,
} from '../../routes/index.ts';
import type { Ampere, Spot } from '../../units/index.ts';
import { buttonsThatThrow, canWork } from '../../wiring/index.ts';

/** One point that a lever works. */
export interface WorkedPoint {
  readonly point: string;
  /** It takes the other lie than the lever. */
  readonly opposite: boolean;
}

/** The switch of a lever, and what it could be instead. */
export interface WorkSwitch {
  readonly part: string;
  readonly name: string;
  readonly action: ToggleAction;
  /** Null: a part of the user's own. */
  readonly size: ToggleSize | null;
  readonly poles: number;
  readonly used: number;
  /** Poles that the feed takes, of those used. */
  readonly feed: number;
  /** Does the file name it? */
  readonly given: boolean;
  readonly price: number;
  /** The part of each other kind and size; null where it is not had. */
  readonly actions: Readonly<Record<ToggleAction, string | null>>;
  readonly sizes: Readonly<Record<ToggleSize, string | null>>;
}

export interface WorkLever {
  readonly id: string;
  readonly name: string | null;
  readonly at: Spot;
  readonly works: readonly WorkedPoint[];
  /** It works something besides points. */
  readonly more: boolean;
  readonly switch: WorkSwitch;
}

export interface WorkPoint {
  readonly id: string;
  readonly at: Spot;
  /** The levers that work it: one, as a rule. */
  readonly levers: readonly string[];
  /** The part that drives it. */
  readonly drive: string;
  readonly what: DrivePart['what'];
  /** Other points on the same drive. */
  readonly shares: readonly string[];
  /** A hand or a decoder works it, and no lever can. */
  readonly free: boolean;
  /** Does the file name its kind of drive? */
  readonly given: boolean;
}

/** A kind of drive that the catalogue holds. */
export interface WorkDrive {
  readonly part: string;
  readonly name: string;
  readonly what: DrivePart['what'];
  readonly price: number;
  readonly trap: DriveTrap;
  /** Can the panel's feed work it? */
  readonly suits: boolean;
  readonly points: number;
}

/** Who works what: all that must follow a hand. */
export interface WorkView {
  readonly levers: readonly WorkLever[];
  readonly points: readonly WorkPoint[];
  /** By kind, as the trade lists them; the user's own beside their like. */
  readonly drives: readonly WorkDrive[];
  readonly places: readonly { readonly id: string; readonly name: string }[];
  readonly poles: { readonly used: number; readonly of: number };
  readonly feed: NonNullable<NonNullable<PanelFile['feed']>['kind']>;
  readonly scheme: NonNullable<NonNullable<PanelFile['lighting']>['scheme']>;
}

/** A route of the control table. */
export interface WorkRoute {
  readonly from: string;
  readonly to: string;
  readonly through: readonly string[];
  /** A sign for each lever, in their order: N, R, or a blank. */
  readonly cells: string;
  /** Push buttons that it takes beyond its levers. */
  readonly presses: readonly string[];
  readonly why: string | null;
}

interface Counts {
  readonly routes: number;
  /** Pairs and meets: two routes that could stand at once. */
  readonly pairs: number;
}

/** What is lost, counted, with the first few by name. */
export interface WorkLosses extends Counts {
  readonly named: readonly NamedRoute[];
  readonly pair: readonly [NamedRoute, NamedRoute] | null;
}

export type WorkPart = 'routes' | 'grouping' | 'joins' | 'current';

export interface WorkPieces {
  readonly routes: { readonly routes: readonly WorkRoute[]; readonly cut: boolean; readonly pairs: number };
  readonly grouping: {
    readonly lost: WorkLosses;
    /** Levers that lose nothing, and that lose no route: the fewest, or the best found. */
    readonly least: number;
    readonly leastForRoutes: number;
    readonly proved: boolean;
    readonly groups: FewestLevers['groups'];
  };
  readonly joins: {
    /** Levers that work two points and more. */
    readonly now: readonly { readonly lever: string; readonly as: JoinedAs; readonly loses: WorkLosses }[];
    readonly could: readonly {
      readonly levers: Join['levers'];
      readonly opposite: boolean;
      readonly saves: number | null;
      readonly loses: WorkLosses;
    }[];
    /** So many more joins there are. */
    readonly more: number;
  };
  readonly current: {
    readonly supplies: readonly {
      readonly id: string;
      readonly name: string;
      readonly amps: Ampere;
      readonly steady: Ampere;
      readonly rating: Ampere;
    }[];
    /** Drives that may move when the supply comes on. */
    readonly moves: number;
    readonly contacts: readonly {
      readonly drive: string;
      readonly has: number;
      readonly frogs: number;
      readonly lamps: number;
      readonly other: number;
      readonly left: number;
    }[];
  };
}

/** A piece, with what it is. */
export type WorkPiece = { readonly [P in WorkPart]: { readonly part: P } & WorkPieces[P] }[WorkPart];

/** One route, with what can and cannot stand beside it. */
export interface WorkRouteView {
  readonly route: number;
  readonly path: readonly Spot[];
  readonly beside: readonly Beside[];
}

/** Joins that are told by name: more are not weighed against each other. */
const MOST_JOINS = 12;
/** Lost routes that are named. */
const MOST_NAMED = 3;

/** Who works what, of what lies on the sheet. */
export function makeWorkView({
  panel,
  catalogue,
  plan,
  switches,
}: Pick<SketchedPanel, 'panel' | 'catalogue' | 'plan' | 'switches'>): WorkView {
  const records = new Map((panel.levers ?? []).map((record) => [record.id, record]));
  const workers = new Map<string, string[]>();
  for (const { id, works } of plan.levers)
    for (const { point } of works) workers.set(point, [...(workers.get(point) ?? []), id]);
  const free = pointsWithoutLever(panel, plan.points);
  const drives = drivesOfPoints(panel, catalogue, plan);
  const onDrive = new Map<string, string[]>();
  for (const { point, drive } of drives.values()) onDrive.set(drive, [...(onDrive.get(drive) ?? []), point]);
  const points = plan.points.map(({ id, at, record }): WorkPoint => {
    const own = drives.get(id);
    return {
      id,
      at,
      levers: workers.get(id) ?? [],
      drive: own?.part?.id ?? DEFAULTS.drive.part,
      what: own?.part?.what ?? 'stall',
      shares: (onDrive.get(own?.drive ?? id) ?? []).filter((other) => other !== id),
      free: free.has(id),
      given: record?.drive !== undefined,
    };
  });
  const levers = plan.levers.map(({ id, name, at, works }): WorkLever => {
    const record = records.get(id);
    const own = switches.find(({ lever }) => lever === id);
    if (own === undefined) throw new RangeError(`no switch for ${id} among ${switches.length}`);
    const { part } = own;
    const like = (wanted: Parameters<typeof switchLike>[2]) => switchLike(catalogue, part, wanted)?.id ?? null;
    return {
      id,
      name,
      at,
      works: works.map(({ point, whenNormal }) => ({ point, opposite: whenNormal === 'reverse' })),
      more: record?.works?.some(({ point }) => point === undefined) === true,
      switch: {
        part: part.id,
        name: part.name,
        action: actionOf(part),
        size: sizeOf(part.id),
        poles: part.poles,
        used: own.used,
        feed: Math.min(own.used, polesForLever(panel, record)),
        given: own.given,
        price: part.price,
        actions: each(TOGGLE_ACTIONS, (action) => like({ action })),
        sizes: each(TOGGLE_SIZES, (size) => like({ size })),
      },
    };
  });
  const feed = feedOf(panel).kind;
  return {
    levers,
    points,
    drives: [...catalogue.all('drive')].sort(byKind).map((part) => ({
      part: part.id,
      name: part.name,
      what: part.what,
      price: part.price,
      trap: driveTrap(panel, part.what),
      suits: part.what === 'hand' || part.what === 'decoder' || canWork(feed, part),
      points: points.filter(({ drive }) => drive === part.id).length,
    })),
    places: plan.places.map(({ id, name }) => ({ id, name: name ?? id })),
    poles: {
      used: levers.reduce((sum, lever) => sum + lever.switch.used, 0),
      of: levers.reduce((sum, lever) => sum + lever.switch.poles, 0),
    },
    feed,
    scheme: lightingOf(panel).scheme,
  };
}

const KINDS: readonly DrivePart['what'][] = [
  'stall',
  'limit',
  'twin-coil',
  'twin-coil-end-off',
  'servo',
  'decoder',
  'hand',
];

function byKind(a: DrivePart, b: DrivePart): number {
  return KINDS.indexOf(a.what) - KINDS.indexOf(b.what) || byId(a.id, b.id);
}

function each<K extends string, V>(keys: readonly K[], make: (key: K) => V): Readonly<Record<K, V>> {
  return Object.fromEntries(keys.map((key) => [key, make(key)])) as Record<K, V>;
}

/** What the track alone says of levers: as long as it stays, their number need not be looked for again. */
interface TrackSays {
  readonly panel: PanelFile;
  readonly without: string;
  readonly fewest: FewestLevers;
  readonly forRoutes: FewestLevers;
}

/** What the track of the panel last asked about says. */
let track: TrackSays | null = null;

/** All that follows of a panel that was judged, once for each. */
const moreOf = keptFor((judged: DerivedPanel): Derived => deriveMore(judged));

/** One piece; each takes its own time, and what it needs of the others is worked out once. */
export function makeWorkPiece(judged: DerivedPanel, part: WorkPart): WorkPiece {
  const derived = moreOf(judged);
  switch (part) {
    case 'routes':
      return { part, ...routesOf(derived) };
    case 'grouping':
      return { part, ...groupingOf(derived) };
    case 'joins':
      return { part, ...joinsOf(derived) };
    case 'current':
      return { part, ...currentOf(derived) };
  }
}

function groupingOf({ panel, plan, routes }: Derived): WorkPieces['grouping'] {
  const list = routes();
  const { fewest, forRoutes } = fewestOf(panel, plan, list);
  return {
    lost: told(plan, list, findLosses(plan, list.routes), null),
    least: fewest.least,
    leastForRoutes: forRoutes.least,
    proved: fewest.proved && forRoutes.proved,
    groups: fewest.groups,
  };
}

function fewestOf(panel: PanelFile, plan: Plan, list: RouteList): TrackSays {
  const free = pointsWithoutLever(panel, plan.points);
  const without = [...free].sort().join(' ');
  const known = track;
  const isSame = (['strips', 'points', 'crossings', 'threeWays', 'places'] as const).every((key) =>
    Object.is(known?.panel[key], panel[key]),
  );
  if (known !== null && isSame && known.without === without) return known;
  const fewest = fewestLevers(plan, list, free);
  const forRoutes = fewestLevers(plan, list, free, 'routes');
  track = { panel, without, fewest, forRoutes };
  return track;
}

function routesOf({ panel, plan, wiring, routes }: Derived): WorkPieces['routes'] {
  const { routes: all, cut } = routes();
  const levers = plan.levers.map(({ id }) => id);
  const press = presser(plan, buttonsThatThrow(panel, wiring.buttons));
  const sign = (lie: Lie | undefined) => (lie === undefined ? ' ' : lie === 'normal' ? 'N' : 'R');
  return {
    routes: all.map(({ from, to, through, points, levers: asks, why }) => {
      const beyond = asks === null ? press(points) : null;
      const lies = beyond?.levers ?? asks;
      return {
        from,
        to,
        through,
        cells: levers.map((id) => sign(lies?.[id])).join(''),
        presses: beyond?.buttons ?? [],
        why: beyond === null ? why : null,
      };
    }),
    cut,
    pairs: (all.length * (all.length - 1)) / 2 - countConflicts(all),
  };
}

function joinsOf({ plan, routes, joins }: Derived): WorkPieces['joins'] {
  const list = routes();
  const now = findLosses(plan, list.routes);
  // Of the two ways to join two levers the one that loses less: it stands first.
  const seen = new Set<string>();
  const all = joins().joins.filter(({ levers }) => {
    const key = [...levers].sort().join(' ');
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
  return {
    now: plan.levers.flatMap((lever) => {
      const as = joinedAs(plan, list.routes, lever.works);
      if (as === null) return [];
      const loses =
        as === 'clash' ? told(plan, list, now, findLosses(plan, list.routes, parted(plan, lever.id))) : NONE;
      return [{ lever: lever.id, as, loses }];
    }),
    could: all.slice(0, MOST_JOINS).map((join) => {
      const { routes: r, pairs, meets } = join.loses;
      const joined = joinLevers(plan.levers, join);
      const loses =
        r + pairs + meets === 0 ? NONE : told(plan, list, findLosses(plan, list.routes, joined), now, joined);
      return { levers: join.levers, opposite: join.opposite, saves: join.saves, loses };
    }),
    more: Math.max(0, all.length - MOST_JOINS),
  };
}

const NONE: WorkLosses = { routes: 0, pairs: 0, named: [], pair: null };

/** The levers with every point of one of them on a lever of its own. */
function parted(plan: Plan, lever: string): Plan['levers'] {
  return plan.levers.flatMap((each) =>
    each.id === lever ? each.works.map((work, i) => ({ ...each, id: `${each.id}/${i}`, works: [work] })) : [each],
  );
}

/** What is lost beyond what is lost otherwise. */
function told(
  plan: Plan,
  list: RouteList,
  lost: Losses,
  otherwise: Losses | null,
  levers: Plan['levers'] = plan.levers,
): WorkLosses {
  const key = ([i, j]: readonly [number, number]) => `${i} ${j}`;
  const routes = new Set(otherwise?.routes);
  const pairs = new Set([...(otherwise?.pairs ?? []), ...(otherwise?.meets ?? [])].map(key));
  const more = {
    routes: lost.routes.filter((i) => !routes.has(i)),
    pairs: lost.pairs.filter((pair) => !pairs.has(key(pair))),
    meets: lost.meets.filter((pair) => !pairs.has(key(pair))),
  };
  const { routes: named, pairs: p, meets: m } = nameLosses(plan, list.routes, { ...lost, ...more }, levers, MOST_NAMED);
  const { counts } = lost;
  const before = otherwise?.counts ?? { routes: 0, pairs: 0, meets: 0 };
  return {
    // A pair of which one route is lost altogether is no lost pair any more.
    routes: Math.max(0, counts.routes - before.routes),
    pairs: Math.max(0, counts.pairs + counts.meets - before.pairs - before.meets),
    named: named.map(({ index, from, to, through }) => ({ index, from, to, through })),
    pair: p[0] ?? m[0] ?? null,
  };
}

function currentOf({ panel, wiring, contactBudget, powerUp }: Derived): WorkPieces['current'] {
  const up = powerUp();
  return {
    supplies: up.supplies.map(({ id, amps, steady }) => ({
      id,
      name: panel.supplies?.find((record) => record.id === id)?.name ?? id,
      amps,
      steady,
      rating: wiring.supplies.find((supply) => supply.id === id)?.amps ?? 0,
    })),
    moves: up.drives.filter(({ does }) => does !== 'stays').length,
    contacts: contactBudget().map(({ drive, has, frogs, lamps, other, left }) => ({
      drive,
      has,
      frogs,
      lamps,
      other,
      left,
    })),
  };
}

/** One route of the list with what stands beside it; null where there is none of this number. */
export function makeRouteView({ routes }: Pick<DerivedPanel, 'routes'>, route: number): WorkRouteView | null {
  const all = routes().routes;
  const picked = all[route];
  return picked === undefined ? null : { route, path: picked.path, beside: besideRoute(all, route) };
}
