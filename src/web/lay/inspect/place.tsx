import { setThing, stripAt } from '../../../laying/index.ts';
import type { PlaceRecord } from '../../../panel/index.ts';
import { layWords } from '../../words/lay.ts';
import { stripName, thingName } from '../thing-names.ts';
import { useLay } from '../use-lay.ts';
import { LengthField, Section, SpotFields, TextField } from './fields.tsx';

export function PlaceInspector({ place }: { readonly place: PlaceRecord }) {
  const panel = useLay((lay) => lay.laid);
  const picked = { list: 'places', id: place.id } as const;
  const subject = thingName(panel, picked);
  const on = stripAt(panel, place.at)?.strip.id ?? null;
  return (
    <>
      <div className="side-name">
        <TextField
          label={layWords.name}
          value={place.name}
          placeholder={place.id}
          subject={subject}
          set={(name) => setThing(panel, picked, { name })}
        />
      </div>
      <SpotFields head={layWords.spot} at={place.at} subject={subject} set={(at) => setThing(panel, picked, { at })} />
      <Section help="sec.layout" head={layWords.onLayout}>
        <LengthField
          label={layWords.holdsTrain}
          inline
          value={place.length}
          fallback={null}
          least={1}
          subject={subject}
          set={(length) => setThing(panel, picked, { length })}
        />
        <dl className="kv">
          <dt>{layWords.lampOn}</dt>
          <dd>{on === null ? layWords.offTape : stripName(panel, on)}</dd>
        </dl>
      </Section>
    </>
  );
}
