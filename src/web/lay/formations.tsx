import { helped } from '../help/switch.ts';
import { goAlong } from '../parts/go-along.ts';
import { layWords } from '../words/lay.ts';
import { FORMATIONS, LADDER_ROADS } from './tools/formation.ts';
import { useLay } from './use-lay.ts';

/** While tape is in the hand: what the next drag lays. Floats at the top of the view, out of the way while a hand drags. */
export function Formations() {
  const tool = useLay((lay) => lay.tool);
  const formation = useLay((lay) => lay.formation);
  const roads = useLay((lay) => lay.roads);
  const form = useLay((lay) => lay.form);
  const dragged = useLay((lay) => lay.ghost.length > 0 || lay.would !== null);
  if (tool !== 'strip') return null;
  return (
    <div className="deeds-room">
      <div
        className={dragged ? 'deeds formations away' : 'deeds formations'}
        role="toolbar"
        aria-label={layWords.formations}
        {...helped('formations')}
        onKeyDown={(event) => {
          if (!(event.target instanceof HTMLSelectElement)) goAlong(event);
        }}
        onPointerDown={(event) => event.stopPropagation()}
      >
        {FORMATIONS.map((each) => (
          <button
            key={each}
            {...helped(`form.${each}`)}
            type="button"
            aria-pressed={each === formation}
            title={layWords.formationHow[each]}
            onClick={() => form(each)}
          >
            {layWords.formation[each]}
          </button>
        ))}
        {formation === 'ladder' ? (
          <label className="deeds-word" {...helped('form.roads')}>
            {layWords.roads}
            <select value={roads} onChange={(event) => form('ladder', Number(event.currentTarget.value))}>
              {LADDER_ROADS.map((n) => (
                <option key={n} value={n}>
                  {n}
                </option>
              ))}
            </select>
          </label>
        ) : null}
      </div>
    </div>
  );
}
