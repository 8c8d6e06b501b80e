/**
 * Circuit symbols in the manner of IEC 60617, upright: current comes in at the top and leaves at the bottom of each. Every
 * function draws round the spot it is given and leaves the conductors to the caller, save where it says so.
 */
import type { Millimetre, Spot } from '../units/index.ts';
import { pt } from './page.ts';
import { BLACK, FIRM, type Pen, WHITE } from './pen.ts';

/** Conductors and outlines of symbols, mm. */
export const STROKE: Millimetre = 0.35;
const ink = { stroke: BLACK, width: STROKE };

/** Half the height of each symbol, where its conductors begin. */
export const HALF = { resistor: 4.2, diode: 1.7, motor: 5, fuse: 3.6, supply: 6 } as const;

/** A dot where conductors join. */
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

/** A terminal: a small open circle. */
export function drawTag(pen: Pen, at: Spot): void {
  pen.circle(at, TAG_RADIUS, { stroke: BLACK, width: STROKE, fill: WHITE });
}
export const TAG_RADIUS: Millimetre = 0.9;

/** A resistor: a rectangle. */
export function drawResistor(pen: Pen, [x, y]: Spot): void {
  pen.rect([x - 1.5, y - HALF.resistor], [3, 2 * HALF.resistor], { ...ink, fill: WHITE });
}

/** A fuse: a rectangle with the conductor through it. */
export function drawFuse(pen: Pen, [x, y]: Spot): void {
  pen.rect([x - 1.3, y - HALF.fuse], [2.6, 2 * HALF.fuse], { ...ink, fill: WHITE });
  pen.line([x, y - HALF.fuse], [x, y + HALF.fuse], ink);
}

/** A diode; `down` where it conducts from top to bottom. With `light` the two arrows of an LED, on the left. */
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

/** A direct-current motor: M over a straight and a broken line. */
export function drawMotor(pen: Pen, [x, y]: Spot): void {
  pen.circle([x, y], HALF.motor, { ...ink, fill: WHITE });
  pen.text([x, y + 0.7], 'M', { font: 'text-600', size: pt(12), anchor: 'middle' });
  pen.line([x - 1.9, y + 2], [x + 1.9, y + 2], { stroke: BLACK, width: 0.25 });
  for (const k of [-1.9, -0.5, 0.9]) pen.line([x + k, y + 2.8], [x + k + 1, y + 2.8], { stroke: BLACK, width: 0.25 });
}

/** A supply that makes direct current of the mains: a square, a wave and a straight line. */
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

/** A battery of a few cells: long line plus, at the top. */
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

/** One way of a connector across a conductor that runs down: the panel's half above; a socket is an arc, a plug a bar. */
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
