import { moveThings, setThing } from '../../../laying/index.ts';
import type { PlatformRecord } from '../../../panel/index.ts';
import { layWords } from '../../words/lay.ts';
import { thingName } from '../thing-names.ts';
import { useLay } from '../use-lay.ts';
import { Section, SizeFields, SpotFields, TextField } from './fields.tsx';

/** Less than this across or down is no platform: mm. */
const LEAST = 1;
/** Type of a platform stands on its baseline, so far above the lower edge: mm. */
const BASELINE = 3;

export function PlatformInspector({ platform, index }: { readonly platform: PlatformRecord; readonly index: number }) {
  const panel = useLay((lay) => lay.laid);
  const edit = useLay((lay) => lay.edit);
  const picked = { list: 'platforms', id: index } as const;
  const subject = thingName(panel, picked);
  const [across, down] = platform.size;
  const names = platform.names ?? [];
  const setName = (i: number, text: string | undefined) => {
    const next =
      text === undefined
        ? names.filter((_, k) => k !== i)
        : names.map((each, k) => (k === i ? { ...each, text } : each));
    return setThing(panel, picked, { names: next.length === 0 ? undefined : next });
  };
  // Moved with its lettering, which stands by spots of the sheet.
  const moveTo = ([x, y]: readonly [number, number]) =>
    moveThings(panel, [picked], [x - platform.at[0], y - platform.at[1]]);
  return (
    <>
      <SpotFields head={layWords.topLeft} at={platform.at} subject={subject} set={moveTo} />
      <SizeFields
        size={platform.size}
        least={LEAST}
        subject={subject}
        set={(size) => setThing(panel, picked, { size })}
      />
      <Section help="sec.lettering" head={layWords.lettering}>
        {names.map(({ text, at }, i) => (
          <TextField
            key={`${at.join()} ${layWords.letteringOf(i)}`}
            label={layWords.letteringOf(i)}
            value={text}
            subject={subject}
            set={(to) => setName(i, to)}
          />
        ))}
        <button
          type="button"
          className="btn"
          onClick={() =>
            edit(
              setThing(panel, picked, {
                names: [
                  ...names,
                  {
                    at: [platform.at[0] + across / 2, platform.at[1] + Math.max(0, down - BASELINE)],
                    text: `${layWords.lettering} ${names.length + 1}`,
                  },
                ],
              }),
              subject,
            )
          }
        >
          {layWords.addLettering}
        </button>
      </Section>
    </>
  );
}
