/** Which points something sets, or is lit by, and which way each of them lies for it. */
import type { Lie, Lies } from '../../../panel/index.ts';
import { Cross } from '../../icons.tsx';
import { Choice as Field } from '../../parts/choice.tsx';
import { layWords } from '../../words/lay.ts';
import { positions } from '../../words/run.ts';
import { useLay } from '../use-lay.ts';
import { Choice } from './fields.tsx';

const LIES: readonly (readonly [Lie, string])[] = [
  ['normal', positions.normal],
  ['reverse', positions.reverse],
];

/** A row for each point with the way that it lies, and a field for one more. `set` gets all of them, in the order in which they came. */
export function LiesFields({ lies, set }: { readonly lies: Lies; readonly set: (lies: Lies) => void }) {
  const points = useLay((lay) => lay.laidView?.points ?? null);
  const free = (points ?? []).filter(({ id }) => lies[id] === undefined).map(({ id }) => ({ id, name: id }));
  return (
    <div className="lies">
      {Object.entries(lies).map(([point, lie]) => (
        <div key={point} className="lie-row">
          <span className="tag mark">{point}</span>
          <Choice
            label={layWords.lieOf(point)}
            options={LIES}
            value={lie}
            choose={(each) => set({ ...lies, [point]: each })}
          />
          <button
            type="button"
            className="ibtn"
            aria-label={layWords.takeOutOf(point)}
            title={layWords.takeOutOf(point)}
            onClick={() => set(Object.fromEntries(Object.entries(lies).filter(([id]) => id !== point)))}
          >
            <Cross />
          </button>
        </div>
      ))}
      <Field
        label={layWords.addPoint}
        items={free}
        chosen={null}
        empty={free.length === 0 ? layWords.noPointLeft : layWords.addPoint}
        onChoose={(point) => set({ ...lies, [point]: 'reverse' })}
      />
    </div>
  );
}
