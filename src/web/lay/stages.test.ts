import { describe, expect, it } from 'vitest';
import { stageWords } from './stage-words.ts';
import { pipOf } from './stages.tsx';

describe('the small lamp of a stage', () => {
  it('is unlit while nothing is known, green where clear, amber for caution or wrong, red for danger', () => {
    expect(pipOf(null)).toBe('none');
    expect(pipOf([])).toBe('ok');
    expect(pipOf(['hint'])).toBe('ok');
    expect(pipOf(['hint', 'caution'])).toBe('warn');
    expect(pipOf(['wrong'])).toBe('warn');
    expect(pipOf(['caution', 'danger'])).toBe('bad');
  });
  it('is said in words', () => {
    expect(stageWords.said('Lay', 'warn', 4)).toBe('Lay, worth a look, 4 findings');
    expect(stageWords.said('Run', 'none', 0)).toBe('Run');
  });
});
