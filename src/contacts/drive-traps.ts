/** What catches builders out with each kind of drive, as this panel feeds it. The words are said elsewhere. */
import { feedOf, type PanelFile, suppliesOf } from '../panel/index.ts';
import type { DrivePart } from '../parts/index.ts';

/**
 * lets-go: relaxes when its feed is cut; goes-dark: lamps in series with it go dark when it stops; burns: held on a raw supply its coil
 * burns; empties: held behind a discharge unit, nothing else works any more; weak-together: several at once share one charge; all-charge: at
 * switching on every capacitor charges at once; end-contact: one that sticks burns the coil; twitches: at switching on; bus-short: a short
 * on the track stops it; shown-only: no lever moves it.
 */
export type DriveTrap =
  | 'lets-go'
  | 'goes-dark'
  | 'burns'
  | 'empties'
  | 'weak-together'
  | 'all-charge'
  | 'end-contact'
  | 'twitches'
  | 'bus-short'
  | 'shown-only';

/** The trap of a kind of drive that is nearest on this panel's feed. */
export function driveTrap(panel: PanelFile, what: DrivePart['what']): DriveTrap {
  if (what !== 'twin-coil') return ALWAYS[what];
  const feed = feedOf(panel);
  const unit = suppliesOf(panel).some(({ id, kind }) => kind === 'cdu' && feed.supplies.includes(id));
  if (feed.kind === 'charge') return 'all-charge';
  if (feed.kind === 'pulse') return unit ? 'weak-together' : 'burns';
  return unit ? 'empties' : 'burns';
}

const ALWAYS: Readonly<Record<Exclude<DrivePart['what'], 'twin-coil'>, DriveTrap>> = {
  stall: 'lets-go',
  limit: 'goes-dark',
  'twin-coil-end-off': 'end-contact',
  servo: 'twitches',
  decoder: 'bus-short',
  hand: 'shown-only',
};
