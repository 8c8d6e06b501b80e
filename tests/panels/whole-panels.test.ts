import { describe, it } from 'vitest';
import { comparePanel } from './brute-force.ts';
import { WHOLE_PANELS } from './whole-panels.ts';

describe('the truth proof beside brute force over whole panels', () => {
  it.each(Object.entries(WHOLE_PANELS))('[TR16] %s', (_name, file) => comparePanel(file));
});
