import { type Argument, COMMANDS, type CommandRow, type Option } from './command-table.ts';
import { table } from './table.ts';

const PROGRAM = 'mimicwright';

const optionText = (option: Option): string => (option.value === null ? option.flag : `${option.flag} ${option.value}`);

const argumentText = (argument: Argument): string => (argument.required ? argument.name : `[${argument.name}]`);

/** "mimicwright build FILE --out DIR [--paper A4|Letter]". */
function usageOf(command: CommandRow): string {
  const args = command.args.map(argumentText);
  const options = command.options.map((option) =>
    option.required === true ? optionText(option) : `[${optionText(option)}]`,
  );
  return [PROGRAM, command.name, ...args, ...options].join(' ');
}

const indented = (text: string): string => text.replace(/^(?=.)/gm, '  ');

/** What `mimicwright --help` prints. */
export function programHelp(): string {
  const rows = COMMANDS.map((command) => [[command.name, ...command.args.map(argumentText)].join(' '), command.says]);
  return [
    'Mimicwright designs, proves and documents the panel for a track diagram laid in tape.',
    '',
    `Usage: ${PROGRAM} COMMAND ...`,
    '',
    indented(table(rows)),
    '',
    `${PROGRAM} COMMAND --help tells all of one command; ${PROGRAM} --version gives the version.`,
    'Exit status: 0 done, 1 check found something danger or wrong, 2 the input cannot be used.',
    '',
  ].join('\n');
}

/** What `mimicwright COMMAND --help` prints. */
export function commandHelp(command: CommandRow): string {
  const rows = [
    ...command.args.map((argument) => [argument.name, argument.says]),
    ...command.options.map((option) => [optionText(option), option.says]),
  ];
  const capital = `${command.says.charAt(0).toUpperCase()}${command.says.slice(1)}.`;
  return [
    capital,
    ...command.more,
    '',
    `Usage: ${usageOf(command)}`,
    '',
    indented(table(rows)),
    '',
    ...command.examples.map((example, i) => (i === 0 ? `Example: ${example}` : `         ${example}`)),
    '',
  ].join('\n');
}

/** docs/commands.md, from the same table. */
export function commandsPage(): string {
  const parts = COMMANDS.map((command) =>
    [
      `## ${command.name}`,
      '',
      `${command.says.charAt(0).toUpperCase()}${command.says.slice(1)}.`,
      ...command.more,
      '',
      '```',
      usageOf(command),
      '```',
      '',
      '| | |',
      '| --- | --- |',
      ...command.args.map((argument) => `| \`${argument.name.replaceAll('|', '\\|')}\` | ${argument.says} |`),
      ...command.options.map((option) => `| \`${optionText(option).replaceAll('|', '\\|')}\` | ${option.says} |`),
      '',
      ...command.examples.map((example) => `    ${example}`),
      '',
    ].join('\n'),
  );
  return [
    '# Commands',
    '',
    '<!-- Written by npm run docs from src/cli/command-table.ts. -->',
    '',
    'Answers go to standard output, messages to standard error. With `--json` the answer has the shape that',
    '[docs/schema/answers](schema/answers) describes. Exit status: 0 done, 1 `check` found something danger or wrong, 2 the input',
    'cannot be used: then one line on standard error says where and how to mend it, and nothing is written.',
    '',
    ...parts,
  ].join('\n');
}
