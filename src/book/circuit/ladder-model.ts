/**
 * The circuit of a lever on a reversing feed, for the screen: supply, fuse and the crossed switch at the left, rail A along the top and rail
 * B along the bottom, lamps between them in columns, drives behind the lamps. Whatever is the same in two circuits is in the same place,
 * and no conductor crosses another: plus runs round the supply to the outer tags, minus lies within and goes to the inner ones.
 */
import { formatOhms, type Spot } from '../../units/index.ts';
import type { Terminal } from '../../wiring/index.ts';
import { type CircuitPlan, type Item, terminals } from '../circuit-drawing.ts';
import { under } from '../circuit-parts.ts';
import { size as sizeText } from '../format.ts';
import { type Ladder, type LadderSize, sizeOfLadder } from '../ladder.ts';
import { Draft } from './draft.ts';
import { CHIP_ROOM, HALF_PX, TAG } from './sizes.ts';
import type { CircuitModel, Px } from './types.ts';

/** Where the parts of every circuit stand. */
const X = { outer: 26, supply: 92, inner: 216, tags: 294, common: 364, columns: 472 } as const;
/** Rail A, and how far the tags of a pole stand from its common. */
const RAIL_A: Px = 96;
const THROW: Px = 27;
/** The least from rail to rail: room for the supply with its fuse, and for a drive with its ways. */
const LEAST: Px = 336;
/** From the outer tags of the upper pole, down: fuse, letters, supply, letters, the way to the inner tags. */
const DOWN = { volts: 26, fuse: 66, chip: 104, supply: 146, minusChip: 198, inner: 232 } as const;
const COLUMN: Px = 118;
const SPINE: Px = 26;
/** Free conductor at each end of a symbol. */
const STUB: Px = 9;
const BAR: Px = 12;
const DRIVE: Px = 104;
const WAY: Px = 66;
const LAYOUT_CHIP: Px = 100;
/** Room for a value on the rail before the first drive. */
const BEFORE_DRIVES: Px = 30;

const halfOf = (item: Item): Px => (item.kind === 'resistor' ? HALF_PX.resistor : HALF_PX.diode);

/** What a ladder needs, each wire with its letters. */
const boundsOf = (ladder: Ladder<Item>): LadderSize =>
  sizeOfLadder(ladder, (item) => ({ width: COLUMN, height: 2 * halfOf(item) + CHIP_ROOM + 2 * STUB }), BAR);

/** Draw the ladder's circuit. */
export function ladderModel(plan: CircuitPlan): CircuitModel {
  const draft = new Draft(plan.nets);
  const [one, two] = plan.lever.poles.filter((pole) => pole.use === 'feed');
  if (one === undefined || two === undefined) throw new RangeError(`lever ${plan.lever.id} has no two feed poles`);
  const columns = plan.columns.map(boundsOf);
  const rails = Math.max(LEAST, ...columns.map(({ height }) => height + 2 * BAR));
  const yA = RAIL_A;
  const yB = yA + rails;

  drawFeed(draft, plan, yA, yB);
  draft.links.push({
    lever: plan.lever.id,
    from: [(X.tags + X.common) / 2, yA - 58],
    to: [(X.tags + X.common) / 2, yB],
  });

  // Rails as far as what hangs on them.
  const starts: Px[] = [];
  let x = X.columns;
  for (const { width } of columns) {
    starts.push(x);
    x += width;
  }
  const firstDrive = x + (columns.length > 0 ? BEFORE_DRIVES : 0);
  const taps = [...starts.map((start) => start + SPINE), ...plan.drives.map((_, i) => firstDrive + SPINE + i * DRIVE)];
  for (const [common, y, name] of [
    [one.common, yA, 'A'],
    [two.common, yB, 'B'],
  ] as const) {
    draft.volts(common, [X.common + 66, y]);
    draft.marks.push({ net: plan.nets.of(common), name, at: [X.common + 16, y], box: null });
    // A rail is drawn from tap to tap, so that a dot stands wherever something hangs on it.
    let from: Px = X.common + TAG;
    for (const tap of taps) {
      draft.line(common, [from, y], [tap, y], true);
      from = tap;
    }
    for (const tap of taps.slice(0, -1)) draft.dot(common, [tap, y]);
    if (taps.length === 0) draft.line(common, [from, y], [X.common + 100, y], true);
  }

  for (const [i, column] of plan.columns.entries())
    drawLadder(draft, column, starts[i] ?? 0, yA, rails, one.common, two.common);
  drawDrives(draft, plan, firstDrive, yA, yB);
  const width = firstDrive + (plan.drives.length > 0 ? plan.drives.length * DRIVE + 30 : 24);
  return draft.model(plan.circuit.id, [Math.max(width, X.columns + COLUMN), yB + 62]);
}

/** Supply, fuse and both poles. */
function drawFeed(draft: Draft, plan: CircuitPlan, yA: Px, yB: Px): void {
  const { supply, lever } = plan;
  const [one, two] = lever.poles.filter((pole) => pole.use === 'feed');
  if (one === undefined || two === undefined) return;
  const [upper, lower, innerTop, innerBottom] = [yA - THROW, yB + THROW, yA + THROW, yB - THROW];
  const plus: Terminal = supply.fuse === null ? `${supply.id}.p` : `${supply.fuse.id}.2`;
  const minus: Terminal = `${supply.id}.m`;
  const tag = X.tags - TAG;
  const ySupply = upper + DOWN.supply;
  const yInner = upper + DOWN.inner;
  const { supply: xs, inner: xi, outer: xo } = X;
  // What leads to the lower tag stands in its own wire.
  draft.line(one.normal, [xs, upper], [tag, upper]);
  draft.line(two.reverse, [xs, upper], [xo, upper]);
  draft.line(two.reverse, [xo, upper], [xo, lower]);
  draft.line(two.reverse, [xo, lower], [tag, lower]);
  draft.dot(plus, [xs, upper]);
  draft.line(one.reverse, [xi, yInner], [xi, innerTop]);
  draft.line(one.reverse, [xi, innerTop], [tag, innerTop]);
  draft.line(two.normal, [xi, yInner], [xi, innerBottom]);
  draft.line(two.normal, [xi, innerBottom], [tag, innerBottom]);
  draft.dot(minus, [xi, yInner]);
  draft.line(minus, [xs, ySupply + HALF_PX.supply], [xs, yInner], true);
  draft.line(minus, [xs, yInner], [xi, yInner], true);
  draft.marks.push({ net: plan.nets.of(plus), name: `${supply.id} +`, at: [xs + 20, upper], box: null });
  draft.marks.push({ net: plan.nets.of(minus), name: `${supply.id} −`, at: [xi - 20, yInner], box: null });
  for (const [terminal, at] of [
    [one.normal, [X.tags - 40, upper]],
    [two.reverse, [X.tags - 40, lower]],
    [one.reverse, [X.tags - 40, innerTop]],
    [two.normal, [X.tags - 40, innerBottom]],
  ] as const)
    draft.chip(terminal, at);

  draft.symbols.push({
    kind: plan.battery ? 'battery' : 'supply',
    id: supply.id,
    at: [xs, ySupply],
    turn: 0,
    ends: [
      { terminal: `${supply.id}.p`, at: [xs, ySupply - HALF_PX.supply] },
      { terminal: minus, at: [xs, ySupply + HALF_PX.supply] },
    ],
    title: supply.id,
    note: `${sizeText(supply.volts)} V, ${sizeText(supply.amps)} A`,
    words: { at: [xs + 34, ySupply - 2], anchor: 'start' },
  });
  if (supply.fuse === null) draft.line(plus, [xs, upper], [xs, ySupply - HALF_PX.supply], true);
  else {
    const yFuse = upper + DOWN.fuse;
    const { id } = supply.fuse;
    draft.line(`${id}.2`, [xs, upper], [xs, yFuse - HALF_PX.fuse], true);
    draft.line(`${id}.1`, [xs, yFuse + HALF_PX.fuse], [xs, ySupply - HALF_PX.supply]);
    draft.chip(`${id}.1`, [xs, upper + DOWN.chip]);
    draft.symbols.push({
      kind: 'fuse',
      id,
      at: [xs, yFuse],
      turn: 0,
      ends: [
        { terminal: `${id}.2`, at: [xs, yFuse - HALF_PX.fuse] },
        { terminal: `${id}.1`, at: [xs, yFuse + HALF_PX.fuse] },
      ],
      title: id,
      note: `${sizeText(supply.fuse.amps)} A`,
      words: { at: [xs + 16, yFuse - 3], anchor: 'start' },
    });
  }
  draft.volts(plus, [xs, upper + DOWN.volts]);
  draft.volts(minus, [(xs + xi) / 2, yInner]);
  draft.amps(one.id, [(xs + xi) / 2 + 4, upper]);

  for (const [pole, y] of [
    [one, yA],
    [two, yB],
  ] as const)
    draft.symbols.push({
      kind: 'contact',
      id: pole.id,
      at: [(X.tags + X.common) / 2, y],
      turn: 0,
      size: [X.common - X.tags, 2 * THROW],
      ends: [
        { terminal: pole.common, at: [X.common + TAG, y] },
        { terminal: pole.normal, at: [X.tags - TAG, y - THROW] },
        { terminal: pole.reverse, at: [X.tags - TAG, y + THROW] },
      ],
      title: '',
      note: '',
      words: { at: [X.common, y], anchor: 'start' },
    });
}

/** A ladder with its top at `y`, filling `height`, between two terminals; its leftmost conductor runs at x + SPINE. */
function drawLadder(
  draft: Draft,
  ladder: Ladder<Item>,
  x: Px,
  y: Px,
  height: Px,
  top: Terminal,
  bottom: Terminal,
): void {
  const spine = x + SPINE;
  switch (ladder.kind) {
    case 'leaf': {
      const item = ladder.what;
      const half = halfOf(item);
      // Letters stand above the symbol where they are those of the wire that comes there, else below.
      const middle = y + height / 2;
      const [first, second] = terminals(item);
      const [upper, lower] = ladder.flipped ? [second, first] : [first, second];
      draft.line(upper, [spine, y], [spine, middle - half]);
      draft.line(lower, [spine, middle + half], [spine, y + height]);
      draft.chip(upper, [spine, (y + middle - half) / 2]);
      draft.chip(lower, [spine, (y + height + middle + half) / 2]);
      const ends = [
        { terminal: upper, at: [spine, middle - half] as Spot },
        { terminal: lower, at: [spine, middle + half] as Spot },
      ];
      const common = { at: [spine, middle] as Spot, turn: ladder.flipped ? (180 as const) : (0 as const), ends };
      if (item.kind === 'resistor')
        draft.symbols.push({
          ...common,
          kind: 'resistor',
          id: item.resistor.id,
          title: item.resistor.id,
          note: formatOhms(item.resistor.ohms),
          words: { at: [spine + 16, middle - 3], anchor: 'start' },
        });
      else
        draft.symbols.push({
          ...common,
          kind: item.kind === 'lamp' ? 'lamp' : 'diode',
          id: item.kind === 'lamp' ? item.lamp.id : item.id,
          title: item.kind === 'lamp' ? item.lamp.id : item.id,
          note: '',
          // Arrows of a lamp point away from its name where it is upside down.
          words: { at: [spine + (ladder.flipped || item.kind !== 'lamp' ? 17 : 33), middle + 1], anchor: 'start' },
        });
      return;
    }
    case 'series': {
      const inner = ladder.parts.map(boundsOf);
      const spare = (height - inner.reduce((sum, each) => sum + each.height, 0)) / ladder.parts.length;
      let at = y;
      for (const [i, part] of ladder.parts.entries()) {
        const tall = (inner[i]?.height ?? 0) + spare;
        drawLadder(
          draft,
          part,
          x,
          at,
          tall,
          i === 0 ? top : topOf(part),
          i === ladder.parts.length - 1 ? bottom : bottomOf(part),
        );
        at += tall;
      }
      return;
    }
    case 'parallel': {
      const spines: Px[] = [];
      let at = x;
      for (const part of ladder.parts) {
        spines.push(at + SPINE);
        drawLadder(draft, part, at, y + BAR, height - 2 * BAR, topOf(part), bottomOf(part));
        at += boundsOf(part).width;
      }
      for (const [end, bar, out] of [
        [top, y + BAR, y],
        [bottom, y + height - BAR, y + height],
      ] as const) {
        draft.line(end, [spine, out], [spine, bar], true);
        for (const [i, to] of spines.entries()) {
          const from = spines[i - 1];
          if (from === undefined) continue;
          draft.line(end, [from, bar], [to, bar], true);
          draft.dot(end, [from, bar]);
        }
      }
      return;
    }
  }
}

/** The terminal at the upper end of a ladder's first leaf, and at the lower end of its last. */
function topOf(ladder: Ladder<Item>): Terminal {
  if (ladder.kind === 'leaf') return terminals(ladder.what)[ladder.flipped ? 1 : 0];
  const [first] = ladder.parts;
  if (first === undefined) throw new RangeError('a ladder without parts');
  return topOf(first);
}
function bottomOf(ladder: Ladder<Item>): Terminal {
  if (ladder.kind === 'leaf') return terminals(ladder.what)[ladder.flipped ? 0 : 1];
  const part = ladder.kind === 'series' ? ladder.parts.at(-1) : ladder.parts[0];
  if (part === undefined) throw new RangeError('a ladder without parts');
  return bottomOf(part);
}

/** Drives between the rails, each through its ways of the connector, what is under the layout in a frame. */
function drawDrives(draft: Draft, plan: CircuitPlan, x0: Px, yA: Px, yB: Px): void {
  if (plan.drives.length === 0) return;
  const middle = (yA + yB) / 2;
  draft.frames.push({
    what: 'layout',
    at: [x0 - 12, yA + WAY],
    size: [plan.drives.length * DRIVE + 30, yB - yA - 2 * WAY],
  });
  for (const [i, { drive, above, below }] of plan.drives.entries()) {
    const x = x0 + SPINE + i * DRIVE;
    for (const [end, rail, sign] of [
      [above, yA, 1],
      [below, yB, -1],
    ] as const) {
      const way = rail + sign * WAY;
      const tag: Spot = [x, middle - sign * HALF_PX.motor];
      if (end.pin === null) {
        draft.line(end.tag, [x, rail], tag);
        draft.chip(end.tag, [x, rail + sign * 34]);
      } else {
        const [panel, layout] = [way - sign * HALF_PX.way, way + sign * HALF_PX.way];
        draft.line(end.pin, [x, rail], [x, panel]);
        draft.line(end.tag, [x, layout], tag);
        draft.chip(end.pin, [x, rail + sign * 34]);
        draft.chip(end.tag, [x, rail + sign * LAYOUT_CHIP]);
        draft.symbols.push({
          kind: 'way',
          id: end.pin,
          at: [x, way],
          turn: sign > 0 ? 0 : 180,
          ends: [
            { terminal: end.pin, at: [x, panel] },
            { terminal: under(end.pin), at: [x, layout] },
          ],
          title: end.pin,
          note: '',
          words: { at: [x + 14, way - sign * 10 + 5], anchor: 'start' },
          panelHalf: end.connector?.panelHalf ?? 'socket',
        });
      }
      // From rail A down to rail B where tag a is the upper one.
      draft.arrow(drive.id, [x, rail + sign * 16], above.tag === drive.a ? 0 : 180);
    }
    draft.amps(drive.id, [x, middle - HALF_PX.motor - 15]);
    draft.symbols.push({
      kind: 'motor',
      id: drive.id,
      at: [x, middle],
      turn: above.tag === drive.a ? 0 : 180,
      ends: [
        { terminal: above.tag, at: [x, middle - HALF_PX.motor] },
        { terminal: below.tag, at: [x, middle + HALF_PX.motor] },
      ],
      title: drive.id,
      note: drive.points.filter((point) => point !== drive.id).join(' '),
      words: { at: [x + 29, middle + 1], anchor: 'start' },
    });
  }
}
