/** Trees of contacts for lamps that contacts light: supply by supply, and within it those apart that share no carrier. */
import type { Lie } from '../panel/index.ts';
import { planTree, type TreeLamp, type TreePlan } from './plan-tree.ts';
import type { Carrier, Hang, LampUse, LightTree, TreeLink } from './types.ts';

/** A lamp that finds no contact left. */
export interface LeftOut {
  readonly lamp: string;
  readonly carrier: Carrier;
  readonly needs: number;
}

export interface GrownTrees {
  /** By lamp. */
  readonly hangs: ReadonlyMap<string, Hang>;
  readonly trees: readonly LightTree[];
  readonly left: readonly LeftOut[];
}

type Cube = ReadonlyMap<Carrier, Lie>;

/** Plan them, in the order of the first lamp of each. Names of trees that no single lever decides are taken from `names`. */
export function growTrees(
  lamps: readonly LampUse[],
  cubes: ReadonlyMap<string, Cube>,
  names: { next(prefix: string): string },
  sides: 'plus' | 'both',
): GrownTrees {
  const hangs = new Map<string, Hang>();
  const trees: LightTree[] = [];
  const left: LeftOut[] = [];
  /** Contacts of each carrier that trees before this one took. */
  const taken = new Map<string, number>();
  for (const group of clusters(lamps, cubes)) {
    const [first] = group;
    if (first !== undefined) grow(group, first.supply ?? '');
  }
  return { hangs, trees, left };

  function grow(group: readonly LampUse[], supply: string): void {
    const carriers = new Map(
      group.flatMap((lamp) => [...(cubes.get(lamp.id)?.keys() ?? [])].map((each) => [each.id, each] as const)),
    );
    let lit = [...group];
    for (;;) {
      const found = planTree(
        lit.map((lamp): TreeLamp => ({ id: lamp.id, cube: cubeOf(lamp) })),
        [...carriers.values()].map(({ id, contacts }) => ({ id, contacts: contacts.length - (taken.get(id) ?? 0) })),
        { sides },
      );
      if (!('why' in found)) {
        if (lit.length > 0) plant(lit, supply, carriers, found);
        return;
      }
      const carrier = carriers.get(found.carrier);
      if (carrier === undefined) throw new RangeError(`no carrier ${found.carrier} among those of the lamps`);
      // Those that want a way through several contacts go first, then all that want this one.
      const wanting = lit.filter((lamp) => cubes.get(lamp.id)?.has(carrier));
      const far = wanting.filter((lamp) => (cubes.get(lamp.id)?.size ?? 0) > 1);
      const out = new Set(far.length > 0 ? far : wanting);
      for (const lamp of out) left.push({ lamp: lamp.id, carrier, needs: found.needs });
      lit = lit.filter((lamp) => !out.has(lamp));
    }
  }

  function plant(lit: readonly LampUse[], supply: string, all: ReadonlyMap<string, Carrier>, plan: TreePlan): void {
    const used = new Set(plan.contacts.map(({ carrier }) => carrier));
    const carriers = new Map([...all].filter(([id]) => used.has(id)));
    const links = plan.contacts.map((each): TreeLink => {
      const carrier = carriers.get(each.carrier);
      const id = carrier?.contacts[(taken.get(each.carrier) ?? 0) + each.which];
      if (carrier === undefined || id === undefined)
        throw new RangeError(`no contact ${each.which} of ${each.carrier}`);
      return { id, carrier, from: each.from, normal: each.normal, reverse: each.reverse };
    });
    for (const { carrier } of plan.contacts) taken.set(carrier, 1 + (taken.get(carrier) ?? 0));
    const into = new Map(
      links.flatMap((link) =>
        (['normal', 'reverse'] as const).flatMap((side) => {
          const node = link[side];
          return node === null ? [] : [[node, { link, side }] as const];
        }),
      ),
    );
    for (const { id, plus, minus } of plan.lamps) {
      const last = into.get(plus) ?? into.get(minus);
      const lamp = lit.find((each) => each.id === id);
      if (last === undefined || lamp === undefined) throw new RangeError(`lamp ${id} hangs on no contact`);
      hangs.set(id, { plus, minus, side: last.side, contact: last.link.id, cube: cubeOf(lamp) });
    }
    trees.push({
      circuit: circuitOf([...carriers.values()]),
      supply,
      links,
      lamps: lit.map(({ id }) => id),
      least: plan.least,
      proved: plan.proved,
    });
  }

  function cubeOf(lamp: LampUse): Readonly<Record<string, Lie>> {
    return Object.fromEntries([...(cubes.get(lamp.id) ?? [])].map(([carrier, lie]) => [carrier.id, lie]));
  }

  function circuitOf(carriers: readonly Carrier[]): string {
    const levers = new Set(carriers.map(({ lever }) => lever));
    const [lever] = levers;
    if (levers.size === 1 && lever !== null && lever !== undefined) return lever;
    const [only] = carriers;
    return carriers.length === 1 && only?.points[0] !== undefined ? only.points[0].point : names.next('TR');
  }
}

/** How many poles of each lever trees take. */
export function polesOf(trees: readonly LightTree[]): ReadonlyMap<string, number> {
  const poles = new Map<string, number>();
  for (const { carrier } of trees.flatMap(({ links }) => links))
    if (carrier.kind === 'lever') poles.set(carrier.id, 1 + (poles.get(carrier.id) ?? 0));
  return poles;
}

/** Lamps of one supply that share carriers, in the order of the lamps. */
function clusters(lamps: readonly LampUse[], cubes: ReadonlyMap<string, Cube>): readonly (readonly LampUse[])[] {
  const found: { supply: string | null; carriers: Set<Carrier>; lamps: LampUse[] }[] = [];
  for (const lamp of lamps) {
    const cube = cubes.get(lamp.id);
    if (cube === undefined) continue;
    const near = found.filter(
      (each) => each.supply === lamp.supply && [...cube.keys()].some((carrier) => each.carriers.has(carrier)),
    );
    const [first] = near;
    if (first === undefined) {
      found.push({ supply: lamp.supply, carriers: new Set(cube.keys()), lamps: [lamp] });
      continue;
    }
    for (const carrier of cube.keys()) first.carriers.add(carrier);
    first.lamps.push(lamp);
    for (const other of near.slice(1)) {
      for (const carrier of other.carriers) first.carriers.add(carrier);
      first.lamps.push(...other.lamps);
      found.splice(found.indexOf(other), 1);
    }
  }
  const order = new Map(lamps.map((lamp, i) => [lamp, i]));
  return found.map((each) => each.lamps.sort((a, b) => (order.get(a) ?? 0) - (order.get(b) ?? 0)));
}
