/** The circuit, drawn: conductors, dots, symbols, letters of wires; and, where it is live, what stands on them. */
import { memo } from 'react';
import type { CircuitFigures, CircuitModel, ModelLine, ModelSymbol } from '../../book/index.ts';
import { levelOf } from './levels.ts';
import { TurningArt, UprightArt } from './symbols.tsx';

/** What a drawing shows besides itself. */
export interface Live {
  readonly figures: CircuitFigures;
  /** The most volts of its supplies. */
  readonly top: number;
  /** Parts and wires that a picked value speaks of; empty: none. */
  readonly lit: ReadonlySet<string>;
  /** The part or wire that is picked. */
  readonly picked: string | null;
}

interface Props {
  readonly model: CircuitModel;
  readonly live: Live | null;
}

export const CircuitLines = memo(function CircuitLines({ model, live }: Props) {
  return (
    <g>
      {model.lines.map((line) => (
        <line
          key={`${line.from.join(' ')} ${line.to.join(' ')}`}
          className={lineClass(line, live)}
          data-net={line.net}
          data-wire={line.wire ?? undefined}
          x1={line.from[0]}
          y1={line.from[1]}
          x2={line.to[0]}
          y2={line.to[1]}
        />
      ))}
      {model.dots.map(({ net, at: [x, y] }) => (
        <circle key={`${x} ${y}`} className="cct-dot" data-dot={net} cx={x} cy={y} r="4" />
      ))}
    </g>
  );
});

function lineClass({ node, wire, shares }: ModelLine, live: Live | null): string {
  if (live === null) return 'cct-line';
  const { figures, top } = live;
  const wires = wire === null ? shares : [wire, ...shares];
  const faulty = wires.some((each) => figures.broken.includes(each)) ? ' faulty' : '';
  const hot = wires.some((each) => isHot(live, each)) ? ' hot' : '';
  return `cct-line ${levelOf(figures.volts[node], top)}${faulty}${hot}`;
}

/** Is it picked, or does a picked value speak of it? */
const isHot = ({ lit, picked }: Live, id: string): boolean => picked === id || lit.has(id);

/** Where the throws of a contact stand, whether or not something is soldered to them. */
function throwsOf({
  at: [x, y],
  size = [0, 0],
  turn,
}: ModelSymbol): readonly [readonly [number, number], readonly [number, number]] {
  const side = turn === 180 ? 1 : -1;
  return [
    [x + (side * size[0]) / 2, y - size[1] / 2],
    [x + (side * size[0]) / 2, y + size[1] / 2],
  ];
}

function Contact({ symbol, live }: { readonly symbol: ModelSymbol; readonly live: Live | null }) {
  const [x, y] = symbol.at;
  const [width] = symbol.size ?? [0, 0];
  const common: readonly [number, number] = [x + ((symbol.turn === 180 ? -1 : 1) * width) / 2, y];
  const [normal, reverse] = throwsOf(symbol);
  const closed = live === null ? 'normal' : (live.figures.closed[symbol.id] ?? 'none');
  const middle: readonly [number, number] = [normal[0], y];
  const to =
    closed === 'none' ? [middle] : closed === 'both' ? [normal, reverse] : [closed === 'normal' ? normal : reverse];
  return (
    <>
      {to.map((end) => (
        <line key={end[1]} className="cct-blade" x1={common[0]} y1={common[1]} x2={end[0]} y2={end[1]} />
      ))}
      {[common, normal, reverse].map(([cx, cy]) => (
        <circle key={`${cx} ${cy}`} className="cct-tag" cx={cx} cy={cy} r="4.500" />
      ))}
    </>
  );
}

/** The last part of a terminal's name: "t2", "a". */
const endName = (terminal: string): string => terminal.slice(terminal.lastIndexOf('.') + 1);

function Part({ symbol, live }: { readonly symbol: ModelSymbol; readonly live: Live | null }) {
  const { kind, id, at, turn, ends, title, note, words } = symbol;
  const [x, y] = at;
  const lamp = live?.figures.lamps.find((each) => each.id === id);
  const marks = [
    'cct-symbol',
    kind,
    lamp === undefined ? '' : `look-${lamp.look} seen-${lamp.seen}`,
    live?.figures.broken.includes(id) === true ? 'faulty' : '',
    live !== null && isHot(live, id) ? 'hot' : '',
  ].filter((each) => each !== '');
  return (
    <g className={marks.join(' ')} data-part={id} data-kind={kind}>
      {kind === 'contact' ? (
        <Contact symbol={symbol} live={live} />
      ) : kind === 'board' ? (
        <rect
          className="art"
          x={x - (symbol.size?.[0] ?? 0) / 2}
          y={y - (symbol.size?.[1] ?? 0) / 2}
          width={symbol.size?.[0]}
          height={symbol.size?.[1]}
        />
      ) : (
        <>
          <g transform={`translate(${x} ${y}) rotate(${turn})${turn === 90 ? ' scale(-1 1)' : ''}`}>
            <TurningArt kind={kind} {...(symbol.panelHalf === undefined ? {} : { panelHalf: symbol.panelHalf })} />
          </g>
          <g transform={`translate(${x} ${y})`}>
            <UprightArt kind={kind} />
          </g>
        </>
      )}
      {ends.map(({ terminal, at: [cx, cy] }) => (
        <circle key={terminal} className="cct-end" data-terminal={terminal} cx={cx} cy={cy} r="1" />
      ))}
      {kind === 'contact' ? (
        <ContactNames symbol={symbol} />
      ) : kind === 'board' ? (
        ends.map(({ terminal, at: [tx, ty] }) => (
          <text key={terminal} className="cct-note" x={tx + 6} y={ty + 5}>
            {endName(terminal)}
          </text>
        ))
      ) : null}
      {title === '' ? null : (
        <text className="cct-title" x={words.at[0]} y={words.at[1]} textAnchor={words.anchor}>
          {title}
        </text>
      )}
      {note === '' ? null : (
        <text className="cct-note" x={words.at[0]} y={words.at[1] + 16} textAnchor={words.anchor}>
          {note}
        </text>
      )}
    </g>
  );
}

function ContactNames({ symbol }: { readonly symbol: ModelSymbol }) {
  const [, y] = symbol.at;
  return symbol.ends.map(({ terminal, at: [tx, ty] }) => (
    <text
      key={terminal}
      className="cct-tag-name"
      x={tx + (tx < symbol.at[0] ? 4.5 : -4.5)}
      y={ty > y ? ty + 19 : ty - 9}
      textAnchor="middle"
    >
      {endName(terminal)}
    </text>
  ));
}

export const CircuitSymbols = memo(function CircuitSymbols({ model, live }: Props) {
  return (
    <g>
      {model.symbols.map((symbol) => (
        <Part key={`${symbol.kind} ${symbol.id}`} symbol={symbol} live={live} />
      ))}
      {model.marks.map(({ net, name, at, box }) => (
        <g key={`${name} ${at[0]} ${at[1]}`} data-mark={name} data-at={`${at[0]} ${at[1]}`} data-net={net}>
          {box === null ? null : (
            <>
              <rect
                className="cct-mark"
                x={box.at[0]}
                y={box.at[1]}
                width={box.size[0]}
                height={box.size[1]}
                rx={box.size[1] / 2}
              />
              <text className="cct-title" x={box.at[0] + box.size[0] / 2} y={at[1] + 5} textAnchor="middle">
                {name}
              </text>
            </>
          )}
        </g>
      ))}
    </g>
  );
});

/** Half the height of the box of a colour's letters, and its width by their number. */
const CHIP_HALF = 9;
const chipWide = (letters: string): number => 12 + 8.2 * letters.length;

export const CircuitChips = memo(function CircuitChips({ model, live, type }: Props & { readonly type: number }) {
  return (
    <g>
      {model.chips.map(({ wire, colour, at: [x, y] }) => {
        const wide = chipWide(colour) * type;
        return (
          <g key={wire} className={live !== null && isHot(live, wire) ? 'cct-chip hot' : 'cct-chip'} data-chip={wire}>
            <rect x={x - wide / 2} y={y - CHIP_HALF * type} width={wide} height={2 * CHIP_HALF * type} rx="3" />
            <text x={x} y={y + 4.5 * type} textAnchor="middle">
              {colour}
            </text>
          </g>
        );
      })}
    </g>
  );
});
