import { z } from 'zod';
import { findingsPage } from '../checks/index.ts';
import { fileFormatPage, panelJsonSchema } from '../panel/index.ts';
import { partsPage } from '../parts/index.ts';
import { answerSchemas } from './answer-schemas.ts';
import { combinationsPage } from './combinations-page.ts';
import { commandsPage } from './help.ts';

/** A paper that follows from the code. */
interface Page {
  /** In the project, with forward slashes. */
  readonly path: string;
  readonly text: string;
}

const json = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

/** Every paper of docs that the code writes itself, by path. */
export function generatedDocs(): readonly Page[] {
  const answers = Object.entries(answerSchemas).map(([name, schema]) => ({
    path: `docs/schema/answers/${name}.schema.json`,
    text: json({ title: `What mimicwright ${name} --json answers`, ...z.toJSONSchema(schema, { io: 'output' }) }),
  }));
  return [
    { path: 'docs/combinations.md', text: combinationsPage() },
    { path: 'docs/commands.md', text: commandsPage() },
    { path: 'docs/file-format.md', text: fileFormatPage() },
    { path: 'docs/findings.md', text: findingsPage() },
    { path: 'docs/parts.md', text: partsPage() },
    ...answers,
    { path: 'docs/schema/panel.schema.json', text: json(panelJsonSchema()) },
  ];
}
