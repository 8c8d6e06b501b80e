/** What is looked at: the circuit's name, what it works, what its lamps know, and how its levers lie. */
import { memo } from 'react';
import type { Lie } from '../../panel/index.ts';
import type { Position } from '../../wiring/index.ts';
import { helped } from '../help/switch.ts';
import { Choice } from '../lay/inspect/fields.tsx';
import { wireWords } from '../words/wire.ts';
import type { WireAsk, WireCircuit, WireShown } from '../worker/wire-types.ts';

interface Props {
  readonly circuit: WireCircuit;
  readonly shown: WireShown;
  readonly ask: WireAsk;
  readonly lay: (lever: string, position: Position) => void;
  readonly say: (point: string, lie: Lie) => void;
}

const LIES: readonly (readonly [Lie, string])[] = [
  ['normal', wireWords.position.normal],
  ['reverse', wireWords.position.reverse],
];

export const Head = memo(function Head({ circuit, shown, ask, lay, say }: Props) {
  const bases = [...new Set(shown.figures.lamps.map(({ basis }) => basis))];
  const own = shown.positions.length > 0;
  const levers = own ? [shown.circuit, ...shown.levers.filter((id) => id !== shown.circuit)] : shown.levers;
  const options = (lever: string): readonly (readonly [Position, string])[] =>
    (lever === shown.circuit ? order(shown.positions) : (['normal', 'reverse'] as const)).map((each) => [
      each,
      wireWords.position[each],
    ]);
  return (
    <header className="wire-head" {...helped('wire.head')}>
      <span className="tag">{circuit.id}</span>
      <div className="wire-title">
        <h2>{wireWords.circuitName(circuit)}</h2>
        <p>
          {wireWords.works(circuit)}
          <b>{wireWords.evidence(bases)}</b>
        </p>
      </div>
      <div className="wire-throws">
        {levers.map((lever) => (
          <div key={lever} className="wire-throw">
            {levers.length > 1 ? <span aria-hidden="true">{lever}</span> : null}
            <Choice
              label={wireWords.positionOf(lever)}
              options={options(lever)}
              value={ask.levers[lever] ?? 'normal'}
              choose={(position) => lay(lever, position)}
            />
          </div>
        ))}
        {shown.free.map((point) => (
          <div key={point} className="wire-throw" title={wireWords.historyHint}>
            <span aria-hidden="true">{point}</span>
            <Choice
              label={wireWords.lieOf(point)}
              options={LIES}
              value={ask.history[point] ?? null}
              choose={(lie) => say(point, lie)}
            />
          </div>
        ))}
      </div>
    </header>
  );
});

/** Normal, centre, reverse, as the bat goes. */
function order(positions: readonly Position[]): readonly Position[] {
  return (['normal', 'centre', 'reverse'] as const).filter((each) => positions.includes(each));
}
