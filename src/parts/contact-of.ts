import type { Ampere } from '../units/index.ts';
import { MAKES_TIMES, WETS } from './tolerances.ts';
import type { ButtonPart, ContactPart, DrivePart, Plating, RelayPart, SwitchPart } from './types.ts';

/** All that is known of one contact of a part. Amps. */
export interface ContactFigures {
  /** That it carries for good and breaks. */
  readonly amps: Ampere;
  readonly plating: Plating;
  /** The most that it may make where the pulse has died before it opens. */
  readonly makeAmps: Ampere;
  /** The least that it passes with certainty when closed. */
  readonly leastAmps: Ampere;
}

/** The figures of a part's contacts, with what it leaves out filled in from its rating and its plating. */
export function contactOf(part: DrivePart | SwitchPart | ButtonPart | RelayPart | ContactPart): ContactFigures {
  const amps = part.kind === 'drive' || part.kind === 'relay' ? part.contactAmps : part.amps;
  return {
    amps,
    plating: part.plating,
    makeAmps: part.makeAmps ?? MAKES_TIMES * amps,
    leastAmps: part.leastAmps ?? WETS[part.plating],
  };
}
