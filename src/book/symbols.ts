/**
 * Circuit symbols in the manner of IEC 60617, upright: current comes in at the top and leaves at the bottom of each. Every
 * function draws round the spot it is given and leaves the conductors to the caller, save where it says so. The designations
 * beside them (04-01-01) are those of the parts of the standard before it became a data base, from memory.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import type { ContactPart, PairPart } from './circuit-parts.ts';
import { pt } from './page.ts';
import { BLACK, FIRM, type Pen, SMALLEST, WHITE } from './pen.ts';

/** Conductors and outlines of symbols, mm. */
export const STROKE: Millimetre = 0.35;
const ink = { stroke: BLACK, width: STROKE };

/** Half the height of each symbol, where its conductors begin. */
export const HALF = { resistor: 4.2, diode: 1.7, motor: 5, fuse: 3.6, supply: 6 } as const;

/** A dot where conductors join (03-02-01). */
export function drawJunction(pen: Pen, at: Spot): void {
  pen.circle(at, 0.75, { fill: BLACK });
}

/** The direction of a current on a conductor that runs down: a filled head with its middle at the spot; 1 down, -1 up. */
export function drawArrow(pen: Pen, [x, y]: Spot, down: 1 | -1): void {
  pen.polyline(
    [
      [x - 0.9, y - down * 1.1],
      [x + 0.9, y - down * 1.1],
      [x, y + down * 1.1],
    ],
    { closed: true, fill: BLACK },
  );
}

/** A terminal: a small open circle (03-02-02). */
export function drawTag(pen: Pen, at: Spot): void {
  pen.circle(at, TAG_RADIUS, { stroke: BLACK, width: STROKE, fill: WHITE });
}
export const TAG_RADIUS: Millimetre = 0.9;

/** A resistor: a rectangle (04-01-01). */
export function drawResistor(pen: Pen, [x, y]: Spot): void {
  pen.rect([x - 1.5, y - HALF.resistor], [3, 2 * HALF.resistor], { ...ink, fill: WHITE });
}

/** A fuse: a rectangle with the conductor through it (07-21-01). */
export function drawFuse(pen: Pen, [x, y]: Spot): void {
  pen.rect([x - 1.3, y - HALF.fuse], [2.6, 2 * HALF.fuse], { ...ink, fill: WHITE });
  pen.line([x, y - HALF.fuse], [x, y + HALF.fuse], ink);
}

/** A diode (05-03-01), with `light` an LED (05-03-02); `down` where it conducts from top to bottom. With `light` the two arrows of an LED, on the left. */
export function drawDiode(pen: Pen, [x, y]: Spot, down: boolean, light: boolean): void {
  const s = down ? 1 : -1;
  const half = HALF.diode;
  pen.polyline(
    [
      [x - 1.9, y - s * half],
      [x + 1.9, y - s * half],
      [x, y + s * half],
    ],
    { ...ink, closed: true, fill: WHITE, join: 'round' },
  );
  pen.line([x - 1.9, y + s * half], [x + 1.9, y + s * half], { stroke: BLACK, width: 0.45 });
  pen.line([x, y - half], [x, y + half], { stroke: BLACK, width: 0.2 });
  if (!light) return;
  for (const shift of [-0.9, 0.7]) {
    const from: Spot = [x - 2.1, y + shift];
    const to: Spot = [from[0] - 1.9, from[1] - 1.5];
    pen.line(from, to, { stroke: BLACK, width: 0.22 });
    pen.polyline([to, [to[0] + 1.05, to[1] + 0.2], [to[0] + 0.45, to[1] + 0.98]], { closed: true, fill: BLACK });
  }
}

/** A direct-current motor: M over a straight and a broken line (06-04-01 with 02-02-03). */
export function drawMotor(pen: Pen, [x, y]: Spot): void {
  pen.circle([x, y], HALF.motor, { ...ink, fill: WHITE });
  pen.text([x, y + 0.7], 'M', { font: 'text-600', size: pt(12), anchor: 'middle' });
  pen.line([x - 1.9, y + 2], [x + 1.9, y + 2], { stroke: BLACK, width: 0.25 });
  for (const k of [-1.9, -0.5, 0.9]) pen.line([x + k, y + 2.8], [x + k + 1, y + 2.8], { stroke: BLACK, width: 0.25 });
}

/** A supply that makes direct current of the mains: a square, a wave and a straight line (06-14-03). */
export function drawSupply(pen: Pen, [x, y]: Spot): void {
  const h = HALF.supply;
  pen.rect([x - h, y - h], [2 * h, 2 * h], { ...ink, fill: WHITE });
  pen.line([x - h, y + h], [x + h, y - h], { stroke: BLACK, width: 0.25 });
  const wave: Spot[] = [];
  for (let i = 0; i <= 12; i++) wave.push([x - 4.6 + i * 0.34, y - 3 - Math.sin((i / 6) * Math.PI) * 0.9]);
  pen.polyline(wave, { stroke: BLACK, width: FIRM, join: 'round' });
  pen.line([x + 0.9, y + 2.6], [x + 4.9, y + 2.6], { stroke: BLACK, width: FIRM });
  for (const k of [0.9, 2.4, 3.9]) pen.line([x + k, y + 3.7], [x + k + 1, y + 3.7], { stroke: BLACK, width: FIRM });
}

/** A battery of a few cells: long line plus, at the top (06-15-01). */
export function drawBattery(pen: Pen, [x, y]: Spot): void {
  const h = HALF.supply;
  pen.line([x, y - h], [x, y - 2.4], ink);
  pen.line([x, y + 2.4], [x, y + h], ink);
  for (const [k, half] of [
    [-2.4, 3.6],
    [-0.8, 1.8],
    [0.8, 3.6],
    [2.4, 1.8],
  ] as const) {
    pen.line([x - half, y + k], [x + half, y + k], { stroke: BLACK, width: half > 2 ? 0.35 : 0.7 });
  }
}

/** One way of a connector (03-03-05) across a conductor that runs down: the panel's half above; a socket is an arc, a plug a bar. */
export function drawWay(pen: Pen, [x, y]: Spot, panelHalf: 'plug' | 'socket', panelAbove: boolean): void {
  const s = (panelHalf === 'socket') === panelAbove ? 1 : -1;
  // The bar enters the arc; `s` 1: the arc is above.
  pen.path(
    [
      { go: 'move', to: [x - 1.3, y] },
      { go: 'arc', to: [x + 1.3, y], centre: [x, y], radius: 1.3, clockwise: s > 0 },
    ],
    ink,
  );
  pen.rect([x - 0.55, s > 0 ? y - 0.6 : y - 2.2], [1.1, 2.8], { fill: BLACK });
}

/** How far a way reaches from its middle, upwards and downwards. */
export function wayReach(
  panelHalf: 'plug' | 'socket',
  panelAbove: boolean,
): { readonly up: Millimetre; readonly down: Millimetre } {
  return (panelHalf === 'socket') === panelAbove ? { up: 1.3, down: 2.2 } : { up: 2.2, down: 1.3 };
}

/** A capacitor whose plus is marked (04-02-05): two plates, plus at the top where `plusUp`. */
export function drawCapacitor(pen: Pen, [x, y]: Spot, plusUp: boolean): void {
  for (const k of [-1, 1]) {
    const plate = y + k * 0.7;
    pen.line([x - 3, plate], [x + 3, plate], { stroke: BLACK, width: 0.5 });
    pen.line([x, plate], [x, y + k * HALF_CAPACITOR], ink);
  }
  const sign: Spot = [x + 1.7, y + (plusUp ? -1 : 1) * 2.1];
  pen.line([sign[0] - 0.8, sign[1]], [sign[0] + 0.8, sign[1]], { stroke: BLACK, width: 0.22 });
  pen.line([sign[0], sign[1] - 0.8], [sign[0], sign[1] + 0.8], { stroke: BLACK, width: 0.22 });
}
const HALF_CAPACITOR: Millimetre = 3.4;

/** A coil: four half circles (04-03-01). */
export function drawCoil(pen: Pen, [x, y]: Spot): void {
  const r = HALF_COIL / 4;
  pen.path(
    [
      { go: 'move', to: [x, y - HALF_COIL] },
      ...[0, 1, 2, 3].map((k) => ({
        go: 'arc' as const,
        to: [x, y - HALF_COIL + 2 * r * (k + 1)] as Spot,
        centre: [x, y - HALF_COIL + r * (2 * k + 1)] as Spot,
        radius: r,
        clockwise: true,
      })),
    ],
    ink,
  );
}
const HALF_COIL: Millimetre = 5;

/** The coil of a relay: a rectangle across the conductor (07-15-01). */
export function drawRelayCoil(pen: Pen, [x, y]: Spot): void {
  pen.rect([x - 2.7, y - HALF_RELAY], [5.4, 2 * HALF_RELAY], { ...ink, fill: WHITE });
}
const HALF_RELAY: Millimetre = 2.2;

/** A push button that closes while it is pressed (07-07-02): its tags at the top and the bottom, the actuator at the right. */
export function drawButton(pen: Pen, [x, y]: Spot): void {
  const h = HALF_BUTTON - TAG_RADIUS;
  pen.line([x, y + h - TAG_RADIUS], [x + 2.6, y - h + 1], { stroke: BLACK, width: 0.5, cap: 'round' });
  pen.line([x + 1.4, y], [x + 4.4, y], { stroke: BLACK, width: 0.25, dash: [0.9, 0.6] });
  pen.polyline(
    [
      [x + 3.7, y - 1.5],
      [x + 4.4, y - 1.5],
      [x + 4.4, y + 1.5],
      [x + 3.7, y + 1.5],
    ],
    { stroke: BLACK, width: FIRM },
  );
  drawTag(pen, [x, y - h]);
  drawTag(pen, [x, y + h]);
}
const HALF_BUTTON: Millimetre = 4.4;

/** A source of alternating current: a circle with a wave (06-16-01 with 02-02-04). */
export function drawAlternating(pen: Pen, [x, y]: Spot): void {
  pen.circle([x, y], HALF_ROUND, { ...ink, fill: WHITE });
  const wave: Spot[] = [];
  for (let i = 0; i <= 12; i++) wave.push([x - 2.4 + i * 0.4, y - Math.sin((i / 6) * Math.PI) * 1.1]);
  pen.polyline(wave, { stroke: BLACK, width: FIRM, join: 'round' });
}
/** Supplies and motors that lie in a row. */
const HALF_ROUND: Millimetre = 4.4;

/** Half the length of a part of two ends as it lies in a row. */
export function pairHalf(part: PairPart): Millimetre {
  switch (part.kind) {
    case 'resistor':
      return HALF.resistor;
    case 'lamp':
    case 'diode':
      return HALF.diode;
    case 'capacitor':
      return HALF_CAPACITOR;
    case 'fuse':
      return HALF.fuse;
    case 'motor':
    case 'supply':
    case 'ac':
      return HALF_ROUND;
    case 'battery':
      return HALF.supply;
    case 'coil':
      return HALF_COIL;
    case 'relay-coil':
      return HALF_RELAY;
    case 'button':
      return HALF_BUTTON;
    case 'way':
      return HALF_WAY;
  }
}
const HALF_WAY: Millimetre = 2.4;

/** The same pen lying on its side: what runs down runs to the right. Words are not turned. */
function sideways(pen: Pen, [x, y]: Spot): Pen {
  const turn = ([px, py]: Spot): Spot => [x + (py - y), y - (px - x)];
  return {
    ...pen,
    line: (from, to, each) => pen.line(turn(from), turn(to), each),
    polyline: (points, each) => pen.polyline(points.map(turn), each),
    path: (steps, each) =>
      pen.path(
        steps.map((step) =>
          step.go === 'close'
            ? step
            : step.go === 'arc'
              ? { ...step, to: turn(step.to), centre: turn(step.centre) }
              : { ...step, to: turn(step.to) },
        ),
        each,
      ),
    rect: ([rx, ry], [w, h], each) => {
      const [ax, ay] = turn([rx + w, ry]);
      pen.rect([ax, ay], [h, w], each);
    },
    circle: (at, radius, each) => pen.circle(turn(at), radius, each),
  };
}

/** What stands in one line beside a part: its id and, of a motor, its points, of a capacitor, its value. */
export function pairTitle(part: PairPart): string {
  const both = part.kind === 'motor' || part.kind === 'capacitor';
  return both && part.note !== '' ? `${part.id} ${part.note}` : part.id;
}

/** A part of two ends as it lies in a row, its left end its first where `forward`, with its id and what is said of it. */
export function drawPair(pen: Pen, part: PairPart, at: Spot, forward: boolean): void {
  const flat = sideways(pen, at);
  const [x, y] = at;
  const half = pairHalf(part);
  const strong = { size: SMALLEST, font: 'text-700', anchor: 'middle' } as const;
  const plain = { size: SMALLEST, anchor: 'middle' } as const;
  const above = (text: string, rise: Millimetre): void => void pen.text([x, y - rise], text, strong);
  const below = (text: string, drop: Millimetre, bold = false): void =>
    void pen.text([x, y + drop], text, bold ? strong : plain);
  switch (part.kind) {
    case 'resistor':
      drawResistor(flat, at);
      above(part.id, 2.6);
      below(part.note, 4.6);
      return;
    case 'lamp':
      drawDiode(flat, at, forward, false);
      drawLight(pen, at);
      below(part.id, 5, true);
      return;
    case 'diode':
      drawDiode(flat, at, forward, false);
      below(part.id, 5, true);
      return;
    case 'capacitor':
      drawCapacitor(flat, at, forward);
      below(pairTitle(part), 6, true);
      return;
    case 'fuse':
      drawFuse(flat, at);
      above(part.id, 2.6);
      below(part.note, 4.6);
      return;
    case 'motor':
      pen.circle(at, half, { ...ink, fill: WHITE });
      pen.text([x, y + 0.5], 'M', { font: 'text-600', size: pt(11), anchor: 'middle' });
      pen.line([x - 1.8, y + 1.6], [x + 1.8, y + 1.6], { stroke: BLACK, width: 0.25 });
      for (const k of [-1.8, -0.5, 0.8])
        pen.line([x + k, y + 2.4], [x + k + 1, y + 2.4], { stroke: BLACK, width: 0.25 });
      pen.text([x + half - 0.4, y - half + 0.6], pairTitle(part), { ...strong, anchor: 'start' });
      for (const [end, side] of [
        [forward ? 'a' : 'b', -1],
        [forward ? 'b' : 'a', 1],
      ] as const)
        pen.text([x + side * (half + 1.2), y + 3.4], end, { ...plain });
      return;
    case 'supply': {
      pen.rect([x - half, y - half], [2 * half, 2 * half], { ...ink, fill: WHITE });
      pen.text([x + (forward ? -1 : 1) * (half + 1.4), y + 3.6], '+', { ...strong, size: pt(9) });
      pen.text([x, y - 0.4], part.id, { ...strong, most: 2 * half - 1 });
      pen.text([x, y + 2.9], part.note, { ...plain, most: 2 * half - 1 });
      return;
    }
    case 'ac':
      drawAlternating(pen, at);
      pen.text([x, y - half - 1], part.id, strong);
      pen.text([x, y + half + 3], part.note, plain);
      return;
    case 'battery':
      if (forward) drawBattery(flat, at);
      else drawBattery(sideways(sideways(flat, at), at), at);
      above(part.id, 4.4);
      below(part.note, 6.6);
      return;
    case 'coil':
      drawCoil(flat, at);
      above(part.id, 2.4);
      below(part.note, 4);
      return;
    case 'relay-coil':
      drawRelayCoil(flat, at);
      above(part.id, 3.6);
      below(part.note, 5.6);
      return;
    case 'button':
      drawButton(flat, at);
      below(part.id, 3.6, true);
      below(part.note, 6.8);
      return;
    case 'way':
      drawLyingWay(pen, flat, part, at, forward);
      return;
  }
}

/** The two arrows of an LED, above it (05-03-02). */
function drawLight(pen: Pen, [x, y]: Spot): void {
  for (const shift of [-0.9, 0.7]) {
    const from: Spot = [x + shift, y - 2.1];
    const to: Spot = [from[0] + 1.5, from[1] - 1.9];
    pen.line(from, to, { stroke: BLACK, width: 0.22 });
    pen.polyline([to, [to[0] - 0.2, to[1] + 1.05], [to[0] - 0.98, to[1] + 0.45]], { closed: true, fill: BLACK });
  }
}

function drawLyingWay(pen: Pen, flat: Pen, part: PairPart, at: Spot, panelLeft: boolean): void {
  const half = part.panelHalf ?? 'socket';
  drawWay(flat, at, half, panelLeft);
  const reach = wayReach(half, panelLeft);
  pen.line([at[0] - HALF_WAY, at[1]], [at[0] - reach.up, at[1]], ink);
  pen.line([at[0] + reach.down, at[1]], [at[0] + HALF_WAY, at[1]], ink);
  pen.text([at[0], at[1] + 4.6], part.id, { size: SMALLEST, font: 'text-700', anchor: 'middle' });
}

/** A changeover contact in a row: half its length from its common to its throws. */
export const CONTACT = { half: 5 } as const;

/**
 * A changeover contact that breaks before it makes (07-02-04), drawn normal: its common at the left where `throwsRight`, its
 * throws `rise` above and below. Gives where the conductors begin.
 */
export function drawContact(
  pen: Pen,
  [x, y]: Spot,
  part: ContactPart,
  throwsRight: boolean,
  rise: Millimetre,
): { readonly common: Spot; readonly normal: Spot; readonly reverse: Spot } {
  const s = throwsRight ? 1 : -1;
  const common: Spot = [x - s * CONTACT.half, y];
  const [n, r]: readonly [Spot, Spot] = [
    [x + s * CONTACT.half, y - rise],
    [x + s * CONTACT.half, y + rise],
  ];
  pen.line(common, [n[0] - s * 0.5, n[1] + TAG_RADIUS * 0.7], { stroke: BLACK, width: 0.6, cap: 'round' });
  const tagName = (terminal: string): string => terminal.slice(terminal.lastIndexOf('.') + 1);
  const named = (terminal: string | null, at: Spot, dy: Millimetre): void => {
    drawTag(pen, at);
    if (terminal !== null)
      pen.text([at[0], at[1] + dy], tagName(terminal), { size: SMALLEST, font: 'text-700', anchor: 'middle' });
  };
  named(part.normal, n, -1.9);
  named(part.reverse, r, 4.2);
  named(part.common, common, -1.9);
  pen.text([x + s * 0.6, y + 3.8], part.id, { size: SMALLEST, font: 'text-700', anchor: 'middle' });
  const out = (at: Spot, side: 1 | -1): Spot => [at[0] + side * TAG_RADIUS, at[1]];
  return {
    common: out(common, throwsRight ? -1 : 1),
    normal: out(n, throwsRight ? 1 : -1),
    reverse: out(r, throwsRight ? 1 : -1),
  };
}
