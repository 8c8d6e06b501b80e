import { describe, expect, it } from 'vitest';
import { CODES } from '../../checks/index.ts';
import { WORK_CODES } from './stage-findings.ts';

describe('findings of Work', () => {
  it('are findings that there are', () => {
    expect([...WORK_CODES].filter((code) => !Object.hasOwn(CODES, code))).toEqual([]);
  });
});
