/** Each answer as text for people. Numbers go through the one formatter; nothing is coloured. */
import { formatAmps, formatMillimetres, formatSeconds, formatVolts } from '../units/index.ts';
import type { BuildAnswer, CheckAnswer, RoutesAnswer, SolveAnswer, TruthAnswer } from './answer-schemas.ts';
import { table } from './table.ts';
import { standingsLines, trainsLines } from './train-texts.ts';

/** Entries of a long list that are printed; --json has them all. */
const MOST_ENTRIES = 50;

/** "1 strip", "3 strips", "2 switches": a number and its noun. */
export const counted = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`;

const indented = (text: string): string => text.replace(/^(?=.)/gm, '  ');
const settingText = (lies: Readonly<Record<string, string>>): string =>
  Object.entries(lies)
    .map(([id, lie]) => `${id} ${lie}`)
    .join(', ');
const titled = (name: string): string => (name === '' ? 'Panel without a name' : name);

/** "1 caution, 2 hints". */
function tally(findings: CheckAnswer['findings']): string {
  const of = (severity: string): number => findings.filter((finding) => finding.severity === severity).length;
  const parts = [
    ...(of('danger') > 0 ? [counted(of('danger'), 'danger')] : []),
    ...(of('wrong') > 0 ? [`${of('wrong')} wrong`] : []),
    ...(of('caution') > 0 ? [counted(of('caution'), 'caution')] : []),
    ...(of('hint') > 0 ? [counted(of('hint'), 'hint')] : []),
  ];
  return parts.length === 0 ? 'Nothing found.' : `${parts.join(', ')}.`;
}

export function checkText(answer: CheckAnswer): string {
  const { counts } = answer;
  const lines = [
    titled(answer.panel),
    [
      counted(counts.strips, 'strip'),
      counted(counts.points, 'point'),
      counted(counts.crossings, 'crossing'),
      counted(counts.places, 'place'),
      counted(counts.levers, 'lever'),
      counted(counts.lamps, 'lamp'),
      counted(counts.drives, 'drive'),
      counted(counts.circuits, 'circuit'),
      counted(counts.connectors, 'connector'),
      counted(counts.wires, 'wire'),
    ].join(', '),
    '',
  ];
  for (const { code, severity, where, message, mends } of answer.findings) {
    const at = where.at === null ? '' : ` at ${formatMillimetres(where.at[0])}, ${formatMillimetres(where.at[1])}`;
    lines.push(`${severity.padEnd(7)}  ${message}`);
    lines.push(`         ${where.ids.join(', ')}${at} (${code})`.replace(/ {10,}/, '         '));
    for (const mend of mends) {
      lines.push(`         To mend it: ${mend.text}${mend.price === null ? '' : ` (price ${mend.price.toFixed(2)})`}`);
    }
    lines.push('');
  }
  lines.push(tally(answer.findings), '');
  return lines.join('\n');
}

/** `whole`: all of the panel is asked for, so that the proving run stands below. */
export function routesText(answer: RoutesAnswer, whole = true): string {
  const names = new Map(answer.places.map(({ id, name }) => [id, name ?? id]));
  const named = (id: string): string => names.get(id) ?? id;
  // Who asks where trains should stand wants the moves, and not every route before them.
  if (answer.standings !== undefined)
    return [
      titled(answer.panel),
      '',
      ...standingsLines(answer.standings, answer.trains, named),
      ...(answer.trains === undefined ? [] : trainsLines(answer.trains, named)),
    ].join('\n');
  const rows = answer.routes.map((route, i) => [
    String(i),
    named(route.from),
    named(route.to),
    route.levers === null
      ? `cannot be set: ${route.why ?? 'no lever works one of its points'}`
      : settingText(route.levers) || 'nothing to set',
    formatMillimetres(route.faceLength),
    route.through.length === 0 ? '' : `by ${route.through.map(named).join(', ')}`,
  ]);
  const lines = [titled(answer.panel), routesCounted(answer, whole), ''];
  if (rows.length > 0)
    lines.push(indented(table([['', 'from', 'to', 'levers', 'on the face', ''], ...rows], [0, 4])), '');
  if (answer.moves !== undefined) lines.push(...movesLines(answer.moves, named));
  if (answer.trains !== undefined) lines.push(...trainsLines(answer.trains, named));
  lines.push(groupingText(answer.grouping), '');
  if (answer.conflicts.length > 0) {
    lines.push('Cannot stand together:');
    const conflicts = answer.conflicts
      .slice(0, MOST_ENTRIES)
      .map(([i, j, reason]) => [String(i), String(j), `for ${reason.replace(':', ' ')}`]);
    lines.push(indented(table(conflicts, [0, 1])));
    const more = answer.conflictCount - conflicts.length;
    const all = answer.conflicts.length === answer.conflictCount ? 'all' : thousands(answer.conflicts.length);
    if (more > 0) lines.push(`  and ${thousands(more)} more: --json lists ${all}`);
    lines.push('');
  }
  if (whole) lines.push(...provingLines(answer.proving, named));
  return lines.join('\n');
}

/** "12,345": a whole number with its thousands parted. */
const thousands = (whole: number | string): string => String(whole).replace(/\B(?=(\d{3})+$)/g, ',');

/** How many routes and conflicts; where the list is cut its limit, and what to do. */
function routesCounted({ routes, conflictCount, cut, limit, count, counted }: RoutesAnswer, whole: boolean): string {
  const pairs = `${thousands(conflictCount)} ${conflictCount === 1 ? 'pair' : 'pairs'} that cannot stand together`;
  if (!cut) return `${thousands(count)} ${count === '1' ? 'route' : 'routes'}, ${pairs}`;
  const number = counted === 'exact' ? thousands(count) : `at least ${thousands(count)}`;
  return [
    `${number} routes; the first ${thousands(routes.length)} are listed, ${pairs}`,
    `The list stops at ${thousands(limit)}. ${
      whole
        ? 'Ask for the routes between two places with --from and --to.'
        : 'Name a road on the way as a place, and ask for the routes to it and from it.'
    }`,
  ].join('\n');
}

type Named = (id: string) => string;

/** A move, leg by leg, or what it hangs on. */
function movesLines(moves: NonNullable<RoutesAnswer['moves']>, named: Named): readonly string[] {
  const { from, to, length, outcome, reversals, legs, asks, why, complete } = moves;
  const train = `Train of ${formatMillimetres(length)} from ${named(from)} to ${named(to)}`;
  const rows = legs.map((leg, i) => [
    String(i + 1),
    leg.turns ? 'back' : i === 0 ? '' : 'on',
    named(leg.from),
    named(leg.to),
    leg.levers === null ? `cannot be set: ${leg.why ?? 'no lever'}` : settingText(leg.levers) || 'nothing to set',
  ]);
  const says = {
    found: `: ${counted(reversals ?? 0, 'reversal')}`,
    asked: ' hangs on lengths that are not given:',
    refused: ' cannot be moved:',
  };
  return [
    `${train}${says[outcome]}`,
    ...(rows.length > 0 ? [indented(table([['', '', 'from', 'to', 'levers'], ...rows], [0]))] : []),
    ...(outcome === 'found' && asks.length > 0 ? ['There may be a better move:'] : []),
    ...asks.map(({ question }) => `  ${question}`),
    ...why.map((reason) => `  ${reason}`),
    ...(complete ? [] : ['The search was cut: there may be a better move.']),
    '',
  ];
}

/** The proving run, step by step. */
function provingLines(proving: RoutesAnswer['proving'], named: Named): readonly string[] {
  const { moves, legs, missed, reversals, throws, bound, proved } = proving;
  if (legs.all === 0) return [];
  const taken = `${legs.covered} of ${counted(legs.all, 'leg')}, ${counted(reversals, 'reversal')}, ${counted(throws, 'throw')}`;
  const least = proved
    ? 'no run has fewer'
    : `no run has fewer than ${counted(bound.reversals, 'reversal')} and ${counted(bound.throws, 'throw')}`;
  const rows = moves.map((move, i) => [
    String(i + 1),
    settingText(move.throws),
    move.carried ? 'carried' : move.turns ? 'back' : i === 0 ? '' : 'on',
    named(move.from),
    named(move.to),
    move.through.length === 0 ? '' : `by ${move.through.map(named).join(', ')}`,
  ]);
  return [
    `Proving run, from every lever normal: ${taken}; ${least}`,
    ...(rows.length > 0 ? [indented(table([['', 'throw', '', 'from', 'to', ''], ...rows], [0]))] : []),
    ...missed.slice(0, MOST_ENTRIES).map(({ points, way, why }) => `  not ${settingText(points)} ${way}: ${why}`),
    ...(missed.length > MOST_ENTRIES ? [`  and ${missed.length - MOST_ENTRIES} more: --json lists all`] : []),
    '',
  ];
}

/** What the levers lose, and how few would lose nothing. "Pairs" are both kinds. */
function groupingText({ lost: { counts }, least, proved, atLeast }: RoutesAnswer['grouping']): string {
  const pairs = counts.pairs + counts.meets;
  const losses = [
    ...(counts.routes > 0 ? [`${counted(counts.routes, 'route')} that they cannot set`] : []),
    ...(pairs > 0 ? [`${counted(pairs, 'pair')} that could stand together on the track`] : []),
  ];
  const fewest = proved ? `${counted(least, 'lever')} at least` : `between ${atLeast} and ${least} levers`;
  return `Levers: ${losses.length === 0 ? 'nothing is lost' : `lost: ${losses.join(', ')}`}; to lose nothing takes ${fewest}`;
}

export function solveText(answer: SolveAnswer): string {
  const lines = [titled(answer.panel), settingText(answer.levers) || 'No levers'];
  if (answer.faults.length > 0) lines.push(`Broken: ${answer.faults.join(' ')}`);
  lines.push('');
  const section = (
    title: string,
    head: readonly string[],
    rows: readonly (readonly string[])[],
    right: readonly number[],
  ): void => {
    if (rows.length === 0) return;
    lines.push(title, indented(table([head, ...rows], right)), '');
  };
  section(
    'Supplies',
    ['', 'volts', 'amps'],
    answer.supplies.map(({ id, volts, amps }) => [id, formatVolts(volts), formatAmps(amps)]),
    [1, 2],
  );
  section(
    'Drives',
    ['', 'volts', 'amps', 'goes'],
    answer.drives.map(({ point, volts, amps, moves }) => [
      point,
      formatVolts(volts),
      formatAmps(amps),
      moves ?? 'nowhere',
    ]),
    [1, 2],
  );
  section(
    'Lamps',
    ['', 'amps', 'least', 'most', 'look'],
    answer.lamps.map(({ id, amps, low, high, look }) => [
      id,
      formatAmps(amps),
      formatAmps(low),
      formatAmps(high),
      look,
    ]),
    [1, 2, 3],
  );
  section(
    'Nodes',
    ['circuit', 'node', 'volts'],
    answer.nodes.map(({ circuit, node, volts }) => [circuit, node, volts === null ? 'floats' : formatVolts(volts)]),
    [2],
  );
  if (answer.problems.length > 0)
    lines.push(`${counted(answer.problems.length, 'circuit problem')}: check tells of each.`, '');
  return lines.join('\n');
}

const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;

/** What a suggestion costs. */
function priceText({ money, parts, wires, pins }: TruthAnswer['suggestions'][number]['price']): string {
  const bought = parts.map(({ part, count }) => `${count} of ${part}`);
  const cost = money === null || money === 0 ? [] : [`about ${money.toFixed(2)}`];
  const laid = wires === 0 ? [] : [`${counted(wires, 'wire')} and ${counted(pins, 'pin')} more`];
  return [...bought, ...cost, ...laid].join(', ') || 'no part to buy';
}

/** One line of what the certificate holds. */
function certificateText({ circuits, lamps }: TruthAnswer['certificate']): string {
  const states = circuits.reduce((sum, circuit) => sum + circuit.states.length, 0);
  const left = circuits.reduce((sum, circuit) => sum + (circuit.left ?? []).length, 0);
  const but = left === 0 ? '' : `, ${counted(left, 'lamp')} without`;
  return `Certificate, in --json: ${counted(circuits.length, 'circuit')} in ${counted(states, 'state')}, ${counted(lamps.length, 'lamp')}${but}, to be worked out again by another program.`;
}

export function truthText(answer: TruthAnswer): string {
  const setting = (entry: {
    readonly levers: Readonly<Record<string, string>>;
    readonly history: Readonly<Record<string, string>>;
  }): string =>
    [settingText(entry.levers) || 'in every setting', settingText(entry.history)]
      .filter((text) => text !== '')
      .join(', before: ');
  const lines = [
    titled(answer.panel),
    `${counted(answer.lamps.length, 'lamp')} proved in ${answer.settings} setting${answer.settings === '1' ? '' : 's'} of the levers, nothing broken`,
    '',
  ];
  const section = (title: string, rows: readonly (readonly string[])[]): void => {
    if (rows.length === 0) return;
    lines.push(`${title}: ${rows.length}`, indented(table(rows.slice(0, MOST_ENTRIES))));
    if (rows.length > MOST_ENTRIES) lines.push(`  and ${rows.length - MOST_ENTRIES} more: --json lists all`);
    lines.push('');
  };
  section(
    'Untruths',
    answer.untruths.map((entry) => [entry.lamp, `${entry.shown}, should be ${entry.should}`, setting(entry)]),
  );
  section(
    'Both legs lit together',
    answer.contradictions.map((entry) => [entry.lamp, setting(entry)]),
  );
  section(
    'Doubtful',
    answer.doubtful.map((entry) => [entry.lamp, `on the ${entry.side} side`, setting(entry)]),
  );
  section(
    'Silent, where nothing is asked',
    answer.silent.map((entry) => [entry.lamp, setting(entry)]),
  );
  section(
    'Ahead of the blades while they move',
    answer.leads.map(({ lamp, seconds }) => [lamp, `at most ${formatSeconds(seconds)}`]),
  );
  section(
    'When the supply comes on, until the first throw',
    answer.powerUp.lies.map((entry) => [
      entry.lamp,
      `${entry.shown}, should be ${entry.should}`,
      [setting(entry), settingText(entry.latches)].filter((text) => text !== '').join('; '),
    ]),
  );
  lines.push(
    answer.untruths.length === 0
      ? 'No lamp tells an untruth.'
      : `${counted(answer.untruths.length, 'untruth')}: do not rely on this panel.`,
    '',
  );
  const { tried, rightSide, wrongSide, latent } = answer.faults;
  if (tried === 0) return lines.join('\n');
  lines.push(
    `Single faults: ${tried} tried, ${wrongSide} make a lamp lie (${percent(answer.share)}, ${percent(answer.weightedShare)} by how often they are met), ${rightSide} fall silent or stay true, ${latent} show nothing`,
    '',
  );
  section(
    'Faults that lie',
    answer.wrongSide.map((entry) => [
      entry.fault,
      entry.lamp,
      `${entry.mark === 'doubtful' ? 'doubtful' : entry.shown}, should be ${entry.should}`,
      setting(entry),
    ]),
  );
  section(
    'What would turn them, faults of what is added not counted',
    answer.suggestions.map(({ text, lamps, cures, price }) => [
      `${cures} of ${wrongSide}`,
      `${text}: ${counted(lamps.length, 'lamp')}, ${priceText(price)}`,
    ]),
  );
  lines.push(certificateText(answer.certificate), '');
  return lines.join('\n');
}

export function buildText(answer: BuildAnswer, folder: string): string {
  const rows = answer.files.map(({ path, pages, bytes }) => [
    path,
    `${bytes} bytes`,
    pages === null ? '' : counted(pages, 'page'),
  ]);
  return `${titled(answer.panel)}: ${counted(rows.length, 'file')} in ${folder}\n\n${indented(table(rows, [1]))}\n`;
}
