import { useId, useState } from 'react';
import type { StandingTrain } from '../../routes/index.ts';
import { PlaceSelect } from '../parts/place-select.tsx';
import { placeName } from '../run/routes.ts';
import { trainWords } from '../words/trains.ts';
import type { View } from '../worker/types.ts';
import { useTrains } from './use-trains.ts';

/** A length that is typed, mm; null where there is none, undefined where it is no length. */
function readTyped(text: string): number | null | undefined {
  if (text.trim() === '') return null;
  const value = Number(text.replace(',', '.'));
  return Number.isFinite(value) && value > 0 ? value : undefined;
}

/** What is told of a train: its name, its length, where it stands and how it heads. */
export function TrainForm({ view, train }: { readonly view: View; readonly train: StandingTrain }) {
  const change = useTrains((trains) => trains.change);
  const remove = useTrains((trains) => trains.remove);
  const edit = useTrains((trains) => trains.edit);
  const headings = useTrains(({ answer }) => answer?.headings.find(({ place }) => place === train.stands) ?? null);
  const begun = useTrains(({ moves }) => moves.length > 0);
  const [length, setLength] = useState(train.length === null ? '' : String(train.length));
  const id = useId();
  const choices = [
    { heads: null, word: trainWords.headsUnsaid },
    ...[...new Set([headings?.left ?? null, headings?.right ?? null])].flatMap((heads) =>
      heads === null ? [] : [{ heads, word: heads === train.stands ? trainWords.headsToEnd : placeName(view, heads) }],
    ),
  ];
  return (
    <form
      className="train-form"
      onSubmit={(event) => {
        event.preventDefault();
        edit(false);
      }}
    >
      <label htmlFor={`${id}n`}>{trainWords.name}</label>
      <input
        id={`${id}n`}
        defaultValue={train.name ?? ''}
        maxLength={40}
        onChange={(event) => change(train.id, { name: event.currentTarget.value.trim() || null })}
      />
      <label htmlFor={`${id}l`}>{trainWords.length}</label>
      <input
        id={`${id}l`}
        inputMode="decimal"
        placeholder={trainWords.noLength}
        aria-invalid={readTyped(length) === undefined}
        value={length}
        onChange={(event) => {
          const text = event.currentTarget.value;
          setLength(text);
          const next = readTyped(text);
          if (next !== undefined) change(train.id, { length: next });
        }}
      />
      <PlaceSelect
        label={trainWords.standsAt}
        places={view.places}
        chosen={train.stands}
        disabled={begun}
        onChoose={(stands) => change(train.id, { stands, heads: null })}
      />
      {begun ? (
        <p className="note">{trainWords.standsFixed}</p>
      ) : (
        <fieldset className="choice">
          <legend>{trainWords.heads}</legend>
          {choices.map(({ heads, word }) => (
            <label key={heads ?? ''}>
              <input
                type="radio"
                name={`${id}h`}
                checked={train.heads === heads}
                onChange={() => change(train.id, { heads })}
              />
              <span>{word}</span>
            </label>
          ))}
        </fieldset>
      )}
      <div className="train-deeds">
        <button type="submit" className="btn">
          {trainWords.done}
        </button>
        <button type="button" className="btn quiet" onClick={() => remove(train.id)}>
          {trainWords.remove}
        </button>
      </div>
    </form>
  );
}
