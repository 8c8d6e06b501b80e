/**
 * Circuits as the screen draws them, read back from their SVG by geometry alone: line ends that meet, dots, spots of terminals. What hangs
 * together there is what the wires join; a drawing that was tampered with does not pass.
 */
import { createElement, Fragment } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, test } from 'vitest';
import { type CircuitModel, modelCircuit } from '../../src/book/index.ts';
import { ARRANGE_LAMPS, ARRANGE_SCHEMES, ARRANGES, usualFor } from '../../src/cli/combinations-page.ts';
import { combine, DRIVES, FEEDS, SCHEMES } from '../../src/cli/combine.ts';
import { type Derived, derive } from '../../src/derive.ts';
import type { Spot } from '../../src/units/index.ts';
import { CircuitLines, CircuitSymbols } from '../../src/web/wire/drawing.tsx';
import type { Circuit } from '../../src/wiring/index.ts';
import { Joins } from './joins.ts';
import { loadExample } from './load.ts';

/** A tenth of a px: nothing that is drawn is finer. */
const TOUCH = 0.1;
const near = (a: Spot, b: Spot): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < TOUCH;

/** A drawing as an eye has it. */
interface Seen {
  readonly lines: readonly (readonly [Spot, Spot])[];
  /** The net of each line, by its number. */
  readonly nets: readonly string[];
  readonly dots: readonly Spot[];
  readonly ends: readonly { readonly name: string; readonly at: Spot }[];
  readonly marks: readonly { readonly name: string; readonly at: Spot }[];
}

function svgOf(model: CircuitModel): string {
  const props = { model, live: null };
  return renderToStaticMarkup(
    createElement(Fragment, null, createElement(CircuitLines, props), createElement(CircuitSymbols, props)),
  );
}

function readSvg(svg: string): Seen {
  const elements = [...svg.matchAll(/<(\w+)((?: [\w-]+="[^"]*")*)/g)].map(([, name = '', text = '']) => ({
    name,
    at: new Map([...text.matchAll(/ ([\w-]+)="([^"]*)"/g)].map(([, key = '', value = '']) => [key, value])),
  }));
  type Element = (typeof elements)[number];
  const number = ({ at }: Element, key: string): number => {
    const value = Number(at.get(key));
    if (!Number.isFinite(value)) throw new Error(`${key} is ${at.get(key)}`);
    return value;
  };
  const spot = (each: Element): Spot => [number(each, 'cx'), number(each, 'cy')];
  return {
    lines: elements
      .filter((each) => each.at.has('data-net') && each.name === 'line')
      .map((each) => [
        [number(each, 'x1'), number(each, 'y1')],
        [number(each, 'x2'), number(each, 'y2')],
      ]),
    nets: elements
      .filter((each) => each.at.has('data-net') && each.name === 'line')
      .map((each) => each.at.get('data-net') ?? ''),
    dots: elements.filter((each) => each.at.has('data-dot')).map(spot),
    ends: elements.flatMap((each) => {
      const name = each.at.get('data-terminal');
      return name === undefined ? [] : [{ name, at: spot(each) }];
    }),
    marks: elements.flatMap((each) => {
      const name = each.at.get('data-mark');
      const [x = 0, y = 0] = (each.at.get('data-at') ?? '').split(' ').map(Number);
      return name === undefined ? [] : [{ name, at: [x, y] as Spot }];
    }),
  };
}

const within = (spot: Spot, [a, b]: readonly [Spot, Spot]): boolean =>
  Math.hypot(spot[0] - a[0], spot[1] - a[1]) + Math.hypot(spot[0] - b[0], spot[1] - b[1]) <
  Math.hypot(a[0] - b[0], a[1] - b[1]) + TOUCH;

/** Two ends that meet are a bend; where more meet, or one meets the middle of a line, only a dot joins them. */
function hangsTogether({ lines, dots, ends, marks }: Seen): string[][] {
  const joins = new Joins();
  const line = (i: number): string => `line ${i}`;
  for (const [i, one] of lines.entries()) {
    for (const spot of one) {
      const meeting = lines.flatMap((other, k) => (other.some((end) => near(end, spot)) ? [k] : []));
      if (meeting.length === 2) for (const k of meeting) joins.join(line(i), line(k));
    }
    for (const { name, at } of ends) if (one.some((end) => near(end, at))) joins.join(line(i), name);
    for (const { name, at } of marks) if (within(at, one)) joins.join(line(i), `mark ${name}`);
  }
  for (const dot of dots) {
    const met = lines.flatMap((each, i) => (within(dot, each) ? [i] : []));
    for (const i of met.slice(1)) joins.join(line(met[0] ?? 0), line(i));
  }
  for (const [i, one] of ends.entries())
    for (const other of ends.slice(i + 1)) if (near(one.at, other.at)) joins.join(one.name, other.name);
  return joins.sets(ends.map(({ name }) => name));
}

/** What the wires of a circuit join, of what is drawn; a pin has a side in the panel and one under the layout. */
function byWires(derived: Derived, circuit: Circuit, names: readonly string[]): string[][] {
  const joins = new Joins();
  const pins = new Set(derived.wiring.connectors.flatMap((connector) => connector.pins.map((pin) => pin.id)));
  for (const wire of derived.wiring.wires.filter((each) => circuit.wires.includes(each.id))) {
    const end = (terminal: string): string =>
      wire.side === 'layout' && pins.has(terminal) ? `${terminal}~` : terminal;
    joins.join(end(wire.from), end(wire.to));
  }
  return joins.sets(names);
}

/** Lines that lie across each other away from their ends, as the nets of both. */
function crossings({ lines, nets, dots }: Seen): readonly (readonly [string, string])[] {
  const between = (value: number, a: number, b: number): boolean =>
    value > Math.min(a, b) + TOUCH && value < Math.max(a, b) - TOUCH;
  const named = lines.map((line, i) => ({ line, net: nets[i] ?? '' }));
  const level = named.filter(({ line: [a, b] }) => Math.abs(a[1] - b[1]) < TOUCH);
  const upright = named.filter(({ line: [a, b] }) => Math.abs(a[0] - b[0]) < TOUCH);
  expect(level.length + upright.length).toBe(lines.length);
  return level.flatMap(({ line: [a, b], net }) =>
    upright.flatMap(({ line: [c, d], net: other }): (readonly [string, string])[] => {
      const at: Spot = [c[0], a[1]];
      const across = between(at[0], a[0], b[0]) && between(at[1], c[1], d[1]);
      return across && !dots.some((dot) => near(dot, at)) ? [[net, other]] : [];
    }),
  );
}

/**
 * Conductors across each other that need not be. The two throws of a contact that light several groups of lamps together have to,
 * once for each but one of them: each group hangs on both, and the contact lies on one side of them all.
 */
function needless(derived: Derived, circuit: Circuit): readonly string[] {
  const seen = readSvg(svgOf(modelCircuit(derived, circuit)));
  const { wiring } = derived;
  const pairs = [
    ...wiring.switches.flatMap(({ poles }) => poles),
    ...wiring.contacts.filter((each) => each.circuit === circuit.id),
  ];
  const own = wiring.wires.filter((each) => circuit.wires.includes(each.id));
  const joins = new Joins();
  for (const { from, to } of own) joins.join(from, to);
  const of = (terminal: string | null): string => (terminal === null ? '' : joins.of(terminal));
  const isPair = (one: string, other: string): boolean =>
    pairs.some(
      ({ normal, reverse }) =>
        (of(normal) === of(one) && of(reverse) === of(other)) || (of(normal) === of(other) && of(reverse) === of(one)),
    );
  const terminals = own.flatMap(({ from, to }) => [from, to]);
  const pins = new Set(wiring.connectors.flatMap((connector) => connector.pins.map(({ id }) => id)));
  const isThrow = (terminal: string): boolean =>
    pairs.some(({ normal, reverse }) => terminal === normal || terminal === reverse);
  /** What hangs on a net besides the contact and the pins that it comes through. */
  const hanging = (net: string): number =>
    new Set(terminals.filter((each) => of(each) === of(net) && !pins.has(each) && !isThrow(each))).size;
  const found = crossings(seen);
  const counts = new Map<string, number>();
  for (const pair of found)
    counts.set([...pair].sort().join(' and '), (counts.get([...pair].sort().join(' and ')) ?? 0) + 1);
  return [
    ...found.filter(([one, other]) => !isPair(one, other)).map(([one, other]) => `${circuit.id}: ${one} over ${other}`),
    ...[...counts].flatMap(([pair, n]) =>
      n <= Math.min(...pair.split(' and ').map(hanging)) - 1 ? [] : [`${circuit.id}: ${pair} cross ${n} times`],
    ),
  ];
}

/** What of a circuit is wrongly drawn; empty: nothing. */
function wrongs(derived: Derived, circuit: Circuit, seen: Seen): readonly string[] {
  const names = seen.ends.map(({ name }) => name);
  const [drawn, wired] = [hangsTogether(seen), byWires(derived, circuit, names)].map((sets) =>
    sets.map((set) => set.join(' ')),
  );
  return [
    ...(drawn ?? []).filter((set) => wired?.includes(set) !== true).map((set) => `${circuit.id} drawn: ${set}`),
    ...(wired ?? []).filter((set) => drawn?.includes(set) !== true).map((set) => `${circuit.id} wired: ${set}`),
  ];
}

function panelWrongs(derived: Derived): readonly string[] {
  return derived.wiring.circuits.flatMap((circuit) => {
    const model = modelCircuit(derived, circuit);
    if (!model.covered) return [`${circuit.id} is not drawn`];
    const seen = readSvg(svgOf(model));
    const own = derived.wiring.lamps.filter((lamp) => lamp.circuit === circuit.id).map(({ id }) => id);
    const parts = new Set(model.symbols.map(({ id }) => id));
    return [
      ...wrongs(derived, circuit, seen),
      ...own.filter((id) => !parts.has(id)).map((id) => `${circuit.id}: ${id} is missing`),
      ...(parts.size === model.symbols.length ? [] : [`${circuit.id}: a part is drawn twice`]),
    ];
  });
}

const EXAMPLES = ['bramble-siding', 'quillhaven-harbour'] as const;

describe.each(EXAMPLES)('circuits of %s', (name) => {
  const derived = loadExample(name);
  test('hang together as the wires say, with every lamp', () => {
    expect(derived.wiring.circuits.length).toBeGreaterThan(0);
    expect(panelWrongs(derived)).toEqual([]);
  });
  test('have no conductor across another that need not be', () => {
    expect(derived.wiring.circuits.flatMap((circuit) => needless(derived, circuit))).toEqual([]);
  });
  test('have what is the same in the same place', () => {
    const spots = new Map<string, Set<string>>();
    for (const circuit of derived.wiring.circuits.filter(({ feed }) => feed === 'reversing')) {
      const ladder = modelCircuit(derived, circuit).symbols;
      for (const { id, kind, at } of ladder) {
        const of = id === `${circuit.id}.1` ? 'upper pole' : kind === 'supply' || kind === 'fuse' ? id : null;
        if (of !== null) spots.set(of, (spots.get(of) ?? new Set()).add(at.join(' ')));
      }
    }
    expect([...spots.keys()]).toContain('upper pole');
    for (const [of, at] of spots) expect([of, at.size]).toEqual([of, 1]);
  });
  test('are told from the same with a dot taken away, or a line moved', () => {
    for (const circuit of derived.wiring.circuits) {
      const seen = readSvg(svgOf(modelCircuit(derived, circuit)));
      for (const i of seen.dots.keys()) {
        const without = { ...seen, dots: seen.dots.filter((_, k) => k !== i) };
        expect([circuit.id, 'dot', seen.dots[i], wrongs(derived, circuit, without).length > 0]).toEqual([
          circuit.id,
          'dot',
          seen.dots[i],
          true,
        ]);
      }
      for (const [i, [from, to]] of seen.lines.entries()) {
        // So far that it meets nothing that it met.
        const moved: readonly [Spot, Spot] = [
          [from[0] + 3, from[1] + 3],
          [to[0] + 3, to[1] + 3],
        ];
        const lines = seen.lines.map((each, k) => (k === i ? moved : each));
        expect([circuit.id, from, to, wrongs(derived, circuit, { ...seen, lines }).length > 0]).toEqual([
          circuit.id,
          from,
          to,
          true,
        ]);
      }
    }
  });
});

describe('every combination', () => {
  test.each(DRIVES)('of %s with feed and lighting hangs together as its wires say', (drive) => {
    const found = FEEDS.flatMap((feed) =>
      SCHEMES.flatMap((scheme) =>
        panelWrongs(derive(combine({ drive, feed, scheme }))).map((wrong) => `${feed} ${scheme}: ${wrong}`),
      ),
    );
    expect(found).toEqual([]);
  });
  test.each(ARRANGES)('of lamps arranged %s', (arrange) => {
    const found = ARRANGE_SCHEMES.flatMap((scheme) =>
      ARRANGE_LAMPS.flatMap((lamps) =>
        (['none', 'antiparallel'] as const).flatMap((guard) =>
          panelWrongs(derive(combine({ ...usualFor(scheme), scheme, arrange, lamps, guard }))).map(
            (wrong) => `${scheme} ${lamps} ${guard}: ${wrong}`,
          ),
        ),
      ),
    );
    expect(found).toEqual([]);
  });
  test('throws of one contact alone lie across each other, and only where they light more groups than one', () => {
    const found = DRIVES.flatMap((drive) =>
      FEEDS.flatMap((feed) =>
        SCHEMES.flatMap((scheme) => {
          const derived = derive(combine({ drive, feed, scheme, lamps: 2 }));
          return derived.wiring.circuits.flatMap((circuit) => needless(derived, circuit));
        }),
      ),
    );
    expect(found).toEqual([]);
  });
});
