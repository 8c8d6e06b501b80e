import { useMemo, useRef } from 'react';
import { helped } from '../help/switch.ts';
import { Bat, Cross, Sheet, Swap, Tick } from '../icons.tsx';
import { type Picked, placesFrom, placesWithRoutes, routesBetween, waysOf } from '../run/routes.ts';
import type { RouteState } from '../run/throws.ts';
import { useApp } from '../use-app.ts';
import { stateWords, words } from '../words/run.ts';
import type { View } from '../worker/types.ts';
import { PlaceField } from './place-field.tsx';

/** A second press of Throw all lands on Print card, which takes its place: this soon after, it was not meant for it, ms. */
const SAME_PRESS = 800;

/** Where from, where to, how the route stands, and what to do about it. */
export function RouteBar({
  view,
  picked,
  state,
}: {
  readonly view: View;
  readonly picked: Picked | null;
  readonly state: RouteState;
}) {
  const from = useApp((app) => app.from);
  const to = useApp((app) => app.to);
  const pickFrom = useApp((app) => app.pickFrom);
  const pickTo = useApp((app) => app.pickTo);
  const swap = useApp((app) => app.swap);
  const allNormal = useApp((app) => app.allNormal);
  const throwLevers = useApp((app) => app.throwLevers);
  const pressButton = useApp((app) => app.pressButton);
  const thrownAt = useRef(Number.NEGATIVE_INFINITY);
  return (
    <section {...helped('run.route')} className="route-bar" aria-label={words.route}>
      <div className="ends">
        <PlaceField label={words.from} places={placesWithRoutes(view)} chosen={from} onChoose={pickFrom} />
        <button
          type="button"
          className="ibtn"
          aria-label={words.swap}
          title={words.swap}
          onClick={swap}
          disabled={from === null && to === null}
        >
          <Swap />
        </button>
        <PlaceField label={words.to} places={placesFrom(view, from)} chosen={to} onChoose={pickTo} />
      </div>
      <RouteStateView state={state} routes={view.routes.length} />
      <Ways view={view} picked={picked} />
      <div className="acts">
        <button
          type="button"
          className="btn"
          onClick={allNormal}
          disabled={view.levers.length + view.buttons.length === 0}
        >
          {words.allNormal}
        </button>
        {state.kind === 'throwing' ? (
          <button
            type="button"
            className="btn primary"
            onClick={(event) => {
              thrownAt.current = event.timeStamp;
              throwLevers(picked?.route.levers ?? {});
              for (const id of state.presses) pressButton(id);
            }}
          >
            <Bat />
            {words.setAll(state.left.length, state.presses.length)}
          </button>
        ) : (
          <button
            type="button"
            className="btn primary"
            title={words.cardHint}
            disabled={state.kind !== 'set'}
            onClick={(event) => {
              if (event.timeStamp - thrownAt.current > SAME_PRESS) print();
            }}
          >
            <Sheet />
            {words.card}
          </button>
        )}
      </div>
    </section>
  );
}

function RouteStateView({ state, routes }: { readonly state: RouteState; readonly routes: number }) {
  const { head, more } = stateWords(state, routes);
  return (
    <output className={`state state-${state.kind}`}>
      <span className="state-mark">
        {state.kind === 'set' ? <Tick /> : state.kind === 'impossible' ? <Cross /> : null}
        {state.kind === 'throwing' ? <span aria-hidden="true">{state.left.length + state.presses.length}</span> : null}
      </span>
      <span className="state-words">
        <b>{head}</b> <span>{more}</span>
      </span>
    </output>
  );
}

/** Where several ways lead from one place to the other, the choice among them. */
function Ways({ view, picked }: { readonly view: View; readonly picked: Picked | null }) {
  const from = useApp((app) => app.from);
  const to = useApp((app) => app.to);
  const pickWay = useApp((app) => app.pickWay);
  const known = useMemo(() => waysOf(view), [view]);
  if (picked === null || from === null || to === null) return null;
  const ways = routesBetween(view, from, to);
  if (ways.length < 2) return null;
  const at = ways.findIndex((way) => way.index === picked.index);
  const way = known.get(picked.index);
  return (
    <fieldset className="ways">
      <legend>{way === undefined ? '' : words.wayBy(way.via, way.number)}</legend>
      {ways.map((way, i) => (
        <button
          key={way.index}
          type="button"
          className="way"
          aria-pressed={i === at}
          aria-label={words.way(i + 1, ways.length)}
          onClick={() => pickWay(i)}
        >
          {i + 1}
        </button>
      ))}
    </fieldset>
  );
}
