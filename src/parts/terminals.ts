import type { Part } from './types.ts';

/** What a terminal is within its part. */
export type TerminalRole =
  | 'common'
  | 'normal'
  | 'reverse'
  | 'contact'
  | 'feed'
  | 'input'
  | 'coil'
  | 'bus'
  | 'anode'
  | 'cathode'
  | 'plus'
  | 'minus'
  | 'way'
  | 'end';

/** Where a wire can be joined to a part. */
export interface Terminal {
  /** As the file and the drawings write it after the id and a dot: `t1`, `a`, `c1.r`, `7`. */
  readonly name: string;
  readonly role: TerminalRole;
  /** The pole, contact, coil, element or side that it belongs to; absent where the part has one of it only. */
  readonly of?: string;
}

type Roles = readonly (readonly [name: string, role: TerminalRole])[];

/**
 * Every terminal of a part, by name; names are unique within it and stand in the order in which they are wired.
 *
 * - switch: three tags a pole, `t1` to `t3`, `t4` to `t6`...: normal, common, reverse.
 * - button: two tags a pole, `t1` and `t2`...: joined while it is pressed.
 * - lamp: `a`, `k`. Two colours, elements A and B: with two leads `a` is the anode of A and the cathode of B, `k` the other way round;
 *   with three leads `a1`, `a2`, `k`, or `a`, `k1`, `k2`, the figure counting the elements.
 * - drive: its tags (a servo's board also has `p`, the plus of its feed; `b` is the minus of both), then of each contact that moves
 *   with it `c1.c` common, `c1.n` normal, `c1.r` reverse.
 * - relay: coil `p`, `m`; with two coils `sp`, `sm` (set), `rp`, `rm` (reset); then of each pole `1.c` common, `1.n` at rest or
 *   reset, `1.r` worked or set.
 * - contact: `c` common, `n` normal, `r` reverse.
 * - connector: its ways, `1` to the last. Resistor: `1`, `2`. Diode: `a`, `k`. Capacitor: `p`, `m`. Wire: `from`, `to`.
 * - discharge unit: `ip`, `im` from the supply; `p`, `m` to the coils.
 */
export function terminalsOf(part: Part): readonly Terminal[] {
  switch (part.kind) {
    case 'switch':
      return each(part.poles, (pole) =>
        group(String(pole), [
          [`t${3 * pole - 2}`, 'normal'],
          [`t${3 * pole - 1}`, 'common'],
          [`t${3 * pole}`, 'reverse'],
        ]),
      );
    case 'button':
      return each(part.poles, (pole) =>
        group(String(pole), [
          [`t${2 * pole - 1}`, 'contact'],
          [`t${2 * pole}`, 'contact'],
        ]),
      );
    case 'lamp':
      if (part.elements === 1 || part.leads === 2) return plain(ANODE_CATHODE);
      return part.common === 'anode'
        ? [{ name: 'a', role: 'anode' }, ...group('A', [['k1', 'cathode']]), ...group('B', [['k2', 'cathode']])]
        : [...group('A', [['a1', 'anode']]), ...group('B', [['a2', 'anode']]), { name: 'k', role: 'cathode' }];
    case 'drive':
      return [
        ...part.tags.map((name): Terminal => ({ name, role: tagRole(part.what, name) })),
        ...(part.what === 'servo' ? plain([['p', 'plus']]) : []),
        ...each(part.contacts, (contact) => changeover(`c${contact}`)),
      ];
    case 'relay':
      return [
        ...(part.latching && part.coils === 2
          ? [...group('set', PLUS_MINUS.map(after('s'))), ...group('reset', PLUS_MINUS.map(after('r')))]
          : group('coil', PLUS_MINUS)),
        ...each(part.poles, (pole) => changeover(String(pole))),
      ];
    case 'contact':
      return plain([
        ['c', 'common'],
        ['n', 'normal'],
        ['r', 'reverse'],
      ]);
    case 'connector':
      return each(part.ways, (way) => plain([[String(way), 'way']]));
    case 'resistor':
      return plain([
        ['1', 'end'],
        ['2', 'end'],
      ]);
    case 'diode':
      return plain(ANODE_CATHODE);
    case 'capacitor':
      return plain(PLUS_MINUS);
    case 'wire':
      return plain([
        ['from', 'end'],
        ['to', 'end'],
      ]);
    case 'cdu':
      return [...group('supply', PLUS_MINUS.map(after('i'))), ...group('coils', PLUS_MINUS)];
  }
}

const ANODE_CATHODE: Roles = [
  ['a', 'anode'],
  ['k', 'cathode'],
];
const PLUS_MINUS: Roles = [
  ['p', 'plus'],
  ['m', 'minus'],
];

const after =
  (letter: string) =>
  ([name, role]: Roles[number]): Roles[number] => [`${letter}${name}`, role];

function plain(roles: Roles): Terminal[] {
  return roles.map(([name, role]) => ({ name, role }));
}

function group(of: string, roles: Roles): Terminal[] {
  return roles.map(([name, role]) => ({ name, role, of }));
}

function each(count: number, terminals: (number: number) => readonly Terminal[]): Terminal[] {
  return Array.from({ length: count }, (_, i) => terminals(i + 1)).flat();
}

function changeover(contact: string): Terminal[] {
  return group(contact, [
    [`${contact}.c`, 'common'],
    [`${contact}.n`, 'normal'],
    [`${contact}.r`, 'reverse'],
  ]);
}

function tagRole(what: Extract<Part, { kind: 'drive' }>['what'], tag: string): TerminalRole {
  if (tag === 'com') return 'common';
  if (tag === 'n' || tag === 'r') return 'coil';
  if (what === 'servo') return tag === 'a' ? 'input' : 'minus';
  return what === 'decoder' ? 'bus' : 'feed';
}
