/** How many levers there are, how many would do, and what goes with fewer. */
import { helped } from '../help/switch.ts';
import { useFollows } from '../lay/use-lay.ts';
import { workWords } from '../words/work.ts';
import { useDeeds } from './deeds.ts';
import { numberLine } from './number-line.ts';
import { useWork } from './use-work.ts';

export function LeverNumber() {
  const view = useWork((work) => work.view);
  const routes = useWork((work) => work.routes);
  const grouping = useWork((work) => work.grouping);
  const deeds = useDeeds();
  const follows = useFollows();
  if (view === null) return <section className="lever-number" />;
  const now = view.levers.filter(({ works }) => works.length > 0).length;
  const points = view.points.filter(({ levers }) => levers.length > 0);
  const all = view.points.filter(({ free }) => !free);
  return (
    <section className="lever-number" {...helped('work.line')}>
      <div>
        <h2>{workWords.head(now, points.length)}</h2>
        <p>{routes === null || grouping === null ? workWords.drawing : said()}</p>
      </div>
      {grouping === null ? null : <Line now={now} most={all.length} {...grouping} />}
      {grouping === null || follows ? null : (
        <div className="line-deeds">
          {now === grouping.least && grouping.lost.routes + grouping.lost.pairs === 0 ? null : (
            <button type="button" className="btn" onClick={() => deeds.arrange(grouping.groups)}>
              {workWords.makeFewest(grouping.least)}
            </button>
          )}
          {now >= all.length || grouping.least >= all.length ? null : (
            <button
              type="button"
              className="btn quiet"
              onClick={() => deeds.arrange(all.map(({ id }) => ({ [id]: 'normal' as const })))}
            >
              {workWords.makeOneEach}
            </button>
          )}
        </div>
      )}
    </section>
  );

  function said(): string {
    if (routes === null || grouping === null) return '';
    const { lost, least, proved } = grouping;
    // What push buttons set is lost to the levers alone.
    const pressed = routes.routes.filter(({ presses }) => presses.length > 0).length;
    const gone = Math.max(0, lost.routes - pressed);
    if (gone + lost.pairs > 0) return workWords.isLost(gone, lost.pairs, least);
    if (pressed > 0) return workWords.pressed(pressed, routes.routes.length);
    return now <= least
      ? workWords.fewest(routes.routes.length, routes.pairs, proved)
      : workWords.fewerDo(least, routes.routes.length, proved);
  }
}

/** The picture's own measure, in the px of its style. */
const W = 324;
const ROW = { top: 26, height: 20 };
/** A zone so wide has room for its words; a letter of them takes so much. */
const LEAST_ZONE = 84;
const LETTER = 6.6;

function Line(props: {
  readonly now: number;
  readonly most: number;
  readonly least: number;
  readonly leastForRoutes: number;
}) {
  const { first, last, zones, ticks } = numberLine(props);
  const step = (W - 2) / (last - first + 1);
  const left = (n: number): number => 1 + (n - first) * step;
  const middle = (n: number): number => left(n) + step / 2;
  const at = middle(props.now);
  const nowIsRight = at > W * 0.6;
  const isOnWord = zones.some(({ what, from, to }) => {
    const [width, half] = [(to - from + 1) * step, (workWords.zones[what].length * LETTER) / 2];
    return width >= LEAST_ZONE && Math.abs(left(from) + width / 2 - at) < half;
  });
  return (
    <svg
      className="number-line"
      viewBox={`0 0 ${W} 68`}
      role="img"
      aria-label={workWords.lineOf(props.now, props.least, props.leastForRoutes)}
    >
      {zones.map(({ what, from, to }) => {
        const width = (to - from + 1) * step;
        return (
          <g key={what} className={`zone zone-${what}`}>
            <rect x={left(from)} y={ROW.top} width={width} height={ROW.height} />
            {width < LEAST_ZONE ? null : (
              <text x={left(from) + width / 2} y="40.5" textAnchor="middle">
                {workWords.zones[what]}
              </text>
            )}
          </g>
        );
      })}
      <rect className="zone-edge" x="1" y={ROW.top} width={W - 2} height={ROW.height} />
      {zones.slice(1).map(({ what, from }) => (
        <path key={what} className="zone-end" d={`M${left(from)} 22v28`} />
      ))}
      {ticks.map((n) =>
        n === props.now ? null : (
          <text key={n} className="line-tick" x={middle(n)} y="63" textAnchor="middle">
            {n}
          </text>
        ),
      )}
      {/* It stops short of a word that it would run through. */}
      <path className="line-now" d={isOnWord ? `M${at} 22v5m0 18v5` : `M${at} 22V50`} />
      <path className="line-head" d={`M${at - 6} 14h12l-6 8z`} />
      <text className="line-here" x={at} y="64" textAnchor="middle">
        {props.now}
      </text>
      <text className="line-word" x={nowIsRight ? at - 10 : at + 10} y="21" textAnchor={nowIsRight ? 'end' : 'start'}>
        {workWords.now}
      </text>
      {last !== props.most || (nowIsRight && at > W - 70) ? null : (
        <text className="line-each" x={W - 1} y="20" textAnchor="end">
          {workWords.oneEach}
        </text>
      )}
    </svg>
  );
}
