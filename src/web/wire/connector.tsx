/** A connector from the wiring side of either half, with the pins of this circuit marked, and what stands on each. */
import { memo, useState } from 'react';
import { helped } from '../help/switch.ts';
import { Swap } from '../icons.tsx';
import { voltsText, wireWords } from '../words/wire.ts';
import type { WireConnector } from '../worker/wire-types.ts';
import { Insulation } from './colours.tsx';

interface Props {
  readonly connector: WireConnector;
  readonly volts: Readonly<Record<string, number | null>>;
  readonly lit: ReadonlySet<string>;
  readonly light: (ids: readonly string[]) => void;
}

/** px to the mm of a connector, and the least from pin to pin. */
const WIDE = 330;
/** Smaller circles have no room for every figure. */
const ROOM_FOR_FIGURES = 9;

export const Connector = memo(function Connector({ connector, volts, lit, light }: Props) {
  const [half, setHalf] = useState<'panel' | 'layout'>('panel');
  const { id, name, panelHalf, pins } = connector;
  const gender = half === 'panel' ? panelHalf : panelHalf === 'plug' ? 'socket' : 'plug';
  return (
    <details
      className="wire-sec wire-connector"
      open
      {...helped('wire.connector')}
      data-connector={id}
      data-half={half}
    >
      <summary>
        {wireWords.connector(id)}
        <span>{name}</span>
      </summary>
      <div className="wire-half">
        <p>{wireWords.side(half, gender)}</p>
        <button type="button" className="btn quiet" onClick={() => setHalf(half === 'panel' ? 'layout' : 'panel')}>
          <Swap />
          {wireWords.flip(half)}
        </button>
      </div>
      <Shell connector={connector} half={half} />
      <table className="wire-pins">
        <tbody>
          {pins.map(({ id: pin, number, to, panelColour, layoutColour, fixed }) => {
            const colour = (half === 'panel' ? panelColour : layoutColour) ?? '';
            const at = volts[pin];
            return (
              <tr key={pin} className={lit.has(pin) ? 'hot' : undefined}>
                <th scope="row">
                  <button
                    type="button"
                    aria-label={wireWords.pin(number)}
                    aria-pressed={lit.has(pin)}
                    onClick={() => light(lit.has(pin) ? [] : [pin])}
                  >
                    {number}
                  </button>
                </th>
                <td>
                  <Insulation colour={colour} />
                  <b>{colour}</b>
                </td>
                <td>
                  {to}
                  {fixed ? <em>{wireWords.fixedPin}</em> : null}
                </td>
                <td>{at === undefined || at === null ? '–' : voltsText(at)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <p className="small">{wireWords.pinsHint}</p>
    </details>
  );
});

function Shell({ connector, half }: { readonly connector: WireConnector; readonly half: 'panel' | 'layout' }) {
  const spots = half === 'panel' ? connector.panelSide : connector.layoutSide;
  const xs = spots.map(([x]) => x);
  const ys = spots.map(([, y]) => y);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const pad = 22;
  const scale = Math.min(24 / 2.77, (WIDE - 2 * pad - 2 * 10.4) / Math.max(x1 - x0, 1));
  const r = Math.min(10.4, Math.max(6, scale * 1.25));
  const rows = y1 - y0;
  const down = rows === 0 ? 0 : Math.max(scale, (2 * r + 7) / Math.max(1, rowGap(ys)));
  const [wide, tall] = [(x1 - x0) * scale, rows * down];
  const left = (WIDE - wide) / 2;
  const own = new Set(connector.pins.map(({ number }) => number));
  const used = new Set(connector.used);
  // Of a wide shell only its own pins and the ends of its rows are numbered: figures stay large enough to read.
  const ends = new Set(
    spots.flatMap(([x], i) => (x === x0 || x === x1 || i === 0 || i + 1 === spots.length ? [i + 1] : [])),
  );
  const high = tall + 2 * (r + 12);
  return (
    <svg className="wire-shell" viewBox={`0 0 ${WIDE} ${high}`} aria-hidden="true" focusable="false">
      {connector.family === 'dsub' ? (
        <path
          className="shell"
          d={`M${left - r - 8} 4H${left + wide + r + 8}q7 0 5 8L${left + wide + r + 2} ${high - 12}q-2 8-9 8H${left - r + 7}q-7 0-9-8L${left - r - 13} 12q-2-8 5-8Z`}
        />
      ) : connector.family === 'din' ? (
        <circle className="shell" cx={WIDE / 2} cy={high / 2} r={high / 2 - 3} />
      ) : (
        <rect className="shell" x={left - r - 8} y="4" width={wide + 2 * r + 16} height={high - 8} rx="4" />
      )}
      {spots.map(([x, y], i) => {
        const number = i + 1;
        const [cx, cy] = [left + (x - x0) * scale, r + 12 + (y - y0) * down];
        return (
          <g key={number} className={own.has(number) ? 'pin own' : used.has(number) ? 'pin used' : 'pin'}>
            <circle cx={cx} cy={cy} r={r} />
            {r >= ROOM_FOR_FIGURES || own.has(number) || ends.has(number) ? (
              <text x={cx} y={cy + 4} textAnchor="middle">
                {number}
              </text>
            ) : null}
          </g>
        );
      })}
    </svg>
  );
}

/** The least from row to row. */
function rowGap(ys: readonly number[]): number {
  const rows = [...new Set(ys)].sort((a, b) => a - b);
  return Math.min(...rows.slice(1).map((y, i) => y - (rows[i] ?? 0)), 99);
}
