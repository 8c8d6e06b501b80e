import { setThing, stripAt } from '../../../laying/index.ts';
import type { LampRecord, Lies } from '../../../panel/index.ts';
import { DEFAULTS } from '../../../panel/index.ts';
import { Choice } from '../../parts/choice.tsx';
import { layWords } from '../../words/lay.ts';
import { positions } from '../../words/run.ts';
import { stripName } from '../thing-names.ts';
import { useLay } from '../use-lay.ts';
import { Section, SpotFields, TextField } from './fields.tsx';

export function LampInspector({ lamp }: { readonly lamp: LampRecord }) {
  const panel = useLay((lay) => lay.laid);
  const edit = useLay((lay) => lay.edit);
  const { id, shows } = lamp;
  const picked = { list: 'lamps', id } as const;
  const part = lamp.part ?? DEFAULTS.lamp.part;
  const on = stripAt(panel, lamp.at)?.strip.id ?? null;
  const parts = [...new Set([...Object.keys(layWords.lampParts), part])];
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
        <div className="fld">
          <span aria-hidden="true">{layWords.part}</span>
          <Choice
            label={layWords.part}
            items={parts.map((each) => ({ id: each, name: layWords.lampParts[each] ?? each }))}
            chosen={part}
            empty=""
            onChoose={(each) => edit(setThing(panel, picked, { part: each }), id)}
          />
        </div>
        <dl className="kv">
          <dt>{layWords.lampOn}</dt>
          <dd>{on === null ? layWords.offTape : stripName(panel, on)}</dd>
          <dt>{layWords.shows}</dt>
          <dd>{shows === undefined ? layWords.showsAs : [shows].flat().map(liesText).join(layWords.or)}</dd>
        </dl>
      </Section>
    </>
  );
}

function liesText(lies: Lies): string {
  return layWords.showsLies(Object.entries(lies).map(([point, lie]) => [point, positions[lie]] as const));
}
