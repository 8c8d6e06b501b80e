/**
 * The one table of commands: the parser, `--help` and docs/commands.md all read it.
 * Order is the order of work.
 */

export interface Argument {
  readonly name: string;
  readonly required: boolean;
  readonly says: string;
}

export interface Option {
  /** With its dashes: "--set". */
  readonly flag: string;
  /** What stands after it: "PLACE"; null for one that stands alone. */
  readonly value: string | null;
  readonly required?: boolean;
  /** The only values that it takes. */
  readonly choices?: readonly string[];
  readonly says: string;
}

export interface CommandRow {
  readonly name: CommandName;
  /** What it does, without a full stop. */
  readonly says: string;
  /** More of it, a sentence a line. */
  readonly more: readonly string[];
  readonly args: readonly Argument[];
  readonly options: readonly Option[];
  readonly examples: readonly string[];
}

export type CommandName = 'new' | 'check' | 'build' | 'solve' | 'routes' | 'truth' | 'spice' | 'compare' | 'open';

const FILE: Argument = { name: 'FILE', required: true, says: 'the panel file, NAME.mimic.json' };
const JSON_OPTION: Option = { flag: '--json', value: null, says: 'answer in JSON' };
const SET: Option = {
  flag: '--set',
  value: 'L1=POSITION,...',
  says: 'how levers lie: normal, reverse or centre; a lever that is not named lies normal',
};
const LIES: Option = {
  flag: '--lies',
  value: 'P1=LIE,...',
  says: 'how points lie that nothing asks about: normal or reverse',
};
const FAULT: Option = {
  flag: '--fault',
  value: 'CODE',
  says: 'what is broken, as open:W12; several codes in quotes, parted by spaces',
};

export const COMMANDS: readonly CommandRow[] = [
  {
    name: 'new',
    says: 'start a panel',
    more: [
      'Writes the least panel, one strip, or a copy of an example.',
      'A name that ends in .json is the file itself; any other is a folder that gets the file. Nothing is overwritten.',
    ],
    args: [{ name: 'DIR|FILE', required: true, says: 'a folder, or a file name that ends in .json' }],
    options: [
      { flag: '--example', value: 'NAME', says: 'start from an example: bramble-siding or quillhaven-harbour' },
    ],
    examples: ['mimicwright new yard', 'mimicwright new yard.mimic.json --example bramble-siding'],
  },
  {
    name: 'check',
    says: 'list what is dangerous, wrong, doubtful or could be better',
    more: ['Exit status 1 when a finding is danger or wrong, else 0.'],
    args: [FILE],
    options: [JSON_OPTION],
    examples: ['mimicwright check yard.mimic.json'],
  },
  {
    name: 'routes',
    says: 'list every way from place to place, and what it asks of the levers',
    more: [
      'A place goes by its id or its name. Routes are listed one way only: a route from east to west is that from west to east.',
      'With --length: the move from place to place that turns back least often. The train must be able to stand where it turns back and where it ends.',
      'With --stand: the fewest moves, then the fewest throws of levers, that bring trains of the file where they are wanted; PLACE/PLACE says where its head is to point.',
    ],
    args: [FILE],
    options: [
      { flag: '--from', value: 'PLACE', says: 'only routes that begin or end here' },
      { flag: '--to', value: 'PLACE', says: 'only routes that end or begin here' },
      { flag: '--length', value: 'MM', says: 'of a train on the layout: move it from --from to --to' },
      {
        flag: '--stand',
        value: 'T1=PLACE,...',
        says: 'where trains of the file are wanted; those that are not named may end anywhere',
      },
      { flag: '--others-stay', value: null, says: 'trains that --stand does not name end where they stood' },
      {
        flag: '--in-order',
        value: null,
        says: 'trains wanted at one place stand as --stand names them, from left to right',
      },
      SET,
      LIES,
      JSON_OPTION,
    ],
    examples: [
      'mimicwright routes yard.mimic.json --from West --to Siding',
      'mimicwright routes yard.mimic.json --from Siding --to Loop --length 600',
      'mimicwright routes yard.mimic.json --stand T1=Loop,T2=Siding',
    ],
  },
  {
    name: 'solve',
    says: 'volts, amps and lamps in one setting of the levers',
    more: [],
    args: [FILE],
    options: [SET, LIES, FAULT, JSON_OPTION],
    examples: [
      'mimicwright solve yard.mimic.json --set L1=reverse,L2=reverse',
      'mimicwright solve yard.mimic.json --fault open:W12',
    ],
  },
  {
    name: 'truth',
    says: 'prove whether the lamps tell the truth in every setting',
    more: [
      'Proves the panel as it is drawn, in every setting; then every single fault of it, in every setting with every history.',
    ],
    args: [FILE],
    options: [JSON_OPTION],
    examples: ['mimicwright truth yard.mimic.json --json'],
  },
  {
    name: 'spice',
    says: 'the circuits as SPICE text',
    more: [
      'A source of 0 V named V_ and the id stands in series with every lamp and every drive, so that its current is read straight off.',
    ],
    args: [FILE],
    options: [{ flag: '--lever', value: 'L1', says: 'only the circuit of this lever' }, SET, LIES, FAULT],
    examples: ['mimicwright spice yard.mimic.json --lever L1 > L1.cir'],
  },
  {
    name: 'build',
    says: 'write the build book, the templates and the lists',
    more: [
      'Each file is written whole or not at all; a file of the same name is replaced, others stay.',
      'Print book.pdf and templates.pdf at 100 %, never fitted to the page.',
    ],
    args: [FILE],
    options: [
      { flag: '--out', value: 'DIR', required: true, says: 'folder to write into; made where it is missing' },
      {
        flag: '--paper',
        value: 'A4|Letter',
        choices: ['A4', 'Letter'],
        says: 'paper of what is printed; A4 where nothing is said',
      },
      {
        flag: '--bar',
        value: 'MM',
        says: 'what the bar of 100 mm measures on your print, 95 to 105: the templates are drawn to suit',
      },
      { flag: '--only', value: 'PART,...', says: 'only these files, by name: book,wires or book.pdf,wires.csv' },
      JSON_OPTION,
    ],
    examples: [
      'mimicwright build yard.mimic.json --out yard-book',
      'mimicwright build yard.mimic.json --out print --only templates --paper Letter',
      'mimicwright build yard.mimic.json --out print --only templates --bar 98.5',
    ],
  },
  {
    name: 'compare',
    says: 'lay the same panel with other drives, feeds and lamps side by side',
    more: [
      'The panel as it is stands first, then by drives, by feed and by lamps; for each what it takes and how many single faults make a lamp lie.',
      'What cannot be built is listed with why. Nothing is altered.',
    ],
    args: [FILE],
    options: [
      { flag: '--all-faults', value: null, says: 'try every single fault of every option, however long that takes' },
      JSON_OPTION,
    ],
    examples: ['mimicwright compare yard.mimic.json'],
  },
  {
    name: 'open',
    says: 'work on the panel in the browser',
    more: [
      'Serves the application to this machine alone and follows the file when it changes on disk.',
      'Runs until Ctrl+C.',
    ],
    args: [{ ...FILE, required: false }],
    options: [
      {
        flag: '--port',
        value: 'N',
        says: 'port to serve on, 0 for any; where nothing is said 4180 or the next that is free',
      },
      { flag: '--no-open', value: null, says: 'only serve: leave the browser alone' },
    ],
    examples: ['mimicwright open yard.mimic.json'],
  },
];
