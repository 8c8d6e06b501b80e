/** Every circuit with its state, and what the supplies are asked for. */
import { memo } from 'react';
import type { Severity } from '../../checks/index.ts';
import { helped } from '../help/switch.ts';
import { SeverityMark, Tick } from '../icons.tsx';
import { severities } from '../words/run.ts';
import { wireWords } from '../words/wire.ts';
import type { WireCircuit, WireSupply } from '../worker/wire-types.ts';

interface Props {
  readonly circuits: readonly WireCircuit[];
  readonly supplies: readonly WireSupply[];
  readonly chosen: string | null;
  readonly worst: ReadonlyMap<string, Severity>;
  readonly choose: (circuit: string) => void;
}

export const CircuitList = memo(function CircuitList({ circuits, supplies, chosen, worst, choose }: Props) {
  const points = new Set(circuits.flatMap(({ kind, works }) => (kind === 'tree' ? [] : works)));
  return (
    <nav className="wire-list" aria-label={wireWords.levers} {...helped('wire.list')}>
      <header>
        <h2>{wireWords.stage}</h2>
        <span>{wireWords.leversHint(circuits.length, points.size)}</span>
      </header>
      <ul>
        {circuits.map((circuit) => (
          <li key={circuit.id}>
            <button
              type="button"
              className="wire-row"
              aria-current={circuit.id === chosen ? 'true' : undefined}
              data-circuit={circuit.id}
              onClick={() => choose(circuit.id)}
            >
              <span className="tag">{circuit.id}</span>
              <span className="wire-row-words">
                <b>{wireWords.circuitName(circuit)}</b>
                {circuit.name === null ? null : <span>{wireWords.short(circuit)}</span>}
              </span>
              <State severity={worst.get(circuit.id) ?? null} />
            </button>
          </li>
        ))}
      </ul>
      {supplies.map((supply) => (
        <Load key={supply.id} supply={supply} named={supplies.length > 1} />
      ))}
    </nav>
  );
});

function State({ severity }: { readonly severity: Severity | null }) {
  return (
    <span className={severity === null ? 'wire-state ok' : 'wire-state'}>
      {severity === null ? <Tick /> : <SeverityMark severity={severity} count={1} />}
      <span className="unseen">{severity === null ? wireWords.clear : severities[severity]}</span>
    </span>
  );
}

function Load({ supply, named }: { readonly supply: WireSupply; readonly named: boolean }) {
  const share = supply.amps > 0 ? Math.min(1, supply.worst / supply.amps) : 0;
  return (
    <div className="wire-load">
      <p>
        <span>{named ? `${wireWords.load} ${supply.id}` : wireWords.load}</span>
        <b>{wireWords.loadOf(supply)}</b>
      </p>
      <svg
        viewBox="0 0 100 5"
        preserveAspectRatio="none"
        aria-hidden="true"
        className={supply.worst > supply.amps ? 'over' : ''}
      >
        <rect className="load-all" width="100" height="5" />
        <rect className="load-used" width={100 * share} height="5" />
      </svg>
      <small>{wireWords.loadHint}</small>
    </div>
  );
}
