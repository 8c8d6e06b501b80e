import { describe, expect, it } from 'vitest';
import { changedWords, goesWords, shelfWords } from './shelf.ts';

const at = (day: number, hour: number, minute = 0): number => new Date(2026, 2, day, hour, minute).getTime();

describe('words of the shelf', () => {
  it.each([
    [at(5, 12), 'Changed just now'],
    [at(5, 12) + 60_000, 'Changed just now'],
    [at(5, 11, 59), 'Changed 1 minute ago'],
    [at(5, 11, 1), 'Changed 59 minutes ago'],
    [at(5, 11), 'Changed today at 11:00'],
    [at(5, 0), 'Changed today at 0:00'],
    [at(4, 23, 59), 'Changed yesterday at 23:59'],
    [at(4, 0), 'Changed yesterday at 0:00'],
    [at(3, 23, 59), 'Changed on 3 March 2026'],
  ])('says when a panel was changed: %i, %s', (then, said) => {
    expect(changedWords(then, at(5, 12))).toBe(said);
  });
  it('says how long a panel can be brought back', () => {
    const now = at(5, 12);
    expect(goesWords(now + 30 * 86_400_000, now)).toBe('Can be brought back for 30 days');
    expect(goesWords(now + 1, now)).toBe('Can be brought back for 1 day');
    expect(goesWords(now - 1, now)).toBe('Can be brought back for 1 day');
  });
  it('counts, and names what is gone', () => {
    expect(shelfWords.counts(1, 0, 2, 0)).toBe('1 strip, 0 points, 2 levers, 0 lamps');
    expect(shelfWords.counts(0, 0, 0, 0)).toBe('Bare');
    expect(shelfWords.evicted(['Up yard', 'Down yard'])).toContain('Up yard and Down yard');
  });
});
