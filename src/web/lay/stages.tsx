import './stages.css';
import type { Severity } from '../../checks/index.ts';
import { helped } from '../help/switch.ts';
import { type Stage, stageNames, stageWhy, stageWords } from '../words/stages.ts';

const STAGES: readonly Stage[] = ['lay', 'work', 'wire', 'make', 'prove', 'run'];

type Pip = 'none' | 'ok' | 'warn' | 'bad';

/** The small lamp of a stage: unlit not begun, green clear, amber caution or wrong, red danger. Hints leave it clear. */
export function pipOf(severities: readonly Severity[] | null): Pip {
  if (severities === null) return 'none';
  if (severities.includes('danger')) return 'bad';
  return severities.includes('wrong') || severities.includes('caution') ? 'warn' : 'ok';
}

/** The six stages. Those that are not there yet say so. */
export function Stages({
  stage,
  found = {},
  choose,
}: {
  readonly stage: Stage;
  /** By stage: severities of the findings that it shows; null while they are not known. */
  readonly found?: Readonly<Partial<Record<Stage, readonly Severity[] | null>>>;
  readonly choose: (stage: Stage) => void;
}) {
  return (
    <nav {...helped('stages')} className="stages" aria-label={stageWords.stages}>
      {STAGES.map((each, i) => {
        const why = stageWhy[each];
        const [lamp, n] = [pipOf(found[each] ?? null), found[each]?.length ?? 0];
        const word = stageNames[each];
        const says = why === undefined ? stageWords.lamp(lamp) : stageWords.notYet;
        return (
          <button
            key={each}
            type="button"
            className="stage"
            aria-current={each === stage ? 'step' : undefined}
            aria-disabled={why === undefined ? undefined : true}
            aria-keyshortcuts={String(i + 1)}
            title={why}
            onClick={() => {
              if (why === undefined) choose(each);
            }}
          >
            <i className={lamp === 'none' ? 'pip' : `pip ${lamp}`} />
            <span className="stage-word">{word}</span>
            {says === '' ? null : <span className="unseen">{`, ${says}${n > 0 ? ', ' : ''}`}</span>}
            {n > 0 ? <span className="stage-count">{n}</span> : null}
            {n > 0 ? <span className="unseen">{` ${stageWords.counted(n)}`}</span> : null}
          </button>
        );
      })}
    </nav>
  );
}
