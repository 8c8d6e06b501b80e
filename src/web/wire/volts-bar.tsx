/** The volts of a string laid end to end: each lamp, what is left for the resistor, and where the supply ends. */
import type { StringSum } from '../../book/index.ts';
import { fixed, trimmed } from '../words/figures.ts';
import { wireWords } from '../words/wire.ts';

const WIDE = 360;
const TALL = 26;
const TOP = 20;
/** Narrower than this a piece has no figure in it. */
const LEAST = 30;

/** Whole volts between figures, so that they stand apart. */
const stepOf = (top: number): number => (top <= 6 ? 1 : top <= 15 ? 3 : 6);

export function VoltsBar({ string }: { readonly string: StringSum }) {
  const { across, volts, left, resistor, drive, wants, seen } = string;
  const n = volts.length;
  const short = wants > across && seen !== 'lit';
  const top = Math.max(across, short ? wants : 0) * 1.12;
  if (!(top > 0) || n === 0) return null;
  const x = (at: number): number => (at / top) * (WIDE - 2) + 1;
  const each = short ? wants / n : null;
  const ends: number[] = [0];
  for (const v of volts) ends.push((ends.at(-1) ?? 0) + (each ?? Math.max(0, v)));
  const lamps = ends.at(-1) ?? 0;
  const ticks = Array.from({ length: Math.floor(top / stepOf(top)) + 1 }, (_, i) => i * stepOf(top));
  return (
    <svg className={`volts-bar ${seen}`} viewBox={`0 0 ${WIDE} 66`} aria-hidden="true" focusable="false">
      {volts.map((v, i) => {
        const [from, to] = [ends[i] ?? 0, ends[i + 1] ?? 0];
        const inside = Math.min(to, short ? across : to);
        const figure = fixed(each ?? v, 2);
        return (
          // Lamps of a string stand in their order.
          <g key={string.lamps[i]}>
            {inside > from ? (
              <rect className="vb-lamp" x={x(from)} y={TOP} width={x(inside) - x(from) - 1.5} height={TALL} rx="2" />
            ) : null}
            {inside > from && x(inside) - x(from) > LEAST ? (
              <text className="vb-figure on" x={(x(from) + x(inside)) / 2} y={TOP + 17.5} textAnchor="middle">
                {figure}
              </text>
            ) : null}
          </g>
        );
      })}
      {short ? (
        <>
          <rect className="vb-short" x={x(across)} y={TOP} width={x(lamps) - x(across)} height={TALL} rx="2" />
          <path
            className="vb-hatch"
            d={Array.from(
              { length: Math.max(0, Math.floor((x(lamps) - x(across)) / 7)) },
              (_, i) => `M${x(across) + 7 * i + 1} ${TOP + TALL}l7-${TALL}`,
            ).join('')}
          />
          <text className="vb-figure bad" x={Math.min(x(lamps) + 6, WIDE - 34)} y={TOP + 17.5} textAnchor="start">
            {wireWords.short_}
          </text>
        </>
      ) : (
        <>
          <rect
            className="vb-rest"
            x={x(lamps)}
            y={TOP}
            width={Math.max(0, x(across) - x(lamps) - 1)}
            height={TALL}
            rx="2"
          />
          {x(across) - x(lamps) > 2 * LEAST ? (
            <text className="vb-figure" x={(x(lamps) + x(across)) / 2} y={TOP + 17.5} textAnchor="middle">
              {`${resistor?.id ?? drive ?? ''} ${fixed(left, 2)}`}
            </text>
          ) : null}
        </>
      )}
      <path className="vb-supply" d={`M${x(across)} ${TOP - 6}V${TOP + TALL + 2}`} />
      <text className="vb-supply-word" x={Math.max(40, Math.min(WIDE - 42, x(across)))} y={TOP - 8} textAnchor="middle">
        {wireWords.supplyMark(trimmed(across, 1, 0))}
      </text>
      {ticks.map((volt) => (
        <g key={volt}>
          <path className="vb-tick" d={`M${x(volt)} ${TOP + TALL + 2}v5`} />
          <text
            className="vb-figure small"
            x={x(volt)}
            y={TOP + TALL + 19}
            textAnchor={volt === 0 ? 'start' : 'middle'}
          >
            {volt}
          </text>
        </g>
      ))}
    </svg>
  );
}
