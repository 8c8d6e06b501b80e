import { useEffect } from 'react';
import { placeName } from '../run/routes.ts';
import { words } from '../words/run.ts';
import { trainWords } from '../words/trains.ts';
import type { View } from '../worker/types.ts';
import type { TrainsStore } from './trains-store.ts';
import { nameIn, TrainsContext, throwsOf, trainName, useTrains } from './use-trains.ts';

/** The running sheet on paper: black on white, a box to tick for each move. */
export function SheetPrint({ store, view }: { readonly store: TrainsStore; readonly view: View }) {
  return (
    <TrainsContext value={store}>
      <Printed view={view} />
    </TrainsContext>
  );
}

function Printed({ view }: { readonly view: View }) {
  const printed = useTrains((trains) => trains.printed);
  useEffect(() => {
    addEventListener('afterprint', printed, { once: true });
    print();
    return () => removeEventListener('afterprint', printed);
  }, [printed]);
  const answer = useTrains((trains) => trains.answer);
  const standing = useTrains((trains) => trains.standing);
  if (answer === null || answer.steps.length === 0) return null;
  const nameOf = (id: string): string => nameIn(standing, id);
  return (
    <section className="route-card sheet-print" aria-hidden="true">
      <p>{words.cardRevision(view.name, view.revision)}</p>
      <h2>{trainWords.printHead}</h2>
      <p>
        {standing.map((train) => trainWords.printStands(trainName(train), placeName(view, train.stands))).join(' · ')}
      </p>
      <table>
        <thead>
          <tr>
            {trainWords.printColumns.map((column) => (
              <th key={column}>{column}</th>
            ))}
          </tr>
        </thead>
        <tbody>
          {answer.steps.map(({ number, move, wanted, why }) => (
            <tr key={number}>
              <td>{number}</td>
              <td>{nameOf(wanted.train)}</td>
              <td>{move === null ? '' : placeName(view, move.from)}</td>
              <td>{placeName(view, wanted.to)}</td>
              <td className="lie">
                {why.length > 0 ? trainWords.stopsHere(why) : trainWords.stepHow(throwsOf(view, move))}
              </td>
              <td className="box" />
            </tr>
          ))}
        </tbody>
      </table>
      <p>{trainWords.printFoot}</p>
    </section>
  );
}
