import type { BuiltFile } from '../book/index.ts';
import { spiceText } from '../circuit/index.ts';
import { type Derived, derive } from '../derive.ts';
import {
  FORMAT,
  type PanelFile,
  problemLine,
  readPanel,
  type UnknownKey,
  VERSION,
  writePanel,
} from '../panel/index.ts';
import { couples, timeFor } from '../wiring/index.ts';
import { buildAnswer, checkAnswer, routesAnswer, solveAnswer, truthAnswer } from './answers.ts';
import type { CommandName } from './command-table.ts';
import { compareAnswer, compareText } from './compare-answer.ts';
import type { Io } from './io.ts';
import { Refusal } from './refusal.ts';
import { findPlace, liesOf, listed, readFaults, readHistory, readSetting, readStand } from './settings.ts';
import { buildText, checkText, counted, routesText, solveText, truthText } from './texts.ts';
import type { TrainsAsked } from './train-answers.ts';

/** One call of a command. */
export interface Call {
  readonly io: Io;
  readonly args: readonly string[];
  readonly options: ReadonlyMap<string, string | true>;
}

/** What an option says; null where it is not given. */
function textOf({ options }: Call, name: string): string | null {
  const value = options.get(name);
  return typeof value === 'string' ? value : null;
}

/** Control characters and turned text directions in a file's names never reach the terminal. */
const printable = (text: string): string => text.replace(/[^\P{Cc}\n]|[\u202a-\u202e\u2066-\u2069]/gu, ' ');

/** Print an answer: as JSON where it is asked for, else as text. */
function print<A>(call: Call, answer: A, textFor: (answer: A) => string): void {
  call.io.stdout(call.options.has('json') ? `${JSON.stringify(answer, null, 2)}\n` : printable(textFor(answer)));
}

/** The panel that FILE holds; refuses with the first problem, where it is, and how many more there are. */
async function readFile(call: Call): Promise<{ readonly panel: PanelFile; readonly hints: readonly UnknownKey[] }> {
  const path = call.args[0] ?? '';
  const read = readPanel(await call.io.readText(path));
  if (!read.ok) throw new Refusal(`${path}: ${problemLine(read.problems)}`);
  return read;
}

const readDerived = async (call: Call): Promise<Derived> => derive((await readFile(call)).panel);

/** Unknown keys that a message names before it says how many more there are. */
const HINTS_NAMED = 5;

async function check(call: Call): Promise<number> {
  const { panel, hints } = await readFile(call);
  const answer = checkAnswer(derive(panel));
  for (const { path, near } of hints.slice(0, HINTS_NAMED)) {
    call.io.stderr(
      printable(`${path} is no key of a panel file and means nothing${near === null ? '' : `: is ${near} meant?`}\n`),
    );
  }
  if (hints.length > HINTS_NAMED) call.io.stderr(`and ${counted(hints.length - HINTS_NAMED, 'more such key')}\n`);
  print(call, answer, checkText);
  return answer.findings.some(({ severity }) => severity === 'danger' || severity === 'wrong') ? 1 : 0;
}

async function routes(call: Call): Promise<number> {
  const derived = await readDerived(call);
  const place = (name: 'from' | 'to'): string | null => {
    const text = textOf(call, name);
    return text === null ? null : findPlace(`--${name}`, text, derived);
  };
  const [from, to, length] = [place('from'), place('to'), textOf(call, 'length')];
  if (length !== null && (from === null || to === null))
    throw new Refusal('--length: name both places, with --from and --to.');
  const train = length === null ? null : trainLength(length);
  print(call, routesAnswer(derived, from, to, train, trainsAsked(call, derived)), (answer) =>
    routesText(answer, from === null && to === null),
  );
  return 0;
}

/** Where trains are wanted and how levers and points lie before. */
function trainsAsked(call: Call, derived: Derived): TrainsAsked {
  const stand = textOf(call, 'stand');
  const idle = ['others-stay', 'in-order'].find((name) => stand === null && call.options.has(name));
  if (idle !== undefined) throw new Refusal(`--${idle}: say where trains are wanted, with --stand.`);
  const levers = readSetting(textOf(call, 'set'), derived);
  const lies = readHistory(textOf(call, 'lies'), derived);
  return {
    wanted: stand === null ? null : readStand(stand, derived),
    options: {
      levers,
      lies,
      othersStay: call.options.has('others-stay'),
      inOrder: call.options.has('in-order'),
    },
    lies: liesOf(derived, levers, lies),
  };
}

/** The length of a train in mm as it was typed; a comma in it is a point. */
function trainLength(text: string): number {
  if (!/^\d{1,9}([.,]\d+)?$/.test(text))
    throw new Refusal(`--length: ${text} is not a length; give the length of the train in mm, as 900.`);
  return Number(text.replace(',', '.'));
}

async function solve(call: Call): Promise<number> {
  const derived = await readDerived(call);
  const setting = readSetting(textOf(call, 'set'), derived);
  const history = readHistory(textOf(call, 'lies'), derived);
  const faults = readFaults(textOf(call, 'fault'), derived);
  print(call, solveAnswer(derived, setting, history, faults), solveText);
  return 0;
}

async function truth(call: Call): Promise<number> {
  print(call, truthAnswer(await readDerived(call)), truthText);
  return 0;
}

async function spice(call: Call): Promise<number> {
  const derived = await readDerived(call);
  const setting = readSetting(textOf(call, 'set'), derived);
  const lies = readHistory(textOf(call, 'lies'), derived);
  const faults = readFaults(textOf(call, 'fault'), derived);
  const lever = textOf(call, 'lever');
  const levers = derived.wiring.circuits.map((circuit) => circuit.id);
  if (lever !== null && !levers.includes(lever)) {
    throw new Refusal(`--lever: no circuit goes by ${lever}; the levers with circuits are ${listed(levers)}.`);
  }
  // What a fault joins to this lever belongs to its network.
  const joined = faults.filter((fault) => couples(fault) && lever !== null && fault.circuits.includes(lever));
  const circuits = lever === null ? undefined : new Set([lever, ...joined.flatMap((fault) => fault.circuits)]);
  const time = timeFor(derived.wiring, circuits ?? null);
  const asked = { circuits: circuits ?? null, faults, history: lies };
  const netlist = derived.netlist(setting, { ...asked, time: time !== null });
  const set = Object.entries(setting).map(([id, position]) => `${id} ${position}`);
  const comments = [
    `Levers: ${listed(set)}`,
    ...(Object.keys(lies).length === 0 ? [] : [`Lies: ${listed(Object.entries(lies).map((each) => each.join(' ')))}`]),
    ...faults.map(({ code, says }) => `Fault: ${code}, ${says}`),
  ];
  call.io.stdout(spiceText(netlist, { title: derived.panel.name ?? '', comments, ...(time === null ? {} : { time }) }));
  return 0;
}

async function compare(call: Call): Promise<number> {
  print(call, compareAnswer(await readDerived(call), { allFaults: call.options.has('all-faults') }), compareText);
  return 0;
}

async function build(call: Call): Promise<number> {
  const out = textOf(call, 'out') ?? '';
  if (out === '') throw new Refusal('--out: name the folder to write into.');
  const derived = await readDerived(call);
  // Only here is the book needed: without it every other command starts faster.
  const book = await import('../book/index.ts');
  const only = textOf(call, 'only')
    ?.split(',')
    .map((part) => part.trim())
    .filter((part) => part !== '');
  const strange = only?.find((part) => book.choosePaths([part]).length === 0);
  if (strange !== undefined || only?.length === 0) {
    const says = strange === undefined ? 'no part is named' : `the book has no part ${strange}`;
    throw new Refusal(`--only: ${says}; its parts are ${book.BOOK_PATHS.join(', ')}.`);
  }
  const bar = textOf(call, 'bar');
  const barMeasured = bar === null ? null : measuredBar(bar, book.BAR_RANGE);
  const files: readonly BuiltFile[] = await book.buildBook(derived, {
    paper: textOf(call, 'paper') === 'Letter' ? 'Letter' : 'A4',
    ...(barMeasured === null ? {} : { barMeasured }),
    fonts: await call.io.fonts(),
    ...(only === undefined ? {} : { only }),
  });
  await call.io.writeFiles(out, files);
  const serious = derived.findings().filter(({ severity }) => severity === 'danger' || severity === 'wrong').length;
  if (serious > 0) {
    call.io.stderr(
      `${counted(serious, 'finding')} of this panel ${serious === 1 ? 'is' : 'are'} danger or wrong: run check before you drill or wire.\n`,
    );
  }
  print(call, buildAnswer(derived, files), (answer) => buildText(answer, out));
  return 0;
}

/** The length of the bar in mm as it was typed; a comma in it is a point. */
function measuredBar(text: string, [least, most]: readonly [number, number]): number {
  const value = /^\d+([.,]\d+)?$/.test(text) ? Number(text.replace(',', '.')) : Number.NaN;
  if (!(value >= least && value <= most))
    throw new Refusal(
      `--bar: ${text} is not a length from ${least} to ${most} mm; measure the bar on a print made at 100 %, not fitted to the page.`,
    );
  return value;
}

/** A panel with one strip across the face, by the name of its file. */
function starter(stem: string): string {
  const name = stem.replace(/[-_]+/g, ' ').trim();
  return writePanel({
    format: FORMAT,
    version: VERSION,
    name: `${name.charAt(0).toUpperCase()}${name.slice(1)}`,
    strips: [
      {
        id: 'main',
        path: [
          [0, 60],
          [300, 60],
        ],
      },
    ],
  });
}

const ENDING = '.mimic.json';

async function startNew(call: Call): Promise<number> {
  const target = call.args[0] ?? '';
  const isFile = /\.json$/i.test(target);
  const wanted = textOf(call, 'example');
  let text: string;
  let stem = target
    .replace(/[/\\]+$/, '')
    .replace(/^.*[/\\]/, '')
    .replace(/(\.mimic)?\.json$/i, '');
  if (stem === '' || stem === '.' || stem === '..') stem = 'panel';
  if (wanted === null) {
    text = starter(stem);
  } else {
    const examples = await call.io.examples();
    const example = examples.find(({ name }) => name === wanted);
    if (example === undefined) {
      throw new Refusal(
        `--example: there is no example ${wanted}; the examples are ${listed(examples.map(({ name }) => name))}.`,
      );
    }
    text = example.text;
    stem = example.name;
  }
  const path = isFile ? target : `${target.replace(/[/\\]+$/, '') || '/'}/${stem}${ENDING}`;
  await call.io.writeNew(path, text);
  call.io.stdout(`${printable(path)}\n`);
  return 0;
}

const HIGHEST_PORT = 65535;

function readPort(text: string | null): number | null {
  if (text === null) return null;
  const port = /^\d{1,5}$/.test(text) ? Number(text) : -1;
  if (port < 0 || port > HIGHEST_PORT)
    throw new Refusal(`--port: "${text}" is no port; a port is a number from 0 to ${HIGHEST_PORT}.`);
  return port;
}

async function open(call: Call): Promise<number> {
  const served = await call.io.serve({ file: call.args[0] ?? null, port: readPort(textOf(call, 'port')) });
  call.io.stdout(`Mimicwright is at ${served.url}\nPress Ctrl+C to stop.\n`);
  if (!call.options.has('no-open')) call.io.showInBrowser(served.url);
  const { stop } = call.io;
  if (!stop.aborted) await new Promise((done) => stop.addEventListener('abort', done, { once: true }));
  await served.close();
  return 0;
}

/** What does each command of the table. Each answers the exit status. */
export const HANDLERS: Readonly<Record<CommandName, (call: Call) => Promise<number>>> = {
  new: startNew,
  check,
  routes,
  solve,
  truth,
  spice,
  build,
  compare,
  open,
};
