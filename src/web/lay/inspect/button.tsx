import { setThing } from '../../../laying/index.ts';
import type { RecordOf } from '../../../panel/index.ts';
import { DEFAULTS } from '../../../panel/index.ts';
import { layWords } from '../../words/lay.ts';
import { useLay } from '../use-lay.ts';
import { Section, SpotFields, TextField } from './fields.tsx';
import { LiesFields } from './lies.tsx';
import { PartField } from './part-field.tsx';

export function ButtonInspector({ button }: { readonly button: RecordOf<'buttons'> }) {
  const panel = useLay((lay) => lay.laid);
  const edit = useLay((lay) => lay.edit);
  const { id, sets = {} } = button;
  const picked = { list: 'buttons', id } as const;
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
        <LiesFields
          lies={sets}
          set={(lies) => edit(setThing(panel, picked, { sets: Object.keys(lies).length === 0 ? undefined : lies }), id)}
        />
        <PartField
          parts={layWords.buttonParts}
          part={button.part ?? DEFAULTS.button.part}
          choose={(part) => edit(setThing(panel, picked, { part }), id)}
        />
      </Section>
    </>
  );
}
