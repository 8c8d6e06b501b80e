import { setThing } from '../../../laying/index.ts';
import type { PlateRecord } from '../../../panel/index.ts';
import { layWords } from '../../words/lay.ts';
import { thingName } from '../thing-names.ts';
import { useLay } from '../use-lay.ts';
import { LengthField, Section, SpotFields, TextField } from './fields.tsx';

/** Smaller than this is neither engraved nor read: mm. */
const LEAST_TYPE = 0.5;
const LEAST = 1;

export function PlateInspector({ plate, index }: { readonly plate: PlateRecord; readonly index: number }) {
  const panel = useLay((lay) => lay.laid);
  const drawn = useLay((lay) => lay.laidView?.face.plates ?? null);
  const picked = { list: 'plates', id: index } as const;
  const subject = thingName(panel, picked);
  // What the tool has chosen, where the file leaves it to it.
  const chosen = drawn?.find(({ at, lines }) => at[0] === plate.at[0] && at[1] === plate.at[1] && lines.length > 0);
  return (
    <>
      <div className="side-name">
        <TextField
          label={layWords.text}
          value={plate.text}
          needed
          subject={subject}
          set={(text) => (text === undefined ? null : setThing(panel, picked, { text }))}
        />
      </div>
      <SpotFields
        head={layWords.middle}
        at={plate.at}
        subject={subject}
        set={(at) => setThing(panel, picked, { at })}
      />
      <Section help="sec.size" head={layWords.size}>
        <LengthField
          label={layWords.typeSize}
          inline
          value={plate.size}
          fallback={chosen?.lines[0]?.size ?? null}
          least={LEAST_TYPE}
          subject={subject}
          set={(size) => setThing(panel, picked, { size })}
        />
        <div className="pair">
          <LengthField
            label={layWords.across}
            value={plate.width}
            fallback={chosen?.width ?? null}
            least={LEAST}
            subject={subject}
            set={(width) => setThing(panel, picked, { width })}
          />
          <LengthField
            label={layWords.down}
            value={plate.height}
            fallback={chosen?.height ?? null}
            least={LEAST}
            subject={subject}
            set={(height) => setThing(panel, picked, { height })}
          />
        </div>
      </Section>
    </>
  );
}
