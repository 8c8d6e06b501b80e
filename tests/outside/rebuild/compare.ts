/** The product's readings beside those of the rebuilt circuit, and the pin list beside the wire list. */
import { driveOf, type Lists } from './circuit.ts';
import type { PanelFacts, Position } from './panel-facts.ts';
import type { State } from './read-states.ts';

/** What the product says of one setting of the levers, as `solve` answers it. */
export interface Said {
  readonly lamps: readonly { readonly id: string; readonly amps: number }[];
  readonly drives: readonly { readonly point: string; readonly amps: number; readonly moves: string | null }[];
}

/**
 * Agreement is within a hundred-thousandth, or 0.1 uA where that is more. Lamps would bear a thousandth, and are seen from 0.2 mA; but a wire
 * under the layout counted one way and not both changes a drive's current by some ten-thousandths, and that must be seen.
 */
const SHARE = 1e-5;
const LEAST_AMPS = 1e-7;

/** Amps above which a drive is asked to go somewhere: a limit-switched one that has run carries less than 0.1 mA. */
const ASKED_AMPS = 1e-4;

/** Worst differences met, and what disagreed, in words. */
export class Comparison {
  readonly disagreements: string[] = [];
  readings = 0;
  /** Greatest difference in A, over all readings. */
  worstAmps = 0;
  /** Greatest difference as a share, over readings of 0.1 uA and more. */
  worstShare = 0;

  amps(what: string, said: number, read: number): void {
    const off = Math.abs(said - read);
    this.readings += 1;
    if (off > this.worstAmps) this.worstAmps = off;
    if (Math.abs(read) >= LEAST_AMPS && off / Math.abs(read) > this.worstShare) this.worstShare = off / Math.abs(read);
    if (!(off <= Math.max(LEAST_AMPS, SHARE * Math.abs(read))))
      this.disagreements.push(`${what}: ${said} A said, ${read} A read`);
  }

  same(what: string, said: unknown, found: unknown): void {
    if (said !== found) this.disagreements.push(`${what}: ${String(said)} said, ${String(found)} found`);
  }

  /** A line that can be quoted. */
  words(): string {
    return `${this.readings} readings, worst ${this.worstAmps.toExponential(2)} A, ${this.worstShare.toExponential(2)} of the reading`;
  }
}

/**
 * Every lamp of the panel and every point with a drive. `only`: what the wires of one lever lead to and no more. A lamp that no wire
 * leads to carries nothing.
 */
export function compareReadings(
  into: Comparison,
  where: string,
  said: Said,
  read: State,
  facts: PanelFacts,
  whole: boolean,
): void {
  const saidLamps = new Map(said.lamps.map((lamp) => [lamp.id, lamp.amps]));
  for (const id of whole ? facts.lamps.keys() : read.lamps.keys())
    into.amps(`${where}: ${id}`, saidLamps.get(id) ?? Number.NaN, read.lamps.get(id) ?? 0);
  if (whole) for (const id of saidLamps.keys()) into.same(`${where}: ${id} is in the file`, facts.lamps.has(id), true);
  const saidPoints = new Map(said.drives.map((drive) => [drive.point, drive]));
  for (const drive of facts.drives.values()) {
    if (!whole && !read.drives.has(drive.id)) continue;
    const amps = read.drives.get(drive.id) ?? 0;
    for (const point of drive.points) {
      const sign = (drive.positive === 'normal') === point.same ? 1 : -1;
      into.amps(`${where}: ${point.id}`, saidPoints.get(point.id)?.amps ?? Number.NaN, sign * amps);
    }
  }
}

/** What the file asks of each point against where the rebuilt current sends it; drives that have cut themselves off tell nothing. */
export function compareLies(
  into: Comparison,
  where: string,
  levers: Readonly<Record<string, Position>>,
  read: State,
  facts: PanelFacts,
  of: ReadonlySet<string>,
): void {
  for (const lever of facts.levers.filter((each) => of.has(each.id))) {
    const position = levers[lever.id] ?? 'normal';
    for (const { point, opposite } of lever.works) {
      const drive = [...facts.drives.values()].find((each) => each.points.some(({ id }) => id === point));
      if (drive === undefined || drive.ohms === null) continue;
      const same = drive.points.find(({ id }) => id === point)?.same === true;
      const amps = read.drives.get(drive.id) ?? 0;
      const goesNormal = amps > 0 === ((drive.positive === 'normal') === same);
      const goes = Math.abs(amps) < ASKED_AMPS ? 'nowhere' : goesNormal ? 'normal' : 'reverse';
      const asked = position === 'centre' ? 'nowhere' : opposite === (position === 'normal') ? 'reverse' : 'normal';
      into.same(`${where}: ${point} goes`, asked, goes);
    }
  }
}

/** Amps at which a lamp shows, and below which it is dark: it is seen from 0.2 mA, and dark below a twentieth of that. */
const LIT_AMPS = 2e-4;
const DARK_AMPS = 1e-5;

/** Lamps of which it is known what they show: lit where every lie that they show is asked, dark elsewhere. Levers in the centre ask nothing. */
export function compareShows(
  into: Comparison,
  where: string,
  levers: Readonly<Record<string, Position>>,
  read: State,
  facts: PanelFacts,
): void {
  const asked = new Map(
    facts.levers.flatMap((lever) =>
      lever.works.map(({ point, opposite }) => {
        const position = levers[lever.id] ?? 'normal';
        const turned = position === 'normal' ? 'reverse' : 'normal';
        return [point, position === 'centre' ? null : opposite ? turned : position] as const;
      }),
    ),
  );
  for (const [id, lamp] of facts.lamps) {
    if (lamp.shows === null) continue;
    const should = Object.entries(lamp.shows).every(([point, lie]) => asked.get(point) === lie);
    const amps = read.lamps.get(id) ?? 0;
    into.same(`${where}: ${id} shows`, should, amps >= LIT_AMPS ? true : amps < DARK_AMPS ? false : amps);
  }
}

/** Volts that a typical lamp stands in reverse, as the file format's table of typical parts has it. */
const REVERSE_VOLTS = 5;

/** No lamp that stands alone in its branch sees more in reverse than it stands: a partner or a guard diode holds it. */
export function compareReverse(into: Comparison, where: string, read: State, facts: PanelFacts): void {
  for (const id of facts.lamps.keys()) {
    // A lamp that a contact has cut off stands under no feed: what its own leak makes of its loose end hurts nothing.
    if ([`${id}.a`, `${id}.k`].some((end) => read.loose.has(end))) continue;
    const [a = null, k = null] = [read.volts.get(`${id}.a`), read.volts.get(`${id}.k`)];
    if (a !== null && k !== null && !(k - a <= REVERSE_VOLTS))
      into.disagreements.push(`${where}: ${id} stands ${k - a} V in reverse`);
  }
}

/** Volts of the pin list are rounded to 1 uV; the two solvers agree to some uV on nodes that are driven. */
const PIN_VOLTS = 1e-4;

/**
 * Every row of the pin list against the wire list and the rebuilt circuit: the pin carries one circuit and one net, that net is the
 * one that its panel half is wired to, colour and volts are those of the wire. `readOf` gives the whole panel with one lever so.
 */
export function comparePins(
  into: Comparison,
  lists: Lists,
  facts: PanelFacts,
  readOf: (lever: string, position: Position) => State,
): void {
  const rowsOf = new Map<string, string[]>();
  const panelEnds = new Map<string, string[]>();
  const join = (a: string, b: string): void => {
    panelEnds.set(a, [...(panelEnds.get(a) ?? []), b]);
    panelEnds.set(b, [...(panelEnds.get(b) ?? []), a]);
  };
  for (const { from = '', to = '' } of lists.wires)
    if (driveOf(from, facts) === null && driveOf(to, facts) === null) join(from, to);
  const netOf = (start: string): ReadonlySet<string> => {
    const seen = new Set([start]);
    for (const name of seen) for (const next of panelEnds.get(name) ?? []) seen.add(next);
    return seen;
  };

  for (const row of lists.pins) {
    const { connector = '', pin = '', net = '', colour = '', circuit = '', setting = '', volts = '' } = row;
    const id = `${connector}.${pin}`;
    const what = `pin ${id}, ${circuit} ${setting}`;
    rowsOf.set(id, [...(rowsOf.get(id) ?? []), setting]);
    const lever = facts.levers.find((each) => each.id === circuit);
    const position = lever?.positions.find((each) => each === setting);
    if (position === undefined) {
      into.disagreements.push(`${what}: no lever lies so`);
      continue;
    }
    const ends = lists.wires.filter((wire) => wire.from === id || wire.to === id);
    const panelSide = ends.filter(
      (wire) => driveOf(wire.from ?? '', facts) === null && driveOf(wire.to ?? '', facts) === null,
    );
    into.same(`${what}: wires of its panel half`, panelSide.length > 0, true);
    into.same(`${what}: wires of its layout half`, ends.length > panelSide.length, true);
    for (const wire of ends) into.same(`${what}: circuit of ${wire.no}`, circuit, wire.circuit);
    into.same(`${what}: net ${net} is wired to it`, netOf(id).has(net), true);
    into.same(
      `${what}: colour ${colour} is that of a wire`,
      panelSide.some((wire) => wire.colour === colour),
      true,
    );
    const read = readOf(circuit, position).volts.get(id) ?? null;
    if (read === null ? volts !== '' : volts === '' || !(Math.abs(Number(volts) - read) <= PIN_VOLTS))
      into.disagreements.push(
        `${what}: ${volts === '' ? 'no' : volts} V said, ${read === null ? 'none' : read} V read`,
      );
  }
  for (const [id, settings] of rowsOf) {
    const circuit = lists.pins.find((row) => `${row.connector}.${row.pin}` === id)?.circuit;
    const positions = facts.levers.find((lever) => lever.id === circuit)?.positions ?? [];
    into.same(`pin ${id}: settings`, settings.join(), positions.join());
  }
}
