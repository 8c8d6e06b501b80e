import { useEffect, useState } from 'react';
import { ChevronDown } from '../icons.tsx';
import { words } from '../words/run.ts';
import type { PlaceSelect, PlaceSelectProps } from './place-select.tsx';

/** Fetched once, for all fields. */
let fetched: typeof PlaceSelect | null = null;

/** A field that chooses a place. What opens its list is fetched once the face is drawn: till then the field stands there as it will look. */
export function PlaceField(props: PlaceSelectProps) {
  const [Field, setField] = useState<typeof PlaceSelect | null>(() => fetched);
  useEffect(() => {
    let gone = false;
    // After the picture that this drawing makes.
    const soon = requestAnimationFrame(() =>
      setTimeout(async () => {
        fetched ??= (await import('./place-select.tsx')).PlaceSelect;
        if (!gone) setField(() => fetched);
      }),
    );
    return () => {
      gone = true;
      cancelAnimationFrame(soon);
    };
  }, []);
  if (Field !== null) return <Field {...props} />;
  const chosen = props.places.find(({ id }) => id === props.chosen);
  return (
    <div className="sel" aria-hidden="true">
      <span className="sel-label">{props.label}</span>
      <span className="sel-field">
        <span className="sel-value" {...(chosen === undefined ? { 'data-placeholder': true } : {})}>
          {chosen?.name ?? words.choose}
        </span>
        <ChevronDown />
      </span>
    </div>
  );
}
