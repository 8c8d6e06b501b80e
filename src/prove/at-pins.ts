/** Where drives, contacts and returns are met at the connectors. */
import { hasCoils, type Terminal, type WiredContact, type WiredDrive, type Wiring } from '../wiring/index.ts';

/** What every drive at the connectors has. */
interface AtPins {
  readonly drive: WiredDrive;
  readonly circuit: string;
  /** The lever that works it; null where buttons do. */
  readonly lever: string | null;
  /** True where its way back is a return that other drives share. */
  readonly shared: boolean;
}

/** A motor: `first` is on the lever's tag 2, which is plus when the lever is normal; `second` its own wire back, or a pin of the return. */
export interface MotorPins extends AtPins {
  readonly kind: 'motor';
  readonly first: string;
  readonly second: string;
}

/** Two coils: `first` throws it where the lever's normal asks, `second` the other way; `common` is where both end. */
export interface CoilPins extends AtPins {
  readonly kind: 'coils';
  readonly first: string;
  readonly second: string;
  readonly common: string;
}

/** A driver board: its input (open with the lever normal), its common and its plus. */
export interface BoardPins extends AtPins {
  readonly kind: 'board';
  readonly input: string;
  readonly common: string;
  readonly power: string;
}

export type DrivePins = MotorPins | CoilPins | BoardPins;

/** A contact under the layout and the pins that lead to it. */
export interface ContactPins {
  readonly contact: WiredContact;
  /** The drive that moves it; of blades the one that moves them. */
  readonly drive: WiredDrive | null;
  readonly common: string;
  readonly normal: string | null;
  readonly reverse: string | null;
}

/** The pin that leads to each terminal under the layout. */
export function pinsByTerminal(wiring: Wiring): ReadonlyMap<Terminal, string> {
  return new Map(wiring.connectors.flatMap(({ pins }) => pins.map((pin) => [pin.to, pin.id] as const)));
}

/** Every drive that is fed and has all its pins, in the order of the circuits and then of the drives. */
export function drivesAtPins(wiring: Wiring): readonly DrivePins[] {
  const pinTo = pinsByTerminal(wiring);
  const levers = new Set(wiring.switches.map(({ id }) => id));
  return wiring.circuits.flatMap((circuit) => {
    const back = wiring.returns.find(({ circuits }) => circuits.includes(circuit.id))?.pins[0];
    return wiring.drives.flatMap((drive): DrivePins[] => {
      if (drive.circuit !== circuit.id || drive.feed === null || !circuit.drives.includes(drive.id)) return [];
      const lever = levers.has(circuit.id) ? circuit.id : null;
      const way = (tag: Terminal | null) => (tag === null ? undefined : pinTo.get(tag));
      const [first, second] = (drive.plusToA ? [drive.a, drive.b] : [drive.b, drive.a]).map(way);
      const own = { drive, circuit: circuit.id, lever };
      if (hasCoils(drive.part)) {
        const common = way(drive.com) ?? back;
        if (first === undefined || second === undefined || common === undefined) return [];
        return [{ ...own, kind: 'coils', first, second, common, shared: way(drive.com) === undefined }];
      }
      if (drive.feed === 'contact') {
        const [input, power, common] = [way(drive.a), way(drive.com), way(drive.b) ?? back];
        if (input === undefined || power === undefined || common === undefined) return [];
        return [{ ...own, kind: 'board', input, common, power, shared: way(drive.b) === undefined }];
      }
      const far = second ?? back;
      if (first === undefined || far === undefined) return [];
      return [{ ...own, kind: 'motor', first, second: far, shared: second === undefined }];
    });
  });
}

/** Contacts of drives and blades with their pins, in the order of the wiring; one whose common has no pin is left out. */
export function contactsAtPins(wiring: Wiring): readonly ContactPins[] {
  const pinTo = pinsByTerminal(wiring);
  return wiring.contacts.flatMap((contact): ContactPins[] => {
    const { carrier } = contact;
    if (carrier.kind !== 'drive' && carrier.kind !== 'blades') return [];
    const common = pinTo.get(contact.common);
    if (common === undefined) return [];
    const way = (tag: Terminal | null) => (tag === null ? null : (pinTo.get(tag) ?? null));
    const [first] = carrier.points;
    const drive = wiring.drives.find(({ points }) => first !== undefined && points.includes(first.point)) ?? null;
    return [{ contact, drive, common, normal: way(contact.normal), reverse: way(contact.reverse) }];
  });
}
