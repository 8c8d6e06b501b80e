/** What is picked, and what the hand is about to do, drawn over the face. */
import { drawStrip } from '../../face/index.ts';
import type { Picked, Snapped } from '../../laying/index.ts';
import type { PanelFile } from '../../panel/index.ts';
import type { Millimetre, Spot } from '../../units/index.ts';
import { Tape } from '../face/tapes.tsx';
import { strokePath } from '../run/geometry.ts';
import type { LayView } from '../worker/types.ts';

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

/** The strip that would be laid, and the lines by which the hand is drawn. */
export function GhostMarks({
  ghost,
  drawn,
  px,
}: {
  readonly ghost: readonly Spot[];
  readonly drawn: Snapped | null;
  readonly px: Millimetre;
}) {
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
    </g>
  );
}
