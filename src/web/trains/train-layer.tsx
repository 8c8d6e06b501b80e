/** Trains on the face: markers in marking blue, for they are on this screen alone, each a thing to press. */
import { growth } from '../run/plates.ts';
import { placed, pressBoxes } from '../run/press-boxes.ts';
import { placeName } from '../run/routes.ts';
import { trainWords } from '../words/trains.ts';
import type { View } from '../worker/types.ts';
import type { TrainsStore } from './trains-store.ts';
import { TrainsContext, trainName, useStanding, useTrains } from './use-trains.ts';

/** Depth of a marker on the face, and how far its nose reaches: mm. */
const DEPTH = 7.4;
const NOSE = 3.4;
/** Type in a marker: mm. */
const TYPE = 5.4;

export function TrainLayer(props: { readonly store: TrainsStore; readonly view: View; readonly pxPerMm: number }) {
  return (
    <TrainsContext value={props.store}>
      <Marks view={props.view} pxPerMm={props.pxPerMm} />
    </TrainsContext>
  );
}

function Marks({ view, pxPerMm }: { readonly view: View; readonly pxPerMm: number }) {
  const marks = useTrains(({ answer }) => answer?.marks ?? null);
  const picked = useTrains((trains) => trains.picked);
  const pick = useTrains((trains) => trains.pick);
  const standing = useStanding();
  const { width, height } = view.face;
  if (marks === null) return null;
  const scale = growth(TYPE, pxPerMm);
  const boxes = pressBoxes(
    marks.map(({ at, length }) => ({
      at: [at[0] * pxPerMm, at[1] * pxPerMm],
      width: length * scale * pxPerMm,
      height: DEPTH * scale * pxPerMm,
    })),
  );
  return (
    <>
      <svg className="layer trains" viewBox={`0 0 ${width} ${height}`} aria-hidden="true" focusable="false">
        {marks.map(({ train, at, angle, length, heads }) => (
          <g
            key={train}
            className={train === picked ? 'train-mark picked' : 'train-mark'}
            transform={`translate(${onSheet(at[0], length * scale, angle, width)} ${at[1]}) rotate(${angle}) scale(${scale})`}
          >
            <path className="train-case" d={bodyOf(length, heads)} />
            <path className="train-body" d={bodyOf(length, heads)} />
            <text textAnchor="middle" x={heads * -0.3 * NOSE} y={TYPE * 0.34} fontSize={TYPE} fontWeight="620">
              {train}
            </text>
          </g>
        ))}
      </svg>
      {marks.map(({ train }, i) => {
        const told = standing.find(({ id }) => id === train);
        const box = boxes[i];
        if (told === undefined || box === undefined) return null;
        return (
          <button
            key={train}
            type="button"
            className="train-button"
            aria-label={trainWords.markOf(trainName(told), placeName(view, told.stands))}
            aria-pressed={train === picked}
            style={placed(box, { width: width * pxPerMm, height: height * pxPerMm })}
            onClick={() => pick(train === picked ? null : train)}
          />
        );
      })}
    </>
  );
}

/** Across the sheet, so far in that a marker of such a length does not stick out; it has grown where the sheet is drawn small. */
function onSheet(x: number, length: number, angle: number, width: number): number {
  const half = (length / 2) * Math.abs(Math.cos((angle * Math.PI) / 180));
  return Math.max(half, Math.min(width - half, x));
}

/** A marker about its middle, pointed where its head is. */
function bodyOf(length: number, heads: 1 | -1 | 0): string {
  const [x, y] = [length / 2, DEPTH / 2];
  const nose = Math.min(NOSE, length / 3);
  const right = heads === 1 ? `L${x - nose} ${-y}L${x} 0L${x - nose} ${y}` : `L${x} ${-y}L${x} ${y}`;
  const left = heads === -1 ? `L${-x + nose} ${y}L${-x} 0L${-x + nose} ${-y}` : `L${-x} ${y}L${-x} ${-y}`;
  const start = heads === -1 ? `M${-x + nose} ${-y}` : `M${-x} ${-y}`;
  return `${start}${right}${left}Z`;
}
