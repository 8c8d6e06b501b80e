/** Where each drive is met at the connectors. */
import type { WiredDrive, Wiring } from '../wiring/index.ts';

/** A drive and the two pins that lead to it. `first` is on the lever's tag 2, which is plus when the lever is normal. */
export interface DrivePins {
  readonly drive: WiredDrive;
  readonly lever: string;
  readonly first: string;
  readonly second: string;
  readonly a: string;
  readonly b: string;
}

/** Every drive with both its pins, in the order of the circuits and then of the drives. */
export function drivesAtPins(wiring: Wiring): readonly DrivePins[] {
  const pinTo = new Map(
    wiring.connectors.flatMap((connector) => connector.pins.map((pin) => [pin.to, pin.id] as const)),
  );
  return wiring.circuits.flatMap((circuit) =>
    wiring.drives.flatMap((drive): DrivePins[] => {
      if (drive.circuit !== circuit.id || !circuit.drives.includes(drive.id)) return [];
      const [a, b] = [pinTo.get(drive.a), pinTo.get(drive.b)];
      if (a === undefined || b === undefined) return [];
      const [first, second] = drive.plusToA ? [a, b] : [b, a];
      return [{ drive, lever: circuit.id, first, second, a, b }];
    }),
  );
}
