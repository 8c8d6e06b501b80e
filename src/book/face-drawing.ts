/** The face as it will look, in true millimetres: paint, platforms, tape, lamps, levers, plates, screws. */
import type {
  DrawnButton,
  DrawnLamp,
  DrawnLever,
  DrawnPlate,
  DrawnPlatform,
  DrawnStrip,
  Face,
  Stroke,
} from '../face/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { FACE_LETTERS, lampInk, METAL, PLATE_INK, PLATFORM_INK, paintInk, tapeInk } from './colours.ts';
import type { FontRole } from './fonts.ts';
import type { Step } from './page.ts';
import type { Pen } from './pen.ts';

/** A strip's centre line as steps of a path, moved by `shift`. */
export function stepsOfStrokes(
  strokes: readonly Stroke[],
  shift: Spot = [0, 0],
  mirror: Millimetre | null = null,
): Step[] {
  const put = ([x, y]: Spot): Spot =>
    mirror === null ? [x + shift[0], y + shift[1]] : [mirror - x + shift[0], y + shift[1]];
  const steps: Step[] = [];
  let last: Spot | null = null;
  for (const stroke of strokes) {
    if (last === null || Math.hypot(last[0] - stroke.from[0], last[1] - stroke.from[1]) > SAME_SPOT)
      steps.push({ go: 'move', to: put(stroke.from) });
    if (stroke.kind === 'line') steps.push({ go: 'line', to: put(stroke.to) });
    else
      steps.push({
        go: 'arc',
        to: put(stroke.to),
        centre: put(stroke.centre),
        radius: stroke.radius,
        clockwise: stroke.clockwise !== (mirror !== null),
      });
    last = stroke.to;
  }
  return steps;
}
/** Strokes that meet within so many mm are one line: far below what a pen draws. */
const SAME_SPOT: Millimetre = 1e-6;

/** The corners of a box turned clockwise about its middle. */
export function turnedBox(at: Spot, [width, height]: Spot, degrees: number): Spot[] {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return (
    [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ] as const
  ).map(([i, j]): Spot => {
    const [x, y] = [(i * width) / 2, (j * height) / 2];
    return [at[0] + x * c - y * s, at[1] + x * s + y * c];
  });
}

function drawStrip(pen: Pen, strip: DrawnStrip): void {
  const ink = tapeInk(strip.tape);
  const steps = stepsOfStrokes(strip.strokes);
  const w = strip.width;
  pen.path(stepsOfStrokes(strip.strokes, [0.35, 0.75]), { stroke: '#0d1716', width: w, opacity: 0.2, join: 'round' });
  pen.path(steps, { stroke: ink.body, width: w, join: 'round' });
  pen.path(stepsOfStrokes(strip.strokes, [0, -0.19 * w]), { stroke: ink.band, width: 0.3 * w, join: 'round' });
  pen.path(stepsOfStrokes(strip.strokes, [0, -0.3 * w]), {
    stroke: '#ffffff',
    width: 0.1 * w,
    opacity: 0.14,
    join: 'round',
  });
}

function drawLamp(pen: Pen, lamp: DrawnLamp, lit: boolean): void {
  const ink = lampInk(lamp.colour);
  const r = lamp.size / 2;
  if (lit) for (const k of [6, 4.6, 3.3]) pen.circle(lamp.at, r * k * 0.5, { fill: ink.on, opacity: 0.16 });
  pen.circle(lamp.at, r + 0.25, { fill: '#1a1e20' });
  pen.circle(lamp.at, r, { fill: lit ? ink.rim : ink.off });
  if (lit) {
    pen.circle(lamp.at, r * 0.78, { fill: ink.on });
    pen.circle(lamp.at, r * 0.42, { fill: '#fffbe6' });
  } else pen.circle([lamp.at[0] - r * 0.3, lamp.at[1] - r * 0.3], r * 0.28, { fill: '#ffffff', opacity: 0.35 });
}

function drawLever(pen: Pen, lever: DrawnLever): void {
  const r = lever.nut / 2;
  pen.group({ shift: lever.at, turn: lever.angle }, (inner) => {
    inner.circle([0.5, 1.1], r + 0.4, { fill: '#0d1716', opacity: 0.22 });
    inner.circle([0, 0], r, { fill: METAL.light, stroke: METAL.mid, width: 0.25 });
    inner.circle([-0.12 * r, -0.16 * r], r * 0.84, { fill: '#d6dbdb' });
    const hex = Array.from(
      { length: 6 },
      (_, i): Spot => [r * 0.78 * Math.cos((i * Math.PI) / 3), r * 0.78 * Math.sin((i * Math.PI) / 3)],
    );
    inner.polyline(hex, { closed: true, fill: '#b7bebf', stroke: METAL.mid, width: 0.22 });
    inner.circle([0, 0], r * 0.46, { fill: METAL.dark });
    const tall = r * 1.5;
    inner.path(
      [
        { go: 'move', to: [-r * 0.17, 0] },
        { go: 'line', to: [-r * 0.3, -tall] },
        { go: 'arc', to: [r * 0.3, -tall], centre: [0, -tall], radius: r * 0.3, clockwise: true },
        { go: 'line', to: [r * 0.17, 0] },
        { go: 'arc', to: [-r * 0.17, 0], centre: [0, 0], radius: r * 0.17, clockwise: true },
        { go: 'close' },
      ],
      { fill: '#e4e8e7', stroke: METAL.mid, width: 0.25, join: 'round' },
    );
    inner.line([-r * 0.09, -r * 0.1], [-r * 0.16, -tall], { stroke: '#ffffff', width: r * 0.09, cap: 'round' });
  });
}

/** A push button from the front: its rim, and the cap that is pressed. */
function drawButton(pen: Pen, { at, rim }: DrawnButton): void {
  const r = rim / 2;
  pen.group({ shift: at }, (inner) => {
    inner.circle([0.4, 0.9], r + 0.3, { fill: '#0d1716', opacity: 0.22 });
    inner.circle([0, 0], r, { fill: METAL.light, stroke: METAL.mid, width: 0.25 });
    inner.circle([0, 0], r * 0.62, { fill: METAL.dark });
    inner.circle([-r * 0.12, -r * 0.16], r * 0.42, { fill: '#5c6566' });
  });
}

const PLATE_FONTS: Readonly<Record<500 | 600 | 700, FontRole>> = {
  500: 'plate-500',
  600: 'plate-600',
  700: 'plate-700',
};

/** The lettering of a plate, kept within it. */
export function letterPlate(pen: Pen, plate: DrawnPlate, at: Spot, fill: string): void {
  const top = at[1] - plate.height / 2;
  for (const line of plate.lines) {
    const room = plate.width - 1.2;
    const wide = pen.measure.width(line.text, PLATE_FONTS[line.weight], line.size, line.spacing);
    const share = Math.min(1, room / Math.max(wide, 1e-6));
    pen.text([at[0], top + line.y], line.text, {
      font: PLATE_FONTS[line.weight],
      size: line.size * share,
      spacing: line.spacing * share,
      anchor: 'middle',
      fill,
    });
  }
}

function drawPlate(pen: Pen, plate: DrawnPlate): void {
  const at: Spot = [plate.at[0] - plate.width / 2, plate.at[1] - plate.height / 2];
  const radius = Math.min(1.2, plate.height / 4);
  pen.rect([at[0] + 0.3, at[1] + 0.7], [plate.width, plate.height], { radius, fill: '#0d1716', opacity: 0.2 });
  pen.rect(at, [plate.width, plate.height], { radius, fill: PLATE_INK.plate, stroke: PLATE_INK.edge, width: 0.3 });
  letterPlate(pen, plate, plate.at, PLATE_INK.ink);
  if (!plate.screws) return;
  for (const side of [-1, 1]) drawScrew(pen, [plate.at[0] + side * (plate.width / 2 - 3), plate.at[1]], 1.3);
}

function drawScrew(pen: Pen, at: Spot, radius: Millimetre): void {
  pen.circle(at, radius, { fill: METAL.light, stroke: METAL.mid, width: 0.2 });
  const d = radius * 0.62;
  pen.line([at[0] - d, at[1] - d * 0.5], [at[0] + d, at[1] + d * 0.5], { stroke: METAL.dark, width: radius * 0.26 });
}

function drawPlatform(pen: Pen, platform: DrawnPlatform): void {
  const { at, size } = platform;
  pen.rect([at[0] + 0.3, at[1] + 0.6], size, { fill: '#0d1716', opacity: 0.16, radius: 0.6 });
  pen.rect(at, size, { fill: PLATFORM_INK.slab, stroke: PLATFORM_INK.edge, width: 0.3, radius: 0.6 });
  for (const name of platform.names)
    pen.text(name.at, name.text, {
      font: 'plate-600',
      size: PLATFORM_LETTERS,
      anchor: name.anchor,
      fill: FACE_LETTERS,
      most: size[0],
      least: 2,
    });
}
/** Lettering on a platform, mm. */
const PLATFORM_LETTERS: Millimetre = 5;

/** The whole face with its top left corner at the origin. `lit` are the lamps that shine; `paint` is the colour that the file names. */
export function drawFace(pen: Pen, face: Face, lit: ReadonlySet<string>, paint?: string): void {
  const ink = paintInk(paint);
  pen.rect([0, 0], [face.width, face.height], {
    fill: ink.paint,
    stroke: ink.edge,
    width: 0.5,
    radius: 2.5,
  });
  pen.rect([0.7, 0.7], [face.width - 1.4, face.height - 1.4], { stroke: ink.cut, width: 0.5, radius: 2 });
  pen.group({ clip: { at: [0, 0], size: [face.width, face.height] } }, (inner) => {
    for (const platform of face.platforms) drawPlatform(inner, platform);
    for (const strip of face.strips) drawStrip(inner, strip);
    for (const fixing of face.fixings) drawScrew(inner, fixing.at, fixing.drill);
    for (const plate of face.plates) drawPlate(inner, plate);
    for (const lamp of face.lamps) drawLamp(inner, lamp, lit.has(lamp.id));
    for (const lever of face.levers) drawLever(inner, lever);
    for (const button of face.buttons) drawButton(inner, button);
  });
}
