import { describe, it } from 'vitest';
import { compareFeed, HOLDING } from './brute-force.ts';

describe('the truth proof beside brute force, on feeds that hold', () => {
  it.each(HOLDING)('[TR16] every sound combination fed by %s', compareFeed);
});
