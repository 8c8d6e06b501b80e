/** The sheet as it will be made: tape, lamps, levers, plates, holes, and what is wrong with it. */
import type { LeverSwitch } from '../contacts/index.ts';
import type { LampUse } from '../lamps/index.ts';
import { DEFAULTS, faceOf, keptFor, newIds, type PanelFile } from '../panel/index.ts';
import type { Catalogue } from '../parts/index.ts';
import { byId, type Plan } from '../plan/index.ts';
import type { Degree, Millimetre, Spot } from '../units/index.ts';
import { drawStrip } from './draw-strip.ts';
import { type Body, findProblems, type ProblemInput } from './find-problems.ts';
import { gap } from './path.ts';
import { type PlateInput, placePlates } from './place-plates.ts';
import type { Box } from './shapes.ts';
import { orderStrips } from './strip-order.ts';
import { RELAY_BODY, RELAY_DEPTH, RIM, TAB_REACH, TOUCH } from './tolerances.ts';
import type { DrawnLamp, DrawnLever, DrawnPlatform, Face, Hole } from './types.ts';

/** Lay out everything on the sheet. Total: what is wrong with it is in `problems`. */
export function layFace(
  panel: PanelFile,
  catalogue: Catalogue,
  plan: Plan,
  switches: readonly LeverSwitch[],
  lampUses: readonly LampUse[],
): Face {
  const size = faceOf(
    panel,
    plan.levers.map((lever) => lever.at),
  );
  const strips = tapesOf(panel.strips);
  const lamps = [...lampUses]
    .sort((a, b) => byId(a.id, b.id))
    .map(
      ({ id, of, at, part }): DrawnLamp => ({
        id,
        at,
        size: part.size,
        drill: drillOf(of, at, part.hole),
        colour: part.colour,
      }),
    );
  const partOf = new Map(switches.map((each) => [each.lever, each.part]));
  const sorted = [...plan.levers].sort((a, b) => byId(a.id, b.id));
  const levers = sorted.flatMap(({ id, at, angle }): DrawnLever[] => {
    const part = partOf.get(id);
    if (part === undefined) return [];
    const { nut, driver, body, depth, poles, centreOff } = part;
    return [{ id, at, angle, drill: drillOf(id, at, part.hole), nut, driver, body, depth, poles, centreOff }];
  });
  const buttons = [...(panel.buttons ?? [])]
    .sort((a, b) => byId(a.id, b.id))
    .flatMap((record) => {
      const part = catalogue.find('button', record.part ?? DEFAULTS.button.part);
      return part === undefined ? [] : [{ record, part, drill: drillOf(record.id, record.at, part.hole) }];
    });
  const relays = [...(panel.relays ?? [])]
    .sort((a, b) => byId(a.id, b.id))
    .flatMap(({ id, at }) => (at === undefined ? [] : [{ id, at, body: RELAY_BODY, depth: RELAY_DEPTH }]));
  const free = idMaker(panel);
  const fixings = (panel.face?.fixings ?? []).map(({ at, drill }) => ({ id: free('fixing'), at, drill }));
  const plateIds = (panel.plates ?? []).map(() => free('plate'));
  const platforms = (panel.platforms ?? []).map(
    ({ at, size: across, names }): DrawnPlatform => ({
      at,
      size: across,
      names: (names ?? []).map((name) => ({ at: name.at, text: name.text, anchor: name.anchor ?? 'middle' })),
    }),
  );

  const owner: (readonly [hole: string, owner: string])[] = [];
  const names = new Map(plan.levers.map((lever) => [lever.id, lever.name?.trim() || lever.id]));
  const ofId = new Map(lampUses.map((use) => [use.id, use.of]));
  const usesOf = new Map<string, LampUse[]>();
  for (const use of lampUses) usesOf.set(use.of, [...(usesOf.get(use.of) ?? []), use]);
  // Both elements of a lamp of two colours stand in one hole.
  const inHole = new Set<string>();
  const unnumbered: Omit<Hole, 'no'>[] = lamps.flatMap(({ id, at, drill }): Omit<Hole, 'no'>[] => {
    const lamp = ofId.get(id) ?? id;
    if (inHole.has(lamp)) return [];
    inHole.add(lamp);
    return [{ id: lamp, at, drill, what: 'lamp', for: (usesOf.get(lamp) ?? []).map(lampFor).join(' and ') }];
  });
  for (const { id, at, drill, angle } of levers) {
    unnumbered.push({ id, at, drill, what: 'lever', for: names.get(id) ?? id });
    const tab = partOf.get(id)?.tabHole ?? 0;
    if (tab <= 0) continue;
    owner.push([tabId(id), id]);
    unnumbered.push({ id: tabId(id), at: tabSpot(at, angle), drill: tab, what: 'tab', for: `Tab of ${id}` });
  }
  for (const { record, drill } of buttons) {
    const { id, at, name } = record;
    unnumbered.push({ id, at, drill, what: 'button', for: name ?? id });
  }
  for (const { id, at, drill } of fixings) unnumbered.push({ id, at, drill, what: 'fixing', for: 'Fixing screw' });
  const holes = unnumbered.map((hole, i): Hole => ({ no: i + 1, ...hole }));

  const { width, height, thickness, material, view, colour } = size;
  const plates = platesOn(panel.strips, {
    records: panel.plates ?? [],
    buttons: (panel.buttons ?? []).map(({ at }) => at),
    points: plan.points.map(({ at }) => at),
    works: plan.levers,
    places: plan.places,
    width,
    height,
    lamps,
    levers,
    platforms,
    fixings,
    strips,
    plateIds,
  });
  const face: Omit<Face, 'problems'> = {
    width,
    height,
    thickness,
    material,
    view,
    strips,
    lamps,
    levers,
    buttons: buttons.map(({ record, drill }) => ({ id: record.id, at: record.at, drill, rim: drill + RIM })),
    plates,
    platforms,
    fixings,
    relays,
    holes,
  };
  const bodies: readonly Body[] = [
    ...levers.map(({ id, at, body, angle, depth }) => ({ id, at, size: body, angle, depth })),
    ...buttons.map(({ record, part }) => ({ id: record.id, at: record.at, size: part.body, angle: 0, depth: null })),
    ...relays.map(({ id, at, body, depth }) => ({ id, at, size: body, angle: 0, depth })),
  ];
  const problems = problemsOn(panel.strips, {
    face,
    bodies,
    owner,
    keepOut: (panel.face?.keepOut ?? []).map(({ at, size: across }) => boxFrom(at, across)),
    boxDepth: panel.face?.box?.depth ?? null,
    paint: colour,
  });
  return { ...face, problems };

  /** What is drilled stays as it is drilled, where it still is. */
  function drillOf(id: string, at: Spot, usual: Millimetre): Millimetre {
    const built = panel.built?.holes?.[id];
    return built !== undefined && gap(built.at, at) <= TOUCH ? built.drill : usual;
  }
}

/** Tape in the order in which it is laid, as strokes. */
const tapesOf = keptFor((strips: PanelFile['strips']): Face['strips'] => orderStrips(strips).map(drawStrip));

const platesOn = keptFor((tape: PanelFile['strips'], input: Omit<PlateInput, 'tape'>) =>
  placePlates({ ...input, tape }),
);

const problemsOn = keptFor((_tape: PanelFile['strips'], input: ProblemInput) => findProblems(input));

/** "L5 normal" where one lever says it; else the lies that it claims; else what it is there for. */
function lampFor(use: LampUse): string {
  if (use.lever !== null && use.lie !== null) return `${use.lever} ${use.lie}`;
  const claims = use.claim.map((lies) =>
    Object.entries(lies)
      .map(([point, lie]) => `${point} ${lie}`)
      .join(' and '),
  );
  return claims.length > 0 ? claims.join(' or ') : use.kind;
}

function tabId(lever: string): string {
  return `${lever}.tab`;
}

/** The keyway of a bush is on the side of normal: above it where the lever is not turned. */
function tabSpot([x, y]: Spot, angle: Degree): Spot {
  const turn = (angle * Math.PI) / 180;
  return [x + TAB_REACH * Math.sin(turn), y - TAB_REACH * Math.cos(turn)];
}

function boxFrom([x, y]: Spot, [across, down]: Spot): Box {
  return [Math.min(x, x + across), Math.min(y, y + down), Math.max(x, x + across), Math.max(y, y + down)];
}

/** Names for what has no id in the file: a word and the next number that the file does not use. */
function idMaker(panel: PanelFile): (word: string) => string {
  const names = newIds(panel);
  return (word) => names.next(`${word}-`);
}
