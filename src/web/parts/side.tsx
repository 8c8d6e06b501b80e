import { type ReactNode, useMemo, useState } from 'react';
import { helped } from '../help/switch.ts';
import { ChevronRight } from '../icons.tsx';
import { type Picked, placeName, type Way, waysOf } from '../run/routes.ts';
import { type Clash, standingWith } from '../run/standing.ts';
import { buttonsToPress, leversToThrow } from '../run/throws.ts';
import type { TrainParts } from '../run/use-train-parts.ts';
import { useApp } from '../use-app.ts';
import { clashText, words } from '../words/run.ts';
import type { View, ViewRoute } from '../worker/types.ts';
import { FindingsButton } from './findings.tsx';

/** Rows shown before a list is opened out. */
const FIRST = { against: 6, beside: 3, never: 3, routes: 12 } as const;

/** Beside the panel: routes, or trains. */
export function Side({
  view,
  picked,
  trains,
}: {
  readonly view: View;
  readonly picked: Picked | null;
  readonly trains: TrainParts | null;
}) {
  const side = useApp((app) => app.side);
  const showSide = useApp((app) => app.showSide);
  return (
    <aside {...helped('run.side')} className="side" aria-label={words.side}>
      <fieldset className="side-choice">
        <legend className="unseen">{words.side}</legend>
        {(['routes', 'trains'] as const).map((each) => (
          <button key={each} type="button" aria-pressed={each === side} onClick={() => showSide(each)}>
            {words[each]}
          </button>
        ))}
      </fieldset>
      <FindingsButton />
      {side === 'routes' ? (
        <RouteLists key={picked?.index} view={view} picked={picked} />
      ) : trains === null ? null : (
        <trains.TrainsSide store={trains.store} view={view} />
      )}
    </aside>
  );
}

/** What the picked route shuts out, and what can be set as well; with none picked, every route. */
function RouteLists({ view, picked }: { readonly view: View; readonly picked: Picked | null }) {
  const levers = useApp((app) => app.levers);
  const lies = useApp((app) => app.lies);
  const clearRoute = useApp((app) => app.clearRoute);
  const ways = useMemo(() => waysOf(view), [view]);
  if (picked === null)
    return (
      <>
        <List
          title={words.routes}
          total={String(view.routes.length)}
          items={view.routes}
          first={FIRST.routes}
          empty={words.noRoutes}
          all={words.allRoutes}
        >
          {(route, index) => (
            <PickRow
              key={index}
              view={view}
              route={route}
              index={index}
              way={ways.get(index)}
              levers={leversToThrow(view, route.levers, levers)}
              presses={buttonsToPress(view, route, levers, lies)}
            />
          )}
        </List>
        {view.cut ? <p className="note">{words.cut}</p> : null}
      </>
    );
  const { against, beside, never, of } = standingWith(view, picked.index, levers, lies);
  const total = (n: number): string => words.nOfM(n, of);
  return (
    <>
      <List
        title={words.conflicts}
        total={total(against.length)}
        items={against}
        first={FIRST.against}
        all={words.allConflicts}
      >
        {({ index, clash }) => {
          const route = view.routes[index];
          return route === undefined ? null : (
            <li key={index} className="side-row">
              <RouteWords view={view} route={route} way={ways.get(index)} below={clashText(view, clash)} />
              <ClashTag clash={clash} />
            </li>
          );
        }}
      </List>
      <List
        title={picked.route.levers === null ? words.besideBarred : words.beside}
        total={total(beside.length)}
        items={beside}
        first={FIRST.beside}
        all={picked.route.levers === null ? words.allNever : words.allBeside}
      >
        {({ index, levers: toThrow, presses }) => {
          const route = view.routes[index];
          return route === undefined ? null : (
            <PickRow
              key={index}
              view={view}
              route={route}
              index={index}
              way={ways.get(index)}
              levers={toThrow}
              presses={presses}
            />
          );
        }}
      </List>
      {never.length === 0 ? null : (
        <List title={words.never} total={total(never.length)} items={never} first={FIRST.never} all={words.allNever}>
          {(index) => {
            const route = view.routes[index];
            return route === undefined ? null : (
              <li key={index} className="side-row">
                <RouteWords view={view} route={route} way={ways.get(index)} below={route.why ?? ''} />
              </li>
            );
          }}
        </List>
      )}
      <button
        type="button"
        className="btn quiet back"
        onClick={() => {
          clearRoute();
          goOn('.route-bar .sel-field');
        }}
      >
        {words.backToRoutes(view.routes.length)}
      </button>
    </>
  );
}

function List<T>(props: {
  readonly title: string;
  readonly total: string;
  readonly items: readonly T[];
  readonly first: number;
  readonly empty?: string;
  readonly all: (n: number) => string;
  readonly children: (item: T, index: number) => ReactNode;
}) {
  const [open, setOpen] = useState(false);
  const { items, first } = props;
  const shown = open ? items : items.slice(0, first);
  return (
    <section className="side-list">
      <h2>
        {props.title} <span>{props.total}</span>
      </h2>
      {items.length === 0 ? <p className="note">{props.empty ?? words.none}</p> : null}
      <ul>{shown.map((item, i) => props.children(item, i))}</ul>
      {items.length > first ? (
        <button type="button" className="btn quiet" aria-expanded={open} onClick={() => setOpen(!open)}>
          {open ? words.fewer : props.all(items.length)}
        </button>
      ) : null}
    </section>
  );
}

function RouteWords(props: {
  readonly view: View;
  readonly route: ViewRoute;
  readonly way: Way | undefined;
  readonly below: string;
}) {
  const { view, route, way, below } = props;
  return (
    <span className="side-words">
      <b>
        {placeName(view, route.from)} <i>{words.joiner}</i> {placeName(view, route.to)}
      </b>
      <span>{way === undefined ? below : `${words.wayBy(way.via, way.number)}, ${below}`}</span>
    </span>
  );
}

function PickRow(props: {
  readonly view: View;
  readonly route: ViewRoute;
  readonly index: number;
  readonly way: Way | undefined;
  readonly levers: readonly string[] | null;
  readonly presses: readonly string[];
}) {
  const { view, route, index, way, levers, presses } = props;
  const pickRoute = useApp((app) => app.pickRoute);
  const below =
    levers === null
      ? (route.why ?? '')
      : levers.length + presses.length === 0
        ? words.alreadySet
        : words.setThese(levers, presses);
  return (
    <li>
      <button
        type="button"
        className="side-row pick"
        onClick={() => {
          pickRoute(index);
          goOn('.route-bar .btn.primary:enabled', '.route-bar .sel-field');
        }}
      >
        <RouteWords view={view} route={route} way={way} below={below} />
        <ChevronRight />
      </button>
    </li>
  );
}

/** The row that was pressed is gone: go on to what comes next, the first of these that is there, with the sheet in sight. */
function goOn(...next: readonly string[]): void {
  requestAnimationFrame(() => {
    // Of an enlarged sheet, the route is what has to be in sight.
    const seen = document.querySelector('.enlarged .guide path') ?? document.querySelector('.sheet');
    seen?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
    const targets = next.map((selector) => document.querySelector<HTMLElement>(selector));
    targets.find((target) => target !== null)?.focus({ preventScroll: true });
  });
}

function ClashTag({ clash }: { readonly clash: Clash }) {
  if (clash.kind === 'track') return null;
  const id = clash.kind === 'lever' ? clash.lever : clash.kind === 'point' ? clash.point : clash.crossing;
  return (
    <span className="tag" aria-hidden="true">
      {id}
    </span>
  );
}
