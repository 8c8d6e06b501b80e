/**
 * Networks of contacts against C. E. Shannon, A Symbolic Analysis of Relay and Switching Circuits (1938), and later results on the same
 * questions. Every network is a battery, a lamp with its resistor and real contacts, solved in every setting; the values, their
 * sources and what is only remembered stand in data/13-shannon.json.
 */
import { describe, expect, it } from 'vitest';
import { type CircuitElement, solveDc } from '../../src/circuit/index.ts';
import { planTree } from '../../src/lamps/index.ts';
import { lawFrom } from '../../src/parts/index.ts';
import { DARK, everySetting, holds, SEEN, treeAmps } from '../generate/tree-network.ts';
import data from './data/13-shannon.json' with { type: 'json' };

/** A contact between two nodes: closed when its relay is operated, or with a stroke when it is not. */
type Contact = readonly [from: string, to: string, literal: string];
type Operated = Readonly<Record<string, boolean>>;

/** Whether a lamp behind the contacts between a and b is seen; a current between dark and seen is refused. */
function isLit(contacts: readonly Contact[], operated: Operated): boolean {
  const elements: CircuitElement[] = [
    { kind: 'source', id: 'S1', a: 'a', b: 'minus', volts: 9, ohms: 0 },
    { kind: 'resistor', id: 'R1', a: 'b', b: 'anode', ohms: 3300 },
    { kind: 'diode', id: 'H1', a: 'anode', b: 'minus', law: lawFrom(2, 0.002, 2, 5) },
  ];
  contacts.forEach(([a, b, literal], k) => {
    const value = operated[literal.replace("'", '')];
    if (value === undefined) throw new RangeError(`${literal} is of no relay`);
    elements.push({ kind: 'contact', id: `C${k}`, a, b, closed: literal.endsWith("'") !== value, ohms: 0 });
  });
  const point = solveDc({ elements, reference: 'minus' });
  if (point.problems.length > 0) throw new RangeError(JSON.stringify(point.problems));
  const amps = point.amps.get('H1') ?? Number.NaN;
  if (amps >= SEEN) return true;
  if (Math.abs(amps) <= DARK) return false;
  throw new RangeError(`${amps} A is neither lit nor dark`);
}

/** Every setting of these relays, the first one changing fastest. */
function everyOperated(names: readonly string[]): readonly Operated[] {
  return Array.from({ length: 2 ** names.length }, (_, bits) =>
    Object.fromEntries(names.map((name, k) => [name, ((bits >> k) & 1) === 1] as const)),
  );
}

const numberOf = (operated: Operated): number => Object.values(operated).filter(Boolean).length;

/** What a lamp shows in every setting: `#` lit, `.` dark. */
const shown = (contacts: readonly Contact[], names: readonly string[]): string =>
  everyOperated(names)
    .map((operated) => (isLit(contacts, operated) ? '#' : '.'))
    .join('');

const wanted = (names: readonly string[], lit: (operated: Operated) => boolean): string =>
  everyOperated(names)
    .map((operated) => (lit(operated) ? '#' : '.'))
    .join('');

/**
 * The contacts of an expression in the notation of 1938: + is series, juxtaposition is parallel. There a variable is a hindrance, 0 when
 * closed; here its relay is operated then, so that a letter is a contact that makes and a stroke one that breaks.
 */
function contactsOf(text: string): readonly Contact[] {
  const contacts: Contact[] = [];
  let [at, nodes] = [0, 0];
  const sum = (from: string, to: string): void => {
    // A series of terms: as many as there are + at this depth.
    let node = from;
    for (;;) {
      const middle = endsSum(at) ? to : `x${nodes++}`;
      product(node, middle);
      if (text[at] !== '+') return;
      at++;
      node = middle;
    }
  };
  const product = (from: string, to: string): void => {
    while (at < text.length && !'+)]'.includes(text[at] ?? '')) {
      const letter = text[at++] ?? '';
      if ('(['.includes(letter)) {
        sum(from, to);
        at++;
        continue;
      }
      const stroke = text[at] === "'";
      if (stroke) at++;
      contacts.push([from, to, stroke ? `${letter}'` : letter]);
    }
  };
  const endsSum = (start: number): boolean => {
    let depth = 0;
    for (const letter of text.slice(start)) {
      if (depth === 0 && letter === '+') return false;
      if (depth === 0 && ')]'.includes(letter)) return true;
      depth += '(['.includes(letter) ? 1 : ')]'.includes(letter) ? -1 : 0;
    }
    return true;
  };
  sum('a', 'b');
  if (at !== text.length) throw new RangeError(`${text} cannot be read from ${at}`);
  return contacts;
}

const lettersOf = (text: string): readonly string[] => [...new Set(text.match(/[A-Z]/g) ?? [])].sort();

describe('the selective circuit S1,3,4', () => {
  const { variables, operated_counts: counts, element_counts: elements } = data.selective_circuit;
  const names = [...variables];
  const rows = wanted(names, (operated) => counts.includes(numberOf(operated)));
  const contacts = data.thirteen_contact_network.contacts.map(
    ([a = '', b = '', literal = '']): Contact => [a, b, literal],
  );

  it('[CI4] the network of thirteen contacts is right in all sixteen rows', () => {
    expect(contacts.length).toBe(elements.later_search);
    expect(shown(contacts, names)).toBe(rows);
  });

  // The claim that twelve cannot do: then no contact can be left out or bridged.
  it('no contact of the thirteen can be left open or be bridged', () => {
    contacts.forEach(([a, b], out) => {
      const left = contacts.filter((_, k) => k !== out);
      expect(shown(left, names)).not.toBe(rows);
      const always: readonly Contact[] = [
        [a, b, 'w'],
        [a, b, "w'"],
      ];
      expect(shown([...left, ...always], names)).not.toBe(rows);
    });
  });

  it('the symmetric method gives fifteen, right in all sixteen rows', () => {
    const pruned = prunedLattice(names, new Set(counts));
    expect(pruned.length).toBe(elements.symmetric_method_fig31);
    expect(shown(pruned, names)).toBe(rows);
  });
});

/** The lattice that counts operated relays: node j,c after j relays of which c are operated; all outputs. */
function lattice(names: readonly string[]): readonly Contact[] {
  return names.flatMap((name, j) =>
    Array.from({ length: j + 1 }, (_, c): readonly Contact[] => [
      [nodeAt(j, c), nodeAt(j + 1, c), `${name}'`],
      [nodeAt(j, c), nodeAt(j + 1, c + 1), name],
    ]).flat(),
  );
}

const nodeAt = (relays: number, operated: number): string => (relays === 0 ? 'a' : `${relays},${operated}`);

/** The lattice with the wanted outputs joined to b; what leads nowhere is left out, and a node of which both ways lead to b is b. */
function prunedLattice(names: readonly string[], counts: ReadonlySet<number>): readonly Contact[] {
  const n = names.length;
  const all = lattice(names);
  const means = new Map<string, string | null>();
  for (let c = 0; c <= n; c++) means.set(nodeAt(n, c), counts.has(c) ? 'b' : null);
  const contacts: Contact[] = [];
  for (let j = n - 1; j >= 0; j--) {
    for (let c = 0; c <= j; c++) {
      const ways = all.filter(([from]) => from === nodeAt(j, c));
      const ends = ways.map(([, to]) => means.get(to) ?? null);
      const same = ends.every((end) => end === ends[0]) && (ends[0] === 'b' || ends[0] === null) && j > 0;
      means.set(nodeAt(j, c), same ? (ends[0] ?? null) : nodeAt(j, c));
      if (same) continue;
      ways.forEach(([from, , literal], k) => {
        const to = ends[k] ?? null;
        if (to !== null) contacts.push([from, to, literal]);
      });
    }
  }
  return contacts;
}

describe('symmetric functions', () => {
  it.each([2, 3, 4, 5])('[CI4] the lattice of %i relays has n(n+1) contacts, and each output counts', (n) => {
    const names = [...'vwxyz'].slice(0, n);
    const contacts = lattice(names);
    expect(contacts.length).toBe(n * (n + 1));
    for (let count = 0; count <= n; count++) {
      const output = contacts.map(([a, b, literal]): Contact => [a, b === nodeAt(n, count) ? 'b' : b, literal]);
      expect(shown(output, names)).toBe(wanted(names, (operated) => numberOf(operated) === count));
    }
  });

  it.each([2, 3, 4])('all symmetric functions of %i relays keep within n^2 contacts, and are right', (n) => {
    const names = [...'wxyz'].slice(0, n);
    let most = 0;
    for (let bits = 1; bits < 2 ** (n + 1); bits++) {
      const counts = new Set(Array.from({ length: n + 1 }, (_, c) => c).filter((c) => (bits >> c) & 1));
      const contacts = prunedLattice(names, counts);
      most = Math.max(most, contacts.length);
      expect(shown(contacts, names)).toBe(wanted(names, (operated) => counts.has(numberOf(operated))));
    }
    expect(most).toBeLessThanOrEqual(n * n);
  });
});

describe('series and parallel', () => {
  it('[CI4] the circuit of figure 5 and that of figure 6 do the same in all 64 settings', () => {
    const { before, after } = data.fig5_to_fig6;
    const names = lettersOf(before);
    expect(names.length).toBe(6);
    const rows = shown(contactsOf(before), names);
    expect(shown(contactsOf(after), names)).toBe(rows);
    // By hand from figure 6: W, X and Y closed, and not all three of Z, S', V open.
    expect([...rows].filter((row) => row === '#').length).toBe(7);
  });

  it('[CI4] a circuit and its negative: in every setting exactly one of them conducts', () => {
    const { f, negative } = data.demorgan_example;
    const names = lettersOf(f);
    const rows = shown(contactsOf(f), names);
    expect(rows).toContain('#');
    expect(shown(contactsOf(negative), names)).toBe(rows.replace(/./g, (row) => (row === '#' ? '.' : '#')));
  });

  it('[CI4] the bridge conducts as its paths and as its cuts say, in all 32 settings', () => {
    const bridge: readonly Contact[] = [
      ['a', 'upper', 'R'],
      ['upper', 'b', 'S'],
      ['a', 'lower', 'U'],
      ['lower', 'b', 'V'],
      ['upper', 'lower', 'T'],
    ];
    const forms = data.bridge_fig10.identity.split(' = ');
    const names = lettersOf(data.bridge_fig10.identity);
    const rows = shown(bridge, names);
    expect(rows.length).toBe(32);
    expect(forms.map((form) => shown(contactsOf(form), names))).toEqual([rows, rows, rows]);
  });
});

describe('parity', () => {
  const isOdd = (operated: Operated): boolean => numberOf(operated) % 2 === 1;
  const namesOf = (n: number): readonly string[] => [...'ABCDE'].slice(0, n);

  /** The light worked from n places: a changeover at either end, a crossing double changeover at each between. */
  function fromAllPlaces(names: readonly string[]): readonly Contact[] {
    return names.flatMap((name, k): readonly Contact[] => {
      const even = `e${k}`;
      const odd = `o${k}`;
      if (k === 0) {
        return [
          ['a', 'e1', `${name}'`],
          ['a', 'o1', name],
        ];
      }
      if (k === names.length - 1) {
        return [
          [odd, 'b', `${name}'`],
          [even, 'b', name],
        ];
      }
      const [evenNext, oddNext] = [`e${k + 1}`, `o${k + 1}`];
      return [
        [even, evenNext, `${name}'`],
        [even, oddNext, name],
        [odd, oddNext, `${name}'`],
        [odd, evenNext, name],
      ];
    });
  }

  it.each(Object.entries(data.parity_general.values))('[CI4] of %s places takes %i contacts', (key, least) => {
    const names = namesOf(Number(key));
    const contacts = fromAllPlaces(names);
    expect(contacts.length).toBe(least);
    expect(shown(contacts, names)).toBe(wanted(names, isOdd));
  });

  /** In the notation of 1938: one conducts when an odd number of relays is operated, and its negative. */
  const odd = ([first = '', ...rest]: readonly string[]): string =>
    rest.length === 0 ? first : `(${first}+${even(rest)})(${first}'+${odd(rest)})`;
  const even = ([first = '', ...rest]: readonly string[]): string =>
    rest.length === 0 ? `${first}'` : `(${first}+${odd(rest)})(${first}'+${even(rest)})`;

  it.each(Object.entries(data.worst_series_parallel.values))(
    '[CI4] of %s relays in series and parallel alone takes %i contacts',
    (key, most) => {
      const names = namesOf(Number(key));
      const contacts = contactsOf(odd(names));
      expect(contacts.length).toBe(most);
      expect(shown(contacts, names)).toBe(wanted(names, isOdd));
      expect(shown(contactsOf(even(names)), names)).toBe(wanted(names, (operated) => !isOdd(operated)));
    },
  );
});

describe('functions of two variables', () => {
  // Every network of up to four contacts on four nodes: three contacts in a row need no more, and four are enough for all.
  it('[CI4] ten are of both: eight take two contacts, two take four, by trying every network', () => {
    const names = ['X', 'Y'];
    const pairs = ['a', 'b', 'p', 'q'].flatMap((from, k, nodes) => nodes.slice(k + 1).map((to) => [from, to] as const));
    const every = pairs.flatMap(([from, to]) => ['X', "X'", 'Y', "Y'"].map((literal): Contact => [from, to, literal]));
    const fewest = new Map<string, number>();
    const choose = (start: number, chosen: readonly Contact[]): void => {
      const rows = shown(chosen, names);
      fewest.set(rows, Math.min(fewest.get(rows) ?? Number.POSITIVE_INFINITY, chosen.length));
      if (chosen.length === 4) return;
      for (let k = start; k < every.length; k++) choose(k + 1, [...chosen, every[k] as Contact]);
    };
    choose(0, []);
    expect(fewest.size).toBe(2 ** (2 ** 2));
    const alone = new Set(['....', '####', '#.#.', '.#.#', '##..', '..##']);
    const ofBoth = [...fewest].filter(([rows]) => !alone.has(rows)).map(([, contacts]) => contacts);
    const { of_both, need_two_contacts, need_four_contacts } = data.functions_of_two_variables;
    expect(ofBoth.length).toBe(of_both);
    expect(ofBoth.filter((contacts) => contacts === 2).length).toBe(need_two_contacts);
    expect(ofBoth.filter((contacts) => contacts === 4).length).toBe(need_four_contacts);
  });
});

describe('the full tree', () => {
  // From memory, as the data say: 2^n - 1 changeovers, 2^(n+1) - 2 contacts.
  it.each([1, 2, 3, 4, 5, 6, 7, 8])('[CT3] of %i variables has 2^n - 1 changeovers, no order needs fewer', (n) => {
    const ids = Array.from({ length: n }, (_, k) => `L${k + 1}`);
    const lamps = everySetting(ids).map((cube, k) => ({ id: `H${k}`, cube }));
    const carriers = ids.map((id) => ({ id, contacts: 2 ** n }));
    const plan = planTree(lamps, carriers, { sides: 'plus' });
    if ('why' in plan) throw new RangeError(JSON.stringify(plan));
    expect([plan.count, plan.proved]).toEqual([2 ** n - 1, true]);
    const made = plan.contacts.flatMap(({ normal, reverse }) => [normal, reverse]).filter((node) => node !== null);
    expect(made.length).toBe(2 ** (n + 1) - 2);
    // One changeover fewer at the last carrier is one too few.
    const poor = carriers.map((carrier) => ({ ...carrier, contacts: 2 ** (n - 1) - 1 }));
    expect(planTree(lamps, poor, { sides: 'plus' })).toMatchObject({ why: 'contacts', needs: 2 ** (n - 1) });
    if (n > 5) return;
    for (const setting of everySetting(ids)) {
      const amps = treeAmps(plan, setting);
      const lit = lamps.filter(({ id }) => (amps.get(id) ?? Number.NaN) >= SEEN);
      expect(lit.map(({ id }) => id)).toEqual(lamps.filter(({ cube }) => holds(cube, setting)).map(({ id }) => id));
      expect(lamps.filter(({ id }) => Math.abs(amps.get(id) ?? Number.NaN) <= DARK).length).toBe(2 ** n - 1);
    }
  });
});
