import { ChevronRight } from '../icons.tsx';
import { placeName } from '../run/routes.ts';
import { trainWords } from '../words/trains.ts';
import type { ViewStep } from '../worker/trains.ts';
import type { View } from '../worker/types.ts';
import { nameIn, throwsOf, useTrains } from './use-trains.ts';

/** The running sheet: stepped through, cut, begun anew, printed. */
export function SheetList({ view }: { readonly view: View }) {
  const answer = useTrains((trains) => trains.answer);
  const at = useTrains((trains) => trains.at);
  const lines = useTrains((trains) => trains.moves.length);
  const stepTo = useTrains((trains) => trains.stepTo);
  const cut = useTrains((trains) => trains.cut);
  const begin = useTrains((trains) => trains.begin);
  const before = useTrains((trains) => trains.before);
  const printSheet = useTrains((trains) => trains.print);
  const takeBack = useTrains((trains) => trains.takeBack);
  const runs = answer?.runs ?? 0;
  return (
    <>
      <h2>
        {trainWords.sheet} {lines === 0 ? null : <span>{trainWords.sheetCount(at, lines)}</span>}
      </h2>
      {lines === 0 ? <p className="note">{trainWords.sheetNone}</p> : null}
      {lines === 0 ? null : (
        <fieldset className="steps">
          <legend className="unseen">{trainWords.sheet}</legend>
          <button type="button" className="btn" disabled={at === 0} onClick={() => stepTo(at - 1)}>
            <span className="turned">
              <ChevronRight />
            </span>
            {trainWords.back}
          </button>
          <button type="button" className="btn" disabled={at >= runs} onClick={() => stepTo(at + 1)}>
            {trainWords.on}
            <ChevronRight />
          </button>
        </fieldset>
      )}
      <ol className="lines sheet-lines">
        {(answer?.steps ?? []).map((step) => (
          <Line key={step.number} view={view} step={step} at={at} />
        ))}
      </ol>
      {lines === 0 ? null : (
        <div className="sheet-deeds">
          <button type="button" className="btn quiet" onClick={printSheet}>
            {trainWords.print}
          </button>
          {at < lines ? (
            <button type="button" className="btn quiet" onClick={cut}>
              {trainWords.cut}
            </button>
          ) : null}
          <button type="button" className="btn quiet" onClick={begin}>
            {trainWords.begin}
          </button>
        </div>
      )}
      {before === null ? null : (
        <button type="button" className="btn quiet" onClick={takeBack}>
          {trainWords.takeBack}
        </button>
      )}
    </>
  );
}

function Line({ view, step, at }: { readonly view: View; readonly step: ViewStep; readonly at: number }) {
  const stepTo = useTrains((trains) => trains.stepTo);
  const standing = useTrains((trains) => trains.standing);
  const { number, move, wanted, why } = step;
  const nameOf = (id: string): string => nameIn(standing, id);
  const from = move === null ? '' : placeName(view, move.from);
  const words = (
    <>
      <b>{trainWords.step(number, nameOf(wanted.train), from, placeName(view, wanted.to))}</b>
      <span>{why.length > 0 ? trainWords.stopsHere(why) : trainWords.stepHow(throwsOf(view, move))}</span>
    </>
  );
  if (why.length > 0) return <li className="stopped">{words}</li>;
  return (
    <li className={number <= at ? 'done' : ''}>
      <button
        type="button"
        className="line"
        aria-current={number === at ? 'step' : undefined}
        onClick={() => stepTo(number)}
      >
        {words}
      </button>
    </li>
  );
}
