/** Names of options, in plain trade words. */
import type { DriveKind, DrivePart } from '../parts/index.ts';
import type { NewFeed } from './set-feed.ts';
import type { Way } from './set-lighting.ts';

export const AS_IS = 'As it is';

const DRIVE_NAMES: Readonly<Record<DriveKind, string>> = {
  stall: 'Stall drives',
  limit: 'Limit-switched drives',
  'twin-coil': 'Twin-coil drives',
  'twin-coil-end-off': 'Twin-coil drives that break their own coil',
  servo: 'Servos with driver boards',
  decoder: 'Decoders on the bus',
  hand: 'Points worked by hand',
};

/** Feeds behind a name of drives. */
const BY_FEED: Readonly<Record<NewFeed, string>> = {
  reversing: 'by reversing',
  split: 'on a split feed',
  'half-wave': 'on half waves',
  unit: 'on a capacitor unit',
  charge: 'by charge',
  contact: 'by a contact',
};

/** "Twin-coil drives, by charge"; without a feed the drives alone. */
export function driveName({ what }: DrivePart, feed: NewFeed | null): string {
  return feed === null ? DRIVE_NAMES[what] : `${DRIVE_NAMES[what]}, ${BY_FEED[feed]}`;
}

export const FEED_NAMES: Readonly<Record<NewFeed, string>> = {
  reversing: 'Reversing feed',
  split: 'Split feed',
  'half-wave': 'Half-wave feed',
  unit: 'Pulses from a capacitor unit',
  charge: 'Charge feed',
  contact: 'Contacts to driver boards',
};

export const WAY_NAMES: Readonly<Record<Way, string>> = {
  'across-feed': 'Lamps across the feed',
  'in-series': 'Lamps in series with the drives',
  'spare-pole': "Lamps by spare poles of the levers' switches",
  'drive-contact': "Lamps by the drives' contacts",
  'blade-contact': 'Lamps by contacts on the blades',
  'latching-relay': 'Lamps by latching relays',
  relays: 'Lamps by relays that repeat the levers',
  tree: 'Lamps one behind the other, from contact to contact',
};
