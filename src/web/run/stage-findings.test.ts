import { describe, expect, it } from 'vitest';
import { CODES } from '../../checks/index.ts';
import { foundByStage, RUN_CODES } from './stage-findings.ts';

const found = (code: string, severity: 'danger' | 'wrong' | 'caution' | 'hint') => ({ code, severity });

describe('what was found by stage', () => {
  it('is not known before it is looked for, and nothing once nothing was found', () => {
    expect(foundByStage(null)).toEqual({});
    expect(foundByStage([])).toEqual({ lay: [], work: [], wire: [], run: [] });
  });
  it('is all in Lay, and in the others what they show', () => {
    const all = [found('lamp-lies', 'wrong'), found('route-not-settable', 'caution'), found('face-metal', 'hint')];
    expect(foundByStage(all)).toEqual({
      lay: ['wrong', 'caution', 'hint'],
      work: ['caution'],
      wire: ['wrong'],
      run: ['caution'],
    });
  });
  it('goes by codes that there are', () => {
    expect([...RUN_CODES].filter((code) => !Object.hasOwn(CODES, code))).toEqual([]);
  });
});
