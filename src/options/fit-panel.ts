/**
 * What goes with other drives, feeds and lamps: switches with the poles that are wanted and no more, supplies and fuses that hold, and
 * connectors with enough ways. Read off the panel as it is wired, again until nothing changes.
 */
import { type Derived, rederive } from '../derive.ts';
import { sizeOf, switchLike } from '../laying/index.ts';
import { DEFAULTS, type Edit, nextFreeId, nextFreeLetters } from '../panel/index.ts';
import type { Catalogue, ConnectorPart, SwitchPart } from '../parts/index.ts';
import { sizeFuse, sizeSupply } from '../wiring/index.ts';
import { LEAST_SUPPLY, MOST_SHARES, ROUNDS } from './tolerances.ts';

/** Let the tool choose every switch: what lamps may take of its poles is not bound by the part that was there. */
export function loosenSwitches(edit: Edit): void {
  for (const lever of edit.panel.levers ?? [])
    if (lever.switch !== undefined) edit.update('levers', lever.id, { switch: undefined });
}

/** Fit what goes with the edit so far; the answer is what follows from the panel at its end. */
export function fitPanel(edit: Edit, present: Derived): Derived {
  let derived = rederive(present, edit.panel);
  nameSwitches(edit, present, derived);
  for (let round = 0; round < ROUNDS; round++) {
    if (!shareSupplies(edit, derived)) raiseSupplies(edit, derived);
    freePins(edit, derived);
    addConnectors(edit, derived);
    if (edit.panel === derived.panel) break;
    derived = rederive(present, edit.panel);
  }
  liftConnectors(edit, derived);
  return edit.panel === derived.panel ? derived : rederive(present, edit.panel);
}

/** Levers whose switch the file names get one of its family with the poles that are wanted; the old one where it is that or is there already. */
function nameSwitches(edit: Edit, { panel, catalogue }: Derived, { switches }: Derived): void {
  const before = new Map((panel.levers ?? []).map((record) => [record.id as string, record]));
  for (const { lever, part, used } of switches) {
    const record = before.get(lever);
    const old = record?.switch === undefined ? undefined : catalogue.find('switch', record.switch);
    if (record === undefined || old === undefined) continue;
    const does = old.poles >= used && old.sprung === part.sprung;
    const keep = does && (record.existing === true || sizeOf(old.id) === null);
    const to = keep ? old : sameFamily(catalogue, old, part);
    edit.update('levers', lever, {
      switch: to.id,
      existing: to.id === old.id ? record.existing : undefined,
    });
  }
}

/** As many poles as the part that the tool would take and acting as it does, of the family of the old one where that has such. */
function sameFamily(catalogue: Catalogue, old: SwitchPart, part: SwitchPart): SwitchPart {
  const size = sizeOf(old.id);
  if (size === null) return part;
  const action = part.sprung ? 'sprung' : old.centreOff ? 'centre-off' : 'held';
  return switchLike(catalogue, part, { action, size }) ?? part;
}

/**
 * Where the fuse that a supply wants is above what the thinnest wire behind it carries, its levers are shared among supplies alike, in
 * their order, each with a fuse that guards the wire. True where that is done; not where the levers have no records, or it takes too many.
 */
function shareSupplies(edit: Edit, { wiring, loom, catalogue }: Derived): boolean {
  const records = new Map((edit.panel.levers ?? []).map((record) => [record.id as string, record]));
  for (const { id, kind, volts, worstAmps, circuits } of wiring.supplies) {
    if (kind !== 'dc') continue;
    const behind = new Set([...circuits, id]);
    const gauge = Math.min(...loom.wires.flatMap((wire) => (behind.has(wire.circuit) ? [wire.gauge] : [])));
    const wire = Math.max(0, ...catalogue.all('wire').flatMap((part) => (part.gauge <= gauge ? [part.amps] : [])));
    const guards = (worst: number) => sizeFuse({ worst, wire, limit: null }).verdict === 'ok';
    if (guards(worstAmps)) continue;
    const fed = wiring.circuits.flatMap((circuit) => {
      const held = circuit.supply === id && (circuit.feed === 'reversing' || circuit.feed === 'contact');
      const record = records.get(circuit.id);
      if (!held || record === undefined || circuit.feed === null) return [];
      const drives = wiring.drives.filter((drive) => drive.circuit === circuit.id);
      const draw = drives.reduce((sum, { part, ohms }) => {
        const rests = ohms === null ? (part.inputAmps ?? 0) : volts / ohms;
        return sum + Math.max(rests, part.runAmps ?? 0);
      }, 0);
      return [{ record, feed: circuit.feed, draw }];
    });
    // What else hangs on it stays.
    let sum = worstAmps - fed.reduce((total, { draw }) => total + draw, 0);
    const shares: (typeof fed)[] = [[]];
    for (const each of fed) {
      if (!guards(sum + each.draw)) {
        shares.push([]);
        sum = 0;
      }
      sum += each.draw;
      shares.at(-1)?.push(each);
    }
    if (shares.length === 1 || shares.length > MOST_SHARES || fed.some(({ draw }) => !guards(draw))) continue;
    for (const share of shares.slice(1)) {
      const other = nextFreeId(edit.panel, 'S');
      const { amps } = sizeSupply(share.reduce((total, { draw }) => total + draw, 0));
      edit.add('supplies', { id: other, volts, amps: amps ?? LEAST_SUPPLY });
      for (const { record, feed } of share)
        edit.update('levers', record.id, { feed: { kind: feed, supplies: [other] } });
    }
    return true;
  }
  return false;
}

/** Supplies that are too small for what they now feed are taken larger; a fuse of the file that would blow is left to the tool. */
function raiseSupplies(edit: Edit, { wiring }: Derived): void {
  for (const { id, kind, amps, worstAmps, holdAmps, fuse } of wiring.supplies) {
    const record = edit.panel.supplies?.find((each) => each.id === id);
    if (record === undefined || kind === 'cdu') continue;
    const small = worstAmps > amps;
    const needs = fuse?.act === 'slow' ? holdAmps : worstAmps;
    const blows = fuse?.given === true && fuse.amps < needs;
    const { amps: rating } = sizeSupply(worstAmps);
    if (!(small && rating !== null) && !blows) continue;
    edit.update('supplies', id, {
      ...(small && rating !== null ? { amps: rating } : {}),
      ...(blows ? { fuse: undefined } : {}),
    });
  }
}

/** Pins and wires that the file fixes to what is no more are let go. */
function freePins(edit: Edit, { wiring }: Derived): void {
  for (const problem of wiring.problems) {
    if (problem.code === 'wire-joins-nothing' && edit.panel.wires?.some(({ id }) => id === problem.wire) === true)
      edit.remove('wires', problem.wire);
    if (problem.code !== 'pin-leads-nowhere') continue;
    const record = edit.panel.connectors?.find(({ id }) => id === problem.connector);
    if (record?.pins === undefined) continue;
    const left = Object.entries(record.pins).filter(([pin]) => pin !== problem.pin);
    edit.update('connectors', record.id, { pins: left.length === 0 ? undefined : Object.fromEntries(left) });
  }
}

/** Shells for what found no pin, the smallest that holds it with the usual share to spare, unlike those that are there. */
function addConnectors(edit: Edit, { wiring, catalogue }: Derived): void {
  const full = wiring.problems.find((problem) => problem.code === 'connector-full');
  if (full?.code !== 'connector-full') return;
  const placed = wiring.connectors.reduce((sum, { pins }) => sum + pins.length, 0);
  const lacks = Math.max(1, full.needs - placed);
  const shells = catalogue
    .all('connector')
    .filter(({ family }) => family === 'dsub')
    .sort((a, b) => a.ways - b.ways);
  const room = ({ ways }: ConnectorPart) => ways - Math.ceil(ways * DEFAULTS.connector.spare);
  const there = new Set(wiring.connectors.map(({ part, panelHalf }) => `${part.id} ${panelHalf}`));
  const enough = shells.filter((each) => room(each) >= lacks);
  const choices = enough.length > 0 ? enough : shells.slice(-1);
  const halves = ['socket', 'plug'] as const;
  const pair = halves
    .flatMap((panelHalf) => choices.map((part) => ({ part, panelHalf })))
    .find(({ part, panelHalf }) => !there.has(`${part.id} ${panelHalf}`));
  const [usual] = choices;
  if (usual === undefined) return;
  const { part, panelHalf } = pair ?? { part: usual, panelHalf: 'socket' as const };
  edit.add('connectors', { id: nextFreeLetters(edit.panel), part: part.id, panelHalf });
}

/** Shells of the file that carry nothing any more go, but for what is soldered. */
function liftConnectors(edit: Edit, { panel, wiring }: Derived): void {
  const soldered = new Set(Object.keys(panel.built?.pins ?? {}).map((pin) => pin.slice(0, pin.indexOf('.'))));
  for (const { id, pins, recorded } of wiring.connectors)
    if (recorded && pins.length === 0 && !soldered.has(id)) edit.remove('connectors', id);
}
