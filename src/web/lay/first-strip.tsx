import type { Spot } from '../../units/index.ts';
import { shelfWords } from '../words/shelf.ts';
import { toView } from './camera.ts';
import { useLay } from './use-lay.ts';

/** Where the ghost of the first strip lies, as shares of the sheet. */
const DOWN = 0.42;
/** Where two others would join it, and how far the first of them runs, as shares of the width. */
const JOINS: readonly (readonly [at: number, toward: 1 | -1, side: 1 | -1])[] = [
  [0.22, 1, -1],
  [0.78, -1, 1],
];
/** A joining strip leaves at 32 degrees, as the tool snaps it: its rise over its run. */
const SLOPE = Math.tan((32 * Math.PI) / 180);
const RUN = 0.11;
const TAPE_MM = 5;

/** On a bare sheet: where a first strip would lie, and two joins that would make points. Gone at the first strip. */
export function FirstStrip() {
  const bare = useLay((lay) => lay.panel.strips.length === 0 && lay.ghost.length === 0);
  const face = useLay((lay) => lay.shown?.view.face ?? null);
  const camera = useLay((lay) => lay.camera);
  if (!bare || face === null || camera === null) return null;
  const { width, height } = face;
  const y = height * DOWN;
  const to = (spot: Spot): string => toView(camera, spot).join(' ');
  const joins = JOINS.map(([share, toward, side]) => {
    const [x, run] = [width * share, width * RUN];
    const far = y + side * run * SLOPE;
    return `M${to([x, y])}L${to([x + toward * run, far])}L${to([x + toward * run * 2, far])}`;
  });
  const [left, top] = toView(camera, [width * 0.5, height * 0.78]);
  return (
    <div className="first-strip">
      <svg aria-hidden="true" focusable="false" width="100%" height="100%">
        <g fill="none" className="first-tape" strokeWidth={TAPE_MM * camera.pxPerMm}>
          <path d={`M${to([0, y])}L${to([width, y])}`} />
          <path d={joins.join('')} />
        </g>
        <path className="first-middle" fill="none" d={`M${to([0, y])}L${to([width, y])}${joins.join('')}`} />
        {JOINS.map(([share]) => {
          const [cx, cy] = toView(camera, [width * share, y]);
          return (
            <circle key={share} className="first-toe" cx={cx} cy={cy} r={TAPE_MM * 0.9 * camera.pxPerMm} fill="none" />
          );
        })}
      </svg>
      <p style={{ left, top, maxWidth: Math.max(200, width * camera.pxPerMm * 0.9) }}>
        <b>{shelfWords.firstStrip}</b>
        <span>{shelfWords.firstStripHow}</span>
      </p>
    </div>
  );
}
