import { helped } from '../help/switch.ts';
import { NoEye, SeverityMark } from '../icons.tsx';
import { countLit } from '../run/lit.ts';
import { type Picked, placeName } from '../run/routes.ts';
import type { RouteState } from '../run/throws.ts';
import { useApp } from '../use-app.ts';
import { litWords, words } from '../words/run.ts';
import type { View } from '../worker/types.ts';

/** What this screen knows and does not know; how many lamps are lit, and where; what the supply gives. */
export function Foot({
  view,
  picked,
  state,
}: {
  readonly view: View;
  readonly picked: Picked | null;
  readonly state: RouteState;
}) {
  const reading = useApp((app) => app.reading) ?? view.reading;
  const lit = countLit(view, reading, picked?.index ?? null);
  const other = lit.onOther === null ? undefined : view.routes[lit.onOther.index];
  const elsewhere =
    other === undefined ? null : words.routeName(placeName(view, other.from), placeName(view, other.to));
  return (
    <footer className="foot" {...helped('run.foot')}>
      <p className="told">
        <NoEye />
        <span>
          <b>{words.told}</b> {words.toldMore}
        </span>
      </p>
      {reading.unsolved ? (
        <p className="told wrong">
          <SeverityMark severity="wrong" count={1} />
          <span>{words.unsolved}</span>
        </p>
      ) : null}
      <p className="facts">
        <span>
          {litWords(lit, picked !== null, elsewhere).map(([number, what]) => (
            <span key={what}>
              <b>{number}</b> {what}{' '}
            </span>
          ))}
        </span>
        {view.supplies.map((supply) => {
          const [name, amps] = words.supply(supply.name, reading.amps[supply.id] ?? 0);
          return (
            <span key={supply.id}>
              {name} <b>{amps}</b> {words.ofRating(reading.amps[supply.id] ?? 0, supply.rating)}
            </span>
          );
        })}
        {state.kind === 'none' ? null : <span>{words.guide[state.kind]}</span>}
      </p>
    </footer>
  );
}
