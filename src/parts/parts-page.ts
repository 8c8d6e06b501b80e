import { TYPICAL_PARTS } from './catalogue.ts';
import { partCautions } from './cautions.ts';
import { type FigureFact, figureFacts } from './figure-facts.ts';
import type { Spread } from './figure-rules.ts';
import { figureMayBe } from './figures.ts';
import { terminalsOf } from './terminals.ts';
import type { Part } from './types.ts';

/** Parts that stand under one heading: what is the same for all is said once, what differs in a column of its own. */
interface Family {
  readonly title: string;
  readonly holds: (part: Part) => boolean;
}

const drive = (title: string, id: string): Family => ({ title, holds: (part) => part.id === id });
const connector = (title: string, family: string): Family => ({
  title,
  holds: (part) => part.kind === 'connector' && part.family === family,
});
const kind = (title: string, wanted: Part['kind']): Family => ({ title, holds: (part) => part.kind === wanted });
const toggle = (title: string, start: string): Family => ({
  title,
  holds: (part) => part.kind === 'switch' && part.id.startsWith(start),
});

const FAMILIES: readonly Family[] = [
  { title: 'Lamps', holds: (part) => part.kind === 'lamp' && part.elements === 1 && !part.id.endsWith('-old') },
  { title: 'Lamps of the old kind', holds: (part) => part.kind === 'lamp' && part.id.endsWith('-old') },
  { title: 'Lamps of two colours', holds: (part) => part.kind === 'lamp' && part.elements === 2 },
  drive('Stall drive', 'stall-2-wire'),
  drive('Limit-switched drive', 'limit-2-wire'),
  drive('Twin-coil drive', 'twin-coil'),
  drive('Twin-coil drive that breaks its own coil', 'twin-coil-end-off'),
  drive('Servo with a driver board', 'servo-board'),
  drive('Accessory decoder', 'decoder'),
  drive('Point worked by hand', 'hand'),
  toggle('Toggles', 'toggle'),
  toggle('Miniature toggles', 'mini-toggle'),
  toggle('Sub-miniature toggles', 'sub-mini-toggle'),
  kind('Push buttons', 'button'),
  kind('Relays', 'relay'),
  kind('Contact on the blades', 'contact'),
  connector('D-subminiature connectors', 'dsub'),
  connector('Ribbon headers', 'header'),
  connector('Pluggable screw terminals', 'screw'),
  connector('DIN plugs and sockets', 'din'),
  kind('Resistors', 'resistor'),
  kind('Diodes', 'diode'),
  kind('Wire', 'wire'),
  kind('Capacitors', 'capacitor'),
  kind('Capacitor discharge unit', 'cdu'),
];

const HEAD = `# Parts

Every part that comes with the product: its id, its terminals, and each figure with its unit, how far it goes across the kind, and where it comes from. No figure is of a maker's goods. A data sheet comes first, then your own meter: [how to fill in a part of your own](parts-from-a-data-sheet.md).

* Units are those of the file: V, A, ohm, H, F, s, mm, mm2, W. 15 mA stands as 0.015. A figure without a unit is a count, a share (0.05 is 5 %), a price or a word.
* *Across the kind* is what may be met under that name, no band of one part.
* *A file may say* is what a record in \`parts\` is allowed to give; anything else is a finding, and the typical figure stands in. \`name\` and \`source\` may be given too.
* *From memory* means that no paper stands behind it. *File format* means that the file's description promises the figure.

Terminals, as drawings, lists and SPICE text write them after the id and a dot (\`L4.t2\`, \`D1.c1\`, \`A.7\`):

| part | terminals |
| --- | --- |
| switch | three tags a pole: \`t1\` normal, \`t2\` common, \`t3\` reverse; the second pole \`t4\` to \`t6\`, and so on |
| button | two tags a pole, joined while it is pressed |
| lamp | \`a\` anode, \`k\` cathode. Two colours with two leads: \`a\` is the anode of element A and the cathode of B. Three leads: \`a1\`, \`a2\` and \`k\`, or \`a\`, \`k1\` and \`k2\`; 1 is element A, 2 is B |
| drive | two wires \`a\`, \`b\`; coils \`n\` normal, \`r\` reverse, \`com\` common. Servo board: \`a\` input, \`b\` minus, \`p\` plus. Contact 1: \`c1.c\` common, \`c1.n\` normal, \`c1.r\` reverse |
| relay | coil \`p\`, \`m\`; set coil \`sp\`, \`sm\`, reset coil \`rp\`, \`rm\`. Pole 1: \`1.c\` common, \`1.n\` at rest or reset, \`1.r\` worked or set |
| contact | \`c\` common, \`n\` normal, \`r\` reverse |
| connector | its ways, by number |
| resistor, diode, capacitor | \`1\`, \`2\`; \`a\`, \`k\`; \`p\`, \`m\` |
| discharge unit | \`ip\`, \`im\` from the supply; \`p\`, \`m\` to the coils |
`;

/**
 * The page docs/parts.md: every typical part with its terminals and its figures. Markdown; the same bytes every time. Throws where a
 * part has no family or two: it would be missing or stand twice.
 */
export function partsPage(): string {
  for (const part of TYPICAL_PARTS) {
    const families = FAMILIES.filter((family) => family.holds(part));
    if (families.length !== 1) throw new RangeError(`${part.id} stands under ${families.length} headings`);
  }
  return `${HEAD}\n${FAMILIES.map(familyText).join('\n')}`;
}

function familyText(family: Family): string {
  const parts = TYPICAL_PARTS.filter(family.holds);
  const facts = parts.map(figureFacts);
  const figures = [...new Set(facts.flat().map((fact) => fact.figure))];
  const rows = figures.map((figure) => {
    const each = facts.map((own) => own.find((fact) => fact.figure === figure));
    const there = each.filter((fact) => fact !== undefined);
    return { figure, each, there, same: there.length === parts.length && distinct(there.map(valueText)).length === 1 };
  });
  const columns = rows.filter((row) => !row.same && row.figure !== 'colour');
  const kindOf = parts[0]?.kind;

  const head = ['id', 'name', 'terminals', ...columns.map((row) => `\`${row.figure}\``)];
  const lines = parts.map((part, i) => [
    `\`${part.id}\``,
    part.name,
    terminalsText(part),
    ...columns.map((row) => {
      const fact = row.each[i];
      if (fact === undefined) return '';
      const range = sharedRange(row.there) === null ? rangeText(fact) : '';
      return range === '' || range === valueText(fact) ? valueText(fact) : `${valueText(fact)} (${range})`;
    }),
  ]);
  const figureLines = rows
    .filter((row) => row.figure !== 'trap')
    .map((row) => [
      `\`${row.figure}\``,
      row.there[0]?.what ?? '',
      row.there[0]?.unit ?? '',
      row.same ? (row.there[0] ? valueText(row.there[0]) : '') : 'by part',
      sharedRange(row.there) ?? 'by part',
      kindOf ? (figureMayBe(kindOf, row.figure) ?? '') : '',
      distinct(row.there.map((fact) => fact.source)).join('; '),
    ]);
  const positions = parts.some((part) => part.kind === 'connector')
    ? `${distinct(parts.map((part) => part.source))
        .map(capital)
        .join('. ')}.\n\n`
    : '';
  const cautions = distinct(parts.flatMap(partCautions));
  return [
    `## ${family.title}\n\n`,
    table(head, lines),
    '\n',
    table(['figure', 'what it is', 'unit', 'typical', 'across the kind', 'a file may say', 'source'], figureLines),
    '\n',
    positions,
    ...cautions.map((caution) => `* ${caution}\n`),
  ]
    .join('')
    .replace(/\n+$/, '\n');
}

/** The range of a figure where all of a family have the same; null where they differ. Empty where it is no number. */
function sharedRange(facts: readonly FigureFact[]): string | null {
  const texts = distinct(facts.map(rangeText));
  return texts.length === 1 ? (texts[0] ?? null) : null;
}

function terminalsText(part: Part): string {
  const names = terminalsOf(part).map((terminal) => terminal.name);
  const counted = names.every((name, i) => name === (names[0] ?? '').replace(/1$/, String(i + 1)));
  return counted && names.length > MOST_LISTED
    ? `\`${names[0]}\` to \`${names.at(-1)}\``
    : names.map((name) => `\`${name}\``).join(' ');
}

/** Terminals that only count up are named from first to last above this. */
const MOST_LISTED = 4;

function valueText({ figure, value }: FigureFact): string {
  if (typeof value === 'string' || typeof value === 'boolean') return String(value);
  return value.map(plain).join(figure === 'body' ? ' x ' : ' to ');
}

function rangeText({ range }: FigureFact): string {
  return (range ?? [])
    .map(([low, high]: Spread) => (low === high ? plain(low) : `${plain(low)} to ${plain(high)}`))
    .join(', ');
}

/** Three figures are enough for a price that was doubled; a file's own figures never have more. */
const plain = (value: number): string => String(Number(value.toPrecision(3)));

const distinct = (texts: readonly string[]): readonly string[] => [...new Set(texts)];

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function table(head: readonly string[], lines: readonly (readonly string[])[]): string {
  const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |\n`;
  return row(head) + row(head.map(() => '---')) + lines.map(row).join('');
}
