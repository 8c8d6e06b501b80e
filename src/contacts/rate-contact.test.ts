import { describe, expect, it } from 'vitest';
import { rateContact } from './rate-contact.ts';

const TOGGLE = { amps: 3, plating: 'silver' } as const;
const verdicts = (duty: Parameters<typeof rateContact>[1], contact: Parameters<typeof rateContact>[0] = TOGGLE) =>
  rateContact(contact, duty).duties.map((each) => [each.duty, each.verdict]);

describe('rateContact', () => {
  // Notes of the trade: a unit's 4 to 20 A through a 3 A toggle, a frog at the booster's limit, 0.2 mA through tarnished silver.
  it('[CO7] making: 4 A through a 3 A toggle wears it, 20 A may weld it', () => {
    expect(verdicts({ makes: 4 })).toEqual([['making', 'doubtful']]);
    expect(verdicts({ makes: 20 })).toEqual([['making', 'fails']]);
    expect(verdicts({ makes: 3 })).toEqual([['making', 'fits']]);
  });

  it('[CO7] carrying: a frog on a contact of 1 A behind a booster that trips at 3 A', () => {
    expect(verdicts({ carries: 3 }, { amps: 1, plating: 'silver' })).toEqual([['carrying', 'fails']]);
    expect(verdicts({ carries: 1 }, { amps: 1, plating: 'silver' })).toEqual([['carrying', 'fits']]);
  });

  it('[CO7] breaking: a coil without a diode burns a contact that its amps alone would not', () => {
    expect(verdicts({ breaks: 0.03, kicks: true })).toEqual([['breaking', 'doubtful']]);
    expect(verdicts({ breaks: 0.03 })).toEqual([['breaking', 'fits']]);
    expect(verdicts({ breaks: 4 })).toEqual([['breaking', 'fails']]);
    expect(verdicts({ breaks: 0, kicks: true })).toEqual([['breaking', 'fits']]);
  });

  it('[CO7] wetting: 0.2 mA is little for silver and enough for gold', () => {
    expect(verdicts({ least: 0.0002 })).toEqual([['wetting', 'doubtful']]);
    expect(verdicts({ least: 0.0002 }, { ...TOGGLE, plating: 'gold' })).toEqual([['wetting', 'fits']]);
  });

  it('[CO7] tells each duty with its arithmetic, and the worst of them', () => {
    const rated = rateContact(TOGGLE, { makes: 8.57, carries: 0.5, breaks: 0.3, least: 0.002 });
    expect(rated.verdict).toBe('doubtful');
    expect(rated.steps[0]).toMatch(/^makes 8\.57 A, 2\.9 times the 3\.00 A of its rating/);
    expect(rated.steps).toHaveLength(4);
    expect(rateContact(TOGGLE, {})).toEqual({ verdict: 'fits', duties: [], steps: [] });
  });
});
