import { setThing } from '../../../laying/index.ts';
import type { RecordOf } from '../../../panel/index.ts';
import { DEFAULTS } from '../../../panel/index.ts';
import { layWords } from '../../words/lay.ts';
import { positions } from '../../words/run.ts';
import { useLay } from '../use-lay.ts';
import { Section, SpotFields, TextField } from './fields.tsx';

export function ButtonInspector({ button }: { readonly button: RecordOf<'buttons'> }) {
  const panel = useLay((lay) => lay.laid);
  const { id } = button;
  const picked = { list: 'buttons', id } as const;
  const sets = Object.entries(button.sets ?? {});
  return (
    <>
      <div className="side-name">
        <TextField
          label={layWords.name}
          value={button.name}
          placeholder={id}
          subject={id}
          set={(name) => setThing(panel, picked, { name })}
        />
      </div>
      <SpotFields head={layWords.middle} at={button.at} subject={id} set={(at) => setThing(panel, picked, { at })} />
      <Section help="sec.sets" head={layWords.setBy}>
        <p>
          {sets.length === 0
            ? layWords.worksNothing
            : layWords.showsLies(sets.map(([point, lie]) => [point, positions[lie]] as const))}
        </p>
        <dl className="kv">
          <dt>{layWords.part}</dt>
          <dd>{button.part ?? DEFAULTS.button.part}</dd>
        </dl>
      </Section>
    </>
  );
}
