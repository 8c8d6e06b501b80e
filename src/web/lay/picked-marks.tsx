/** What is picked, and what the hand is about to do, drawn over the face. */
import { drawStrip } from '../../face/index.ts';
import type { Picked, Snapped } from '../../laying/index.ts';
import { applyTransaction, type PanelFile, type Transaction } from '../../panel/index.ts';
import type { Millimetre, Spot } from '../../units/index.ts';
import { Tape } from '../face/tapes.tsx';
import { strokePath } from '../run/geometry.ts';
import type { LayView } from '../worker/types.ts';
import { degreesWords, lengthWords } from './lengths.ts';
import type { RulerUnit } from './rulers.ts';

interface PickedMarksProps {
  readonly panel: PanelFile;
  readonly view: LayView;
  readonly picked: readonly Picked[];
  /** One px on the screen in mm. */
  readonly px: Millimetre;
}

/** The outline of everything that is picked, with the handles of strips. */
export function PickedMarks({ panel, view, picked, px }: PickedMarksProps) {
  return picked.map((thing) => (
    <PickedMark key={`${thing.list} ${thing.id} ${thing.part ?? ''}`} {...{ panel, view, thing, px }} />
  ));
}

function PickedMark({ panel, view, thing, px }: Omit<PickedMarksProps, 'picked'> & { readonly thing: Picked }) {
  const { list, id } = thing;
  if (list === 'strips') {
    const strip = panel.strips.find((each) => each.id === id);
    return strip === undefined ? null : <Handles strip={strip} px={px} />;
  }
  const spot = spotOf(panel, view, thing);
  if (spot === null) return null;
  const { at, width, height, round } = spot;
  return round ? (
    <g fill="none">
      <circle cx={at[0]} cy={at[1]} r={width / 2 + 2.2} className="picked-wash" strokeWidth="3" />
      <circle cx={at[0]} cy={at[1]} r={width / 2 + 1.2} className="picked-line" strokeWidth="1" />
    </g>
  ) : (
    <rect
      x={at[0] - width / 2 - 1.2}
      y={at[1] - height / 2 - 1.2}
      width={width + 2.4}
      height={height + 2.4}
      rx="1.6"
      fill="none"
      className="picked-line"
      strokeWidth="1"
    />
  );
}

/** A picked strip: a wash, an outline with a gap, and its tape again. */
export function PickedStrip({ strip }: { readonly strip: PanelFile['strips'][number] }) {
  const drawn = drawStrip(strip);
  const d = strokePath(drawn.strokes);
  return (
    <g fill="none" strokeLinejoin="round">
      <path d={d} className="picked-wash" strokeWidth={drawn.width + 10} strokeLinecap="round" />
      <path d={d} className="picked-line" strokeWidth={drawn.width + 3.6} />
      <path d={d} className="picked-gap" strokeWidth={drawn.width + 1.8} />
      <Tape strip={drawn} />
    </g>
  );
}

/** Round handles at the ends of a strip and square ones at its bends. */
function Handles({ strip, px }: { readonly strip: PanelFile['strips'][number]; readonly px: Millimetre }) {
  const size = Math.max(3.6, 8 * px);
  const last = strip.path.length - 1;
  return strip.path.map(([x, y], k) =>
    k === 0 || k === last ? (
      <circle key={`${x} ${y}`} cx={x} cy={y} r={size * 0.55} className="handle" strokeWidth={1.5 * px} />
    ) : (
      <rect
        key={`${x} ${y}`}
        x={x - size / 2}
        y={y - size / 2}
        width={size}
        height={size}
        className="handle"
        strokeWidth={1.5 * px}
      />
    ),
  );
}

/** Where a thing that is no strip stands, and how large it is. */
export function spotOf(
  panel: PanelFile,
  view: LayView,
  { list, id }: Picked,
): { readonly at: Spot; readonly width: Millimetre; readonly height: Millimetre; readonly round: boolean } | null {
  const round = (at: Spot | undefined, size: Millimetre) =>
    at === undefined ? null : { at, width: size, height: size, round: true };
  switch (list) {
    case 'lamps':
      return round(panel.lamps?.find((each) => each.id === id)?.at, 3.2);
    case 'buttons':
      return round(panel.buttons?.find((each) => each.id === id)?.at, 8);
    case 'levers': {
      const lever = view.face.levers.find((each) => each.id === id);
      return round(panel.levers?.find((each) => each.id === id)?.at ?? lever?.at, lever?.driver ?? 22);
    }
    case 'platforms': {
      const platform = typeof id === 'number' ? panel.platforms?.[id] : undefined;
      if (platform === undefined) return null;
      const [width, height] = platform.size;
      return { at: [platform.at[0] + width / 2, platform.at[1] + height / 2], width, height, round: false };
    }
    case 'places': {
      const plate = view.face.plates.find((each) => each.kind === 'place' && each.id === id);
      return plate === undefined ? null : { at: plate.at, width: plate.width, height: plate.height, round: false };
    }
    case 'plates': {
      const record = typeof id === 'number' ? panel.plates?.[id] : undefined;
      const plate = view.face.plates.find(
        ({ at, kind }) => kind !== 'place' && kind !== 'lever' && at[0] === record?.at[0] && at[1] === record?.at[1],
      );
      if (record === undefined) return null;
      return { at: record.at, width: plate?.width ?? 30, height: plate?.height ?? 10, round: false };
    }
    default:
      return null;
  }
}

interface GhostMarksProps {
  readonly ghost: readonly Spot[];
  readonly drawn: Snapped | null;
  readonly typing: string;
  readonly unit: RulerUnit;
  readonly px: Millimetre;
  /** How far and at what angle, beside the last stretch. */
  readonly figures?: boolean;
}

/** The strip that would be laid with the figures of its last stretch, and the lines by which the hand is drawn. */
export function GhostMarks({ ghost, drawn, typing, unit, px, figures = true }: GhostMarksProps) {
  const [last, end] = [ghost[ghost.length - 2], ghost[ghost.length - 1]];
  return (
    <g fill="none">
      {drawn?.guides.map(({ from, to }) => (
        <path
          key={`${from[0]} ${from[1]} ${to[0]} ${to[1]}`}
          className="snap-guide"
          strokeWidth={1.2 * px}
          d={`M${from[0]} ${from[1]}L${to[0]} ${to[1]}`}
        />
      ))}
      {ghost.length < 2 ? null : (
        <path
          className="ghost"
          strokeWidth="5.2"
          strokeLinejoin="round"
          d={ghost.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${x} ${y}`).join('')}
        />
      )}
      {drawn === null || drawn.by === 'free' || drawn.by === 'grid' ? null : (
        <circle cx={drawn.at[0]} cy={drawn.at[1]} r={5 * px} className="handle" strokeWidth={1.5 * px} />
      )}
      {!figures || last === undefined || end === undefined || isOblong(ghost) ? null : (
        <Figures from={last} to={end} typing={typing} unit={unit} px={px} />
      )}
    </g>
  );
}

/** An oblong that is drawn says nothing of its last side. */
const isOblong = (ghost: readonly Spot[]): boolean =>
  ghost.length === 5 && ghost[0]?.[0] === ghost[4]?.[0] && ghost[0]?.[1] === ghost[4]?.[1];

/** How far and at what angle a stretch runs, beside its middle; what is typed stands in their place. */
function Figures({
  from,
  to,
  typing,
  unit,
  px,
}: { readonly from: Spot; readonly to: Spot } & Omit<GhostMarksProps, 'ghost' | 'drawn' | 'figures'>) {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const far = Math.hypot(dx, dy);
  if (far === 0) return null;
  const angle = (Math.atan2(-dy, dx) * 180) / Math.PI;
  const text = typing === '' ? `${lengthWords(far, unit)}  ${degreesWords(angle)}` : typing;
  const [width, height] = [(text.length * 7 + 14) * px, 20 * px];
  // To the left of who looks along it, off the tape.
  const out = 24 * px;
  const at: Spot = [(from[0] + to[0]) / 2 + (dy / far) * out, (from[1] + to[1]) / 2 - (dx / far) * out];
  return (
    <g>
      <rect
        x={at[0] - width / 2}
        y={at[1] - height / 2}
        width={width}
        height={height}
        rx={4 * px}
        className="dim-box"
        strokeWidth={px}
      />
      <text
        x={at[0]}
        y={at[1] + 4.5 * px}
        textAnchor="middle"
        fontSize={12.5 * px}
        fontWeight="600"
        className="dim-text"
      >
        {text}
      </text>
    </g>
  );
}

/** What an offered mend would change: strips as they are, struck out, and as they would be. */
export function OfferedMarks({ panel, edit }: { readonly panel: PanelFile; readonly edit: Transaction }) {
  const after = afterEdit(panel, edit);
  if (after === null) return null;
  const before = new Map(panel.strips.map((strip) => [strip.id, strip]));
  const now = new Map(after.strips.map((strip) => [strip.id, strip]));
  const gone = panel.strips.filter((strip) => now.get(strip.id) !== strip);
  const come = after.strips.filter((strip) => before.get(strip.id) !== strip);
  const lamps = new Set(panel.lamps);
  return (
    <g fill="none" strokeLinejoin="round">
      {gone.map((strip) => (
        <path key={strip.id} d={strokePath(drawStrip(strip).strokes)} className="mend-gone" strokeWidth="1.6" />
      ))}
      {come.map((strip) => (
        <path key={strip.id} d={strokePath(drawStrip(strip).strokes)} className="ghost" strokeWidth="5.2" />
      ))}
      {(after.lamps ?? [])
        .filter((lamp) => !lamps.has(lamp))
        .map(({ id, at }) => (
          <circle key={id} cx={at[0]} cy={at[1]} r="3.4" className="picked-line" strokeWidth="1" />
        ))}
    </g>
  );
}

/** A mend that was made for an older panel may no longer fit. */
function afterEdit(panel: PanelFile, edit: Transaction): PanelFile | null {
  try {
    return applyTransaction(panel, edit);
  } catch {
    return null;
  }
}
