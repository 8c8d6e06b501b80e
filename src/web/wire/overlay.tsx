/** What stands on the circuit: volts and amps where they are, strings that fail, what lies under the layout. */
import { memo } from 'react';
import type { CircuitModel, ModelSymbol, PositionSum, StringSum } from '../../book/index.ts';
import type { Spot } from '../../units/index.ts';
import { ampsText, voltsText, wireWords } from '../words/wire.ts';
import type { Live } from './drawing.tsx';
import { levelOf } from './levels.ts';

/** Less than this is told by no meter on a bench: no arrow, no value. */
const LEAST_AMPS = 1e-5;

interface Props {
  readonly model: CircuitModel;
  readonly live: Live;
  /** How many times its own size type is drawn, so that it can be read where the drawing is small. */
  readonly type: number;
}

interface Box {
  readonly at: Spot;
  readonly size: Spot;
  readonly lying: boolean;
}

/** Round the lamps of a string, with room for their arrows. */
function boxOf(model: CircuitModel, ids: readonly string[]): Box | null {
  const symbols = model.symbols.filter(({ id, kind }) => kind === 'lamp' && ids.includes(id));
  if (symbols.length === 0) return null;
  const lying = symbols.every(({ turn }) => turn === 90 || turn === 270);
  const xs = symbols.map(({ at }) => at[0]);
  const ys = symbols.map(({ at }) => at[1]);
  // Arrows of a lamp that is upside down are at its left.
  const lefts = symbols.some(({ turn }) => turn === 180) ? 30 : 18;
  const [left, right, up, down] = lying ? [22, 22, 20, 32] : [lefts, 88, 24, 26];
  const at: Spot = [Math.min(...xs) - left, Math.min(...ys) - up];
  return { at, size: [Math.max(...xs) + right - at[0], Math.max(...ys) + down - at[1]], lying };
}

/** Does a string fail: is it not lit for sure, or more than it stands? */
export function fails({ seen, look }: StringSum): boolean {
  return seen !== 'lit' || look === 'bright' || look === 'destroyed';
}

export const CircuitUnder = memo(function CircuitUnder({
  model,
  sum,
}: {
  readonly model: CircuitModel;
  readonly sum: PositionSum | null;
}) {
  const strings = sum?.strings ?? [];
  return (
    <g>
      {model.frames.map(({ at, size }) => (
        <g key={at.join()}>
          <rect className="cct-frame" x={at[0]} y={at[1]} width={size[0]} height={size[1]} rx="4" />
          <text
            className="cct-note"
            transform={`translate(${at[0] + size[0] - 10} ${at[1] + size[1] / 2}) rotate(-90)`}
            textAnchor="middle"
          >
            {wireWords.underLayout}
          </text>
        </g>
      ))}
      {strings.filter(fails).map(({ group, lamps }) => (
        <StringBox key={`${group} ${lamps.join()}`} box={boxOf(model, lamps)} kind="wrong" />
      ))}
      {strings.map(({ group, dark }) =>
        dark === null || dark.volts <= dark.limit ? null : (
          <StringBox key={`${group} ${dark.lamps.join()}`} box={boxOf(model, dark.lamps)} kind="caution" />
        ),
      )}
    </g>
  );
});

function StringBox({ box, kind }: { readonly box: Box | null; readonly kind: 'wrong' | 'caution' }) {
  return box === null ? null : (
    <rect
      className={`cct-string ${kind}`}
      x={box.at[0]}
      y={box.at[1]}
      width={box.size[0]}
      height={box.size[1]}
      rx="6"
    />
  );
}

export const CircuitValues = memo(function CircuitValues({
  model,
  live,
  type,
  sum,
}: Props & { readonly sum: PositionSum | null }) {
  const { figures, top } = live;
  return (
    <g>
      {model.links.map(({ lever, from, to }) => (
        <g key={lever}>
          <path className="cct-link" d={`M${from[0]} ${from[1]}V${to[1] - 6}`} />
          <path className="cct-bat" d={`M${from[0] - 14} ${from[1]}h28`} />
          <text className="cct-title" x={from[0] + 22} y={from[1] + 1}>
            {figures.position === null ? lever : wireWords.leverLies(lever, figures.position)}
          </text>
        </g>
      ))}
      {model.arrows.map(({ of, at, turn }) => {
        const amps = figures.amps[of] ?? 0;
        if (Math.abs(amps) < LEAST_AMPS) return null;
        const level = levelOf(figures.volts[nodeAt(model, at)], top);
        return (
          <path
            key={`${of} ${at.join()}`}
            className={`cct-arrow ${level}`}
            d="M-5.500-5H5.500L0 6Z"
            transform={`translate(${at[0]} ${at[1]}) rotate(${amps > 0 ? turn : turn + 180})`}
          />
        );
      })}
      {model.values.map(({ of, at }) =>
        'volts' in of ? (
          <Value key={`v ${of.volts}`} type={type} at={at} text={voltsAt(model, live, of.volts)} />
        ) : (
          <Value key={`a ${of.amps}`} type={type} at={at} text={ampsText(Math.abs(figures.amps[of.amps] ?? 0))} />
        ),
      )}
      {model.symbols.map((symbol) => (
        <LampValue key={`${symbol.kind} ${symbol.id}`} symbol={symbol} live={live} type={type} />
      ))}
      {(sum?.strings ?? []).map(({ group, dark }) => {
        if (dark === null || dark.volts <= dark.limit) return null;
        const box = boxOf(model, dark.lamps);
        return box === null ? null : (
          <Reverse key={`${group} ${dark.lamps.join()}`} box={box} volts={dark.volts} type={type} />
        );
      })}
    </g>
  );
});

/** The terminal whose conductor runs through a spot. */
function nodeAt(model: CircuitModel, [x, y]: Spot): string {
  const found = model.lines.find(
    ({ from, to }) =>
      x >= Math.min(from[0], to[0]) - 1 &&
      x <= Math.max(from[0], to[0]) + 1 &&
      y >= Math.min(from[1], to[1]) - 1 &&
      y <= Math.max(from[1], to[1]) + 1,
  );
  return found?.node ?? '';
}

/** "A 9.00 V" on a rail that has a name, "9.00 V" elsewhere; a node that floats has no volts. */
function voltsAt(model: CircuitModel, { figures }: Live, terminal: string): string {
  const volts = figures.volts[terminal];
  const named = model.marks.find(
    (mark) => mark.box === null && mark.name.length === 1 && isOn(model, mark.net, terminal),
  );
  const text = volts === undefined || volts === null ? '–' : voltsText(volts);
  return named === undefined ? text : `${named.name} ${text}`;
}

const isOn = (model: CircuitModel, net: string, terminal: string): boolean =>
  model.lines.some((line) => line.net === net && line.node === terminal);

const wideOf = (text: string, type: number): number => (14 + 7.8 * text.length) * type;

function Value({ at: [x, y], text, type }: { readonly at: Spot; readonly text: string; readonly type: number }) {
  const wide = wideOf(text, type);
  return (
    <g className="cct-value">
      <rect x={x - wide / 2} y={y - 11 * type} width={wide} height={22 * type} rx="4" />
      <text x={x} y={y + 4.8 * type} textAnchor="middle">
        {text}
      </text>
    </g>
  );
}

/** What a lamp carries, under its name. */
function LampValue({
  symbol,
  live,
  type,
}: {
  readonly symbol: ModelSymbol;
  readonly live: Live;
  readonly type: number;
}) {
  if (symbol.kind !== 'lamp') return null;
  const lamp = live.figures.lamps.find(({ id }) => id === symbol.id);
  if (lamp === undefined || (Math.abs(lamp.amps) < LEAST_AMPS && lamp.seen === 'dark')) return null;
  const { at, anchor } = symbol.words;
  // Between rows there is no room under a name: it stands behind it.
  const lying = symbol.turn === 90 || symbol.turn === 270;
  const [x, y] = lying ? [at[0] + (symbol.title.length * 4.5 + 4) * type, at[1]] : [at[0], at[1] + 15 * type];
  return (
    <text className={`cct-amps seen-${lamp.seen} look-${lamp.look}`} x={x} y={y} textAnchor={lying ? 'start' : anchor}>
      {ampsText(lamp.amps)}
    </text>
  );
}

function Reverse({
  box: { at, size, lying },
  volts,
  type,
}: {
  readonly box: Box;
  readonly volts: number;
  readonly type: number;
}) {
  const text = wireWords.inReverse(volts);
  const wide = wideOf(text, type);
  const [x, y] = lying ? [at[0] + size[0] / 2, at[1] - 13] : [at[0] + size[0] - 14, at[1] + size[1] / 2];
  return (
    <g className="cct-reverse" transform={`translate(${x} ${y})${lying ? '' : ' rotate(-90)'}`}>
      <rect x={-wide / 2} y={-11 * type} width={wide} height={22 * type} rx="4" />
      <text y={4.8 * type} textAnchor="middle">
        {text}
      </text>
    </g>
  );
}
