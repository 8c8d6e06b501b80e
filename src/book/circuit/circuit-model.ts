/** A circuit as a drawing: the reversing feed as a ladder, all else in rows below it. */
import type { Circuit } from '../../wiring/index.ts';
import { drawnIn, planCircuit } from '../circuit-drawing.ts';
import { type Drawable, endsOf, partsOf } from '../circuit-parts.ts';
import type { Nets } from '../nets.ts';
import { placeRows, planRows } from '../row-drawing.ts';
import { Draft } from './draft.ts';
import { ladderModel } from './ladder-model.ts';
import { screenMeasure } from './letters.ts';
import { PX_PER_MM, rowsModel } from './rows-model.ts';
import type { CircuitModel, ModelLine, Px } from './types.ts';

/** Drawings in rows stand beside each other up to this width, and none is wider. */
const ROWS_WIDE: Px = 1200;
/** None is higher; what would be goes on at a letter. */
const ROWS_HIGH: Px = 1400;
const BESIDE: Px = 44;
const EDGE: Px = 24;

/** The drawing of a circuit; where no rule covers it, one of nothing that says so. */
export function modelCircuit(derived: Drawable, circuit: Circuit): CircuitModel {
  const { nets, parts } = partsOf(derived, circuit);
  // A fuse with nothing soldered to it, as of a feed that works nothing, hangs nowhere.
  const loose = parts.filter((part) => endsOf(part).every((end) => nets.at(end).length === 0)).map(({ id }) => id);
  const plan = planCircuit(derived, circuit);
  const covered = 'why' in plan ? null : plan;
  const poles = covered?.lever.poles.filter((pole) => pole.use === 'feed') ?? [];
  const rows = planRows(
    { measure: screenMeasure },
    derived,
    circuit,
    { width: ROWS_WIDE / PX_PER_MM, height: ROWS_HIGH / PX_PER_MM },
    new Set([...loose, ...(covered === null ? [] : drawnIn(covered))]),
    new Map(poles.map(({ common }, i) => [common, 'AB'.charAt(i)])),
    { uncrossed: true },
  );
  const draft = new Draft(nets);
  let [width, y] = [0, 0];
  if (covered !== null) {
    const ladder = ladderModel(covered);
    draft.add(ladder, [0, 0]);
    [width, y] = ladder.size;
  }
  for (const line of placeRows(rows ?? [], ROWS_WIDE / PX_PER_MM, BESIDE / PX_PER_MM)) {
    let x: Px = EDGE;
    let tall: Px = 0;
    for (const each of line) {
      const model = rowsModel(each, circuit.id);
      draft.add(model, [x, y + EDGE]);
      x += model.size[0] + BESIDE;
      tall = Math.max(tall, model.size[1]);
    }
    width = Math.max(width, x - BESIDE + EDGE);
    y += tall + EDGE;
  }
  const model = draft.model(circuit.id, [width, y + (covered === null ? EDGE : 0)]);
  return { ...model, lines: withShares(model.lines, nets), covered: rows !== null };
}

/** Every wire of a net that no line stands for alone is told of the lines that are of several; where there is none, of all. */
function withShares(lines: readonly ModelLine[], nets: Nets): readonly ModelLine[] {
  const alone = new Set(lines.map(({ wire }) => wire));
  const rest = new Map<string, string[]>();
  for (const { id, from } of nets.wires) {
    if (alone.has(id)) continue;
    const net = nets.of(from);
    const known = rest.get(net);
    if (known === undefined) rest.set(net, [id]);
    else known.push(id);
  }
  const ofSeveral = new Set(lines.filter(({ wire }) => wire === null).map(({ net }) => net));
  return lines.map((line) => {
    const shares = rest.get(line.net);
    return shares === undefined || (line.wire !== null && ofSeveral.has(line.net)) ? line : { ...line, shares };
  });
}
