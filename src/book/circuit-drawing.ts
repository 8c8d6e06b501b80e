/**
 * The circuit of one lever, drawn by rule so that the same thing is in the same place in every circuit: supply, fuse and the
 * crossed two-pole switch at the left, drives between rail A (above) and rail B, lamps in rows below, each row between the
 * rail above it and the other one, which comes round the edge. No conductor crosses another.
 */
import type { CutWire } from '../loom/index.ts';
import { formatOhms, type Millimetre, type Spot } from '../units/index.ts';
import type {
  Circuit,
  Terminal,
  WiredConnector,
  WiredDrive,
  WiredLamp,
  WiredResistor,
  WiredSupply,
  WiredSwitch,
} from '../wiring/index.ts';
import type { Drawable } from './circuit-parts.ts';
import { size as sizeText } from './format.ts';
import { flip, foldLadder, type Ladder, type LadderSize, sizeOfLadder } from './ladder.ts';
import { type Nets, readNets } from './nets.ts';
import { pt } from './page.ts';
import { BLACK, HAIR, type Pen, SMALLEST, WHITE } from './pen.ts';
import {
  drawArrow,
  drawBattery,
  drawDiode,
  drawFuse,
  drawJunction,
  drawMotor,
  drawResistor,
  drawSupply,
  drawTag,
  drawWay,
  HALF,
  STROKE,
  TAG_RADIUS,
  wayReach,
} from './symbols.ts';

/** Ids of all that this drawing shows. */
export function drawnIn(plan: CircuitPlan): ReadonlySet<string> {
  const ids = (ladder: Ladder<Item>): readonly string[] => {
    if (ladder.kind !== 'leaf') return ladder.parts.flatMap(ids);
    const { what } = ladder;
    return [what.kind === 'resistor' ? what.resistor.id : what.kind === 'lamp' ? what.lamp.id : what.id];
  };
  return new Set([
    plan.supply.id,
    ...(plan.supply.fuse === null ? [] : [plan.supply.fuse.id]),
    ...plan.lever.poles.filter((pole) => pole.use === 'feed').map((pole) => pole.id),
    ...plan.drives.flatMap(({ drive, above, below }) => [drive.id, above.pin ?? '', below.pin ?? '']),
    ...plan.columns.flatMap(ids),
  ]);
}

/** What can stand between the rails. */
export type Item =
  | { readonly kind: 'resistor'; readonly resistor: WiredResistor }
  | { readonly kind: 'lamp'; readonly lamp: WiredLamp }
  | { readonly kind: 'guard'; readonly lamp: WiredLamp; readonly id: string };

/** One column: a ladder of the lamps' side, ready to be drawn from either rail. */
export interface CircuitPlan {
  readonly circuit: Circuit;
  readonly supply: WiredSupply;
  readonly battery: boolean;
  readonly lever: WiredSwitch;
  readonly nets: Nets;
  /** From rail A down to rail B. */
  readonly columns: readonly Ladder<Item>[];
  readonly drives: readonly { readonly drive: WiredDrive; readonly above: DriveEnd; readonly below: DriveEnd }[];
}

interface DriveEnd {
  readonly tag: Terminal;
  readonly pin: string | null;
  readonly connector: WiredConnector | null;
}

/** The circuit's ladder, or null with a reason where the drawing rule does not cover it. */
export function planCircuit(derived: Drawable, circuit: Circuit): CircuitPlan | { readonly why: string } {
  const { wiring, loom } = derived;
  const supply = wiring.supplies.find((each) => each.id === circuit.supply);
  const lever = wiring.switches.find((each) => each.id === circuit.id);
  if (supply === undefined || lever === undefined) return { why: 'It has no supply or no switch yet.' };
  const [one, two] = lever.poles.filter((pole) => pole.use === 'feed');
  if (one === undefined || two === undefined || lever.poles.filter((pole) => pole.use === 'feed').length !== 2)
    return { why: 'Its switch is not the crossed two-pole kind.' };
  const own = new Set(circuit.wires);
  const wires = loom.wires.filter((wire) => own.has(wire.id));
  // What contacts light hangs on no rail of the feed: it is drawn beside this.
  const lamps = wiring.lamps.filter((each) => each.circuit === circuit.id && each.by !== 'contacts');
  const groups = new Set(lamps.map((lamp) => lamp.group));
  const resistors = wiring.resistors.filter((each) => each.circuit === circuit.id && groups.has(each.group));
  const fuse = supply.fuse === null ? [] : [`${supply.fuse.id}.2`, `${supply.fuse.id}.1`];
  const nets = readNets(wires, [
    `${supply.id}.p`,
    `${supply.id}.m`,
    ...fuse,
    one.common,
    two.common,
    ...resistors.map((each) => each.b),
  ]);
  const plus = new Set([nets.of(`${supply.id}.p`), ...fuse.map((end) => nets.of(end))]);
  const minus = nets.of(`${supply.id}.m`);
  const [n1, r1, n2, r2] = [one.normal, one.reverse, two.normal, two.reverse].map((tag) => nets.of(tag));
  if (n1 === undefined || r1 === undefined || n1 !== r2 || r1 !== n2)
    return { why: 'The outer tags of its switch are not cross-wired.' };
  if (!plus.has(n1) || r1 !== minus) return { why: 'The outer tags of its switch do not lead to the supply.' };

  const a = nets.of(one.common);
  const b = nets.of(two.common);
  const branches = [
    ...resistors.map((resistor) => ({
      a: nets.of(resistor.a),
      b: nets.of(resistor.b),
      what: { kind: 'resistor', resistor } as Item,
    })),
    ...lamps.map((lamp) => ({
      a: nets.of(lamp.anode),
      b: nets.of(lamp.cathode),
      what: { kind: 'lamp', lamp } as Item,
    })),
    ...lamps.flatMap((lamp) =>
      lamp.guard === null
        ? []
        : [
            {
              a: nets.of(`${lamp.guard.id}.a`),
              b: nets.of(`${lamp.guard.id}.k`),
              what: { kind: 'guard', lamp, id: lamp.guard.id } as Item,
            },
          ],
    ),
  ];
  const columns = foldLadder(branches, a, b);
  if (columns === null) return { why: 'Its lamps are not a plain network of series and parallel strings.' };

  const driven = wiring.drives.filter((drive) => circuit.drives.includes(drive.id));
  const between = (drive: WiredDrive): boolean => {
    const [one, other] = [nets.of(drive.a), nets.of(drive.b)];
    return (one === a && other === b) || (one === b && other === a);
  };
  if (!driven.every(between)) return { why: 'Its lamps stand in series with its drives.' };
  const drives = driven.map((drive) => {
    const end = (tag: Terminal): DriveEnd => {
      for (const connector of wiring.connectors) {
        const pin = connector.pins.find((each) => each.to === tag);
        if (pin !== undefined) return { tag, pin: pin.id, connector };
      }
      return { tag, pin: null, connector: null };
    };
    const first = nets.of(drive.a) === a;
    return { drive, above: end(first ? drive.a : drive.b), below: end(first ? drive.b : drive.a) };
  });
  const battery = derived.panel.supplies?.find((each) => each.id === supply.id)?.kind === 'battery';
  return { circuit, supply, battery, lever, nets, columns, drives };
}

const ink = { stroke: BLACK, width: STROKE };
/** Room for one column with its letters, the conductor's place in it, and the free conductor above and below a symbol. */
const COLUMN: Millimetre = 19;
const SPINE: Millimetre = 4.6;
const STUB: Millimetre = 4.6;
const BAR: Millimetre = 2.2;
const DRIVE_COLUMN: Millimetre = 22.3;
/** From rail A to rail B in the first row. */
const FIRST_ROW: Millimetre = 52;
const label = { size: SMALLEST };

const bounds = (ladder: Ladder<Item>): LadderSize =>
  sizeOfLadder(
    ladder,
    ({ kind }) => ({
      width: COLUMN,
      height: 2 * STUB + 2 * (kind === 'resistor' ? HALF.resistor : HALF.diode) + 1,
    }),
    BAR,
  );

/** "W12 YE" */
function wireText(wire: CutWire | null): string {
  return wire === null ? '' : `${wire.id} ${wire.colour}`;
}

/** Its two ends, the one where current comes in first. */
export function terminals(item: Item): readonly [Terminal, Terminal] {
  switch (item.kind) {
    case 'resistor':
      return [item.resistor.a, item.resistor.b];
    case 'lamp':
      return [item.lamp.anode, item.lamp.cathode];
    case 'guard':
      return [`${item.id}.a`, `${item.id}.k`];
  }
}

/** Draw a ladder with its top at `y`, filling `height`; the conductor of its leftmost column runs at x + SPINE. */
function drawLadder(
  pen: Pen,
  nets: Nets,
  ladder: Ladder<Item>,
  x: Millimetre,
  y: Millimetre,
  height: Millimetre,
): void {
  const spine = x + SPINE;
  switch (ladder.kind) {
    case 'leaf': {
      const middle = y + height / 2;
      pen.line([spine, y], [spine, y + height], ink);
      const item = ladder.what;
      const [first, second] = terminals(item);
      const [top, bottom] = ladder.flipped ? [second, first] : [first, second];
      const side = spine + 1.2;
      const most = COLUMN - 5.4;
      if (item.kind === 'resistor') {
        drawResistor(pen, [spine, middle]);
        pen.text([spine + 2.4, middle - 0.4], item.resistor.id, { ...label, font: 'text-700', most: most - 1 });
        pen.text([spine + 2.4, middle + 3], formatOhms(item.resistor.ohms), label);
      } else {
        drawDiode(pen, [spine, middle], !ladder.flipped, item.kind === 'lamp');
        pen.text([spine + 2.8, middle + 1], item.kind === 'lamp' ? item.lamp.id : item.id, {
          ...label,
          ...(item.kind === 'lamp' ? { font: 'text-700' as const } : {}),
          most: most - 1.4,
        });
      }
      pen.text([side, y + 3.3], wireText(nets.bringer(top)), { ...label, most });
      pen.text([side, y + height - 1.3], wireText(nets.bringer(bottom)), { ...label, most });
      return;
    }
    case 'series': {
      const inner = ladder.parts.map(bounds);
      const spare = (height - inner.reduce((sum, each) => sum + each.height, 0)) / ladder.parts.length;
      let at = y;
      for (const [i, part] of ladder.parts.entries()) {
        const tall = (inner[i]?.height ?? 0) + spare;
        drawLadder(pen, nets, part, x, at, tall);
        at += tall;
      }
      return;
    }
    case 'parallel': {
      const inner = ladder.parts.map(bounds);
      let at = x;
      let last = spine;
      for (const [i, part] of ladder.parts.entries()) {
        drawLadder(pen, nets, part, at, y + BAR, height - 2 * BAR);
        last = at + SPINE;
        at += inner[i]?.width ?? 0;
      }
      for (const [bar, out] of [
        [y + BAR, y],
        [y + height - BAR, y + height],
      ] as const) {
        pen.line([spine, bar], [last, bar], ink);
        pen.line([spine, out], [spine, bar], ink);
        drawJunction(pen, [spine, bar]);
        for (const part of ladder.parts.slice(1, -1).keys())
          drawJunction(pen, [x + SPINE + inner.slice(0, part + 1).reduce((sum, each) => sum + each.width, 0), bar]);
      }
      return;
    }
  }
}

/** Columns over rows, each no wider than `room`. */
function rowsOf(columns: readonly Ladder<Item>[], room: Millimetre): readonly (readonly Ladder<Item>[])[] {
  const rows: Ladder<Item>[][] = [];
  let used = Number.POSITIVE_INFINITY;
  for (const column of columns) {
    const { width } = bounds(column);
    const row = rows.at(-1);
    if (row === undefined || used + width > room) {
      rows.push([column]);
      used = width;
    } else {
      row.push(column);
      used += width;
    }
  }
  return rows;
}

function drivesInRow(width: Millimetre): number {
  return Math.floor((width - 77 - 3) / DRIVE_COLUMN);
}

/** From the left edge to rail A's way down: no further than what hangs between the rails. */
const LEAST_WIDTH: Millimetre = 92;
function usedWidth(plan: CircuitPlan, width: Millimetre): Millimetre {
  const rows = rowsOf(plan.columns, width - 14).map((row) => row.reduce((sum, each) => sum + bounds(each).width, 0));
  const drives = Math.min(plan.drives.length, drivesInRow(width)) * DRIVE_COLUMN;
  const most = Math.max(LEAST_WIDTH, ...rows.map((row) => row + 14), 72 + drives + 6);
  // A row of drives below the first needs as much as the first.
  return plan.drives.length > drivesInRow(width) ? width : Math.min(width, most);
}

/** What the marks mean, in the free room at the right; left away where there is none. */
const KEY_LEAST: Millimetre = 46;
const KEY: readonly string[] = [
  'A and B are the rails behind the two poles. In normal A is plus, in reverse B is plus.',
  'Arrows show the current in normal; in reverse it turns round.',
  'Each wire is named once, by number and colour, where it arrives.',
  't2: tag 2 of the switch. A.1: connector A, pin 1; the arc is the socket, the bar the plug.',
];
function drawKey(pen: Pen, [x, y]: Spot, width: Millimetre): void {
  let base = y;
  for (const text of KEY) {
    for (const line of pen.measure.wrap(text, 'text-400', SMALLEST, width)) {
      pen.text([x, base], line, { ...label, fill: '#3a3a3a' });
      base += SMALLEST * 1.34;
    }
    base += 1;
  }
}

/** Draw it with its top left corner at `at`; returns the height used. */
export function drawCircuit(pen: Pen, plan: CircuitPlan, [left, top]: Spot, width: Millimetre): Millimetre {
  const { nets, lever, supply } = plan;
  const right = left + usedWidth(plan, width);
  const [one, two] = lever.poles.filter((pole) => pole.use === 'feed');
  if (one === undefined || two === undefined) throw new RangeError(`lever ${lever.id} has no two feed poles`);
  const yA = top + 15;
  const yB = yA + FIRST_ROW;
  const xSupply = left + 13;
  const xInner = left + 31;
  const xTags = left + 51;
  const xCommon = xTags + 13;

  // The switch: both poles, the bat and the link between them, shown normal.
  const throwHalf = 6;
  for (const [pole, y] of [
    [one, yA],
    [two, yB],
  ] as const) {
    const blade: Spot = [xTags + TAG_RADIUS * 0.7, y - throwHalf + TAG_RADIUS * 0.5];
    pen.line([xCommon, y], blade, { stroke: BLACK, width: 0.6, cap: 'round' });
    for (const [tag, at, dy] of [
      [pole.normal, [xTags, y - throwHalf], -1.9],
      [pole.reverse, [xTags, y + throwHalf], 4.4],
      [pole.common, [xCommon, y], -1.9],
    ] as const) {
      drawTag(pen, at);
      pen.text([at[0], at[1] + dy], tag.slice(tag.lastIndexOf('.') + 1), {
        ...label,
        font: 'text-700',
        anchor: 'middle',
      });
    }
  }
  const xLink = (xTags + xCommon) / 2;
  pen.line([xLink, yA - 8.5], [xLink, yB - throwHalf / 2], { stroke: BLACK, width: 0.3, dash: [1.6, 1.1] });
  pen.line([xLink - 3, yA - 8.5], [xLink + 3, yA - 8.5], { stroke: BLACK, width: 0.5 });
  pen.text([xLink + 4.4, yA - 10.6], `${lever.id} normal`, { font: 'text-700', size: pt(9), most: 40 });
  pen.text([xLink + 4.4, yA - 7], lever.part.name, { ...label, most: 60 });

  // Outer tags round the supply, inner tags within: nothing crosses.
  const xOuter = left + 2;
  const upper = yA - throwHalf;
  const lower = yB + throwHalf;
  const yPlus = yA + 20;
  const ySupply = yPlus + HALF.supply;
  const yInner = ySupply + HALF.supply + 7;
  pen.line([xOuter, upper], [xTags - TAG_RADIUS, upper], ink);
  pen.line([xOuter, upper], [xOuter, lower], ink);
  pen.line([xOuter, lower], [xTags - TAG_RADIUS, lower], ink);
  const innerTop = yA + throwHalf;
  const innerBottom = yB - throwHalf;
  pen.line([xInner, innerTop], [xTags - TAG_RADIUS, innerTop], ink);
  pen.line([xInner, innerTop], [xInner, innerBottom], ink);
  pen.line([xInner, innerBottom], [xTags - TAG_RADIUS, innerBottom], ink);
  pen.line([xSupply, yInner], [xInner, yInner], ink);
  drawJunction(pen, [xInner, yInner]);
  pen.line([xSupply, upper], [xSupply, ySupply - HALF.supply], ink);
  drawJunction(pen, [xSupply, upper]);
  pen.line([xSupply, ySupply + HALF.supply], [xSupply, yInner], ink);
  if (plan.battery) drawBattery(pen, [xSupply, ySupply]);
  else drawSupply(pen, [xSupply, ySupply]);
  const [plusY, minusY] = [ySupply - HALF.supply - 1.2, ySupply + HALF.supply + 3.2];
  pen.text([xSupply - 2.6, plusY], '+', { font: 'text-700', size: pt(10), anchor: 'middle' });
  pen.text([xSupply - 2.6, minusY], '−', { font: 'text-700', size: pt(10), anchor: 'middle' });
  pen.text([xSupply + HALF.supply + 1.2, ySupply - 0.2], supply.id, { ...label, font: 'text-700', most: 10 });
  pen.text([xSupply + HALF.supply + 1.2, ySupply + 3.2], `${sizeText(supply.volts)} V`, { ...label, most: 10 });
  if (supply.fuse !== null) {
    const yFuse = (upper + ySupply - HALF.supply) / 2 - 1;
    drawFuse(pen, [xSupply, yFuse]);
    pen.text([xSupply + 2.2, yFuse - 0.6], supply.fuse.id, { ...label, font: 'text-700', most: 15 });
    pen.text([xSupply + 2.2, yFuse + 2.9], `${sizeText(supply.fuse.amps)} A`, label);
    pen.text([xSupply + 2.2, ySupply - HALF.supply - 1.4], wireText(nets.bringer(`${supply.fuse.id}.1`)), {
      ...label,
      most: 15,
    });
  }
  for (const [tag, y] of [
    [one.normal, upper],
    [two.reverse, lower],
    [one.reverse, innerTop],
    [two.normal, innerBottom],
  ] as const) {
    const wire = nets.bringer(tag);
    if (wire === null) continue;
    const from = wire.from === tag ? wire.to : wire.from;
    const said = `from ${from.startsWith(`${lever.id}.`) ? from.slice(lever.id.length + 1) : from}`;
    if (y === upper || y === lower) {
      pen.text([xTags - 2.4, y - 1.1], `${wireText(wire)} ${said}`, { ...label, anchor: 'end', most: 34 });
    } else {
      pen.text([xTags - 2.4, y - 1.1], wireText(wire), { ...label, anchor: 'end', most: 17.4 });
      pen.text([xTags - 2.4, y + 3.5], said, { ...label, anchor: 'end', most: 17.4 });
    }
  }

  // Rail A along the top and round the right edge; rail B, and the drives between them.
  const free = left + width - right - 8;
  if (free >= KEY_LEAST) drawKey(pen, [right + 8, top + 4.4], free);
  const rows = rowsOf(plan.columns, width - 14);
  const per = drivesInRow(width);
  const driveRows: (typeof plan.drives)[] = [];
  for (let i = 0; i < plan.drives.length; i += per) driveRows.push(plan.drives.slice(i, i + per));
  const xDrives = left + 72;
  const more = rows.length > 0 || driveRows.length > 1;
  const lastDrive = xDrives + ((driveRows[0]?.length ?? 1) - 1) * DRIVE_COLUMN + 5;
  pen.line([xCommon + TAG_RADIUS, yA], [more ? right : lastDrive, yA], ink);
  pen.line([xCommon + TAG_RADIUS, yB], [more ? Math.max(lastDrive, xCommon + 8) : lastDrive, yB], ink);
  railName(pen, [xCommon + 3.4, yA], 'A');
  railName(pen, [xCommon + 3.4, yB], 'B');
  if (driveRows[0] !== undefined) drawDrives(pen, plan, driveRows[0], xDrives, yA, yB, more ? right - 3 : right, true);

  let y = yB;
  let rail: 'A' | 'B' = 'B';
  let starts: { readonly A: Spot; readonly B: Spot } | null = null;
  if (more) {
    // Rail B comes down beside the switch and spreads over the whole width.
    const yRail = yB + 13;
    const xDown = xCommon + 8;
    if (lastDrive > xDown) drawJunction(pen, [xDown, yB]);
    pen.line([xDown, yB], [xDown, yRail], ink);
    y = yRail;
    starts = { A: [right, yA], B: [left, yRail] };
    drawJunction(pen, [xDown, yRail]);
  }
  const bands: {
    readonly height: Millimetre;
    readonly draw: (yTop: Millimetre, yBottom: Millimetre, topIsA: boolean) => Millimetre;
  }[] = [
    ...driveRows.slice(1).map((drives) => ({
      height: FIRST_ROW,
      draw: (yTop: Millimetre, yBottom: Millimetre, topIsA: boolean) => {
        drawDrives(pen, plan, drives, left + 9, yTop, yBottom, right - 6, topIsA);
        return left + 9 + (drives.length - 1) * DRIVE_COLUMN + 5;
      },
    })),
    ...rows.map((row) => ({
      height: Math.max(...row.map((each) => bounds(each).height)) + 2 * BAR,
      draw: (yTop: Millimetre, yBottom: Millimetre, topIsA: boolean) => {
        let x = left + 6;
        let last = x;
        for (const column of row) {
          const each = topIsA ? column : flip(column);
          drawLadder(pen, nets, each, x, yTop, yBottom - yTop);
          drawJunction(pen, [x + SPINE, yTop]);
          drawJunction(pen, [x + SPINE, yBottom]);
          last = x + SPINE;
          x += bounds(column).width;
        }
        return last;
      },
    })),
  ];
  for (const [i, band] of bands.entries()) {
    if (starts === null) break;
    const yNext = y + band.height;
    const last = band.draw(y, yNext, rail === 'A');
    const next: 'A' | 'B' = rail === 'B' ? 'A' : 'B';
    const final = i === bands.length - 1;
    // The rail above: from its edge to its last column, and on where a later row needs it.
    if (i === 0) {
      const needed = bands.length > 1;
      pen.line([needed ? left : left + 5, y], [Math.max(last, xCommon + 8), y], ink);
      railName(pen, [left + 5, y], 'B');
    }
    const [edge] = starts[next];
    pen.line(
      [next === 'A' ? left + 6 + SPINE : left, yNext],
      [next === 'A' ? right : Math.max(last, lastOf(bands, i + 1)), yNext],
      ink,
    );
    pen.line([edge, starts[next][1]], [edge, yNext], ink);
    railName(pen, [next === 'A' ? right - 5 : left + 5, yNext], next);
    starts = next === 'A' ? { ...starts, A: [edge, yNext] } : { ...starts, B: [edge, yNext] };
    rail = next;
    y = yNext;
    if (final) break;
  }
  return Math.max(y, lower) + 5 - top;

  function lastOf(list: readonly { readonly height: Millimetre }[], i: number): Millimetre {
    return list[i] === undefined ? 0 : right - 8;
  }
}

function railName(pen: Pen, [x, y]: Spot, name: string): void {
  pen.circle([x, y], 2, { fill: WHITE, stroke: BLACK, width: 0.25 });
  pen.text([x, y + 1], name, { font: 'text-700', size: SMALLEST, anchor: 'middle' });
}

/** Drives between two rails, each through its ways of the connector, what is under the layout inside a dashed line. */
function drawDrives(
  pen: Pen,
  plan: CircuitPlan,
  drives: CircuitPlan['drives'],
  x0: Millimetre,
  yTop: Millimetre,
  yBottom: Millimetre,
  right: Millimetre,
  topIsA: boolean,
): void {
  const { nets } = plan;
  const wayTop = yTop + 11;
  const wayBottom = yBottom - 11;
  const middle = (yTop + yBottom) / 2;
  const width = Math.min(right - (x0 - 1.5), drives.length * DRIVE_COLUMN + 3);
  pen.rect([x0 - 1.5, wayTop], [width, wayBottom - wayTop], { stroke: BLACK, width: HAIR, dash: [3, 1, 0.4, 1] });
  for (const [i, { drive, above, below }] of drives.entries()) {
    const x = x0 + 5 + i * DRIVE_COLUMN;
    const [top, bottom] = topIsA ? [above, below] : [below, above];
    for (const [end, rail, way, sign] of [
      [top, yTop, wayTop, 1],
      [bottom, yBottom, wayBottom, -1],
    ] as const) {
      const half = end.connector?.panelHalf ?? 'socket';
      const reach = wayReach(half, sign > 0);
      pen.line([x, rail], [x, sign > 0 ? way - reach.up : way + reach.down], ink);
      pen.line([x, sign > 0 ? way + reach.down : way - reach.up], [x, middle - sign * HALF.motor], ink);
      // From rail A to rail B, as it flows with the lever normal.
      const flowDown = topIsA ? 1 : -1;
      drawArrow(pen, [x, sign > 0 ? rail + 7.4 : rail - 7], flowDown);
      if (end.pin !== null) {
        drawWay(pen, [x, way], half, sign > 0);
        pen.text([x + 2.2, sign > 0 ? way - 1.2 : way + 3.6], end.pin, { ...label, font: 'text-700', most: 14 });
        pen.text([x + 1.3, sign > 0 ? rail + 5 : rail - 2.6], wireText(nets.bringer(end.pin)), {
          ...label,
          most: DRIVE_COLUMN - 3,
        });
      } else pen.line([x, way - reach.up], [x, way + reach.down], ink);
      pen.text([x + 1.3, sign > 0 ? way + 5.4 : way - 3], wireText(nets.bringer(end.tag)), {
        ...label,
        most: DRIVE_COLUMN - 3,
      });
      pen.text(
        [x - 1.3, middle - sign * (HALF.motor + 1) + (sign > 0 ? 0 : 2)],
        end.tag.slice(end.tag.lastIndexOf('.') + 1),
        { ...label, anchor: 'end' },
      );
      if (i > 0 || topIsA !== true) drawJunction(pen, [x, rail]);
      else if (drives.length > 1) drawJunction(pen, [x, rail]);
    }
    drawMotor(pen, [x, middle]);
    pen.text([x + HALF.motor + 1, middle - 0.6], drive.id, {
      font: 'text-700',
      size: pt(9),
      most: DRIVE_COLUMN - 12.5,
    });
    pen.text([x + HALF.motor + 1, middle + 3], drive.points.join(' '), { ...label, most: DRIVE_COLUMN - 9.5 });
  }
  pen.text([x0 - 2.6, middle], 'under the layout', { ...label, turn: -90, anchor: 'middle' });
}
