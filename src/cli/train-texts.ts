/** What `routes` says of trains, as tables that one can work from. */
import type { RoutesAnswer } from './answer-schemas.ts';
import { table } from './table.ts';

const indented = (text: string): string => text.replace(/^(?=.)/gm, '  ');
const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;
const settingText = (lies: Readonly<Record<string, string>>): string =>
  Object.entries(lies)
    .map(([id, lie]) => `${id} ${lie}`)
    .join(', ');

type Named = (id: string) => string;

/** Moves of trains that are printed; --json has them all. */
const MOST_ENTRIES = 50;

/** What each train can do: its ways, what has to be thrown for each, and what bars it. */
export function trainsLines(trains: NonNullable<RoutesAnswer['trains']>, named: Named): readonly string[] {
  const { standing, moves, fouled, cut } = trains;
  const trainNames = new Map(standing.map(({ id, name }) => [id, name ?? id]));
  const trainNamed = (id: string): string => trainNames.get(id) ?? id;
  const rows = moves
    .slice(0, MOST_ENTRIES)
    .map((move) => [
      trainNamed(move.train),
      named(move.from),
      named(move.to),
      move.throws === null
        ? `cannot be set: ${move.why ?? 'no lever'}`
        : Object.keys(move.throws).length === 0
          ? 'as the levers lie'
          : `throw ${settingText(move.throws)}`,
      move.fouledBy.length > 0
        ? `barred: ${move.fouledBy.map(({ train, place }) => `${trainNamed(train)} stands in ${named(place)}`).join(', ')}`
        : (move.full ?? move.asks.map(({ question }) => question).join(' ')),
    ]);
  return [
    'What trains can do where they stand:',
    indented(table([['train', 'from', 'to', 'levers', ''], ...rows])),
    ...(moves.length > rows.length ? [`  and ${moves.length - rows.length} more: --json lists all`] : []),
    ...(cut ? ['  There are more than are listed.'] : []),
    ...fouled.map(
      ({ train, by, place, moves: taken }) =>
        `  ${trainNamed(by)} in ${named(place)} fouls ${counted(taken, 'move')} of ${trainNamed(train)}.`,
    ),
    '',
  ];
}

/** The moves to a standing, or why there are none. */
export function standingsLines(
  standings: NonNullable<RoutesAnswer['standings']>,
  trains: RoutesAnswer['trains'],
  named: Named,
): readonly string[] {
  const { outcome, moves, throws, bound, proved, ends, asks, why } = standings;
  const trainNames = new Map((trains?.standing ?? []).map(({ id, name }) => [id, name ?? id]));
  const trainNamed = (id: string): string => trainNames.get(id) ?? id;
  const heads = { first: 'pulled', last: 'pushed' };
  const rows = moves.map((move, i) => [
    String(i + 1),
    trainNamed(move.train),
    named(move.from),
    named(move.to),
    settingText(move.throws) || 'nothing',
    [
      ...(move.head === null ? [] : [heads[move.head]]),
      ...(move.through.length === 0 ? [] : [`by ${move.through.map(named).join(', ')}`]),
    ].join(', '),
  ]);
  const sums = `${counted(moves.length, 'move')}, ${counted(throws ?? 0, 'throw')}`;
  const least = proved
    ? 'no plan has fewer'
    : `the best found: none has fewer than ${counted(bound.moves, 'move')}, nor so few with fewer than ${counted(bound.throws, 'throw')}`;
  const says = {
    found: `Trains to where they are wanted: ${sums}; ${least}`,
    asked: `Trains to where they are wanted hang on lengths that are not given; if they fit: ${sums}; ${least}`,
    refused: 'Trains cannot be had where they are wanted:',
    stopped: 'Trains to where they are wanted: nothing found',
  };
  return [
    says[outcome],
    ...(rows.length > 0 ? [indented(table([['', 'train', 'from', 'to', 'throw first', ''], ...rows], [0]))] : []),
    ...(outcome === 'found' && asks.length > 0 ? ['  It could be done in less, if one knew:'] : []),
    ...asks.map(({ question }) => `  ${question}`),
    ...why.map((reason) => `  ${reason.charAt(0).toUpperCase()}${reason.slice(1)}.`),
    ...(rows.length > 0
      ? [`  At the end: ${ends.map(({ id, stands }) => `${trainNamed(id)} in ${named(stands)}`).join(', ')}.`]
      : []),
    ...(rows.length > 0 ? ['  Look along the road before each move: the plan knows only the trains of the file.'] : []),
    '',
  ];
}
