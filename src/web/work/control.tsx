/** The control table: routes down, levers across; what can and what cannot stand with the picked route. */
import { memo, type ReactNode, useMemo, useState } from 'react';
import { helped } from '../help/switch.ts';
import { ChevronDown } from '../icons.tsx';
import { workWords } from '../words/work.ts';
import type { WorkLever, WorkRoute } from '../worker/work-view.ts';
import { Mark } from './mark.tsx';
import { type PickedRoute, usePickedRoute, usePickRoute } from './picked-route.ts';
import { RouteFields } from './route-fields.tsx';
import { type Beside, type Clash, tableRows, type Why, wayAmongAlike } from './table-rows.ts';
import { useWork } from './use-work.ts';

/** Rows of each kind before the rest is asked for. */
const FEW = 5;
/** Cells of all routes while none is picked, and rows at least: what is drawn at once. */
const MANY_CELLS = 1_000;
const MANY_ROWS = 12;

export function Control() {
  const routes = useWork((work) => work.routes);
  return (
    <section className="control" aria-label={workWords.table} {...helped('work.table')}>
      <header>
        <h2>{workWords.table}</h2>
        <span className="control-sum">
          {routes === null
            ? workWords.drawing
            : routes.cut
              ? workWords.tableCut(routes.routes.length)
              : workWords.tableOf(routes.routes.length)}
        </span>
        <RouteFields />
      </header>
      <Table />
    </section>
  );
}

const NO_ROUTES: readonly WorkRoute[] = [];
const NO_LEVERS: readonly WorkLever[] = [];

function Table() {
  const levers = useWork((work) => work.view?.levers ?? NO_LEVERS);
  const routes = useWork((work) => work.routes?.routes ?? NO_ROUTES);
  const told = useWork((work) => work.routes !== null);
  const picked = usePickedRoute();
  if (routes.length === 0) return <p className="note control-none">{told ? workWords.noRoutes : ''}</p>;
  return (
    <section className="control-scroll" aria-label={workWords.tableOf(routes.length)} tabIndex={-1}>
      <table className="control-table">
        <thead>
          <tr>
            <th scope="col">{workWords.route}</th>
            {levers.map(({ id }, place) => (
              <th key={id} scope="col" className="c" title={id}>
                <Mark lever={id} place={place} />
                <span className="unseen">{id}</span>
              </th>
            ))}
            <th scope="col" className="v">
              {picked === null ? workWords.why : workWords.withPicked}
            </th>
          </tr>
        </thead>
        {picked === null ? <AllRows levers={levers} routes={routes} /> : <PickedRows picked={picked} />}
      </table>
    </section>
  );
}

function AllRows({ levers, routes }: { readonly levers: readonly WorkLever[]; readonly routes: readonly WorkRoute[] }) {
  const [all, setAll] = useState(false);
  const many = Math.max(MANY_ROWS, Math.floor(MANY_CELLS / (levers.length + 1)));
  const shown = all ? routes : routes.slice(0, many);
  return (
    <tbody>
      {shown.map((route, i) => (
        <Row
          key={keyOf(route, i)}
          index={i}
          route={route}
          columns={levers.length}
          remark={remarkOf(route)}
          column={null}
        />
      ))}
      {routes.length > many ? (
        <GroupRow
          head=""
          n={null}
          columns={levers.length}
          more={routes.length - many}
          open={all}
          toggle={() => setAll(!all)}
        />
      ) : null}
    </tbody>
  );
}

const keyOf = ({ from, to, cells }: WorkRoute, i: number): string => `${i} ${from} ${to} ${cells}`;
const remarkOf = ({ why, presses }: WorkRoute): string =>
  why !== null ? workWords.notSettable(why) : presses.length === 0 ? '' : workWords.presses(presses);

function PickedRows({ picked }: { readonly picked: PickedRoute }) {
  const view = useWork((work) => work.view);
  const routes = useWork((work) => work.routes?.routes ?? NO_ROUTES);
  const line = useWork((work) => work.line);
  const [allCannot, setAllCannot] = useState(false);
  const [allCan, setAllCan] = useState(false);
  const rows = useMemo(
    () =>
      view === null || line?.route !== picked.index || line.beside.length !== routes.length - 1
        ? null
        : tableRows(view.levers, view.points, routes, line),
    [view, routes, line, picked.index],
  );
  const columns = view?.levers.length ?? 0;
  const { route } = picked;
  return (
    <>
      <tbody>
        <tr className="row-picked" aria-current="true">
          <th scope="row">
            <RouteName route={route} />
          </th>
          {[...route.cells.padEnd(columns)].slice(0, columns).map((sign, i) => (
            // Columns stand where they stand.
            <td key={`${view?.levers[i]?.id}`} className="c">
              {sign === ' ' ? null : (
                <span className={sign === 'R' ? 'q r' : 'q'}>
                  {sign}
                  <span className="unseen">{workWords.sign(sign)}</span>
                </span>
              )}
            </td>
          ))}
          <td className="v">{route.why === null ? workWords.picked : workWords.notSettable(route.why)}</td>
        </tr>
      </tbody>
      {rows === null ? null : (
        <>
          <tbody>
            <GroupRow
              head={workWords.cannot}
              n={rows.cannot.length}
              columns={columns}
              more={rows.cannot.length - FEW}
              open={allCannot}
              toggle={() => setAllCannot(!allCannot)}
            />
            {(allCannot ? rows.cannot : rows.cannot.slice(0, FEW)).map((clash) => (
              <BesideRow key={clash.route} routes={routes} columns={columns} row={clash} />
            ))}
          </tbody>
          <tbody>
            <GroupRow
              head={workWords.can}
              n={rows.can.length}
              columns={columns}
              more={rows.can.length - FEW}
              open={allCan}
              toggle={() => setAllCan(!allCan)}
            />
            {(allCan ? rows.can : rows.can.slice(0, FEW)).map((beside) => (
              <BesideRow key={beside.route} routes={routes} columns={columns} row={beside} />
            ))}
          </tbody>
        </>
      )}
    </>
  );
}

function BesideRow({
  routes,
  columns,
  row,
}: {
  readonly routes: readonly WorkRoute[];
  readonly columns: number;
  readonly row: Clash | Beside;
}) {
  const route = routes[row.route];
  if (route === undefined) return null;
  const isClash = 'why' in row;
  const remark = isClash
    ? whyInWords(row.why)
    : row.throws === null
      ? workWords.notSettable(route.why ?? '')
      : workWords.throws(row.throws);
  return <Row index={row.route} route={route} columns={columns} remark={remark} column={isClash ? row.column : null} />;
}

function whyInWords(why: Why): string {
  switch (why.kind) {
    case 'lever':
      return workWords.needsLever(why.lever, why.lie);
    case 'point':
      return workWords.needsPoint(why.point);
    case 'crossing':
      return workWords.sameCrossing(why.crossing);
    case 'span':
      return workWords.sameTrack(why.ends);
    case 'both-ways':
      return workWords.bothWays(why.lever);
  }
}

const Row = memo(function Row({
  index,
  route,
  columns,
  remark,
  column,
}: {
  readonly index: number;
  readonly route: WorkRoute;
  readonly columns: number;
  readonly remark: string;
  /** The clashing one. */
  readonly column: number | null;
}) {
  const pick = usePickRoute();
  const cells: ReactNode[] = [];
  for (let i = 0; i < columns; i++) {
    const sign = route.cells[i] ?? ' ';
    const worn = column === i ? 'c x' : sign === 'R' ? 'c r' : 'c';
    cells.push(
      <td key={i} className={worn}>
        {sign === ' ' ? null : sign}
      </td>,
    );
  }
  return (
    <tr>
      <th scope="row">
        <button type="button" className="row-name" onClick={() => pick(index)}>
          <RouteName route={route} />
        </button>
      </th>
      {cells}
      <td className="v">{remark}</td>
    </tr>
  );
});

function RouteName({ route }: { readonly route: WorkRoute }) {
  const places = useWork((work) => work.view?.places ?? NO_PLACES);
  const routes = useWork((work) => work.routes?.routes ?? NO_ROUTES);
  const name = (id: string): string => places.find((place) => place.id === id)?.name ?? id;
  const way = useMemo(() => wayAmongAlike(routes, route), [routes, route]);
  return (
    <>
      {name(route.from)} <i>{workWords.routeTo}</i> {name(route.to)}
      {route.through.length === 0 ? null : <small> {workWords.via(route.through.map(name))}</small>}
      {way === null ? null : <small> {workWords.nthWay(way)}</small>}
    </>
  );
}

const NO_PLACES: readonly { readonly id: string; readonly name: string }[] = [];

function GroupRow({
  head,
  n,
  columns,
  more,
  open,
  toggle,
}: {
  readonly head: string;
  readonly n: number | null;
  readonly columns: number;
  readonly more: number;
  readonly open: boolean;
  readonly toggle: () => void;
}) {
  return (
    <tr className="row-group">
      <th scope="rowgroup" colSpan={columns + 1}>
        <b>{head}</b> {n}
      </th>
      <td className="v">
        {more <= 0 ? null : (
          <button type="button" className="row-more" aria-expanded={open} onClick={toggle}>
            {open ? workWords.fewer : workWords.more(more)}
            <ChevronDown />
          </button>
        )}
      </td>
    </tr>
  );
}
