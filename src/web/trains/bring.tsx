import { PlaceSelect } from '../parts/place-select.tsx';
import { placeName } from '../run/routes.ts';
import { trainWords } from '../words/trains.ts';
import type { View } from '../worker/types.ts';
import { nameIn, throwsOf, trainName, useStanding, useTrains } from './use-trains.ts';

/** No place of the panel has this for its id: ids are not empty. */
const ANYWHERE = '';

/** Where trains are wanted, and the fewest moves that bring them there. */
export function Bring({ view }: { readonly view: View }) {
  const standing = useStanding();
  const wanted = useTrains((trains) => trains.wanted);
  const want = useTrains((trains) => trains.want);
  const othersStay = useTrains((trains) => trains.othersStay);
  const stay = useTrains((trains) => trains.stay);
  const find = useTrains((trains) => trains.find);
  const looking = useTrains((trains) => trains.looking);
  if (standing.length === 0) return null;
  return (
    <>
      <h2>{trainWords.bring}</h2>
      <div className="bring">
        {standing.map((train) => (
          <PlaceSelect
            key={train.id}
            label={trainName(train)}
            places={[{ id: ANYWHERE, name: trainWords.anywhere }, ...view.places]}
            chosen={wanted[train.id] ?? ANYWHERE}
            onChoose={(place) => want(train.id, place === ANYWHERE ? null : place)}
          />
        ))}
        <label className="bring-stay">
          <input type="checkbox" checked={othersStay} onChange={(event) => stay(event.currentTarget.checked)} />
          <span>{trainWords.othersStay}</span>
        </label>
        <button
          type="button"
          className="btn"
          disabled={looking || Object.keys(wanted).length === 0}
          onClick={() => void find()}
        >
          {looking ? trainWords.finding : trainWords.find}
        </button>
      </div>
      <Found view={view} />
    </>
  );
}

function Found({ view }: { readonly view: View }) {
  const brought = useTrains((trains) => trains.brought);
  const take = useTrains((trains) => trains.take);
  const standing = useStanding();
  if (brought === null) return <div role="status" />;
  const nameOf = (id: string): string => nameIn(standing, id);
  const nothing = brought.outcome === 'found' && brought.moves.length === 0;
  return (
    <div className="found" role="status">
      <p>{nothing ? trainWords.already : trainWords.found(brought)}</p>
      {[...brought.why, ...brought.asks].map((line) => (
        <p key={line} className="asked">
          {line}
        </p>
      ))}
      <ol className="lines">
        {brought.moves.map((move, i) => (
          <li
            key={`${move.train} ${move.from} ${move.to} ${brought.moves.slice(0, i).filter(({ train }) => train === move.train).length}`}
          >
            <b>{trainWords.step(i + 1, nameOf(move.train), placeName(view, move.from), placeName(view, move.to))}</b>
            <span>{trainWords.stepHow(throwsOf(view, move))}</span>
          </li>
        ))}
      </ol>
      {brought.moves.length === 0 ? null : (
        <button type="button" className="btn primary" onClick={take}>
          {trainWords.take}
        </button>
      )}
    </div>
  );
}
