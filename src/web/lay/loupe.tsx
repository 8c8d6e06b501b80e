import { drawStrip } from '../../face/index.ts';
import { meetingAt } from '../../laying/index.ts';
import type { PanelFile } from '../../panel/index.ts';
import type { Spot } from '../../units/index.ts';
import { Tape } from '../face/tapes.tsx';
import { toFace } from './camera.ts';
import { degreesWords } from './lengths.ts';
import { LOUPE, loupeSpot } from './loupe-spot.ts';
import { GhostMarks, OfferedMarks } from './picked-marks.tsx';
import { useLay } from './use-lay.ts';

/**
 * A round glass beside the finger that shows what is under it, and at what angle it joins. It draws the strips and lamps near the spot anew,
 * not the sheet: a drag costs the same on a large panel.
 */
export function Loupe() {
  const finger = useLay((lay) => lay.finger);
  return finger === null ? null : <Glass finger={finger} />;
}

function Glass({ finger }: { readonly finger: Spot }) {
  const panel = useLay((lay) => lay.panel);
  const picked = useLay((lay) => lay.picked);
  const camera = useLay((lay) => lay.camera);
  const size = useLay((lay) => lay.size);
  const ghost = useLay((lay) => lay.ghost);
  const drawn = useLay((lay) => lay.drawn);
  const would = useLay((lay) => lay.would);
  const unit = useLay((lay) => lay.unit);
  if (camera === null || size === null || (drawn === null && ghost.length < 2)) return null;
  const at = drawn?.at ?? toFace(camera, finger);
  const pxPerMm = camera.pxPerMm * LOUPE.times;
  const around = LOUPE.radius / pxPerMm;
  const [left, top] = loupeSpot(finger, size);
  const { strips, lamps } = nearBy(panel, at, around);
  const angle = angleHere(panel, picked[0] ?? null, ghost, at);
  const ids = new Set(picked.map(({ list, id }) => (list === 'strips' ? id : null)));
  return (
    <div className="deeds-room loupe-room" aria-hidden="true">
      <div className="loupe" style={{ left: left - LOUPE.radius, top: top - LOUPE.radius }}>
        <svg
          width={2 * LOUPE.radius}
          height={2 * LOUPE.radius}
          viewBox={`${at[0] - around} ${at[1] - around} ${2 * around} ${2 * around}`}
          aria-hidden="true"
          focusable="false"
        >
          {strips.map((strip) => (
            <Tape key={strip.id} strip={drawStrip(strip)} />
          ))}
          {strips.map((strip) =>
            ids.has(strip.id) ? (
              <polyline
                key={strip.id}
                className="picked-line"
                fill="none"
                strokeWidth={1.5 / pxPerMm}
                points={strip.path.map(([x, y]) => `${x},${y}`).join(' ')}
              />
            ) : null,
          )}
          {lamps.map(({ id, at: [x, y] }) => (
            <circle key={id} className="loupe-lamp" cx={x} cy={y} r="1.5" strokeWidth={1.5 / pxPerMm} />
          ))}
          {would === null ? null : <OfferedMarks panel={panel} edit={would} />}
          <GhostMarks {...{ ghost, drawn, unit }} typing="" figures={false} px={1 / pxPerMm} />
          <path
            className="loupe-cross"
            fill="none"
            strokeWidth={1.5 / pxPerMm}
            d={`M${at[0] - around} ${at[1]}h${around * 0.7}M${at[0] + around} ${at[1]}h${-around * 0.7}M${at[0]} ${at[1] - around}v${around * 0.7}M${at[0]} ${at[1] + around}v${-around * 0.7}`}
          />
        </svg>
        {angle === null ? null : <span className="loupe-angle">{degreesWords(angle)}</span>}
      </div>
    </div>
  );
}

/** Strips whose tape, and lamps whose middle, may be in the glass. */
function nearBy(panel: PanelFile, [x, y]: Spot, around: number) {
  const reach = around + 10;
  const inReach = (spots: readonly Spot[]): boolean =>
    Math.min(...spots.map((spot) => spot[0])) <= x + reach &&
    Math.max(...spots.map((spot) => spot[0])) >= x - reach &&
    Math.min(...spots.map((spot) => spot[1])) <= y + reach &&
    Math.max(...spots.map((spot) => spot[1])) >= y - reach;
  return {
    strips: panel.strips.filter(({ path }) => inReach(path)),
    lamps: (panel.lamps ?? []).filter(({ at }) => inReach([at])),
  };
}

/** The angle of what ends at the spot: the tape that is being laid, else the end of a strip that is being moved. */
function angleHere(
  panel: PanelFile,
  moved: { readonly id: string | number; readonly part?: number } | null,
  ghost: readonly Spot[],
  at: Spot,
): number | null {
  const before = ghost[ghost.length - 2];
  if (before !== undefined) return meetingAt(panel, before, at, null)?.angle ?? null;
  if (moved?.part === undefined || typeof moved.id !== 'string') return null;
  const path = panel.strips.find(({ id }) => id === moved.id)?.path ?? [];
  const next = moved.part === 0 ? path[1] : moved.part === path.length - 1 ? path[moved.part - 1] : undefined;
  return next === undefined ? null : (meetingAt(panel, next, at, moved.id)?.angle ?? null);
}
