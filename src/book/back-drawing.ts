/** The face from behind, mirrored as it is wired: bodies and tags of switches, lamps with their flats, holes; no letter is mirrored. */
import type { DrawnLever, Face } from '../face/index.ts';
import type { Millimetre, Spot } from '../units/index.ts';
import { BACK_INK } from './colours.ts';
import { stepsOfStrokes, turnedBox } from './face-drawing.ts';
import { type Box, placeLabels } from './labels.ts';
import type { Pen } from './pen.ts';

/** One tag of a switch from behind, in millimetres from the middle of its body; the bat stands up on the other side. */
export interface BackTag {
  /** "t1" */
  readonly name: string;
  readonly pole: number;
  readonly role: 'normal' | 'common' | 'reverse';
  readonly at: Spot;
}

/**
 * Where the tags are, seen from behind with the bat up: pole 1 at the left, in each pole the common in the middle. The bat
 * points away from the contact that it closes, so normal (bat up) is below: common practice, no source.
 */
export function backTags(poles: number, [width, height]: Spot): readonly BackTag[] {
  const across = width / poles;
  return Array.from({ length: poles }, (_, pole) => {
    const x = -width / 2 + across * (pole + 0.5);
    return (['normal', 'common', 'reverse'] as const).map(
      (role, i): BackTag => ({ name: `t${3 * pole + i + 1}`, pole: pole + 1, role, at: [x, (1 - i) * height * 0.33] }),
    );
  }).flat();
}

/** Which way the flat of a lamp points on the back: always to the bottom edge. */
export const FLAT_RULE = 'Every lamp stands with its flat, the minus side, towards the bottom edge of the face.';

/** A lamp from behind: a circle with a flat at the bottom, plus lead above, minus below. */
export function drawLampBehind(
  pen: Pen,
  at: Spot,
  radius: Millimetre,
  ink: { readonly stroke: string; readonly width: Millimetre; readonly fill?: string },
): void {
  const flat = radius * 0.72;
  const half = Math.sqrt(radius * radius - flat * flat);
  pen.path(
    [
      { go: 'move', to: [at[0] - half, at[1] + flat] },
      { go: 'arc', to: [at[0] + half, at[1] + flat], centre: at, radius, clockwise: true },
      { go: 'close' },
    ],
    ink,
  );
}

function drawSwitchBehind(pen: Pen, lever: DrawnLever, at: Spot): void {
  const angle = -lever.angle;
  pen.polyline(turnedBox(at, lever.body, angle), { closed: true, fill: BACK_INK.body });
  const [c, s] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)];
  for (const tag of backTags(lever.poles, lever.body)) {
    const spot: Spot = [at[0] + tag.at[0] * c - tag.at[1] * s, at[1] + tag.at[0] * s + tag.at[1] * c];
    pen.polyline(turnedBox(spot, [4.6, 4.6], angle), { closed: true, fill: BACK_INK.tin });
    pen.text([spot[0], spot[1] + 1], tag.name.slice(1), {
      font: 'text-700',
      size: 2.9,
      anchor: 'middle',
      fill: BACK_INK.ink,
    });
  }
  const lowest = Math.max(...turnedBox(at, lever.body, angle).map(([, y]) => y));
  pen.text([at[0], lowest + 5], lever.id, { font: 'plate-700', size: 5, anchor: 'middle', fill: BACK_INK.ink });
}

/** The back with its top left corner, seen from behind, at the origin. */
export function drawBack(pen: Pen, face: Face): void {
  const mirror = (spot: Spot): Spot => [face.width - spot[0], spot[1]];
  pen.rect([0, 0], [face.width, face.height], { fill: BACK_INK.sheet, stroke: BACK_INK.edge, width: 0.5, radius: 2.5 });
  pen.group({ clip: { at: [0, 0], size: [face.width, face.height] } }, (inner) => {
    for (const strip of face.strips)
      inner.path(stepsOfStrokes(strip.strokes, [0, 0], face.width), {
        stroke: BACK_INK.ghost,
        width: strip.width,
        join: 'round',
      });
    for (const fixing of face.fixings)
      inner.circle(mirror(fixing.at), fixing.drill / 2, { stroke: BACK_INK.ink, width: 0.3, fill: '#ffffff' });
    for (const hole of face.holes.filter((each) => each.what === 'tab' || each.what === 'button'))
      inner.circle(mirror(hole.at), hole.drill / 2, { stroke: BACK_INK.ink, width: 0.3, fill: '#ffffff' });
    for (const lever of face.levers) drawSwitchBehind(inner, lever, mirror(lever.at));
    for (const lamp of face.lamps) {
      const at = mirror(lamp.at);
      drawLampBehind(inner, at, lamp.size / 2, { stroke: BACK_INK.ink, width: 0.3, fill: '#f4e3b4' });
      inner.circle([at[0], at[1] - lamp.size * 0.2], 0.28, { fill: BACK_INK.ink });
      inner.circle([at[0], at[1] + lamp.size * 0.2], 0.28, { fill: BACK_INK.ink });
    }
    for (const label of placeLampNames(inner, face))
      inner.text(label.at, label.text, {
        size: BACK_LETTERS,
        font: 'text-600',
        anchor: label.anchor,
        fill: BACK_INK.ink,
      });
    inner.text([face.width / 2, face.height - 2.4], `Back, mirrored. ${FLAT_RULE}`, {
      size: 3.4,
      anchor: 'middle',
      fill: BACK_INK.ink,
      most: face.width - 40,
      least: 2,
    });
  });
}
const BACK_LETTERS: Millimetre = 3;

function placeLampNames(pen: Pen, face: Face) {
  const spots = face.lamps.map((lamp) => ({
    at: [face.width - lamp.at[0], lamp.at[1]] as Spot,
    radius: lamp.size / 2,
  }));
  const bodies = face.levers.map((lever) => {
    const corners = turnedBox([face.width - lever.at[0], lever.at[1]], lever.body, -lever.angle);
    return boxOf(corners);
  });
  return placeLabels(
    pen.measure,
    face.lamps.map((lamp, i) => ({
      text: lamp.id,
      at: spots[i]?.at ?? [0, 0],
      radius: lamp.size / 2 + 0.6,
      size: BACK_LETTERS,
      font: 'text-600' as const,
    })),
    [
      ...bodies,
      ...spots.map(({ at, radius }): Box => [at[0] - radius, at[1] - radius, at[0] + radius, at[1] + radius]),
    ],
    [0, 0, face.width, face.height],
  );
}

function boxOf(corners: readonly Spot[]): Box {
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}
