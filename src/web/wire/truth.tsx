/** What the lamps of the circuit claim, on what evidence, how many single faults would make one lie, and what would tell better. */
import { memo } from 'react';
import type { LampFigures } from '../../book/index.ts';
import { helped } from '../help/switch.ts';
import { wireWords } from '../words/wire.ts';
import type { WireTruth } from '../worker/wire-types.ts';

interface Props {
  readonly circuit: string;
  readonly lamps: readonly LampFigures[];
  readonly truth: WireTruth | null;
  readonly trying: boolean;
  readonly tryAll: () => void;
}

export const Truth = memo(function Truth({ circuit, lamps, truth, trying, tryAll }: Props) {
  if (lamps.length === 0) return null;
  const here = truth?.byCircuit[circuit];
  const ids = new Set(lamps.map(({ id }) => id));
  const better = truth?.suggestions.filter((each) => each.lamps.some((id) => ids.has(id))) ?? [];
  const cheapest = [...better].sort(
    (a, b) => (a.price.money ?? Infinity) - (b.price.money ?? Infinity) || b.cures - a.cures,
  );
  return (
    <details className="wire-sec" {...helped('wire.truth')}>
      <summary>{wireWords.truth}</summary>
      <p>{wireWords.evidence([...new Set(lamps.map(({ basis }) => basis))])}</p>
      {truth === null ? (
        trying ? (
          <p className="small">{wireWords.trying}</p>
        ) : (
          <button type="button" className="btn" onClick={tryAll}>
            {wireWords.tryAll}
          </button>
        )
      ) : (
        <p className="wire-share">{wireWords.share(here?.lie ?? 0, here?.tried ?? 0)}</p>
      )}
      {cheapest.length === 0 ? null : (
        <>
          <h4>{wireWords.better}</h4>
          <ul className="wire-better">
            {cheapest.map(({ id, text, cures, price }) => (
              <li key={id}>
                <b>{text}</b>
                <span>{wireWords.suggestion(price.money, price.wires, price.pins, cures)}</span>
              </li>
            ))}
          </ul>
        </>
      )}
      <ul className="wire-claims">
        {lamps.map(({ id, claim }) => (
          <li key={id}>{wireWords.claims(id, claim)}</li>
        ))}
      </ul>
    </details>
  );
});
