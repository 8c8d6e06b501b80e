import { Cross } from '../icons.tsx';
import { Choice } from '../parts/choice.tsx';
import { useApp } from '../use-app.ts';
import { workWords } from '../words/work.ts';
import type { WorkRoute } from '../worker/work-view.ts';
import { usePickedRoute } from './picked-route.ts';
import { reachedFrom } from './table-rows.ts';
import { useWork } from './use-work.ts';

const NO_ROUTES: readonly WorkRoute[] = [];
const NO_PLACES: readonly { readonly id: string; readonly name: string }[] = [];

/** Where from, where to, and by which way: the route that the table is about. */
export function RouteFields() {
  const places = useWork((work) => work.view?.places ?? NO_PLACES);
  const routes = useWork((work) => work.routes?.routes ?? NO_ROUTES);
  const from = useApp((app) => app.from);
  const to = useApp((app) => app.to);
  const pickFrom = useApp((app) => app.pickFrom);
  const pickTo = useApp((app) => app.pickTo);
  const pickWay = useApp((app) => app.pickWay);
  const clearRoute = useApp((app) => app.clearRoute);
  const picked = usePickedRoute();
  const name = (id: string): string => places.find((place) => place.id === id)?.name ?? id;
  return (
    <div className="route-fields">
      <Choice
        label={workWords.from}
        seen
        items={reachedFrom(places, routes, null)}
        chosen={from}
        empty={workWords.any}
        onChoose={(id) => pickFrom(id)}
      />
      <Choice
        label={workWords.to}
        seen
        items={reachedFrom(places, routes, from)}
        chosen={to}
        empty={workWords.any}
        onChoose={(id) => pickTo(id)}
      />
      {picked === null || picked.ways.length < 2 ? null : (
        <Choice
          label={workWords.way}
          seen
          items={picked.ways.map((index, i) => ({
            id: String(i),
            name: workWords.wayBy((routes[index]?.through ?? []).map(name), i + 1),
          }))}
          chosen={String(Math.max(0, picked.ways.indexOf(picked.index)))}
          empty={workWords.any}
          onChoose={(id) => pickWay(Number(id))}
        />
      )}
      {from === null && to === null ? null : (
        <button
          type="button"
          className="ibtn"
          aria-label={workWords.clear}
          title={workWords.clear}
          onClick={() => clearRoute()}
        >
          <Cross />
        </button>
      )}
    </div>
  );
}
