/**
 * Is a contact up to what it is asked to do: make a current, carry it, break it, and hold a small one through a film of tarnish.
 *
 * The rating on a switch is what it carries and breaks. A pulse that is made and has died before the contact opens may be greater,
 * at the price of its surface; far above the rating it welds. Silver tarnishes: a current that is too small does not clear the film.
 * Limits from memory and common practice, no source: the data sheet of the part comes first.
 */
import { type Ampere, formatAmps, formatNumber } from '../units/index.ts';
import { GOLD_WETS, PULSE_TIMES, SILVER_WETS } from './tolerances.ts';

export interface ContactRating {
  /** That it carries and breaks. */
  readonly amps: Ampere;
  /** What its surface is. */
  readonly plating: 'silver' | 'gold';
}

/** What it is asked; absent: nothing of the kind. */
export interface ContactDuty {
  /** The greatest at the moment of closing or soon after: a discharge unit's peak, a lamp's inrush. */
  readonly makes?: Ampere;
  /** For good. */
  readonly carries?: Ampere;
  /** Still flowing when it opens. */
  readonly breaks?: Ampere;
  /** What it breaks is a coil without a diode. */
  readonly kicks?: boolean;
  /** The least that it must pass when closed: the lamp current of a lamp that hangs on it alone. */
  readonly least?: Ampere;
}

export type ContactVerdict = 'fits' | 'doubtful' | 'fails';

export interface ContactJudged {
  readonly duty: 'making' | 'carrying' | 'breaking' | 'wetting';
  readonly has: Ampere;
  readonly needs: Ampere;
  readonly verdict: ContactVerdict;
  readonly step: string;
}

export interface RatedContact {
  /** The worst of the verdicts. */
  readonly verdict: ContactVerdict;
  /** One for each duty asked, in the order making, carrying, breaking, wetting. */
  readonly duties: readonly ContactJudged[];
  readonly steps: readonly string[];
}

/** Every duty of a contact judged against its rating. Amps from 0. */
export function rateContact(contact: ContactRating, duty: ContactDuty): RatedContact {
  const has = contact.amps;
  const duties: ContactJudged[] = [];
  if (duty.makes !== undefined) {
    const verdict = duty.makes <= has ? 'fits' : duty.makes <= PULSE_TIMES * has ? 'doubtful' : 'fails';
    const words = {
      fits: 'within its rating',
      doubtful: 'it wears its surface: use a relay or a heavier contact where it is thrown often',
      fails: 'it may weld',
    };
    duties.push({
      duty: 'making',
      has,
      needs: duty.makes,
      verdict,
      step: `makes ${times(duty.makes, has)}: ${words[verdict]}`,
    });
  }
  if (duty.carries !== undefined) {
    const verdict = duty.carries <= has ? 'fits' : 'fails';
    duties.push({
      duty: 'carrying',
      has,
      needs: duty.carries,
      verdict,
      step: `carries ${times(duty.carries, has)}: ${verdict === 'fits' ? 'within its rating' : 'it runs hot'}`,
    });
  }
  if (duty.breaks !== undefined) {
    const bare = duty.kicks === true && duty.breaks > 0;
    const verdict = duty.breaks > has ? 'fails' : bare ? 'doubtful' : 'fits';
    duties.push({
      duty: 'breaking',
      has,
      needs: duty.breaks,
      verdict,
      step: `breaks ${times(duty.breaks, has)}${bare ? ' of a coil without a diode: it burns in the arc' : verdict === 'fits' ? ': within its rating' : ': it burns in the arc'}`,
    });
  }
  if (duty.least !== undefined) {
    const wets = contact.plating === 'gold' ? GOLD_WETS : SILVER_WETS;
    const verdict = duty.least >= wets ? 'fits' : 'doubtful';
    duties.push({
      duty: 'wetting',
      has: wets,
      needs: duty.least,
      verdict,
      step: `passes as little as ${formatAmps(duty.least)}: ${contact.plating} wants ${formatAmps(wets)}${verdict === 'fits' ? ', enough' : ': tarnish may stop it'}`,
    });
  }
  const verdicts = duties.map((each) => each.verdict);
  const verdict = verdicts.includes('fails') ? 'fails' : verdicts.includes('doubtful') ? 'doubtful' : 'fits';
  return { verdict, duties, steps: duties.map((each) => each.step) };
}

function times(amps: Ampere, rating: Ampere): string {
  return `${formatAmps(amps)}, ${formatNumber(amps / rating, 1)} times the ${formatAmps(rating)} of its rating`;
}
