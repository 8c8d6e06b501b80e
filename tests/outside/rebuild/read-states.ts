/** Rebuilt circuits through ngspice, many in one run: each stands apart from the others but for node 0. */
import { runSpiceFull } from '../ngspice.ts';
import type { Rebuilt } from './circuit.ts';

/** What one rebuilt circuit reads. */
export interface State {
  /** Amps of each lamp, positive when it conducts; of those that wires lead to. */
  readonly lamps: ReadonlyMap<string, number>;
  /** Amps of each drive, positive from tag a to tag b. */
  readonly drives: ReadonlyMap<string, number>;
  /** Amps that each supply delivers. */
  readonly supplies: ReadonlyMap<string, number>;
  /** Volts of each terminal to the minus of the first supply; null where no element leads to it from a supply. */
  readonly volts: ReadonlyMap<string, number | null>;
  /** Terminals that nothing but diodes leads to. */
  readonly loose: ReadonlySet<string>;
}

/** Ohms from every node to node 0, so that what floats has an answer; 12 V through it are 120 pA. Much more, and ngspice finds no answer among many dark strings. */
const SHUNT = 1e11;

/** SPICE text of the circuits, node `n<circuit>_<net>`, and a source of 0 V at the foot of each lamp and drive. */
export function writeSpice(circuits: readonly Rebuilt[]): string {
  const models = new Map<string, string>();
  const lines: string[] = [];
  circuits.forEach(({ elements }, c) => {
    const node = (net: number): string => (net === 0 ? '0' : `n${c}_${net}`);
    elements.forEach((element, e) => {
      const name = `${c}_${e}`;
      const [a, b] = [node(element.a), node(element.b)];
      if (element.kind === 'supply') {
        const inner = element.ohms === 0 ? b : `e${name}`;
        lines.push(`VS${name} ${a} ${inner} DC ${element.volts}`);
        if (element.ohms !== 0) lines.push(`RS${name} ${inner} ${b} ${element.ohms}`);
      } else if (element.kind === 'ohms') lines.push(`R${name} ${a} ${b} ${element.ohms}`);
      else if (element.kind === 'drive') {
        if (element.ohms !== null) lines.push(`R${name} ${a} f${name} ${element.ohms}`, `VD${name} f${name} ${b} DC 0`);
      } else {
        const { is, n, rs } = element.law;
        const card = `D(IS=${is} N=${n} RS=${rs})`;
        const model = models.get(card) ?? `M${models.size}`;
        models.set(card, model);
        lines.push(`D${name} ${a} f${name} ${model}`, `VL${name} f${name} ${b} DC 0`);
      }
    });
  });
  return [
    'circuits rebuilt from lists',
    ...lines,
    ...[...models].map(([card, model]) => `.model ${model} ${card}`),
    `.options temp=27 tnom=27 reltol=1e-6 abstol=1e-12 vntol=1e-7 itl1=500 rshunt=${SHUNT}`,
    '.op',
    '.end',
    '',
  ].join('\n');
}

/** Readings of each circuit, in order. Throws what ngspice says where it finds no operating point. */
export function readStates(circuits: readonly Rebuilt[]): readonly State[] {
  return circuits.map((each) => readState(each));
}

/** One at a time: many dark strings in one run are more than ngspice's stepping bears. */
function readState(circuit: Rebuilt): State {
  const circuits = [circuit];
  const { amps, volts } = runSpiceFull(writeSpice(circuits));
  const ampsOf = (name: string): number => amps.get(name) ?? Number.NaN;
  const voltsOf = (c: number, net: number): number => (net === 0 ? 0 : (volts.get(`n${c}_${net}`) ?? Number.NaN));
  const [state] = circuits.map(({ elements, nets, floating, loose }, c): State => {
    const lamps = new Map<string, number>();
    const drives = new Map<string, number>();
    const supplies = new Map<string, number>();
    elements.forEach((element, e) => {
      if (element.kind === 'lamp') lamps.set(element.id, ampsOf(`vl${c}_${e}`));
      if (element.kind === 'drive') drives.set(element.id, element.ohms === null ? 0 : ampsOf(`vd${c}_${e}`));
      if (element.kind === 'supply') supplies.set(element.id, -ampsOf(`vs${c}_${e}`));
    });
    return {
      lamps,
      drives,
      supplies,
      loose: new Set([...nets].flatMap(([name, net]) => (loose.has(net) ? [name] : []))),
      volts: new Map([...nets].map(([name, net]) => [name, floating.has(net) ? null : voltsOf(c, net)])),
    };
  });
  if (state === undefined) throw new RangeError('no circuit to read');
  return state;
}
