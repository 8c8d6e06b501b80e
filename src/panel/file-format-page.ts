import * as z from 'zod';
import { FURTHEST, MOST_DEPTH, MOST_TEXT } from './limits.ts';
import { notes } from './notes.ts';
import { FORMAT, panelSchema, VERSION } from './schema.ts';

/**
 * The page docs/file-format.md: every key of the file with its type, its default and one sentence, from the same schema that the
 * reader checks by. Markdown; the same bytes every time.
 */
export function fileFormatPage(): string {
  const sections: Section[] = [];
  describeObject(panelSchema, '', sections);
  return `${HEAD}\n${sections.map(sectionText).join('\n')}`;
}

const HEAD = `# The panel file, version ${VERSION}

A panel is one file, \`NAME.mimic.json\`: one JSON object in UTF-8. It can be written by hand: the least valid file is

\`\`\`json
{ "format": "${FORMAT}", "version": ${VERSION}, "strips": [] }
\`\`\`

and all else has a default.

* Lengths are millimetres: on the face x to the right and y *down* from the top left corner seen from the front; on the layout where the sentence says so. Angles are degrees; volts V, amps A, resistances ohm, capacitances F: plain numbers in the base unit.
* A value in the file is the user's and is never altered. What is absent is computed. A \`measured\` value wins in sums. What is in \`built\` is fixed.
* An id is a letter, then letters, figures, \`-\` or \`_\` (of a connector: letters alone). Ids are unique in the whole file and differ by more than case; an id stays when a thing is renamed or moved, and is never issued again: what is taken out leaves its id in \`retired\`. A three-way's point that has a record in \`points\` is that record.
* A spot is two numbers, \`[x, y]\`, each within ${FURTHEST} of the corner. A reference names an id; that it is not there is a finding, not a reason to refuse the file.
* Keys that the program does not know are kept. A key may not stand twice in one object, and none may be called \`__proto__\`. A file has at most ${MOST_TEXT} characters and is at most ${MOST_DEPTH} lists and objects deep.
* When the program writes a file, keys stand in the order below, then unknown ones by name; each record has its own line. Comments are not part of JSON and are refused.
* A file of a newer version is refused; older versions are always read.

The same as a JSON Schema: \`schema/panel.schema.json\`. A star marks a key that must be there.
`;

interface Row {
  readonly key: string;
  readonly type: string;
  readonly fallback: string;
  readonly sentence: string;
}

interface Section {
  readonly title: string;
  readonly rows: readonly Row[];
}

function sectionText({ title, rows }: Section): string {
  const cells = rows.map((row) => `| ${row.key} | ${row.type} | ${row.fallback} | ${row.sentence} |\n`);
  return `## ${title}\n\n| key | type | default | what it is |\n| --- | --- | --- | --- |\n${cells.join('')}`;
}

function describeObject(object: z.ZodObject, place: string, sections: Section[]): void {
  const rows: Row[] = [];
  const below: { readonly object: z.ZodObject; readonly place: string }[] = [];
  for (const [key, schema] of Object.entries(object.shape)) {
    const there = place === '' ? key : `${place}.${key}`;
    const must = !(schema instanceof z.ZodOptional);
    const said = notes.get(schema);
    rows.push({
      key: `\`${key}\`${must ? ' *' : ''}`,
      type: typeInWords(schema),
      fallback: said?.fallback ?? '',
      sentence: said?.description ?? '',
    });
    const inner = objectIn(schema, there);
    if (inner) below.push(inner);
  }
  sections.push({ title: place === '' ? 'The file' : `\`${place}\``, rows });
  for (const inner of below) {
    const same = sections.find(({ title }) => title === `\`${inner.place}\``);
    if (!same) describeObject(inner.object, inner.place, sections);
  }
}

/** The object inside a key's value, if there is one, and its path: `strips[]`, `built.wires.{id}`. */
function objectIn(schema: unknown, place: string): { readonly object: z.ZodObject; readonly place: string } | null {
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodNullable) return objectIn(schema.unwrap(), place);
  if (schema instanceof z.ZodArray) return objectIn(schema.element, `${place}[]`);
  if (schema instanceof z.ZodRecord) return objectIn(schema.valueType, `${place}.{id}`);
  return schema instanceof z.ZodObject ? { object: schema, place } : null;
}

function typeInWords(schema: unknown): string {
  if (schema instanceof z.ZodOptional) return typeInWords(schema.unwrap());
  if (schema instanceof z.ZodNullable) return `${typeInWords(schema.unwrap())} or \`null\``;
  if (schema instanceof z.ZodString) return 'text';
  if (schema instanceof z.ZodNumber) return schema.isInt ? 'whole number' : numberInWords(schema);
  if (schema instanceof z.ZodBoolean) return '`true` or `false`';
  if (schema instanceof z.ZodLiteral)
    return [...schema.values].map((value) => `\`${JSON.stringify(value)}\``).join(', ');
  if (schema instanceof z.ZodEnum) return schema.options.map((option) => `\`${option}\``).join(', ');
  if (schema instanceof z.ZodTuple) return schema.def.items[0] instanceof z.ZodNumber ? 'spot' : 'list of two texts';
  if (schema instanceof z.ZodArray) return listInWords(schema.element);
  if (schema instanceof z.ZodRecord) return `table of ${typeInWords(schema.valueType)}`;
  if (schema instanceof z.ZodUnion) return schema.options.map(typeInWords).join(', or ');
  if (schema instanceof z.ZodObject) return 'object';
  return 'anything';
}

function numberInWords(schema: z.ZodNumber): string {
  const least = schema.minValue ?? Number.NEGATIVE_INFINITY;
  if (least > 0) return 'number above 0';
  if (least < 0) return 'number';
  return schema.maxValue === 1 ? 'number from 0 to 1' : 'number, at least 0';
}

function listInWords(element: unknown): string {
  if (element instanceof z.ZodObject) return 'list of objects';
  if (element instanceof z.ZodTuple) return 'list of spots';
  if (element instanceof z.ZodString) return 'list of texts';
  return `list of: ${typeInWords(element)}`;
}
