/**
 * Fields of the inspector. What is typed is taken at Enter or when the field is left; Escape takes it back; arrows up and down nudge. What would
 * not be taken stays in the field, with one line under it that says what would.
 */

import { type KeyboardEvent, type ReactNode, useEffect, useId, useRef, useState } from 'react';
import type { Transaction } from '../../../panel/index.ts';
import type { Degree, Millimetre } from '../../../units/index.ts';
import { helped } from '../../help/switch.ts';
import type { HelpKey } from '../../words/help.ts';
import { layWords } from '../../words/lay.ts';
import { degreesText, lengthText, readDegrees, readLength } from '../lengths.ts';
import { useLay, useLayStore } from '../use-lay.ts';

/** One press of an arrow key, and with Shift: mm, and degrees. */
const NUDGE = 0.5;
const NUDGE_FAR = 5;

/** What was typed, read: a value, or what would be taken in its place. */
export type Typed<T> = { readonly value: T } | { readonly why: string };

interface TypedFieldProps<T> {
  readonly label: string;
  /** The label is read out alone: a table has heads for the eye. */
  readonly labelUnseen?: boolean;
  /** The field stands beside its label. */
  readonly inline?: boolean;
  /** Behind the label, for the eye: the unit. */
  readonly unit?: string;
  /** The value as the panel has it. */
  readonly shown: string;
  /** What holds where the panel says nothing. */
  readonly placeholder?: string;
  readonly number?: boolean;
  readonly read: (text: string) => Typed<T>;
  /** The edit that sets it; null where it says so already or cannot. */
  readonly set: (value: T) => Transaction | null;
  /** What an arrow key makes of a value. */
  readonly nudge?: (value: T, by: number) => T;
  /** What is edited, for the words of undo. */
  readonly subject: string;
  readonly list?: readonly string[];
}

export function TypedField<T>(props: TypedFieldProps<T>) {
  const { label, labelUnseen = false, inline = false, unit, shown, placeholder, number = false, subject } = props;
  const store = useLayStore();
  const id = useId();
  const [draft, setDraft] = useState<string | null>(null);
  const [why, setWhy] = useState<string | null>(null);

  // What was typed and not yet taken, known at once: a field that goes away is left and taken down in one moment.
  const open = useRef<string | null>(null);
  const draw = (text: string | null): void => {
    open.current = text;
    setDraft(text);
  };
  const forget = (): void => {
    draw(null);
    setWhy(null);
  };
  /** Takes what was typed; false where it would not be taken. */
  const take = (text: string, gesture?: string): boolean => {
    if (text === shown) {
      forget();
      return true;
    }
    const typed = props.read(text);
    if ('why' in typed) {
      setWhy(typed.why);
      return false;
    }
    return put(typed.value, gesture);
  };
  const put = (value: T, gesture?: string): boolean => {
    const before = store.getState().panel;
    try {
      store.getState().edit(props.set(value), subject, gesture);
    } catch (error) {
      setWhy(error instanceof Error ? error.message : String(error));
      return false;
    }
    // Nothing has come of it: either it says so already, or it cannot be.
    if (store.getState().panel === before && !saysSo(value)) {
      setWhy(layWords.refused);
      return false;
    }
    forget();
    return true;
  };
  const saysSo = (value: T): boolean => {
    const now = props.read(shown);
    return 'value' in now && (now.value === value || near(now.value, value));
  };
  const keyed = (event: KeyboardEvent<HTMLInputElement>): void => {
    if (event.key === 'Enter') {
      event.preventDefault();
      if (draft !== null && !take(draft)) event.currentTarget.select();
    } else if (event.key === 'Escape' && draft !== null) {
      event.stopPropagation();
      forget();
    } else if ((event.key === 'ArrowUp' || event.key === 'ArrowDown') && props.nudge !== undefined) {
      event.preventDefault();
      const now = props.read(draft ?? shown);
      if (!('value' in now)) return;
      const by = (event.key === 'ArrowUp' ? 1 : -1) * (event.shiftKey ? NUDGE_FAR : NUDGE);
      put(props.nudge(now.value, by), `nudge ${label} ${subject}`);
    }
  };
  // What was typed is not lost where the field goes away before it is left.
  const left = useRef(() => {});
  left.current = () => {
    if (open.current !== null) take(open.current);
  };
  useEffect(() => () => left.current(), []);
  const bad = why === null ? undefined : `${id}-why`;
  return (
    <div className={labelUnseen ? 'fld alone' : inline ? 'fld inline' : 'fld'}>
      {labelUnseen ? null : (
        <label htmlFor={id}>
          {label}
          {unit === undefined ? null : <span className="unit"> {unit}</span>}
        </label>
      )}
      <input
        id={id}
        className={number ? 'inp num' : 'inp'}
        type="text"
        aria-label={labelUnseen ? label : undefined}
        inputMode={number ? 'decimal' : 'text'}
        autoComplete="off"
        spellCheck={!number}
        enterKeyHint="done"
        list={props.list === undefined ? undefined : `${id}-list`}
        placeholder={placeholder}
        value={draft ?? shown}
        data-taken={draft === null || draft === shown ? '' : undefined}
        aria-invalid={why === null ? undefined : true}
        aria-describedby={bad}
        onChange={(event) => {
          draw(event.currentTarget.value);
          setWhy(null);
        }}
        onFocus={(event) => {
          if (number) event.currentTarget.select();
        }}
        onBlur={() => {
          if (open.current !== null) take(open.current);
        }}
        onKeyDown={keyed}
      />
      {props.list === undefined ? null : (
        <datalist id={`${id}-list`}>
          {props.list.map((each) => (
            <option key={each} value={each} />
          ))}
        </datalist>
      )}
      {why === null ? null : (
        <p id={bad} className="why" role="alert">
          {why}
        </p>
      )}
    </div>
  );
}

/** Two figures that a field shows alike. */
function near(a: unknown, b: unknown): boolean {
  return typeof a === 'number' && typeof b === 'number' && Math.abs(a - b) < 0.0005;
}

interface LengthFieldProps {
  readonly label: string;
  readonly labelUnseen?: boolean;
  readonly inline?: boolean;
  readonly value: Millimetre | undefined;
  /** What holds where the panel says nothing; then the field may be emptied. */
  readonly fallback?: Millimetre | null;
  readonly least?: Millimetre;
  readonly most?: Millimetre;
  readonly set: (value: Millimetre | undefined) => Transaction | null;
  readonly subject: string;
}

/** A length, in the unit of the screen. */
export function LengthField(props: LengthFieldProps) {
  const { label, labelUnseen = false, inline = false, value, fallback, least, most, set, subject } = props;
  const unit = useLay((lay) => lay.unit);
  const shown = value === undefined ? '' : lengthText(value, unit);
  const said = (length: Millimetre | undefined): string | null =>
    length === undefined ? null : `${lengthText(length, unit)} ${unit}`;
  const why = layWords.badLength(unit, said(least), said(most));
  return (
    <TypedField<Millimetre | undefined>
      label={label}
      labelUnseen={labelUnseen}
      inline={inline}
      unit={unit}
      shown={shown}
      placeholder={fallback === undefined ? '' : fallback === null ? layWords.notSaid : lengthText(fallback, unit)}
      number
      read={(text) => {
        if (text.trim() === '' && fallback !== undefined) return { value: undefined };
        // What is shown is rounded: as long as it is not typed over, the length is what it was.
        const length = text === shown && value !== undefined ? value : readLength(text, unit);
        if (length === null || (least !== undefined && length < least) || (most !== undefined && length > most))
          return { why };
        return { value: length };
      }}
      set={set}
      nudge={(length, by) => {
        const from = length ?? fallback ?? 0;
        return Math.min(most ?? Infinity, Math.max(least ?? -Infinity, Math.round((from + by) * 1000) / 1000));
      }}
      subject={subject}
    />
  );
}

/** A name or a line of text; `needed`: it may not be empty. Emptied, the key goes. */
export function TextField(props: {
  readonly label: string;
  readonly value: string | undefined;
  readonly placeholder?: string;
  readonly needed?: boolean;
  readonly list?: readonly string[];
  readonly set: (value: string | undefined) => Transaction | null;
  readonly subject: string;
}) {
  const { label, value, placeholder = '', needed = false, list, set, subject } = props;
  return (
    <TypedField<string | undefined>
      label={label}
      shown={value ?? ''}
      placeholder={placeholder}
      {...(list === undefined ? {} : { list })}
      read={(text) => {
        const name = text.trim();
        if (name === '') return needed ? { why: layWords.badName } : { value: undefined };
        return { value: name };
      }}
      set={set}
      subject={subject}
    />
  );
}

/** Degrees, clockwise. */
export function DegreesField(props: {
  readonly label: string;
  readonly value: Degree | undefined;
  readonly fallback?: Degree;
  readonly set: (value: Degree | undefined) => Transaction | null;
  readonly subject: string;
}) {
  const { label, value, fallback, set, subject } = props;
  return (
    <TypedField<Degree | undefined>
      label={label}
      inline
      shown={value === undefined ? '' : degreesText(value)}
      placeholder={fallback === undefined ? '' : degreesText(fallback)}
      number
      read={(text) => {
        if (text.trim() === '' && fallback !== undefined) return { value: undefined };
        const angle = readDegrees(text);
        return angle === null ? { why: layWords.badDegrees } : { value: angle };
      }}
      set={set}
      nudge={(angle, by) => (angle ?? fallback ?? 0) + by}
      subject={subject}
    />
  );
}

/** A part of the inspector with its head. */
export function Section({
  head,
  help,
  note,
  children,
}: {
  readonly head: string;
  readonly help: HelpKey;
  readonly note?: string;
  readonly children: ReactNode;
}) {
  const id = useId();
  return (
    <section className="sec" aria-labelledby={id} {...helped(help)}>
      <h3 id={id}>
        {head} {note === undefined ? null : <span>{note}</span>}
      </h3>
      {children}
    </section>
  );
}

/** One of a few: buttons side by side, the chosen one pressed. */
export function Choice<T extends string | number>(props: {
  readonly label: string;
  readonly options: readonly (readonly [value: T, word: string])[];
  readonly value: T | null;
  readonly choose: (value: T) => void;
}) {
  const { label, options, value, choose } = props;
  return (
    <fieldset className="seg" aria-label={label}>
      {options.map(([each, word]) => (
        <button key={each} type="button" aria-pressed={each === value} onClick={() => choose(each)}>
          {word}
        </button>
      ))}
    </fieldset>
  );
}

/** Where a thing stands: x and y. */
export function SpotFields(props: {
  readonly head: string;
  readonly at: readonly [number, number];
  readonly set: (at: [number, number]) => Transaction | null;
  readonly subject: string;
}) {
  const { head, at, set, subject } = props;
  const [x, y] = at;
  return (
    <Section head={head} help="sec.spot">
      <div className="pair">
        <LengthField
          label={layWords.x}
          value={x}
          subject={subject}
          set={(to) => (to === undefined ? null : set([to, y]))}
        />
        <LengthField
          label={layWords.y}
          value={y}
          subject={subject}
          set={(to) => (to === undefined ? null : set([x, to]))}
        />
      </div>
    </Section>
  );
}

/** How large a thing is: across and down, neither less than `least` mm. */
export function SizeFields(props: {
  readonly size: readonly [number, number];
  readonly least: Millimetre;
  readonly set: (size: [number, number]) => Transaction | null;
  readonly subject: string;
}) {
  const { size, least, set, subject } = props;
  const [across, down] = size;
  return (
    <Section head={layWords.size} help="sec.size">
      <div className="pair">
        <LengthField
          label={layWords.across}
          value={across}
          least={least}
          subject={subject}
          set={(to) => (to === undefined ? null : set([to, down]))}
        />
        <LengthField
          label={layWords.down}
          value={down}
          least={least}
          subject={subject}
          set={(to) => (to === undefined ? null : set([across, to]))}
        />
      </div>
    </Section>
  );
}
