/**
 * A netlist in lines, for tests and examples: `S1 p m 12V; R1 p x 1k; D1 x m 1e-18,2,5; W1 m n`.
 *
 * One element a line (or a `;`): its id, its first and its second node, its value. The first letter of the id says what it is:
 * `S` source (`12V`, `12V/0.5` with ohms behind it), `R` resistor (`680`, `4.7k`, `1M`), `W` wire (ohms, 0 when
 * not given), `C` contact (`on`, `off`, `on/0.05`), `O` open, `D` diode (`is,n,rs`), `L` coil (ohms and henries, `5/2m`), `F` capacitor
 * (farads, `4.7m`, and volts when time begins, `4.7m/24`).
 */
import type { CircuitElement, Netlist } from './types.ts';

const SUFFIX: Readonly<Record<string, number>> = { u: 1e-6, m: 1e-3, k: 1e3, M: 1e6, G: 1e9 };

/** The netlist that the lines describe. Throws a RangeError that shows the line where one cannot be read. */
export function netlistOf(lines: string, reference: string | null = null): Netlist {
  const elements = lines
    .split(/[;\n]/)
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .map(elementOf);
  return { elements, reference };
}

function elementOf(line: string): CircuitElement {
  const [id, a, b, value = '', ...rest] = line.split(/\s+/);
  const unread = (): RangeError => new RangeError(`netlist line cannot be read: "${line}"`);
  if (id === undefined || a === undefined || b === undefined || rest.length > 0) throw unread();
  const number = (text: string): number => {
    const match = /^([-+]?[0-9.]+(?:e[-+]?[0-9]+)?)([umkMG]?)$/.exec(text);
    if (match?.[1] === undefined) throw unread();
    return Number(match[1]) * (SUFFIX[match[2] ?? ''] ?? 1);
  };
  const [first = '', second] = value.split('/');
  switch (id[0]) {
    case 'S':
      if (!first.endsWith('V')) throw unread();
      return {
        id,
        a,
        b,
        kind: 'source',
        volts: number(first.slice(0, -1)),
        ohms: second === undefined ? 0 : number(second),
      };
    case 'R':
      return { id, a, b, kind: 'resistor', ohms: number(value) };
    case 'W':
      return { id, a, b, kind: 'wire', ohms: value === '' ? 0 : number(value) };
    case 'C':
      if (first !== 'on' && first !== 'off') throw unread();
      return { id, a, b, kind: 'contact', closed: first === 'on', ohms: second === undefined ? 0 : number(second) };
    case 'O':
      if (value !== '') throw unread();
      return { id, a, b, kind: 'open' };
    case 'D': {
      const [is, n, rs] = value.split(',').map(number);
      if (is === undefined || n === undefined || rs === undefined) throw unread();
      return { id, a, b, kind: 'diode', law: { is, n, rs } };
    }
    case 'L':
      if (second === undefined) throw unread();
      return { id, a, b, kind: 'coil', ohms: number(first), henries: number(second) };
    case 'F':
      return { id, a, b, kind: 'capacitor', farads: number(first), volts: second === undefined ? 0 : number(second) };
    default:
      throw unread();
  }
}
