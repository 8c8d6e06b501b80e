import { expect, test } from 'vitest';
import type { LayFinding } from '../worker/types.ts';
import { wireFindings } from './stage-findings.ts';

const finding = (code: LayFinding['code']): LayFinding => ({
  code,
  severity: 'caution',
  ids: [],
  at: null,
  message: '',
  why: '',
  mends: [],
});

test.each([
  'lamp-lies',
  'lamp-destroyed',
  'fuse-none',
  'supply-too-small',
  'connector-full',
  'drive-volts-low',
  'leg-without-lamp',
] as const)('%s is of a circuit', (code) => {
  expect(wireFindings([finding(code)])).toHaveLength(1);
});

test.each([
  'strip-no-length',
  'holes-clash',
  'place-unnamed',
  'leg-dead',
  'route-not-settable',
  'frog-unfed',
  'plate-hides',
] as const)('%s is mended elsewhere', (code) => {
  expect(wireFindings([finding(code)])).toEqual([]);
});
