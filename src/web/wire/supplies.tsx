/** Supplies, fuses and returns as a tree: what feeds what. */
import { memo } from 'react';
import { helped } from '../help/switch.ts';
import { wireWords } from '../words/wire.ts';
import type { WireSupply } from '../worker/wire-types.ts';

export const Supplies = memo(function Supplies({
  supplies,
  choose,
}: {
  readonly supplies: readonly WireSupply[];
  readonly choose: (circuit: string) => void;
}) {
  return (
    <details className="wire-sec" {...helped('wire.supplies')}>
      <summary>{wireWords.supplies}</summary>
      <ul className="wire-tree">
        {supplies.map((supply) => (
          <li key={supply.id}>
            <b>{wireWords.supplyRow(supply)}</b>
            {supply.given ? <em>{wireWords.yours}</em> : null}
            {supply.from === null ? null : <span>{wireWords.chargedFrom(supply.from)}</span>}
            <ul>
              <li>
                {supply.fuse === null ? null : (
                  <>
                    {wireWords.fuseRow(supply.fuse.id, supply.fuse.amps)}
                    {supply.fuse.given ? <em>{wireWords.yours}</em> : null}
                  </>
                )}
                <ul className="wire-fed">
                  {supply.circuits.map((circuit) => (
                    <li key={circuit}>
                      <button type="button" className="btn quiet" onClick={() => choose(circuit)}>
                        {circuit}
                      </button>
                    </li>
                  ))}
                </ul>
              </li>
              {supply.returns.map(({ id, pins, circuits }) => (
                <li key={id}>{wireWords.returnRow(id, pins, circuits)}</li>
              ))}
            </ul>
          </li>
        ))}
      </ul>
    </details>
  );
});
