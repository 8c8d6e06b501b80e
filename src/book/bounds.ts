/** The box that an operation covers, line widths left out: to leave out what a window does not show. */
import type { Box } from './labels.ts';
import type { Op } from './page.ts';

const join = (boxes: readonly Box[]): Box => [
  Math.min(...boxes.map((box) => box[0])),
  Math.min(...boxes.map((box) => box[1])),
  Math.max(...boxes.map((box) => box[2])),
  Math.max(...boxes.map((box) => box[3])),
];

const NOTHING: Box = [
  Number.POSITIVE_INFINITY,
  Number.POSITIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
];

/** Bounds in the operation's own millimetres; a turned text or group is taken round, so never too small. */
export function boundsOf(op: Op): Box {
  switch (op.op) {
    case 'line':
      return join([
        [...op.from, ...op.from],
        [...op.to, ...op.to],
      ]);
    case 'polyline':
      return join(op.points.map((p): Box => [...p, ...p]));
    case 'path':
      return join(
        op.steps.flatMap((step): Box[] => {
          if (step.go === 'close') return [];
          const to: Box = [...step.to, ...step.to];
          if (step.go !== 'arc') return [to];
          const [x, y] = step.centre;
          return [to, [x - step.radius, y - step.radius, x + step.radius, y + step.radius]];
        }),
      );
    case 'rect':
    case 'link':
      return [op.at[0], op.at[1], op.at[0] + op.size[0], op.at[1] + op.size[1]];
    case 'circle':
      return [op.at[0] - op.radius, op.at[1] - op.radius, op.at[0] + op.radius, op.at[1] + op.radius];
    case 'text': {
      const width = op.runs.reduce((sum, run) => sum + run.width, 0);
      const [x, y] = op.at;
      if (op.turn !== 0) return [x - width, y - width, x + width, y + width];
      const left = x - (op.anchor === 'start' ? 0 : op.anchor === 'middle' ? width / 2 : width);
      return [left, y - op.size, left + width, y + op.size * 0.3];
    }
    case 'group': {
      if (op.ops.length === 0) return NOTHING;
      const [x0, y0, x1, y1] = join(op.ops.map(boundsOf)).map((value) => value * op.scale) as [
        number,
        number,
        number,
        number,
      ];
      const [x, y] = op.shift;
      if (op.turn === 0) return [x + x0, y + y0, x + x1, y + y1];
      const reach = Math.hypot(Math.max(Math.abs(x0), Math.abs(x1)), Math.max(Math.abs(y0), Math.abs(y1)));
      return [x - reach, y - reach, x + reach, y + reach];
    }
  }
}

/** Operations that reach into the window, in their order. */
export function opsWithin(ops: readonly Op[], window: Box): Op[] {
  return ops.filter((op) => {
    const [x0, y0, x1, y1] = boundsOf(op);
    return x1 >= window[0] && x0 <= window[2] && y1 >= window[1] && y0 <= window[3];
  });
}

/** Operations that the window shows whole, in their order. */
export function opsInside(ops: readonly Op[], window: Box): Op[] {
  return ops.filter((op) => {
    const [x0, y0, x1, y1] = boundsOf(op);
    return x0 >= window[0] && x1 <= window[2] && y0 >= window[1] && y1 <= window[3];
  });
}
