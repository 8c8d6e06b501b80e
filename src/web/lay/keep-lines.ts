/** What has to be said of keeping, a line each: only what differs from a panel that is kept, edited here, and in a file. */
import { FROM_OTHER_WINDOW, type KeptState, REMIND_EDITS } from '../document/index.ts';
import { keepWords } from '../words/keep.ts';

export type KeepLine = 'role' | 'storage' | 'stranded' | 'aside' | 'steps' | 'file';

/** What a line offers beside its sentence. */
export type KeepDeed = 'take-over' | 'save' | 'keep-again' | 'give-stranded' | 'rescue';

export interface SaidLine {
  readonly line: KeepLine;
  readonly text: string;
  readonly deeds: readonly KeepDeed[];
  /** May it be put away once it is read? A state that lasts goes of itself. */
  readonly goes: boolean;
  /** Does work hang on it? */
  readonly grave: boolean;
}

/** Lines that were put away, with what there was to say then: how many edits were in no file, or of what is stranded how many pieces. */
export type Seen = Readonly<Partial<Record<KeepLine, number>>>;

/** The lines of a state, gravest first, but for those that were `seen` and say nothing new. */
export function linesOf(state: KeptState, seen: Seen): readonly SaidLine[] {
  const { keeping, aside, lostSteps, unsavedEdits } = state;
  const lines: (SaidLine | null)[] = [
    roleLine(state),
    storageLine(state),
    seen.stranded === state.stranded.length ? null : strandedLine(state),
    aside === null || seen.aside !== undefined
      ? null
      : {
          line: 'aside',
          text: keepWords.aside(aside.to - aside.from + 1),
          deeds: ['save', 'rescue'],
          goes: true,
          grave: true,
        },
    lostSteps === 0 || seen.steps !== undefined
      ? null
      : { line: 'steps', text: keepWords.lostSteps(lostSteps), deeds: [], goes: true, grave: false },
    // Put away, it comes again after as many edits more. The storage line asks for a file already; a window that follows leaves it to the other.
    !state.remind ||
    isLost(state) ||
    state.role !== 'editing' ||
    unsavedEdits - (seen.file ?? -REMIND_EDITS) < REMIND_EDITS
      ? null
      : {
          line: 'file',
          text: keepWords.remind(unsavedEdits, daysOf(keeping)),
          deeds: ['save'],
          goes: true,
          grave: false,
        },
  ];
  return lines.filter((line) => line !== null);
}

/** Is what was edited in this window alone? */
export const isLost = ({ keeping: { kind } }: Pick<KeptState, 'keeping'>): boolean =>
  kind !== 'kept' && kind !== 'kept-until';

/** Days without a visit after which the browser deletes; null where it has no such rule or has promised not to. */
export const daysOf = (keeping: KeptState['keeping']): number | null =>
  keeping.kind === 'kept-until' ? keeping.days : null;

function roleLine({ role, taken }: KeptState): SaidLine | null {
  const line = { line: 'role', goes: false, grave: true } as const;
  if (role === 'editing') return null;
  if (role === 'handing-over') return { ...line, text: keepWords.leaving, deeds: [] };
  return { ...line, text: taken ? keepWords.taken : keepWords.follows, deeds: ['take-over'] };
}

function storageLine(state: KeptState): SaidLine | null {
  if (!isLost(state)) return null;
  const { keeping } = state;
  const deeds: readonly KeepDeed[] = keeping.kind === 'evicted' ? ['save', 'keep-again'] : ['save'];
  return { line: 'storage', text: keepWords.how(keeping), deeds, goes: false, grave: true };
}

function strandedLine({ stranded }: KeptState): SaidLine | null {
  const last = stranded.at(-1);
  if (last === undefined) return null;
  const text = keepWords.stranded(last.edits, last.kept, FROM_OTHER_WINDOW);
  return { line: 'stranded', text, deeds: ['give-stranded'], goes: last.kept, grave: true };
}
