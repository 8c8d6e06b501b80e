import { setThing } from '../../../laying/index.ts';
import type { FaceRecord, RecordOf } from '../../../panel/index.ts';
import { DEFAULTS } from '../../../panel/index.ts';
import { layWords } from '../../words/lay.ts';
import { thingName } from '../thing-names.ts';
import { useLay } from '../use-lay.ts';
import { LengthField, Section, SizeFields, SpotFields } from './fields.tsx';

type Fixing = NonNullable<FaceRecord['fixings']>[number];
type KeepOut = NonNullable<FaceRecord['keepOut']>[number];

/** Smallest drill and smallest oblong that are told from nothing: mm. */
const LEAST = 0.3;

export function FixingInspector({ fixing, index }: { readonly fixing: Fixing; readonly index: number }) {
  const panel = useLay((lay) => lay.laid);
  const picked = { list: 'fixings', id: index } as const;
  const subject = thingName(panel, picked);
  return (
    <>
      <SpotFields
        head={layWords.middle}
        at={fixing.at}
        subject={subject}
        set={(at) => setThing(panel, picked, { at })}
      />
      <Section help="sec.size" head={layWords.size}>
        <LengthField
          label={layWords.drill}
          inline
          value={fixing.drill}
          least={LEAST}
          subject={subject}
          set={(drill) => (drill === undefined ? null : setThing(panel, picked, { drill }))}
        />
      </Section>
    </>
  );
}

export function KeepOutInspector({ keepOut, index }: { readonly keepOut: KeepOut; readonly index: number }) {
  const panel = useLay((lay) => lay.laid);
  const picked = { list: 'keepOut', id: index } as const;
  const subject = thingName(panel, picked);
  return (
    <>
      <SpotFields
        head={layWords.topLeft}
        at={keepOut.at}
        subject={subject}
        set={(at) => setThing(panel, picked, { at })}
      />
      <SizeFields
        size={keepOut.size}
        least={LEAST}
        subject={subject}
        set={(size) => setThing(panel, picked, { size })}
      />
    </>
  );
}

export function RelayInspector({ relay }: { readonly relay: RecordOf<'relays'> }) {
  const panel = useLay((lay) => lay.laid);
  const { id, at } = relay;
  return (
    <>
      {at === undefined ? null : (
        <SpotFields
          head={layWords.middle}
          at={at}
          subject={id}
          set={(to) => setThing(panel, { list: 'relays', id }, { at: to })}
        />
      )}
      <Section help="sec.part" head={layWords.part}>
        <dl className="kv">
          <dt>{layWords.part}</dt>
          <dd>{relay.part ?? DEFAULTS.relay.part}</dd>
        </dl>
      </Section>
    </>
  );
}
