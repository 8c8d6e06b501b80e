/** A hand at random: edits of every kind that laying knows, on whatever lies on the sheet, sensible or not. */
import {
  addBend,
  alignThings,
  copyThings,
  drawOn,
  duplicateThings,
  joinStripEnds,
  layCrossover,
  layLadder,
  layLead,
  layLoop,
  laySlip,
  layStrip,
  liftStrips,
  mirrorThings,
  moveCorner,
  moveStrips,
  moveThings,
  namePlace,
  PICK_LISTS,
  type Picked,
  pasteClip,
  putButton,
  putFixing,
  putKeepOut,
  putLamp,
  putLever,
  putMissingLevers,
  putPlate,
  putPlatform,
  removeThings,
  reorderStrips,
  type Selection,
  setStrip,
  setThing,
  spaceThings,
  splitStripAt,
  strewAlong,
  strewLegs,
  strewSpan,
  swapLies,
  takeOutBend,
  turnRound,
  turnThings,
} from '../../src/laying/index.ts';
import type { PanelFile, Transaction } from '../../src/panel/index.ts';
import { readPlan } from '../../src/plan/index.ts';
import type { Random } from './random.ts';

type Spot = readonly [number, number];

/** A spot on the sheet, often on or near a corner that is there. */
function anySpot(panel: PanelFile, random: Random): Spot {
  const corners = panel.strips.flatMap(({ path }) => path);
  if (corners.length > 0 && random.chance(50)) {
    const [x, y] = random.pick(corners);
    return random.chance(50) ? [x, y] : [x + random.next() * 6 - 3, y + random.next() * 6 - 3];
  }
  return random.chance(50)
    ? [random.whole(0, 300) * 2, random.whole(0, 150) * 2]
    : [random.next() * 600, random.next() * 300];
}

/** A spot on a strip, between its ends. */
function spotOn(panel: PanelFile, id: string, random: Random): Spot {
  const path = panel.strips.find((strip) => strip.id === id)?.path ?? [];
  const i = random.whole(0, Math.max(0, path.length - 2));
  const a: Spot = path[i] ?? [0, 0];
  const b: Spot = path[i + 1] ?? a;
  const share = random.next();
  return [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
}

/** Everything that can be picked. */
export function everything(panel: PanelFile): Selection {
  return PICK_LISTS.flatMap((list): Picked[] => {
    const records: readonly object[] =
      (list === 'fixings' || list === 'keepOut' ? panel.face?.[list] : panel[list]) ?? [];
    const idOf = (record: object) => ('id' in record && typeof record.id === 'string' ? record.id : null);
    return records.map((record, i) => ({ list, id: idOf(record) ?? i }));
  });
}

export function anySelection(panel: PanelFile, random: Random): Selection {
  const share = random.pick([20, 50, 90]);
  const some = everything(panel).filter(() => random.chance(share));
  const corner = random.chance(20) ? panel.strips[0] : undefined;
  return corner === undefined ? some : [...some, { list: 'strips', id: corner.id, part: 0 }];
}

const SIDES = ['left', 'right'] as const;

/** What one stroke of the hand does; null where it does nothing. */
export function anyStroke(panel: PanelFile, random: Random): Transaction | null {
  const strip = panel.strips.length === 0 ? 'none' : random.pick(panel.strips).id;
  const spot = () => anySpot(panel, random);
  const picked = () => anySelection(panel, random);
  const length = panel.strips.find(({ id }) => id === strip)?.path.length ?? 0;
  const corner = random.whole(0, Math.max(0, length - 1));
  const gesture = () => ({ strip, from: spotOn(panel, strip, random), to: spot() });
  const plan = () => readPlan(panel);
  const by: Spot = [random.whole(-20, 20) * 2, random.next() * 40 - 20];
  const strokes: readonly (() => Transaction | null)[] = [
    () => layStrip(panel, [spot(), spot()]),
    () => layStrip(panel, [spot(), spot(), spot()], { name: 'Siding', width: random.pick([3, 5, 6]) }),
    () =>
      layStrip(panel, [
        [0, 60 + random.whole(0, 3) * 40],
        [600, 60 + random.whole(0, 3) * 40],
      ]),
    () => moveStrips(panel, [strip], by),
    () => moveCorner(panel, strip, corner, spot()),
    () => addBend(panel, strip, spot()),
    () => takeOutBend(panel, strip, corner),
    () => drawOn(panel, strip, random.pick([0, 1] as const), [spot()]),
    () => splitStripAt(panel, strip, spotOn(panel, strip, random)),
    () => joinStripEnds(panel, strip, panel.strips.length === 0 ? 'none' : random.pick(panel.strips).id),
    () => turnRound(panel, strip),
    () => setStrip(panel, strip, { width: random.chance(30) ? undefined : 3, name: 'Quay line', bend: 12 }),
    () => reorderStrips(panel, [strip], random.pick(['front', 'back'] as const)),
    () => (random.chance(40) ? liftStrips(panel, [strip], { lamps: random.chance(50) }).edit : null),
    () => {
      const { points } = plan();
      return points.length === 0 ? null : swapLies(panel, random.pick(points).id);
    },
    () => layLoop(panel, gesture(), { side: random.pick(SIDES) }),
    () => layCrossover(panel, gesture()),
    () => layLead(panel, gesture()),
    () => layLadder(panel, gesture(), { roads: random.whole(2, 4) }),
    () => {
      const { crossings } = plan();
      const kinds = ['diamond', 'single-slip', 'double-slip', 'over'] as const;
      return laySlip(panel, crossings.length === 0 ? spot() : random.pick(crossings).at, random.pick(kinds), spot());
    },
    () => namePlace(panel, spot(), { name: 'Shed' }),
    () => putPlatform(panel, spot(), spot(), { names: [{ at: [30, 30], text: 'Platform 1', anchor: 'start' }] }),
    () => putPlate(panel, spot(), 'BRAMBLE SIDING'),
    () => putFixing(panel, spot(), 3.2),
    () => putKeepOut(panel, spot(), spot()),
    () => putLever(panel, random.chance(50) ? null : spot(), { angle: random.whole(0, 3) * 45 }),
    () => putMissingLevers(panel),
    () => putButton(panel, spot()),
    () => putLamp(panel, spot()),
    () => strewAlong(panel, gesture(), { count: random.whole(1, 6) }),
    () => {
      const { spans } = plan();
      return spans.length === 0 ? null : strewSpan(panel, random.pick(spans).id, { count: random.whole(1, 4) });
    },
    () => {
      const { points } = plan();
      return points.length === 0 ? null : strewLegs(panel, random.pick(points).id, { count: random.whole(1, 3) });
    },
    () => moveThings(panel, picked(), by),
    () => alignThings(panel, picked(), random.pick(['left', 'right', 'top', 'bottom', 'across', 'down'] as const)),
    () => spaceThings(panel, picked(), random.pick(['across', 'down'] as const)),
    () => mirrorThings(panel, picked(), random.pick(['left-right', 'up-down'] as const)),
    () => turnThings(panel, picked(), random.pick([90, -90, 32, random.next() * 360])),
    () => (panel.strips.length < 24 ? duplicateThings(panel, picked(), by).edit : null),
    () => (panel.strips.length < 24 ? pasteClip(panel, copyThings(panel, picked()), by).edit : null),
    () => (random.chance(30) ? removeThings(panel, picked().slice(0, 3)) : null),
    () => setThing(panel, { list: 'levers', id: 'L1' }, { at: [random.whole(0, 600), 280], name: 'Yard' }),
    () => setThing(panel, { list: 'lamps', id: 'H1' }, { part: 'led-3-green' }),
    () => moveCorner(panel, strip, corner, [Number.NaN, 3]),
    () => moveThings(panel, picked(), [2e6, 0]),
    () => setStrip(panel, strip, { width: -1 }),
  ];
  return random.pick(strokes)();
}
