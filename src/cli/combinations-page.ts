/**
 * Every kind of drive on every kind of feed, lit by every scheme: what comes of it. Each cell is a panel of one point, derived like any
 * other: its findings, its truth in every setting, and what single faults make its lamps say.
 */
import { type Derived, derive } from '../derive.ts';
import { type Combination, combine, DRIVES, FEEDS, type FeedKind, SCHEMES } from './combine.ts';

/** What comes of one combination. */
export interface Verdict {
  /** Nothing is dangerous or wrong, and every lamp is true in every setting. */
  readonly works: boolean;
  /** Codes of what is dangerous or wrong, each once, in the order of the alphabet. */
  readonly codes: readonly string[];
  /** What the lamps know where it works: asked, drive or blades. */
  readonly knows: readonly string[];
  /** Lamps that are untrue with nothing broken, in any setting. */
  readonly untruths: number;
  /** Settings in which no lamp of a point is lit. */
  readonly silent: number;
  /** Single faults tried, and those that make a lamp lie; 0 where none were. */
  readonly tried: number;
  readonly lie: number;
  /** What to use instead: the words of the mends that can be done at once, the best first. */
  readonly instead: readonly string[];
}

/** What comes of a combination; with `faults` single faults are tried where it works, which takes ten times as long. */
export function judge(asked: Combination, faults: 'faults' | 'sound' = 'sound'): Verdict {
  const derived = derive(combine(asked));
  const serious = derived.findings().filter(({ severity }) => severity === 'danger' || severity === 'wrong');
  const codes = [...new Set(serious.map(({ code }) => code))].sort();
  const { untruths, silent } = derived.truth();
  const works = codes.length === 0 && untruths.length === 0;
  const tried = works && faults === 'faults' ? derived.faultTruth().faults : null;
  const texts = serious.flatMap(({ mends }) => mends.flatMap(({ text, edit }) => (edit === null ? [] : [text])));
  return {
    works,
    codes,
    knows: works ? knowsOf(derived) : [],
    untruths: untruths.length,
    silent: silentSettings(silent, derived.lamps.length),
    tried: tried?.tried ?? 0,
    lie: tried?.wrongSide ?? 0,
    instead: [...new Set(texts)],
  };
}

/** Settings in which no lamp is lit: all of them are dark together. */
function silentSettings(silent: ReturnType<Derived['truth']>['silent'], lamps: number): number {
  const dark = new Map<string, number>();
  for (const { levers, history } of silent) {
    const key = JSON.stringify([levers, history]);
    dark.set(key, (dark.get(key) ?? 0) + 1);
  }
  return [...dark.values()].filter((count) => count === lamps).length;
}

function knowsOf({ lamps }: Derived): readonly string[] {
  return [...new Set(lamps.map(({ basis }) => basis))].sort();
}

/** A cell of the wide tables: what is known, or that it is none. */
function brief(verdict: Verdict): string {
  if (verdict.works) return verdict.silent > 0 ? `${verdict.knows.join(', ')}, silent` : verdict.knows.join(', ');
  return verdict.codes.some((code) => BURNS.has(code)) ? 'burns' : 'no';
}

const BURNS: ReadonlySet<string> = new Set(['drive-would-burn', 'lamp-destroyed']);

/** The whole verdict of a cell. */
function whole(verdict: Verdict): string {
  if (verdict.works) {
    const dark = verdict.silent > 0 ? '; says nothing in some settings' : '';
    const lie = verdict.tried === 0 ? '' : `, ${verdict.lie} of ${verdict.tried} single faults lie`;
    return `works, knows ${verdict.knows.join(' and ')}${lie}${dark}`;
  }
  const codes = verdict.codes.map((code) => `\`${code}\``).join(', ') || 'a lamp is untrue';
  return verdict.instead.length === 0 ? codes : `${codes}: ${verdict.instead.join('; ')}`;
}

/** Words of a feed. */
const FEED_WORDS: Readonly<Record<FeedKind, string>> = {
  reversing: 'Reversing: 12 V DC',
  split: 'Split: twice 12 V DC',
  'half-wave': 'Half-wave: 9 V AC, smoothed',
  pulse: 'Pulse: 24 V DC',
  unit: 'Pulse: a capacitor unit of 4,700 µF behind 24 V DC',
  charge: 'Charge: 24 V DC and 2,200 µF',
  contact: 'Contact to common: 5 V DC',
};

/** Feeds that suit each drive that a lever can work. */
export const SUITS: readonly (readonly [drive: string, feed: FeedKind])[] = [
  ['stall-2-wire', 'reversing'],
  ['stall-2-wire', 'split'],
  ['stall-2-wire', 'half-wave'],
  ['limit-2-wire', 'reversing'],
  ['limit-2-wire', 'split'],
  ['limit-2-wire', 'half-wave'],
  ['twin-coil', 'pulse'],
  ['twin-coil', 'unit'],
  ['twin-coil', 'charge'],
  ['twin-coil-end-off', 'pulse'],
  ['twin-coil-end-off', 'unit'],
  ['twin-coil-end-off', 'charge'],
  ['servo-board', 'contact'],
];

/** Switches of every kind that a lever can have, and push buttons in its place. */
export const SWITCHES = ['toggle-3p', 'toggle-3p-centre-off', 'toggle-3p-sprung', 'buttons'] as const;
/** Schemes that switches are tried with: one of each way to light lamps. */
export const SWITCH_SCHEMES = ['across-feed', 'spare-pole', 'latching-relay', 'blade-contact'] as const;

/** How a lever on another panel works the same. */
export const TWINS = ['two-way', 'latch'] as const;

export const ARRANGES = ['free', 'pair', 'own', 'series', 'parallel'] as const;
export const ARRANGE_SCHEMES = ['across-feed', 'in-series', 'spare-pole', 'drive-contact'] as const;
/** Lamps on each leg. */
export const ARRANGE_LAMPS = [1, 2, 3] as const;

export const LAMPS = ['led-3-amber', 'led-3-blue', 'led-3-red-old', 'led-5-red-green-2', 'led-5-red-green-3c'] as const;

/** Drive and feed that lamps of a scheme are tried on: the usual one. */
export function usualFor(scheme: Combination['scheme']): Pick<Combination, 'drive' | 'feed'> {
  return scheme === 'latching-relay'
    ? { drive: 'twin-coil', feed: 'unit' }
    : { drive: 'stall-2-wire', feed: 'reversing' };
}

function row(cells: readonly string[]): string {
  return `| ${cells.join(' | ')} |`;
}

function table(heads: readonly string[], rows: readonly (readonly string[])[]): readonly string[] {
  return [row(heads), row(heads.map(() => '---')), ...rows.map(row), ''];
}

/** The page of docs: every cell of every table. Takes some ten seconds. */
export function combinationsPage(): string {
  const lines = [
    '# Combinations',
    '',
    'Every kind of drive on every kind of feed, lit by every scheme: what `check` and `truth` say of a panel of one point and its lamps. This page is made from the program.',
    '',
    'In the wide tables a word says what the lamps know: what was *asked*, how the *drive* lies, or how the *blades* lie. *burns*: something burns. *no*: it does not work so. The tables below them say of each cell of the matrix how many single faults of wires, contacts and parts make a lamp lie, or which findings there are and what to use instead. Figures of parts are typical: the data sheet comes first.',
    '',
  ];
  for (const feed of FEEDS) {
    const cells = DRIVES.map((drive) => ({
      drive,
      of: SCHEMES.map((scheme) => ({ scheme, verdict: judge({ drive, feed, scheme }, 'faults') })),
    }));
    lines.push(`## ${FEED_WORDS[feed]}`, '');
    lines.push(
      ...table(
        ['drive', ...SCHEMES],
        cells.map(({ drive, of }) => [drive, ...of.map(({ verdict }) => brief(verdict))]),
      ),
    );
    lines.push(
      ...table(
        ['drive', 'scheme', 'verdict'],
        cells.flatMap(({ drive, of }) => of.map(({ scheme, verdict }) => [drive, scheme, whole(verdict)])),
      ),
    );
  }
  lines.push('## Switches and buttons', '');
  lines.push(
    ...table(
      ['drive', 'feed', 'switch', 'scheme', 'verdict'],
      SUITS.flatMap(([drive, feed]) =>
        SWITCHES.flatMap((part) =>
          SWITCH_SCHEMES.map((scheme) => [
            drive,
            feed,
            part,
            scheme,
            whole(judge({ drive, feed, scheme, switch: part })),
          ]),
        ),
      ),
    ),
  );
  lines.push(
    '## Two panels',
    '',
    'A lever on another panel that works the same point: *two-way*, each a switch that stays, the other before ours; *latch*, each a switch that springs back, side by side, with a relay that remembers where the drive does not by itself. First every drive on every feed, its lamps lit from a contact on the blades.',
    '',
  );
  for (const twin of TWINS)
    lines.push(
      ...table(
        [`drive, ${twin}`, ...FEEDS],
        DRIVES.map((drive) => [
          drive,
          ...FEEDS.map((feed) => {
            const verdict = judge({ drive, feed, scheme: 'blade-contact', twin });
            return verdict.works ? 'works' : verdict.codes.map((code) => `\`${code}\``).join(', ');
          }),
        ]),
      ),
    );
  lines.push(
    ...table(
      ['drive', 'feed', 'twin', 'scheme', 'verdict'],
      SUITS.flatMap(([drive, feed]) =>
        TWINS.flatMap((twin) =>
          SWITCH_SCHEMES.map((scheme) => [
            drive,
            feed,
            twin,
            scheme,
            whole(judge({ drive, feed, scheme, twin }, 'faults')),
          ]),
        ),
      ),
    ),
  );
  lines.push('## Arrangements of lamps', '', 'A stall drive on a reversing feed of 12 V.', '');
  lines.push(
    ...table(
      ['scheme', 'lamps a leg', 'arrange', 'guard', 'verdict'],
      ARRANGE_SCHEMES.flatMap((scheme) =>
        ARRANGE_LAMPS.flatMap((lamps) =>
          ARRANGES.flatMap((arrange) =>
            (arrange === 'free' ? (['none'] as const) : (['none', 'antiparallel'] as const)).map((guard) => [
              scheme,
              String(lamps),
              arrange === 'free' ? 'the tool’s' : arrange,
              guard,
              whole(judge({ ...usualFor(scheme), scheme, arrange, guard, lamps })),
            ]),
          ),
        ),
      ),
    ),
  );
  lines.push(
    '## Kinds of lamp',
    '',
    'A stall drive on a reversing feed of 12 V; with a latching relay a twin-coil drive.',
    '',
  );
  lines.push(
    ...table(
      ['lamp', ...SCHEMES],
      LAMPS.map((lamp) => [
        lamp,
        ...SCHEMES.map((scheme) => whole(judge({ ...usualFor(scheme), scheme, lamp }, 'faults'))),
      ]),
    ),
  );
  return lines.join('\n');
}
