import { claimAt, setThing, stripAt } from '../../../laying/index.ts';
import type { LampRecord, Lies } from '../../../panel/index.ts';
import { DEFAULTS } from '../../../panel/index.ts';
import { layWords } from '../../words/lay.ts';
import { positions } from '../../words/run.ts';
import { stripName } from '../thing-names.ts';
import { useLay } from '../use-lay.ts';
import { Section, SpotFields, TextField } from './fields.tsx';
import { LiesFields } from './lies.tsx';
import { PartField } from './part-field.tsx';

export function LampInspector({ lamp }: { readonly lamp: LampRecord }) {
  const panel = useLay((lay) => lay.laid);
  const edit = useLay((lay) => lay.edit);
  const { id } = lamp;
  const picked = { list: 'lamps', id } as const;
  const on = stripAt(panel, lamp.at)?.strip.id ?? null;
  return (
    <>
      <div className="side-name">
        <TextField
          label={layWords.name}
          value={lamp.name}
          placeholder={id}
          subject={id}
          set={(name) => setThing(panel, picked, { name })}
        />
      </div>
      <SpotFields head={layWords.middle} at={lamp.at} subject={id} set={(at) => setThing(panel, picked, { at })} />
      <Section help="sec.lamp" head={layWords.lampPart}>
        <PartField
          parts={layWords.lampParts}
          part={lamp.part ?? DEFAULTS.lamp.part}
          choose={(part) => edit(setThing(panel, picked, { part }), id)}
        />
        <dl className="kv">
          <dt>{layWords.lampOn}</dt>
          <dd>{on === null ? layWords.offTape : stripName(panel, on)}</dd>
        </dl>
      </Section>
      <LampShows lamp={lamp} />
    </>
  );
}

/** What lights it: what the leg asks that it lies on, or what the user says. A lamp of several ways or colours is only told. */
function LampShows({ lamp }: { readonly lamp: LampRecord }) {
  const panel = useLay((lay) => lay.laid);
  const edit = useLay((lay) => lay.edit);
  const { id, shows, elements, claims } = lamp;
  const set = (lies: Lies | undefined): void => edit(setThing(panel, { list: 'lamps', id }, { shows: lies }), id);
  if (elements !== undefined || claims !== undefined || Array.isArray(shows))
    return shows === undefined ? null : (
      <Section help="sec.shows" head={layWords.shows}>
        <p>{[shows].flat().map(liesText).join(layWords.or)}</p>
      </Section>
    );
  return (
    <Section help="sec.shows" head={layWords.shows}>
      {shows === undefined ? (
        <>
          <p>{layWords.showsAs}</p>
          <button type="button" className="btn" onClick={() => set(claimAt(panel, lamp.at) ?? {})}>
            {layWords.sayShows}
          </button>
        </>
      ) : (
        <>
          <LiesFields lies={shows} set={set} />
          <button type="button" className="btn quiet" onClick={() => set(undefined)}>
            {layWords.showsAsLies}
          </button>
        </>
      )}
    </Section>
  );
}

function liesText(lies: Lies): string {
  return layWords.showsLies(Object.entries(lies).map(([point, lie]) => [point, positions[lie]] as const));
}
