/** A single fault, chosen by its code or in plain words, and what it does here. */
import { memo, useDeferredValue, useMemo, useState } from 'react';
import type { CircuitFigures } from '../../book/index.ts';
import type { Face } from '../../face/index.ts';
import { helped } from '../help/switch.ts';
import { SeverityMark } from '../icons.tsx';
import { useLay } from '../lay/use-lay.ts';
import { wireWords } from '../words/wire.ts';
import type { WireCircuit, WireFault, WireShown, WireTruth } from '../worker/wire-types.ts';
import { faultWhere, placesIn } from './fault-where.ts';
import { SmallFace } from './small-face.tsx';

/** So many are shown at once; more are found by typing. */
const MOST_SHOWN = 80;

const NO_POINTS: readonly [] = [];

interface Props {
  readonly shown: WireShown;
  readonly face: Face | null;
  readonly circuits: readonly WireCircuit[];
  readonly truth: WireTruth | null;
  readonly picked: string | null;
  readonly tryFault: (code: string | null) => void;
}

export const Faults = memo(function Faults({ shown, face, circuits, truth, picked, tryFault }: Props) {
  const [typed, setTyped] = useState('');
  const wanted = useDeferredValue(typed.trim().toLowerCase());
  const { faults, fault, figures } = shown;
  const panel = useLay((state) => state.laid);
  const points = useLay((state) => state.shown?.view.points ?? NO_POINTS);
  const told = useMemo(() => {
    const known = placesIn(shown, { panel, face, points, circuits });
    return faults.map((each) => ({ fault: each, where: faultWhere(each, known) }));
  }, [faults, shown, panel, face, points, circuits]);
  const list = useMemo(() => {
    const here = picked === null ? told : told.filter((each) => each.fault.at.includes(picked));
    const from = here.length > 0 && wanted === '' ? here : told;
    return from.filter(({ fault: { code, says }, where }) =>
      wanted.split(/\s+/).every((word) => `${code} ${says} ${where}`.toLowerCase().includes(word)),
    );
  }, [told, wanted, picked]);
  return (
    <details className="wire-sec wire-faults" open {...helped('wire.faults')}>
      <summary>{wireWords.faults}</summary>
      <div className="fld">
        <label htmlFor="wire-fault">{wireWords.faultsFind}</label>
        <input
          id="wire-fault"
          className="inp"
          type="search"
          autoComplete="off"
          spellCheck={false}
          value={typed}
          data-taken={typed === '' ? '' : undefined}
          onChange={(event) => setTyped(event.currentTarget.value)}
        />
      </div>
      <p className="small" role="status">
        {wireWords.faultsCount(Math.min(list.length, MOST_SHOWN), faults.length)}
      </p>
      <ul className="fault-list">
        <li>
          <button type="button" aria-pressed={fault === null} onClick={() => tryFault(null)}>
            {wireWords.noFault}
          </button>
        </li>
        {list.slice(0, MOST_SHOWN).map(({ fault: each, where }) => (
          <FaultRow
            key={each.code}
            fault={each}
            where={where}
            chosen={fault?.code === each.code}
            lies={truth?.lies[each.code] ?? null}
            tryFault={tryFault}
          />
        ))}
      </ul>
      {face === null ? null : (
        <>
          <SmallFace face={face} looks={shown.looks} lamps={figures.lamps} />
          <Verdict figures={figures} />
        </>
      )}
    </details>
  );
});

function FaultRow(props: {
  readonly fault: WireFault;
  readonly where: string;
  readonly chosen: boolean;
  readonly lies: string | null;
  readonly tryFault: (code: string | null) => void;
}) {
  const { fault, where, chosen, lies, tryFault } = props;
  return (
    <li>
      <button
        type="button"
        aria-pressed={chosen}
        data-fault={fault.code}
        onClick={() => tryFault(chosen ? null : fault.code)}
      >
        <span>
          {`${fault.says.slice(0, 1).toUpperCase()}${fault.says.slice(1)}`}
          {where === '' ? null : <small>{where}</small>}
        </span>
        {lies === null ? null : (
          <span className="fault-lies wrong" title={wireWords.liesSomewhere(lies)}>
            <SeverityMark severity="wrong" count={1} />
            {wireWords.lies}
          </span>
        )}
      </button>
    </li>
  );
}

/** Which lamps lie with the levers so, in words. */
export function Verdict({ figures }: { readonly figures: CircuitFigures }) {
  const lying = figures.lamps.filter(({ says }) => says === 'lies' || says === 'may lie');
  if (lying.length === 0) return <p className="wire-verdict ok">{wireWords.noneLies}</p>;
  return (
    <ul className="wire-verdict wrong">
      {lying.map(({ id, says, look, blades }) => (
        <li key={id} data-lies={id}>
          <SeverityMark severity={says === 'lies' ? 'wrong' : 'caution'} count={1} />
          <span>
            {says === 'lies' ? wireWords.liesHere(id, wireWords.looks[look], blades) : wireWords.mayLieHere(id, blades)}
          </span>
        </li>
      ))}
    </ul>
  );
}
