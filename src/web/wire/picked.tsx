/** What is picked on the circuit: what it is, and the single faults that it can have. */
import { helped } from '../help/switch.ts';
import { Cross } from '../icons.tsx';
import { wireWords } from '../words/wire.ts';
import type { WireShown, WireTruth } from '../worker/wire-types.ts';
import { Insulation } from './colours.tsx';

interface Props {
  readonly id: string;
  readonly shown: WireShown;
  readonly truth: WireTruth | null;
  readonly tryFault: (code: string | null) => void;
  readonly put: () => void;
}

export function PickedLine({ id, shown, truth, tryFault, put }: Props) {
  const wire = shown.wires.find((each) => each.id === id);
  const symbol = shown.model.symbols.find((each) => each.id === id);
  const faults = shown.faults.filter(({ at }) => at.includes(id));
  return (
    <div className="wire-picked" {...helped('wire.circuit')}>
      <p>
        {wire === undefined ? (
          <b>
            {symbol === undefined
              ? id
              : wireWords.symbolRow(symbol.kind, symbol.title === '' ? id : symbol.title, symbol.note, [])}
          </b>
        ) : (
          <>
            <Insulation colour={wire.colour} />
            <b>
              {wireWords.pickedWire(
                wire.id,
                wire.colour,
                wire.from,
                wire.to,
                wire.gauge,
                wireWords.metres(wire.length),
              )}
            </b>
          </>
        )}
        <span>{wireWords.faultsOfPart(faults.length)}</span>
      </p>
      <div className="picked-faults">
        {faults.map(({ code, says }) => (
          <button
            key={code}
            type="button"
            className={truth?.lies[code] === undefined ? 'btn' : 'btn lies'}
            aria-pressed={shown.fault?.code === code}
            onClick={() => tryFault(shown.fault?.code === code ? null : code)}
          >
            {says}
          </button>
        ))}
      </div>
      <button type="button" className="ibtn" aria-label={wireWords.pickedOff} title={wireWords.pickedOff} onClick={put}>
        <Cross />
      </button>
    </div>
  );
}
