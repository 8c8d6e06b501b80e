/** Gathers what is drawn of a circuit. */
import type { Spot } from '../../units/index.ts';
import type { Terminal } from '../../wiring/index.ts';
import type { Nets } from '../nets.ts';
import type {
  CircuitModel,
  ModelArrow,
  ModelChip,
  ModelDot,
  ModelFrame,
  ModelLine,
  ModelLink,
  ModelMark,
  ModelSymbol,
  ModelValue,
} from './types.ts';

const NONE: readonly string[] = [];

/** The parts of a model while it is drawn. */
export class Draft {
  readonly symbols: ModelSymbol[] = [];
  readonly lines: ModelLine[] = [];
  readonly dots: ModelDot[] = [];
  readonly marks: ModelMark[] = [];
  readonly chips: ModelChip[] = [];
  readonly values: ModelValue[] = [];
  readonly arrows: ModelArrow[] = [];
  readonly frames: ModelFrame[] = [];
  readonly links: ModelLink[] = [];
  private readonly named = new Set<string>();

  constructor(private readonly nets: Nets) {}

  /** A conductor that has the volts of a terminal; `wire`: the one that ends there, unless several share it. */
  line(node: Terminal, from: Spot, to: Spot, shared = false): void {
    if (from[0] === to[0] && from[1] === to[1]) return;
    const wire = shared ? null : (this.nets.bringer(node)?.id ?? null);
    this.lines.push({ net: this.nets.of(node), node, wire, shares: NONE, from, to });
  }

  dot(node: Terminal, at: Spot): void {
    this.dots.push({ net: this.nets.of(node), at });
  }

  /** The letters of the wire that comes to a terminal, once; nothing where none comes. */
  chip(node: Terminal, at: Spot): void {
    const wire = this.nets.bringer(node);
    if (wire === null || this.named.has(wire.id)) return;
    this.named.add(wire.id);
    this.chips.push({ wire: wire.id, colour: wire.colour, net: this.nets.of(node), node, at });
  }

  volts(terminal: Terminal, at: Spot): void {
    this.values.push({ of: { volts: terminal }, at });
  }

  amps(part: string, at: Spot): void {
    this.values.push({ of: { amps: part }, at });
  }

  /** Points down where a positive current of the element flows down. */
  arrow(of: string, at: Spot, turn: ModelArrow['turn']): void {
    this.arrows.push({ of, at, turn });
  }

  /** Everything of another drawing, moved by so much. */
  add(other: Omit<CircuitModel, 'circuit' | 'size' | 'covered'>, [dx, dy]: Spot): void {
    const by = ([x, y]: Spot): Spot => [x + dx, y + dy];
    this.symbols.push(
      ...other.symbols.map((each) => ({
        ...each,
        at: by(each.at),
        words: { ...each.words, at: by(each.words.at) },
        ends: each.ends.map((end) => ({ ...end, at: by(end.at) })),
      })),
    );
    this.lines.push(...other.lines.map((each) => ({ ...each, from: by(each.from), to: by(each.to) })));
    this.dots.push(...other.dots.map((each) => ({ ...each, at: by(each.at) })));
    this.marks.push(
      ...other.marks.map((each) => ({
        ...each,
        at: by(each.at),
        box: each.box === null ? null : { ...each.box, at: by(each.box.at) },
      })),
    );
    this.chips.push(...other.chips.map((each) => ({ ...each, at: by(each.at) })));
    this.values.push(...other.values.map((each) => ({ ...each, at: by(each.at) })));
    this.arrows.push(...other.arrows.map((each) => ({ ...each, at: by(each.at) })));
    this.frames.push(...other.frames.map((each) => ({ ...each, at: by(each.at) })));
    this.links.push(...other.links.map((each) => ({ ...each, from: by(each.from), to: by(each.to) })));
  }

  model(circuit: string, size: Spot): CircuitModel {
    const { symbols, lines, dots, marks, chips, values, arrows, frames, links } = this;
    return { circuit, size, symbols, lines, dots, marks, chips, values, arrows, frames, links, covered: true };
  }
}
