/**
 * What colour says is said by a second sign as well, and stays apart for eyes without one of the three kinds of cone.
 *
 * Simulation: G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A physiologically-based model for simulation of color vision deficiency",
 * IEEE TVCG 15 (6), 2009, severity 1.0, on linear RGB; the matrices are from memory. Contrast: WCAG 2.2, 1.4.3 and 1.4.11. sRGB: IEC 61966-2-1.
 * Difference: CIELAB 1976, CIE 15, white D65. About 2.3 is just noticed (Mahy et al., 1994; from memory).
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { SEVERITIES } from '../checks/index.ts';
import { SeverityMark } from './icons.tsx';
import { layWords } from './words/lay.ts';
import { severities } from './words/run.ts';

type Triple = readonly [number, number, number];
type Matrix = readonly [Triple, Triple, Triple];

const EYES: Readonly<Record<'usual' | 'protan' | 'deutan' | 'tritan', Matrix>> = {
  usual: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protan: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deutan: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritan: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};
const KINDS = ['usual', 'protan', 'deutan', 'tritan'] as const;

/** Tapes lie apart on the sheet, not side by side: several times what is just noticed. */
const APART = 10;
/** A lamp that is lit beside one that is not: WCAG 2.2, 1.4.11. */
const LEAST_CONTRAST = 3;

const linear = (hex: string): Triple => {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  });
  return [r, g, b];
};

const times = (matrix: Matrix, [x, y, z]: Triple): Triple => {
  const row = ([a, b, c]: Triple): number => a * x + b * y + c * z;
  return [row(matrix[0]), row(matrix[1]), row(matrix[2])];
};

const seen = (hex: string, eyes: Matrix): Triple => {
  const [r, g, b] = times(eyes, linear(hex));
  const held = (value: number): number => Math.min(1, Math.max(0, value));
  return [held(r), held(g), held(b)];
};

const luminance = ([r, g, b]: Triple): number => 0.2126 * r + 0.7152 * g + 0.0722 * b;

function contrast(a: Triple, b: Triple): number {
  const [low = 0, high = 0] = [luminance(a), luminance(b)].sort((p, q) => p - q);
  return (high + 0.05) / (low + 0.05);
}

function lab(colour: Triple): Triple {
  const xyz = times(
    [
      [0.4124, 0.3576, 0.1805],
      [0.2126, 0.7152, 0.0722],
      [0.0193, 0.1192, 0.9505],
    ],
    colour,
  );
  const root = (value: number): number =>
    value > (6 / 29) ** 3 ? Math.cbrt(value) : value / (3 * (6 / 29) ** 2) + 4 / 29;
  const [x, y, z] = [root(xyz[0] / 0.9505), root(xyz[1]), root(xyz[2] / 1.089)];
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

const difference = (a: Triple, b: Triple): number => {
  const [p, q] = [lab(a), lab(b)];
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
};

const css = readFileSync(join(import.meta.dirname, 'tokens.css'), 'utf8');
const [light = '', dark = ''] = css.split('[data-theme="dark"]{');

/** A colour of the light or the dark room. */
function token(name: string, room: 'light' | 'dark'): string {
  const found = new RegExp(`--${name}:(#[0-9a-f]{6})`).exec(room === 'dark' ? dark : light)?.[1];
  if (found === undefined) throw new Error(`tokens.css has no --${name} in the ${room} room`);
  return found;
}

describe('the simulation', () => {
  it('leaves grey as it is: each row of a matrix adds up to one', () => {
    for (const kind of KINDS)
      for (const [a, b, c] of EYES[kind]) expect(Math.abs(a + b + c - 1), kind).toBeLessThan(1e-5);
  });
  it('brings red and green of one lightness together for protan and deutan alone, and would show it', () => {
    // Two colours of one luminance on the axis that is lost; the usual eye and the tritan tell them apart.
    const [red, green] = ['#b05050', '#707030'];
    const apart = Object.fromEntries(
      KINDS.map((kind) => [kind, difference(seen(red, EYES[kind]), seen(green, EYES[kind]))]),
    );
    expect(apart.deutan).toBeLessThan((apart.usual ?? 0) / 1.5);
    expect(apart.tritan).toBeGreaterThan(apart.deutan ?? 0);
  });
});

describe.each(KINDS)('colours for %s eyes', (kind) => {
  it.each(['light', 'dark'] as const)('a lit lamp is lighter than an unlit one, %s', (room) => {
    const [core, on, off, high] = ['lamp-core', 'lamp-on', 'lamp-off', 'lamp-off-hi'].map((name) =>
      seen(token(name, room), EYES[kind]),
    ) as [Triple, Triple, Triple, Triple];
    const figures = [contrast(core, off), contrast(core, high), contrast(on, off)];
    console.log(`${kind}, ${room}: lamp lit to unlit ${figures.map((each) => each.toFixed(1)).join(', ')} to 1`);
    expect(contrast(core, off)).toBeGreaterThan(LEAST_CONTRAST);
    expect(contrast(core, high)).toBeGreaterThan(LEAST_CONTRAST);
    expect(contrast(on, off)).toBeGreaterThan(LEAST_CONTRAST);
  });
  it.each(['light', 'dark'] as const)('the tapes stay apart, %s', (room) => {
    const tapes = ['tape-run', 'tape-goods', 'tape-store'] as const;
    for (const [i, a] of tapes.entries())
      for (const b of tapes.slice(i + 1)) {
        // In low light the hue lives in the band of light along the tape.
        const apart = Math.max(
          ...['', '-hi'].map((part) =>
            difference(seen(token(a + part, room), EYES[kind]), seen(token(b + part, room), EYES[kind])),
          ),
        );
        console.log(`${kind}, ${room}: ${a} to ${b} ${apart.toFixed(1)}`);
        expect(apart, `${a} ${b}`).toBeGreaterThan(APART);
      }
  });
  it.each(['light', 'dark'] as const)('every severity stands out from what it stands on, %s', (room) => {
    for (const severity of SEVERITIES) {
      const mark = seen(token(severity, room), EYES[kind]);
      expect(contrast(mark, seen(token('paper', room), EYES[kind])), severity).toBeGreaterThan(LEAST_CONTRAST);
      expect(contrast(mark, seen(token(`${severity}-wash`, room), EYES[kind])), severity).toBeGreaterThan(
        LEAST_CONTRAST,
      );
    }
  });
});

describe('the second sign', () => {
  it('of a severity is its shape and its word', () => {
    const shapes = SEVERITIES.map((severity) =>
      renderToStaticMarkup(SeverityMark({ severity, count: 1 })).replace(/class="[^"]*"/g, ''),
    );
    expect(new Set(shapes).size).toBe(SEVERITIES.length);
    expect(new Set(SEVERITIES.map((severity) => severities[severity])).size).toBe(SEVERITIES.length);
  });
  it('of what is kept and what is not are the words beside the dot', () => {
    expect(new Set([layWords.kept, layWords.notKept, layWords.keeping]).size).toBe(3);
  });
  it('of a tape is its name beside the roll', () => {
    expect(new Set(Object.values(layWords.tapes)).size).toBe(Object.keys(layWords.tapes).length);
  });
});
