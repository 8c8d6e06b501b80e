/** From a derived panel to what Run draws: plain data, small enough to be cloned at every opening. */
import type { DerivedPanel, whyOf } from '../../derive.ts';
import type { DrawnPanel, LeverPositions } from '../../derive-panel.ts';
import type { PanelFile } from '../../panel/index.ts';
import { presser } from '../../routes/index.ts';
import type { Millimetre, Spot } from '../../units/index.ts';
import { buttonsThatThrow, type Look, type Position, type Reading } from '../../wiring/index.ts';
import { nearestOn } from '../run/geometry.ts';
import type { LayFinding, View, ViewFinding, ViewLamp, ViewLever, ViewPoint, ViewReading } from './types.ts';

/** A lamp this near to a route's line stands on it: half of the widest usual tape, and what a bend takes off a corner. */
const ON_LINE: Millimetre = 3.5;

/** Everything that Run draws from, with the levers as given. */
export function makeView(derived: DrawnPanel, asked: LeverPositions): View {
  const { panel, plan, face, wiring, counts } = derived;
  const levers = plan.levers.map((lever): ViewLever => {
    const centreOff =
      wiring.circuits.find(({ id }) => id === lever.id)?.positions.includes('centre') ??
      face.levers.find(({ id }) => id === lever.id)?.centreOff ??
      false;
    return {
      id: lever.id,
      name: lever.name,
      at: face.levers.find(({ id }) => id === lever.id)?.at ?? lever.at,
      works: lever.works.map(({ point }) => point),
      positions: centreOff ? ['normal', 'centre', 'reverse'] : ['normal', 'reverse'],
    };
  });
  const points = plan.points.map((point): ViewPoint => {
    const lever = plan.levers.find(({ works }) => works.some((worked) => worked.point === point.id));
    return {
      id: point.id,
      at: point.at,
      lever: lever?.id ?? null,
      whenNormal: lever?.works.find((worked) => worked.point === point.id)?.whenNormal ?? 'normal',
      normalTo: stripName(panel, point.normalStrip),
      reverseTo: stripName(panel, point.reverseStrip),
    };
  });
  const routes = derived.routes();
  const buttons = buttonsThatThrow(panel, wiring.buttons);
  const press = presser(plan, buttons);
  const places = plan.places.map(({ id, name, at }) => ({ id, name: name ?? id, at }));
  return {
    name: panel.name ?? '',
    revision: panel.revision ?? '',
    face,
    places,
    points,
    levers,
    buttons,
    lamps: derived.lamps.map(({ id, at }): ViewLamp => ({ id, on: stripUnder(panel, at) })),
    routes: routes.routes.map(({ from, to, points: asks, levers: sets, why, through, path }) => {
      const beyond = sets === null ? press(asks) : null;
      return {
        from,
        to,
        points: asks,
        levers: beyond?.levers ?? sets,
        presses: beyond?.buttons ?? [],
        why: beyond === null ? why : null,
        through,
        path,
        lamps: derived.lamps.filter(({ at }) => nearestOn(at, path).gap <= ON_LINE).map(({ id }) => id),
      };
    }),
    cut: routes.cut,
    conflicts: derived.conflicts(),
    supplies: wiring.supplies.map(({ id, amps }) => ({
      id,
      name: panel.supplies?.find((record) => record.id === id)?.name ?? id,
      rating: amps,
    })),
    counts,
    reading: makeReading(derived.operate(takePositions(levers, asked))),
  };
}

/** The positions that these levers have, of those asked for. */
export function takePositions(levers: readonly ViewLever[], asked: LeverPositions): LeverPositions {
  const taken: Record<string, Position> = {};
  for (const { id, positions } of levers) {
    const position = asked[id];
    if (position !== undefined && positions.includes(position)) taken[id] = position;
  }
  return taken;
}

/** A reading as Run shows it. */
export function makeReading(reading: Reading): ViewReading {
  const looks: Record<string, Look> = {};
  for (const { id, look } of reading.lamps) looks[id] = look;
  const amps: Record<string, number> = {};
  for (const supply of reading.supplies) amps[supply.id] = supply.amps;
  return { levers: reading.levers, looks, amps, unsolved: reading.problems.length > 0 };
}

/** What a code means; it comes with what judges, which is fetched later. */
type WhyOf = typeof whyOf;

/** Findings as Run lists them, in the order given. */
export function makeFindings(derived: DerivedPanel, whyOf: WhyOf): readonly ViewFinding[] {
  return makeLayFindings(derived, whyOf).map((finding) => ({
    ...finding,
    mends: finding.mends.map(({ text }) => text),
  }));
}

/** The same as Lay lists them, with the edits that mend. */
export function makeLayFindings(derived: DerivedPanel, whyOf: WhyOf): readonly LayFinding[] {
  return derived.findings().map(({ code, severity, where, message, mends }) => ({
    code,
    severity,
    ids: where.ids,
    at: where.at,
    message,
    why: whyOf(code),
    mends,
  }));
}

const stripName = (panel: PanelFile, id: string): string => panel.strips.find((strip) => strip.id === id)?.name ?? id;

/** Name of the strip whose line is nearest. */
function stripUnder(panel: PanelFile, at: Spot): string {
  let best: { readonly id: string; readonly gap: number } | null = null;
  for (const { id, path } of panel.strips) {
    const { gap } = nearestOn(at, path);
    if (best === null || gap < best.gap) best = { id, gap };
  }
  return best === null ? '' : stripName(panel, best.id);
}
