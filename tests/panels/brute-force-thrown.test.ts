import { describe, it } from 'vitest';
import { compareFeed, THROWING } from './brute-force.ts';

describe('the truth proof beside brute force, on feeds that throw and let go', () => {
  it.each(THROWING)('[TR16] every sound combination fed by %s', compareFeed);
});
