import { setThing } from '../../../laying/index.ts';
import type { LeverRecord } from '../../../panel/index.ts';
import { DEFAULTS } from '../../../panel/index.ts';
import { layWords } from '../../words/lay.ts';
import { useLay } from '../use-lay.ts';
import { DegreesField, Section, SpotFields, TextField } from './fields.tsx';

/** A lever, also one that the file does not name and a point has by default: `record` is then undefined. */
export function LeverInspector({ id, record }: { readonly id: string; readonly record: LeverRecord | undefined }) {
  const panel = useLay((lay) => lay.laid);
  const drawn = useLay((lay) => lay.laidView?.face.levers.find((lever) => lever.id === id) ?? null);
  const points = useLay((lay) => lay.laidView?.points ?? null);
  const picked = { list: 'levers', id } as const;
  const works =
    record?.works?.flatMap(({ point }) => point ?? []) ??
    points?.flatMap((point) => (point.lever === id ? [point.id] : [])) ??
    [];
  const at = record?.at ?? drawn?.at;
  return (
    <>
      <div className="side-name">
        <TextField
          label={layWords.name}
          value={record?.name}
          placeholder={id}
          subject={id}
          set={(name) => setThing(panel, picked, { name })}
        />
      </div>
      {at === undefined ? null : (
        <SpotFields
          head={layWords.middle}
          at={[at[0], at[1]]}
          subject={id}
          set={(to) => setThing(panel, picked, { at: to })}
        />
      )}
      <Section help="sec.angle" head={layWords.angle}>
        <DegreesField
          label={layWords.turnBy}
          value={record?.angle}
          fallback={DEFAULTS.lever.angle}
          subject={id}
          set={(angle) => setThing(panel, picked, { angle })}
        />
      </Section>
      <Section help="sec.works" head={layWords.works}>
        <div className="tags">
          {works.length === 0 ? layWords.worksNothing : null}
          {works.map((point) => (
            <span key={point} className="tag mark">
              {point}
            </span>
          ))}
        </div>
        <dl className="kv">
          <dt>{layWords.switchPart}</dt>
          <dd>{record?.switch ?? layWords.byDefault}</dd>
        </dl>
      </Section>
    </>
  );
}
