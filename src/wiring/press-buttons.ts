/** Points that buttons throw: the poles of each button, and the pulse feed that they need. */
import { feedOf, type Lies, type PanelFile, type Supply } from '../panel/index.ts';
import type { Catalogue } from '../parts/index.ts';
import type { Spot } from '../units/index.ts';
import { hasCoils } from './drives.ts';
import type { Join } from './join.ts';
import { canFeed, type FeedNets, type LeverFeed } from './lay-feed.ts';
import { chain, type Net, type Rails, railNames } from './rails.ts';
import type { WiredButton, WiredDrive, WiringProblem } from './types.ts';

export interface Pressed {
  /** Drives that buttons throw, with their circuit and feed, by id. */
  readonly drives: ReadonlyMap<string, WiredDrive>;
  /** One entry for each button and circuit that it works in. */
  readonly buttons: readonly WiredButton[];
  readonly feeds: ReadonlyMap<string, LeverFeed>;
  lay(circuit: string, feed: LeverFeed, rails: Rails, joins: Join[]): FeedNets;
  /** Buttons beside a lever's pole: each brings plus to the coil that it throws. */
  beside(lever: string, feed: LeverFeed, nets: FeedNets, rails: Rails): void;
  /** Does any button of a circuit send its drive this way? */
  throws(circuit: string, lie: 'normal' | 'reverse'): boolean;
}

/**
 * Each pole of a button throws one point, in the order of `sets`. A button works drives of two coils on a pulse feed; everything else, and
 * more points than poles, is reported and left out.
 */
export function pressButtons(
  panel: PanelFile,
  catalogue: Catalogue,
  drives: readonly WiredDrive[],
  supplies: readonly Supply[],
  problems: WiringProblem[],
): Pressed {
  const feed = feedOf(panel);
  const supply = supplies.find(({ id }) => id === feed.supplies[0]);
  const thrown = new Map<string, WiredDrive>();
  const buttons: WiredButton[] = [];
  for (const { id, part: wanted, sets } of panel.buttons ?? []) {
    const part = catalogue.find('button', wanted ?? PUSH) ?? catalogue.find('button', PUSH);
    if (part === undefined) throw new RangeError(`the catalogue holds no ${PUSH}`);
    for (const [i, [point, lie]] of Object.entries(sets ?? {}).entries()) {
      const say = (why: 'feed' | 'drive' | 'poles' | 'unknown') =>
        problems.push({ code: 'button-unfit', button: id, point, why });
      const drive = drives.find(({ points }) => points.includes(point));
      const ask = drive?.asks.find((each) => each.point === point);
      if (drive === undefined || ask === undefined) say('unknown');
      else if (!hasCoils(drive.part)) say('drive');
      else if (!hasPulses(drive)) say('feed');
      else if (i >= part.poles) say('poles');
      else {
        const circuit = drive.circuit ?? drive.points[0] ?? point;
        // What a lever throws as well keeps the lever's circuit, and the button stands beside its pole.
        if (drive.circuit === null) thrown.set(drive.id, { ...drive, circuit, feed: 'pulse' });
        const [a, b] = [`${id}.t${2 * i + 1}`, `${id}.t${2 * i + 2}`];
        // The lie of the drive's first point tells the coil; `goes` is where the drive's normal takes it.
        const normal = ask.goes === lie ? 'normal' : 'reverse';
        const poles = [{ id: `${id}.${i + 1}`, a, b, point, lie: normal } as const];
        buttons.push({ id, part, circuit, poles });
      }
    }
  }
  const feeds = new Map<string, LeverFeed>(
    supply === undefined
      ? []
      : [...thrown.values()].map((drive) => [drive.circuit ?? '', { kind: 'pulse', supplies: [supply], farads: null }]),
  );
  return { drives: feeds.size === 0 ? new Map() : thrown, buttons, feeds, lay, beside, throws };

  function polesOf(circuit: string): readonly WiredButton['poles'][number][] {
    return buttons.flatMap((each) => (each.circuit === circuit ? each.poles : []));
  }

  function beside(lever: string, own: LeverFeed, nets: FeedNets, rails: Rails): void {
    const plus = railNames.plus(own.supplies[0]?.id ?? '');
    for (const { a, b, lie } of polesOf(lever)) {
      rails.reach(plus, a, lever);
      (lie === 'normal' ? nets.near : (nets.reverse ?? nets.near)).reach(b);
    }
  }

  function throws(circuit: string, lie: 'normal' | 'reverse'): boolean {
    return polesOf(circuit).some((pole) => pole.lie === lie);
  }

  /** Beside a lever the lever's own feed counts; alone a button stands on the panel's. */
  function hasPulses({ circuit }: WiredDrive): boolean {
    if (circuit === null) return feed.kind === 'pulse' && supply !== undefined && canFeed('pulse', supply.kind);
    const lever = panel.levers?.find(({ id }) => id === circuit);
    return feedOf(panel, lever).kind === 'pulse';
  }

  function lay(circuit: string, own: LeverFeed, rails: Rails, joins: Join[]): FeedNets {
    const [first] = own.supplies;
    const minus = railNames.minus(first?.id ?? '');
    const coils: Record<'normal' | 'reverse', Net | null> = { normal: null, reverse: null };
    for (const { a, b, lie } of polesOf(circuit)) {
      rails.reach(railNames.plus(first?.id ?? ''), a, circuit);
      const net = coils[lie];
      if (net === null) coils[lie] = chain(joins, circuit, b, `${circuit}.${lie === 'normal' ? 't1' : 't3'}`);
      else net.reach(b);
    }
    const none = (tag: string) => chain(joins, circuit, `${circuit}.${tag}`);
    return {
      near: coils.normal ?? none('t1'),
      far: rails.net(minus, circuit),
      reverse: coils.reverse ?? none('t3'),
      back: minus,
      power: null,
      pulses: null,
    };
  }
}

const PUSH = 'push-1p';

/** A push button of the file with the points that it truly throws: of those that it names, the ones that a pole of it is wired for. */
export interface ThrownBy {
  readonly id: string;
  readonly name: string | null;
  readonly at: Spot;
  readonly sets: Lies;
}

/** The push buttons that throw anything, in the order of the file. */
export function buttonsThatThrow(panel: PanelFile, wired: readonly WiredButton[]): readonly ThrownBy[] {
  return (panel.buttons ?? []).flatMap(({ id, name = null, at, sets = {} }) => {
    const points = wired.find((button) => button.id === id)?.poles.map(({ point }) => point) ?? [];
    const thrown = Object.entries(sets).filter(([point]) => points.includes(point));
    return thrown.length === 0 ? [] : [{ id, name, at, sets: Object.fromEntries(thrown) }];
  });
}
