/**
 * A topology with values: solves it as often as asked, without taking new memory.
 *
 * Idea: as in `newton`: every diode is its tangent, the correction is found by elimination along the piece's tape, junctions are
 * stopped where the tangent leads too far. Chains between known clusters are read off their law alone. A block that hangs on
 * ports of unknown volts takes part in a step of the whole: `forward` takes its clusters out and leaves what stands between its
 * ports, `backward` brings the ports' step back in.
 */
import { boundedExp, boundedExpm1, junctionOf } from './diode-law.ts';
import { patientLimit, quickLimit } from './newton.ts';
import { Role } from './read-netlist.ts';
import {
  CLOSE_STEP,
  CURRENT_FLOOR,
  CURRENT_SHARE,
  DARK_SIEMENS,
  KNEE_AMPS,
  MOST_EXPONENT,
  NEWTON_STEPS,
  QUICK_STEPS,
} from './tolerances.ts';
import type { PieceTape, Topology } from './topology.ts';

/** Values of the elements, by element. */
export interface Values {
  readonly emf: Float64Array;
  /** Of resistors, wires, contacts and sources: ohms. Of diodes: ohms in series. */
  readonly ohms: Float64Array;
  readonly is: Float64Array;
  readonly lnIs: Float64Array;
  readonly nvt: Float64Array;
}

export class Instance {
  /** Volts of every cluster's zero to the known cluster of its island (to the first port). */
  readonly x: Float64Array;
  /** Amps of every edge, from its first to its second cluster. */
  readonly amps: Float64Array;
  /** Volts of every node above its cluster's zero. */
  readonly offset: Float64Array;
  /** Siemens at every place after a step: of a port's cluster to the first port, of a pair of ports between them. */
  readonly g: Float64Array;
  /** Amps that flow into each cluster and find no way out. */
  readonly left: Float64Array;
  readonly step: Float64Array;
  /** Steps of the last solve; the greatest of its pieces. */
  steps = 0;
  /** Version of the values that are loaded. */
  version = -1;
  /** Version of the volts of sources that are loaded. */
  voltsVersion = -1;
  private readonly shift: Float64Array;
  private readonly siemens: Float64Array;
  private readonly is: Float64Array;
  private readonly nvt: Float64Array;
  private readonly rs: Float64Array;
  private readonly knee: Float64Array;
  /** Junction volts of each diode, and e to them over nVt. */
  private readonly junction: Float64Array;
  private readonly exp: Float64Array;
  private readonly slope: Float64Array;
  private readonly held: Float64Array;
  private readonly heldAt: Int32Array;

  constructor(readonly topology: Topology) {
    const { clusters, edges, places } = topology;
    // One buffer for all: of many small ones most of the time goes into asking for memory.
    const nodes = topology.cluster.length;
    this.heldAt = heldPlaces(topology);
    const buffer = new ArrayBuffer(8 * (3 * clusters + nodes + places + 10 * edges + this.heldAt.length));
    let first = 0;
    const array = (size: number): Float64Array => {
      const made = new Float64Array(buffer, 8 * first, size);
      first += size;
      return made;
    };
    this.x = array(clusters);
    this.left = array(clusters);
    this.step = array(clusters);
    this.offset = array(nodes);
    this.g = array(places);
    this.amps = array(edges);
    this.shift = array(edges);
    this.siemens = array(edges);
    this.is = array(edges);
    this.nvt = array(edges);
    this.rs = array(edges);
    this.knee = array(edges);
    this.junction = array(edges);
    this.exp = array(edges).fill(1);
    this.slope = array(edges);
    this.held = array(this.heldAt.length);
  }

  /** Takes the values in. The state of the junctions stays. */
  load(values: Values): void {
    const { shape, edges, start, member } = this.topology;
    const { role } = shape;
    this.loadVolts(values);
    for (let e = 0; e < edges; e++) {
      let ohms = 0;
      let n = 0;
      let logs = 0;
      let only = 0;
      for (let k = start[e] as number; k < (start[e + 1] as number); k++) {
        const m = member[k] as number;
        ohms += values.ohms[m] as number;
        if (role[m] !== Role.diode) continue;
        const nvt = values.nvt[m] as number;
        // The only law of a chain, or of a chain of one law, is not rounded.
        only = n === 0 || only === values.is[m] ? (values.is[m] as number) : -1;
        n += nvt;
        logs += nvt * (values.lnIs[m] as number);
      }
      if (n === 0) {
        this.siemens[e] = 1 / ohms;
        continue;
      }
      const is = only > 0 ? only : Math.exp(logs / n);
      this.is[e] = is;
      this.nvt[e] = n;
      this.rs[e] = ohms;
      this.knee[e] = n * Math.log1p(KNEE_AMPS / is);
    }
  }

  /** Takes in the volts of sources alone. */
  loadVolts(values: Values): void {
    const { tree, shape, edges, start, member, sign } = this.topology;
    const { from, to } = shape;
    const { offset } = this;
    for (let k = 0; k < tree.length; k += 4) {
      const volts = (tree[k + 3] as number) * (values.emf[tree[k + 2] as number] as number);
      offset[tree[k] as number] = (offset[tree[k + 1] as number] as number) + volts;
    }
    for (let e = 0; e < edges; e++) {
      let shift = 0;
      for (let k = start[e] as number; k < (start[e + 1] as number); k++) {
        const m = member[k] as number;
        const apart = (offset[from[m] as number] as number) - (offset[to[m] as number] as number);
        shift += (sign[k] as number) * (apart - (values.emf[m] as number));
      }
      this.shift[e] = shift;
    }
  }

  /** Forgets the last answer: the next solve starts from 0 V. */
  chill(): void {
    this.x.fill(0);
    this.junction.fill(0);
    this.exp.fill(1);
  }

  /** Puts a port's cluster at so many volts above the first port's node. */
  setPort(port: number, volts: number): void {
    const { shape, portCluster } = this.topology;
    const zero = this.offset[shape.ports[0] as number] as number;
    const own = this.offset[shape.ports[port] as number] as number;
    this.x[portCluster[port] as number] = volts - own + zero;
  }

  /** Solves with the ports as they stand; false where a piece does not settle. Siemens between the ports are in `g`. */
  solve(): boolean {
    const { pieces, portCluster } = this.topology;
    this.steps = 0;
    const ported = portCluster.length > 1;
    if (ported) this.clearPorts();
    this.readDirect(ported);
    for (let p = 0; p < pieces.length; p++) {
      if (ported) this.hold();
      if (!this.settle(pieces[p] as PieceTape, ported)) return false;
    }
    return true;
  }

  /** Amps that flow from outside into a port, by the amps of the edges. */
  portAmps(port: number): number {
    const { edgeFrom, edgeTo, edges, portCluster } = this.topology;
    const c = portCluster[port] as number;
    let sum = 0;
    for (let e = 0; e < edges; e++) {
      if (edgeFrom[e] === c) sum += this.amps[e] as number;
      if (edgeTo[e] === c) sum -= this.amps[e] as number;
    }
    return sum;
  }

  /** One step of the whole, the first half: what the block looks like from its ports is left in `g` and `left`. */
  forward(): void {
    const { pieces, directLines, directJunctions } = this.topology;
    this.clearPorts();
    this.assemble(directLines, directJunctions);
    for (let p = 0; p < pieces.length; p++) {
      const piece = pieces[p] as PieceTape;
      this.clear(piece);
      this.assemble(piece.lines, piece.junctions);
      this.eliminate(piece);
    }
  }

  /** The second half: `step` of the ports' clusters is given. True where every junction has settled; `round` counts from 1. */
  backward(round: number): boolean {
    const { pieces, directJunctions, directLines, portCluster } = this.topology;
    const { x, step } = this;
    let settled = true;
    for (let p = 0; p < pieces.length; p++) this.substitute(pieces[p] as PieceTape);
    for (let p = 0; p < pieces.length; p++) {
      const { clusters } = pieces[p] as PieceTape;
      for (let k = 0; k < clusters.length; k++) {
        const c = clusters[k] as number;
        x[c] = (x[c] as number) + (step[c] as number);
      }
    }
    for (let p = 1; p < portCluster.length; p++) {
      const c = portCluster[p] as number;
      x[c] = (x[c] as number) + (step[c] as number);
    }
    for (let p = 0; p < pieces.length; p++) {
      const piece = pieces[p] as PieceTape;
      if (!this.update(piece.junctions, round)) settled = false;
      this.readLines(piece.lines);
    }
    if (!this.update(directJunctions, round)) settled = false;
    this.readLines(directLines);
    return settled;
  }

  private settle(piece: PieceTape, ported: boolean): boolean {
    const { clusters, lines, junctions } = piece;
    const { x, step } = this;
    const count = junctions[1] - junctions[0];
    // A linear piece is done by one step; a second one sweeps up the rounding of the first, here and where all diodes are dark.
    const last = count === 0 ? 2 : NEWTON_STEPS;
    for (let round = 1; round <= last; round++) {
      this.clear(piece);
      if (ported) this.release();
      this.assemble(lines, junctions);
      this.eliminate(piece);
      this.substitute(piece);
      let most = 0;
      for (let k = 0; k < clusters.length; k++) {
        const c = clusters[k] as number;
        const moved = step[c] as number;
        x[c] = (x[c] as number) + moved;
        most = Math.max(most, Math.abs(moved));
      }
      const settled = this.update(junctions, round);
      if (settled && (round > 1 || most <= CLOSE_STEP)) {
        this.readLines(lines);
        this.steps = Math.max(this.steps, round);
        return true;
      }
    }
    return false;
  }

  private clear(piece: PieceTape): void {
    const { clusters, slots } = piece;
    const { g, left } = this;
    for (let k = 0; k < clusters.length; k++) {
      const c = clusters[k] as number;
      g[c] = 0;
      left[c] = 0;
    }
    for (let k = slots[0]; k < slots[1]; k++) g[k] = 0;
  }

  private clearPorts(): void {
    const { g, left, heldAt, step } = this;
    const { portCluster } = this.topology;
    for (let k = 0; k < heldAt.length; k++) g[heldAt[k] as number] = 0;
    for (let k = 0; k < portCluster.length; k++) {
      left[portCluster[k] as number] = 0;
      step[portCluster[k] as number] = 0;
    }
  }

  private hold(): void {
    const { g, held, heldAt } = this;
    for (let k = 0; k < heldAt.length; k++) held[k] = g[heldAt[k] as number] as number;
  }

  private release(): void {
    const { g, held, heldAt } = this;
    for (let k = 0; k < heldAt.length; k++) g[heldAt[k] as number] = held[k] as number;
  }

  /** Adds branches as they stand: siemens to their places, amps out of one end and into the other. */
  private assemble(lines: readonly [number, number], junctions: readonly [number, number]): void {
    const { x, g, left, shift, siemens, amps, slope } = this;
    const { edgeFrom, edgeTo, place } = this.topology;
    for (let e = lines[0]; e < lines[1]; e++) {
      const a = edgeFrom[e] as number;
      const b = edgeTo[e] as number;
      const s = siemens[e] as number;
      const i = s * ((x[a] as number) - (x[b] as number) + (shift[e] as number));
      left[a] = (left[a] as number) - i;
      left[b] = (left[b] as number) + i;
      const at = place[e] as number;
      g[at] = (g[at] as number) + s;
    }
    const { is, nvt, rs, junction, exp } = this;
    for (let e = junctions[0]; e < junctions[1]; e++) {
      const a = edgeFrom[e] as number;
      const b = edgeTo[e] as number;
      const own = is[e] as number;
      const power = exp[e] as number;
      const tangent = (own * power) / (nvt[e] as number);
      const whole = 1 + tangent * (rs[e] as number);
      const volts = (x[a] as number) - (x[b] as number) + (shift[e] as number);
      // The tangent, read at the volts as they stand (they differ from the junction's where it was stopped).
      const i = (own * (power - 1) + tangent * (volts - (junction[e] as number))) / whole;
      const s = tangent / whole;
      amps[e] = i;
      slope[e] = s;
      left[a] = (left[a] as number) - i;
      left[b] = (left[b] as number) + i;
      const at = place[e] as number;
      g[at] = (g[at] as number) + Math.max(s, DARK_SIEMENS);
    }
  }

  private eliminate(piece: PieceTape): void {
    const { g, left } = this;
    const { tape } = piece;
    const steps = piece.at.length;
    let t = 0;
    for (let step = 0; step < steps; step++) {
      const k = tape[t] as number;
      const count = tape[t + 1] as number;
      const first = t + 2;
      const end = first + 2 * count;
      const ground = g[k] as number;
      const fed = left[k] as number;
      let sum = ground;
      for (let m = first; m < end; m += 2) sum += g[tape[m] as number] as number;
      // The sum is kept in the place of the siemens to the known cluster, for the way back.
      g[k] = sum;
      t = end + (count * (count - 1)) / 2;
      if (!(sum > 0)) continue;
      let pair = end;
      for (let m = first; m < end; m += 2) {
        const share = (g[tape[m] as number] as number) / sum;
        const c = tape[m + 1] as number;
        g[c] = (g[c] as number) + share * ground;
        left[c] = (left[c] as number) + share * fed;
        for (let q = m + 2; q < end; q += 2) {
          const slot = tape[pair++] as number;
          g[slot] = (g[slot] as number) + share * (g[tape[q] as number] as number);
        }
      }
    }
  }

  private substitute(piece: PieceTape): void {
    const { g, left, step } = this;
    const { tape, at } = piece;
    for (let s = at.length - 1; s >= 0; s--) {
      const t = at[s] as number;
      const k = tape[t] as number;
      const end = t + 2 + 2 * (tape[t + 1] as number);
      const sum = g[k] as number;
      let drive = left[k] as number;
      for (let m = t + 2; m < end; m += 2)
        drive += (g[tape[m] as number] as number) * (step[tape[m + 1] as number] as number);
      step[k] = sum > 0 ? drive / sum : 0;
    }
  }

  /** Moves junctions to where the step leads, as far as the limiter lets them. True where all agree with their law. */
  private update(junctions: readonly [number, number], round: number): boolean {
    const { x, step, shift, amps, slope, is, nvt, rs, junction, exp, knee } = this;
    const { edgeFrom, edgeTo } = this.topology;
    let settled = true;
    for (let e = junctions[0]; e < junctions[1]; e++) {
      const a = edgeFrom[e] as number;
      const b = edgeTo[e] as number;
      const n = nvt[e] as number;
      const own = is[e] as number;
      const i = (amps[e] as number) + (slope[e] as number) * ((step[a] as number) - (step[b] as number));
      amps[e] = i;
      const volts = (x[a] as number) - (x[b] as number) + (shift[e] as number) - (rs[e] as number) * i;
      const old = junction[e] as number;
      const stopped =
        round <= QUICK_STEPS
          ? quickLimit(old, volts, i, own, n, knee[e] as number)
          : patientLimit(old, volts, n, knee[e] as number);
      const u = stopped / n;
      const power = u <= MOST_EXPONENT ? Math.exp(u) : boundedExp(u);
      junction[e] = stopped;
      exp[e] = power;
      if (stopped !== volts) settled = false;
      else {
        const law = own * (power - 1);
        const most = Math.max(Math.abs(law), Math.abs(i));
        if (!(Math.abs(law - i) <= CURRENT_FLOOR + CURRENT_SHARE * most)) settled = false;
      }
    }
    return settled;
  }

  private readLines(lines: readonly [number, number]): void {
    const { x, shift, siemens, amps } = this;
    const { edgeFrom, edgeTo } = this.topology;
    for (let e = lines[0]; e < lines[1]; e++) {
      const volts = (x[edgeFrom[e] as number] as number) - (x[edgeTo[e] as number] as number) + (shift[e] as number);
      amps[e] = (siemens[e] as number) * volts;
    }
  }

  /** Chains between known clusters, by their law alone. */
  private readDirect(ported: boolean): void {
    const { x, g, shift, siemens, amps, is, nvt, rs } = this;
    const { edgeFrom, edgeTo, place, directLines, directJunctions } = this.topology;
    this.readLines(directLines);
    if (ported) {
      for (let e = directLines[0]; e < directLines[1]; e++) {
        const at = place[e] as number;
        g[at] = (g[at] as number) + (siemens[e] as number);
      }
    }
    for (let e = directJunctions[0]; e < directJunctions[1]; e++) {
      const own = is[e] as number;
      const n = nvt[e] as number;
      const volts = (x[edgeFrom[e] as number] as number) - (x[edgeTo[e] as number] as number) + (shift[e] as number);
      const y = junctionOf(own, n, rs[e] as number, volts);
      amps[e] = own * boundedExpm1(y);
      if (!ported) continue;
      const tangent = (own * boundedExp(y)) / n;
      const at = place[e] as number;
      g[at] = (g[at] as number) + tangent / (1 + tangent * (rs[e] as number));
    }
  }
}

/** Places that stand between ports: of each after the first its cluster, then that of every two. */
function heldPlaces({ portCluster, portPlace }: Topology): Int32Array {
  const found: number[] = [];
  for (let port = 1; port < portCluster.length; port++) found.push(portCluster[port] as number);
  portPlace.forEach((row, p) => {
    for (let q = p + 1; q < row.length; q++) if ((row[q] as number) >= 0) found.push(row[q] as number);
  });
  return Int32Array.from(found);
}
