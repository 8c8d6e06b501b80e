import type { Lie } from '../../panel/index.ts';
import { positionOf } from '../run/throws.ts';
import { useApp } from '../use-app.ts';
import { words } from '../words/run.ts';
import type { View, ViewPoint } from '../worker/types.ts';

/** The panel in words for those who hear it: what each point and each lamp stands at. News of a throw is read out politely. */
export function Spoken({ view }: { readonly view: View | null }) {
  const news = useApp((app) => app.news);
  return (
    <>
      <output className="unseen" aria-live="polite">
        {news}
      </output>
      {view === null ? null : <InWords view={view} />}
    </>
  );
}

function InWords({ view }: { readonly view: View }) {
  const levers = useApp((app) => app.levers);
  const looks = useApp((app) => app.reading?.looks) ?? view.reading.looks;
  const lieOf = (point: ViewPoint): Lie | null => {
    const position = point.lever === null ? 'normal' : positionOf(levers, point.lever);
    if (position === 'centre') return null;
    return position === 'normal' ? point.whenNormal : point.whenNormal === 'normal' ? 'reverse' : 'normal';
  };
  return (
    <section className="unseen" aria-label={words.inWords}>
      <h2>{words.pointsHead}</h2>
      <ul>
        {view.points.map((point) => {
          const lie = lieOf(point);
          const to = lie === 'reverse' ? point.reverseTo : point.normalTo;
          return <li key={point.id}>{words.spokenPoint(point.id, lie, to, point.lever)}</li>;
        })}
      </ul>
      <h2>{words.lampsHead}</h2>
      <ul>
        {view.lamps.map((lamp) => (
          <li key={lamp.id}>{words.spokenLamp(lamp.id, lamp.on, looks[lamp.id] ?? 'unlit')}</li>
        ))}
      </ul>
    </section>
  );
}
