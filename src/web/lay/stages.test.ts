import { describe, expect, it } from 'vitest';
import { stageWords } from '../words/stages.ts';
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
    expect(stageWords.lamp('warn')).toBe('worth a look');
    expect(stageWords.lamp('none')).toBe('');
    expect(stageWords.counted(1)).toBe('finding');
    expect(stageWords.counted(4)).toBe('findings');
  });
});
