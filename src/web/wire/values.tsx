/** Figures that the user can fix: typed here they are "yours", emptied they are left to the sum again. */
import { memo } from 'react';
import { helped } from '../help/switch.ts';
import { TypedField } from '../lay/inspect/fields.tsx';
import { useLay } from '../lay/use-lay.ts';
import { plain } from '../words/figures.ts';
import { wireWords } from '../words/wire.ts';
import type { WireGroup, WireValue } from '../worker/wire-types.ts';
import { fixValue } from './edits.ts';

interface Range {
  /** So many base units to one that is shown. */
  readonly unit: number;
  readonly sign: string;
  readonly least: number;
  readonly most: number;
}

/** In units that are shown. */
const RANGES: Readonly<Record<WireValue['what'], Range>> = {
  ohms: { unit: 1, sign: 'Ω', least: 1, most: 10_000_000 },
  'lamp-amps': { unit: 0.001, sign: 'mA', least: 0.01, most: 100 },
  'supply-volts': { unit: 1, sign: 'V', least: 0.1, most: 60 },
  'drive-amps': { unit: 0.001, sign: 'mA', least: 0.1, most: 10_000 },
  'wire-length': { unit: 1000, sign: 'm', least: 0.01, most: 200 },
};

/** Without the tail that a product of decimals has. */
const toTheNano = (value: number): number => Math.round(value * 1e9) / 1e9;

const figureOf = (value: WireValue): number => {
  switch (value.what) {
    case 'ohms':
      return value.ohms;
    case 'supply-volts':
      return value.volts;
    case 'wire-length':
      return value.length;
    default:
      return value.amps;
  }
};

export const Values = memo(function Values({
  values,
  groups,
}: {
  readonly values: readonly WireValue[];
  readonly groups: readonly WireGroup[];
}) {
  if (values.length === 0) return null;
  return (
    <details className="wire-sec" {...helped('wire.values')}>
      <summary>
        {wireWords.values}
        <span className="wire-count">
          {values.filter(({ given }) => given).length === 0
            ? ''
            : `${values.filter(({ given }) => given).length} ${wireWords.yours}`}
        </span>
      </summary>
      <p className="small">{wireWords.valuesHint}</p>
      {values.map((value) => (
        <Value
          key={`${value.what} ${value.id}`}
          value={value}
          group={value.what === 'ohms' ? (groups.find(({ id }) => id === value.group) ?? null) : null}
        />
      ))}
    </details>
  );
});

function Value({ value, group }: { readonly value: WireValue; readonly group: WireGroup | null }) {
  const panel = useLay((lay) => lay.laid);
  const { unit, sign, least, most } = RANGES[value.what];
  const figure = plain(figureOf(value) / unit);
  const label = wireWords.valueLabel(value);
  const why = wireWords.badNumber(least, most, sign);
  const measured = value.what === 'drive-amps';
  return (
    <div className={value.given ? 'wire-value yours' : 'wire-value'} data-value={`${value.what} ${value.id}`}>
      <TypedField<number | undefined>
        label={label}
        inline
        shown={value.given ? figure : ''}
        placeholder={figure}
        number
        subject={value.id}
        read={(text) => {
          if (text.trim() === '') return { value: undefined };
          const typed = Number(text.trim().replace(',', '.'));
          return typed >= least && typed <= most ? { value: toTheNano(typed * unit) } : { why };
        }}
        set={(typed) => fixValue(panel, value, typed, group)}
      />
      <span className="wire-whose">
        {value.given ? (measured ? wireWords.measured : wireWords.yours) : wireWords.typical}
      </span>
    </div>
  );
}
