import { Command, CommanderError, Option as CommanderOption } from 'commander';
import { COMMANDS, type CommandName } from './command-table.ts';
import { commandHelp, programHelp } from './help.ts';
import { Refusal } from './refusal.ts';

/** What a command line asks for. */
export type Parsed =
  | { readonly kind: 'print'; readonly text: string }
  | { readonly kind: 'version' }
  | {
      readonly kind: 'run';
      readonly command: CommandName;
      readonly args: readonly string[];
      /** By option without its dashes: text, or true for one that stands alone. */
      readonly options: ReadonlyMap<string, string | true>;
    };

const rowOf = (name: string | undefined) => COMMANDS.find((row) => row.name === name);

/** The parser as the table says; `found` is called with the command that was asked for. */
function parserOf(found: (parsed: Parsed) => void): Command {
  const program = new Command('mimicwright')
    .exitOverride()
    .configureOutput({ writeOut: () => {}, writeErr: () => {} })
    .helpOption(false)
    .helpCommand(false);
  for (const row of COMMANDS) {
    const command = program.command(row.name);
    for (const argument of row.args) command.argument(argument.required ? `<${argument.name}>` : `[${argument.name}]`);
    for (const { flag, value, required, choices } of row.options) {
      const option = new CommanderOption(value === null ? flag : `${flag} <${value.replace(',...', '')}>`);
      if (choices !== undefined) option.choices(choices);
      option.makeOptionMandatory(required === true);
      command.addOption(option);
    }
    command.action(() => {
      const options = new Map<string, string | true>();
      for (const option of command.options) {
        const given = command.getOptionValue(option.attributeName()) as unknown;
        if (typeof given === 'string') options.set(option.name(), given);
        else if (given === true && !option.negate) options.set(option.name(), true);
        else if (given === false && option.negate) options.set(option.name(), true);
      }
      found({ kind: 'run', command: row.name, args: command.args, options });
    });
  }
  return program;
}

/** Read a command line, without the program's own name. Refuses what the table does not know. */
export function parse(args: readonly string[]): Parsed {
  const [first, second] = args;
  if (first === undefined || first === '--help' || first === '-h') return { kind: 'print', text: programHelp() };
  if (first === '--version') return { kind: 'version' };
  if (first === 'help' && (second === undefined || rowOf(second) !== undefined)) {
    const row = rowOf(second);
    return { kind: 'print', text: row === undefined ? programHelp() : commandHelp(row) };
  }
  const asked = rowOf(first);
  const end = args.indexOf('--');
  const before = end < 0 ? args : args.slice(0, end);
  if (asked !== undefined && (before.includes('--help') || before.includes('-h')))
    return { kind: 'print', text: commandHelp(asked) };

  let parsed: Parsed | null = null;
  try {
    parserOf((found) => {
      parsed = found;
    }).parse([...args], { from: 'user' });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    const says = error.message.replace(/^error: /, '').trim();
    const help = asked === undefined ? 'mimicwright --help' : `mimicwright ${asked.name} --help`;
    throw new Refusal(`${says.charAt(0).toUpperCase()}${says.slice(1).replace(/\.$/, '')}. See ${help}.`);
  }
  if (parsed === null) throw new Refusal('No command is given. See mimicwright --help.');
  return parsed;
}
