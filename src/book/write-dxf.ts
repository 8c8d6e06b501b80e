/**
 * A page to DXF: millimetres, y up, the layers that the page's groups name. Circles stay circles, lines and arcs become
 * polylines with bulges, a broad line keeps its width. Knows pages and nothing of railways.
 */
import {
  DxfWriter,
  LWPolylineFlags,
  point3d,
  TextHorizontalAlignment,
  TextVerticalAlignment,
  Units,
} from '@tarikjabiri/dxf';
import type { Spot } from '../units/index.ts';
import type { Op, Page, Step } from './page.ts';

/** One colour a layer, by the colour numbers that drawing programs share (common practice): white, red, cyan, green, grey. */
const COLOURS = [7, 1, 4, 3, 8];
const DECIMALS = 6;
const tidy = (value: number): number => {
  const rounded = Number(value.toFixed(DECIMALS));
  return rounded === 0 ? 0 : rounded;
};

/** The bulge of an arc: the tangent of a quarter of its sweep, positive anticlockwise with y up (DXF reference). */
function bulgeOf(from: Spot, step: Extract<Step, { go: 'arc' }>): number {
  const [cx, cy] = step.centre;
  const turn = 2 * Math.PI;
  const raw = Math.atan2(step.to[1] - cy, step.to[0] - cx) - Math.atan2(from[1] - cy, from[0] - cx);
  const sweep = (((step.clockwise ? raw : -raw) % turn) + turn) % turn;
  // Clockwise on the page is clockwise to the reader; turning y up does not alter what is seen.
  return (step.clockwise ? -1 : 1) * Math.tan(sweep / 4);
}

/** One page as DXF text. Groups with a layer name it; what stands outside any layer is left out. Shifts and turns are not read. */
export function writeDxf(page: Page): string {
  const height = page.size[1];
  const dxf = new DxfWriter();
  dxf.setUnits(Units.Millimeters);
  dxf.setVariable('$LASTSAVEDBY', { 1: 'Mimicwright' });
  const layers = page.ops.flatMap((op) => (op.op === 'group' && op.layer !== null ? [op.layer] : []));
  for (const [i, layer] of layers.entries()) dxf.addLayer(layer, COLOURS[i % COLOURS.length] ?? 7, 'Continuous');
  const up = ([x, y]: Spot): { x: number; y: number } => ({ x: tidy(x), y: tidy(height - y) });

  const polyline = (
    points: readonly { readonly at: Spot; readonly bulge: number }[],
    closed: boolean,
    width: number | undefined,
  ): void => {
    if (points.length < 2) return;
    dxf.addLWPolyline(
      points.map(({ at, bulge }) => ({ point: up(at), ...(bulge === 0 ? {} : { bulge: tidy(bulge) }) })),
      {
        flags: closed ? LWPolylineFlags.Closed : LWPolylineFlags.None,
        ...(width === undefined ? {} : { constantWidth: width }),
      },
    );
  };

  const write = (op: Op): void => {
    switch (op.op) {
      case 'circle':
        dxf.addCircle(point3d(up(op.at).x, up(op.at).y, 0), tidy(op.radius));
        return;
      case 'line':
        polyline(
          [
            { at: op.from, bulge: 0 },
            { at: op.to, bulge: 0 },
          ],
          false,
          op.width,
        );
        return;
      case 'rect': {
        const [x, y] = op.at;
        const [w, h] = op.size;
        polyline(
          (
            [
              [x, y],
              [x + w, y],
              [x + w, y + h],
              [x, y + h],
            ] as const
          ).map((at) => ({ at, bulge: 0 })),
          true,
          undefined,
        );
        return;
      }
      case 'polyline':
        polyline(
          op.points.map((at) => ({ at, bulge: 0 })),
          op.closed,
          op.width,
        );
        return;
      case 'path': {
        let points: { at: Spot; bulge: number }[] = [];
        let last: Spot = [0, 0];
        for (const step of op.steps) {
          if (step.go === 'close') {
            polyline(points, true, op.width);
            points = [];
            continue;
          }
          if (step.go === 'move') {
            polyline(points, false, op.width);
            points = [];
          } else if (step.go === 'arc') {
            const end = points.at(-1);
            if (end !== undefined) end.bulge = bulgeOf(last, step);
          }
          points.push({ at: step.to, bulge: 0 });
          last = step.to;
        }
        polyline(points, false, op.width);
        return;
      }
      case 'text': {
        const at = up(op.at);
        const align =
          op.anchor === 'start'
            ? TextHorizontalAlignment.Left
            : op.anchor === 'middle'
              ? TextHorizontalAlignment.Center
              : TextHorizontalAlignment.Right;
        const text = op.runs.map((run) => run.text).join('');
        // Control codes of DXF text begin with %%.
        dxf.addText(point3d(at.x, at.y, 0), tidy(op.size), text.replaceAll('%%', '%'), {
          horizontalAlignment: align,
          verticalAlignment: TextVerticalAlignment.BaseLine,
          secondAlignmentPoint: point3d(at.x, at.y, 0),
          ...(op.turn === 0 ? {} : { rotation: -op.turn }),
        });
        return;
      }
      case 'group':
        for (const inner of op.ops) write(inner);
        return;
      case 'link':
        return;
    }
  };
  for (const op of page.ops) {
    if (op.op !== 'group' || op.layer === null) continue;
    dxf.setCurrentLayerName(op.layer);
    for (const inner of op.ops) write(inner);
  }
  dxf.setZeroLayerAsCurrent();
  return dxf.stringify();
}
