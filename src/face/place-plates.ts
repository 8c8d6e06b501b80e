/**
 * Where plates go. Those of the file stand where they say. For every lever, then every named end, then every named road a list of
 * positions is tried in a fixed order, and the first that lies on the sheet and hides nothing is taken; where none does, the one that
 * hides least, the earliest of equals. What is placed is in the way of what comes after.
 */
import { type PanelFile, type Strip, stripWidth } from '../panel/index.ts';
import type { Lever, Place } from '../plan/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { BoxGrid } from './grid.ts';
import { cleanCorners, fromStroke, gap } from './path.ts';
import { hundredth, LEVER_PLATE, makeFilePlate, makeLeverPlate, makeNamePlate } from './plate-sizes.ts';
import { type Box, boxAbout, boxesOverlap, boxToLine, boxToSpot, grown } from './shapes.ts';
import { BAT_REACH, SCREW_HEAD, TOUCH } from './tolerances.ts';
import type { DrawnLamp, DrawnLever, DrawnPlate, DrawnPlatform, Stroke } from './types.ts';

/** Clear of the edge of the sheet. */
const EDGE: Millimetre = 1;
/** A named end's plate covers so much of the tape. */
const OVER_END: Millimetre = 1;
/** Beside an end: from the tape's edge to the plate, and from the end back along the tape. */
const BESIDE_END: readonly (readonly [clear: Millimetre, back: Millimetre])[] = [
  [8.3, 10],
  [8.3, 2],
  [2.5, 10],
  [2.5, 2],
  [8.3, 24],
  [2.5, 24],
  [2.5, 40],
];
/** Beside a road, from the tape's edge to the plate. */
const BESIDE_ROAD: readonly Millimetre[] = [3, 1.5, 6];
/** Along a road from the spot that is named, as shares of the plate's width. */
const ALONG_ROAD = [0, 0.6, -0.6, 1.2, -1.2] as const;
/** Type as a share of the full one: at ease, and down to what is still read (7.6 x 0.4 is 3.04 mm). */
const EASY_SHARES = [0.85, 0.7] as const;
const SMALL_SHARES = [0.55, 0.4] as const;
/** Kept clear round a lamp's rim and round the toe of a point. */
const LAMP_CLEAR: Millimetre = 0.5;
const TOE: Millimetre = 3;
/** From the tip of a bat to the lever's plate, at full size and where room is short. */
const BAT_TO_PLATE: Millimetre = 8;
const BAT_TO_PLATE_LEAST: Millimetre = 1;
/** Between the plates of two levers, and how far off a lever's row may be to count as another row. */
const BETWEEN_PLATES: Millimetre = 3;
const ROW: Millimetre = 20;
const LEAST_PLATE: Millimetre = 8;
/** A heading counts for ends up to so far from it. */
const HEADING_REACH: Millimetre = 150;

interface Candidate {
  readonly at: Spot;
  readonly plate: Pick<DrawnPlate, 'width' | 'height' | 'lines' | 'screws'>;
}

/** Something that a plate should not hide: how much of the plate's box lies on it decides. */
type Obstacle =
  | { readonly kind: 'round'; readonly at: Spot; readonly radius: Millimetre }
  | { readonly kind: 'box'; readonly box: Box }
  | { readonly kind: 'tape'; readonly strip: string; readonly stroke: Stroke; readonly half: Millimetre };

export interface PlateInput {
  /** Tape as the file lays it. */
  readonly tape: readonly Strip[];
  /** Plates of the file. */
  readonly records: NonNullable<PanelFile['plates']>;
  readonly buttons: readonly Spot[];
  /** Where points are. */
  readonly points: readonly Spot[];
  readonly works: readonly Lever[];
  readonly places: readonly Place[];
  readonly width: Millimetre;
  readonly height: Millimetre;
  readonly lamps: readonly DrawnLamp[];
  readonly levers: readonly DrawnLever[];
  readonly platforms: readonly DrawnPlatform[];
  readonly fixings: readonly { readonly at: Spot; readonly drill: Millimetre }[];
  readonly strips: readonly { readonly id: string; readonly width: Millimetre; readonly strokes: readonly Stroke[] }[];
  /** Ids for the plates of the file, one each. */
  readonly plateIds: readonly string[];
}

/** All plates: those of the file, then of levers, then of places, each in its own order. */
export function placePlates(input: PlateInput): readonly DrawnPlate[] {
  const { width, height } = input;
  const grid = new BoxGrid();
  const obstacles: Obstacle[] = [];
  const plates: DrawnPlate[] = [];
  const leverGrid = new BoxGrid();
  const strips = input.tape.map((strip) => ({ strip, corners: cleanCorners(strip.path) }));
  /** Both ends of all tape, each with the corner before it. */
  const ends = strips.flatMap(({ strip, corners }) =>
    [
      [corners[0], corners[1]],
      [corners[corners.length - 1], corners[corners.length - 2]],
    ].flatMap(([end, before]) => (end === undefined || before === undefined ? [] : [{ strip, end, before }])),
  );

  for (const lamp of input.lamps) inTheWay({ kind: 'round', at: lamp.at, radius: lamp.size / 2 + LAMP_CLEAR });
  for (const lever of input.levers) {
    inTheWay({ kind: 'round', at: lever.at, radius: lever.nut / 2 });
    leverGrid.add(boxAbout(lever.at, 0, 0));
  }
  for (const { at, drill } of input.fixings) inTheWay({ kind: 'round', at, radius: (drill * SCREW_HEAD) / 2 });
  for (const at of input.buttons) inTheWay({ kind: 'round', at, radius: LEAST_PLATE });
  for (const at of input.points) inTheWay({ kind: 'round', at, radius: TOE });
  for (const { at, size } of input.platforms)
    inTheWay({ kind: 'box', box: [at[0], at[1], at[0] + size[0], at[1] + size[1]] });
  for (const strip of input.strips)
    for (const stroke of strip.strokes) inTheWay({ kind: 'tape', strip: strip.id, stroke, half: strip.width / 2 });

  for (const [i, record] of input.records.entries()) {
    const { title, ...made } = makeFilePlate(record);
    plates.push(make({ id: input.plateIds[i] ?? '', kind: title ? 'title' : 'text', at: record.at, ...made }));
  }
  const said = new Set<string>(plates.flatMap((plate) => plate.lines.map((line) => line.text.trim())));
  for (const platform of input.platforms) for (const name of platform.names) said.add(name.text.trim());
  const headings = plates.filter((plate) => plate.kind === 'text');

  const leverById = new Map(input.works.map((lever) => [lever.id, lever]));
  for (const drawn of input.levers) {
    const lever = leverById.get(drawn.id);
    if (lever === undefined) continue;
    const chosen = choose(leverCandidates(lever, drawn), null);
    if (chosen !== null) plates.push(make({ id: lever.id, kind: 'lever', at: chosen.at, ...chosen.plate }));
  }
  // Ends first that can wear their plate, then those at the edge of the sheet, then roads: who has least choice comes first.
  const placed = new Map<string, DrawnPlate>();
  for (const rank of [0, 1, 2] as const) {
    for (const place of input.places) {
      const text = place.name?.trim() ?? '';
      const isEnd = place.kind === 'end';
      if ((isEnd ? (isAtEdge(place.at) ? 1 : 0) : 2) !== rank || text === '' || said.has(text)) continue;
      const near = isEnd ? stripOfEnd(place) : stripOfRoad(place);
      if (near === null) continue;
      const candidates = isEnd ? endCandidates(place.at, text, near) : roadCandidates(place.at, text, near);
      const chosen = choose(candidates, isEnd ? near.strip.id : null);
      if (chosen === null) continue;
      placed.set(place.id, make({ id: place.id, kind: 'place', at: chosen.at, ...chosen.plate }));
    }
  }
  return [
    ...plates,
    ...input.places.flatMap((place) => {
      const plate = placed.get(place.id);
      return plate === undefined ? [] : [plate];
    }),
  ];

  function isAtEdge([x, y]: Spot): boolean {
    return x <= TOE || y <= TOE || x >= width - TOE || y >= height - TOE;
  }

  function inTheWay(obstacle: Obstacle): void {
    obstacles.push(obstacle);
    grid.add(extentOf(obstacle));
  }

  /** A plate to the hundredth, in the way of what comes after it. */
  function make(plate: DrawnPlate): DrawnPlate {
    inTheWay({ kind: 'box', box: boxAbout(plate.at, plate.width, plate.height) });
    return { ...plate, at: [hundredth(plate.at[0]), hundredth(plate.at[1])] };
  }

  /** The first candidate on the sheet that hides nothing; else the one on the sheet, or nearest to it, that hides least. */
  function choose(candidates: Iterable<Candidate>, ownStrip: string | null): Candidate | null {
    let best: Candidate | null = null;
    let least = Number.POSITIVE_INFINITY;
    for (const candidate of candidates) {
      const box = boxAbout(candidate.at, candidate.plate.width, candidate.plate.height);
      const outside = Math.max(
        0,
        EDGE - box[0] - TOUCH,
        EDGE - box[1] - TOUCH,
        box[2] - width + EDGE - TOUCH,
        box[3] - height + EDGE - TOUCH,
      );
      const hidden = grid.near(grown(box, TOUCH)).filter((number) => {
        const obstacle = obstacles[number];
        return obstacle !== undefined && hides(box, obstacle, ownStrip);
      }).length;
      if (outside === 0 && hidden === 0) return candidate;
      // A millimetre off the sheet is as bad as hiding one thing.
      const cost = outside + hidden;
      if (cost < least) {
        least = cost;
        best = candidate;
      }
    }
    return best;
  }

  /** Below the lever, where the bat does not reach; smaller where room is short; then above it and beside it. */
  function* leverCandidates(lever: Lever, drawn: DrawnLever): Iterable<Candidate> {
    const wide = widthFor(drawn);
    const name = lever.name ?? lever.works.map((worked) => worked.point).join(' ');
    const second = name.trim() === '' ? null : name;
    const reach = drawn.nut * BAT_REACH;
    for (const [share, clear] of [
      [1, BAT_TO_PLATE],
      [1, BAT_TO_PLATE_LEAST],
      ...EASY_SHARES.map((each) => [each, BAT_TO_PLATE_LEAST]),
    ] as const) {
      const plate = makeLeverPlate(lever.id, second, wide, share ?? 1);
      const down = reach + (clear ?? BAT_TO_PLATE) + plate.height / 2;
      yield { plate, at: [drawn.at[0], drawn.at[1] + down] };
      yield { plate, at: [drawn.at[0], drawn.at[1] - down] };
    }
    for (const share of SMALL_SHARES) {
      const plate = makeLeverPlate(lever.id, second, wide, share);
      const down = reach + BAT_TO_PLATE_LEAST + plate.height / 2;
      const across = drawn.nut / 2 + BETWEEN_PLATES + plate.width / 2;
      yield { plate, at: [drawn.at[0], drawn.at[1] + down] };
      yield { plate, at: [drawn.at[0], drawn.at[1] - down] };
      yield { plate, at: [drawn.at[0] + across, drawn.at[1]] };
      yield { plate, at: [drawn.at[0] - across, drawn.at[1]] };
    }
  }

  /** No wider than the next lever in the row leaves it, and on the sheet where the lever stands near its side. */
  function widthFor(drawn: DrawnLever): Millimetre {
    const [x, y] = drawn.at;
    let room: Millimetre = LEVER_PLATE.width;
    const reach = LEVER_PLATE.width + BETWEEN_PLATES;
    for (const number of leverGrid.near([x - reach, y - ROW, x + reach, y + ROW])) {
      const other = input.levers[number];
      if (other === undefined || other.id === drawn.id) continue;
      const apart = Math.abs(other.at[0] - x);
      if (apart >= drawn.nut / 2) room = Math.min(room, apart - BETWEEN_PLATES);
    }
    room = Math.min(room, 2 * (x - EDGE), 2 * (width - EDGE - x));
    return Math.max(room, LEAST_PLATE);
  }

  /** A plate that starts on the end and runs on outward; what a heading says already is left out where the whole does not fit. */
  function* endCandidates(at: Spot, text: string, { out }: Near): Iterable<Candidate> {
    const full = makeNamePlate(text, 1);
    yield { plate: full, at: onward(at, out, full) };
    const rest = restUnderHeading(at, text);
    if (rest !== null) {
      const plate = makeNamePlate(rest, 1);
      yield { plate, at: onward(at, out, plate) };
    }
    if (!isAtEdge(at)) {
      for (const share of EASY_SHARES) {
        const plate = makeNamePlate(text, share);
        yield { plate, at: onward(at, out, plate) };
      }
    }
    for (const share of [1, ...EASY_SHARES]) {
      const plate = makeNamePlate(text, share);
      for (const side of [-1, 1] as const)
        for (const [clear, back] of BESIDE_END) yield { plate, at: beside(at, out, plate, clear, back, side) };
    }
    for (const share of SMALL_SHARES) {
      const plate = makeNamePlate(text, share);
      yield { plate, at: onward(at, out, plate) };
      for (const side of [-1, 1] as const) yield { plate, at: beside(at, out, plate, 2.5, 2, side) };
    }
  }

  function* roadCandidates(at: Spot, text: string, { out, strip }: Near): Iterable<Candidate> {
    const across = upOrLeft(out);
    for (const share of [1, ...EASY_SHARES, ...SMALL_SHARES]) {
      const plate = makeNamePlate(text, share);
      for (const clear of BESIDE_ROAD) {
        const off = stripWidth(strip) / 2 + clear + support(plate, across);
        for (const along of ALONG_ROAD) {
          const by = along * 2 * support(plate, out);
          for (const side of [1, -1] as const) {
            yield {
              plate,
              at: [at[0] + out[0] * by + across[0] * off * side, at[1] + out[1] * by + across[1] * off * side],
            };
          }
        }
      }
    }
  }

  /** What is left of a name under a heading that says its first words: under the plate "Storage", "Storage 1" is "1". */
  function restUnderHeading(at: Spot, text: string): string | null {
    for (const plate of headings) {
      const words = plate.lines[0]?.text.trim() ?? '';
      if (words === '' || gap(plate.at, at) > HEADING_REACH) continue;
      if (text.startsWith(`${words} `)) return text.slice(words.length + 1).trim();
    }
    return null;
  }

  function stripOfEnd(place: Place): Near | null {
    let best: (typeof ends)[number] | null = null;
    let least = Number.POSITIVE_INFINITY;
    const [x, y] = place.at;
    for (const each of ends) {
      const { end } = each;
      // Nearly all are too far along one axis alone.
      if (Math.abs(end[0] - x) >= least || Math.abs(end[1] - y) >= least) continue;
      const off = gap(end, place.at);
      if (off >= least) continue;
      least = off;
      best = each;
    }
    return best === null ? null : { strip: best.strip, out: unit(best.before, best.end) };
  }

  function stripOfRoad(place: Place): Near | null {
    let best: Near | null = null;
    let least = Number.POSITIVE_INFINITY;
    for (const { strip, corners } of strips) {
      for (const [i, to] of corners.entries()) {
        const from = corners[i - 1];
        if (from === undefined) continue;
        const off = fromStroke(place.at, { kind: 'line', from, to }).gap;
        if (off >= least) continue;
        least = off;
        best = { strip, out: unit(from, to) };
      }
    }
    return best;
  }
}

interface Near {
  readonly strip: Strip;
  /** Along the tape; at an end, off it. */
  readonly out: Spot;
}

function unit(from: Spot, to: Spot): Spot {
  const length = gap(from, to);
  return [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
}

/** Square to a direction, the one that points up the sheet, or left where the direction is upright. */
function upOrLeft([x, y]: Spot): Spot {
  return Math.abs(x) >= Math.abs(y) ? (x > 0 ? [y, -x] : [-y, x]) : y > 0 ? [-y, x] : [y, -x];
}

/** Half of what a plate covers along a direction. */
function support(
  { width, height }: { readonly width: Millimetre; readonly height: Millimetre },
  along: Spot,
): Millimetre {
  return (width / 2) * Math.abs(along[0]) + (height / 2) * Math.abs(along[1]);
}

function onward(at: Spot, out: Spot, plate: Candidate['plate']): Spot {
  const by = support(plate, out) - OVER_END;
  return [at[0] + out[0] * by, at[1] + out[1] * by];
}

function beside(
  at: Spot,
  out: Spot,
  plate: Candidate['plate'],
  clear: Millimetre,
  back: Millimetre,
  side: 1 | -1,
): Spot {
  const across = upOrLeft(out);
  // 2.5 is half of usual tape; a wider one only brings the plate nearer to it.
  const off = -side * (2.5 + clear + support(plate, across));
  const by = back + support(plate, out);
  return [at[0] - out[0] * by + across[0] * off, at[1] - out[1] * by + across[1] * off];
}

function extentOf(obstacle: Obstacle): Box {
  if (obstacle.kind === 'box') return obstacle.box;
  if (obstacle.kind === 'round') return boxAbout(obstacle.at, 2 * obstacle.radius, 2 * obstacle.radius);
  const { from, to } = obstacle.stroke;
  return grown(
    [Math.min(from[0], to[0]), Math.min(from[1], to[1]), Math.max(from[0], to[0]), Math.max(from[1], to[1])],
    obstacle.half,
  );
}

function hides(box: Box, obstacle: Obstacle, ownStrip: string | null): boolean {
  if (obstacle.kind === 'round') return boxToSpot(box, obstacle.at) < obstacle.radius;
  if (obstacle.kind === 'box') return boxesOverlap(box, obstacle.box) > TOUCH;
  // A bend is little longer than its chord, and bulges by less than the tape is wide.
  const onOwn = obstacle.strip === ownStrip && obstacle.stroke.kind === 'line';
  const over = boxToLine(box, obstacle.stroke.from, obstacle.stroke.to) < obstacle.half;
  return over && !(onOwn && touchesEndOnly(box, obstacle.stroke));
}

/** Does a box cover no more of a straight stroke than the bit at an end that a plate may? */
function touchesEndOnly(box: Box, stroke: Stroke): boolean {
  const length = gap(stroke.from, stroke.to);
  if (length <= OVER_END + TOUCH) return true;
  const share = (OVER_END + TOUCH) / length;
  const at = (by: number): Spot => [
    stroke.from[0] + (stroke.to[0] - stroke.from[0]) * by,
    stroke.from[1] + (stroke.to[1] - stroke.from[1]) * by,
  ];
  return boxToLine(box, at(share), at(1 - share)) > 0;
}
