import { describe, expect, it } from 'vitest';
import type { ViewReading } from '../worker/types.ts';
import { changedLamps, countLit } from './lit.ts';
import { sample } from './sample.ts';

const reading = (looks: ViewReading['looks'], levers: ViewReading['levers'] = {}): ViewReading => ({
  levers,
  looks,
  amps: {},
  unsolved: false,
});

describe('countLit', () => {
  it('counts lit, glimmering and burnt lamps apart', () => {
    const count = countLit(sample, reading({ H1: 'bright', H2: 'faint', H3: 'destroyed' }), null);
    expect(count).toMatchObject({
      lit: 1,
      all: 3,
      faint: 1,
      bright: 1,
      destroyed: 1,
      onRoute: 0,
      elsewhere: 1,
      onOther: null,
    });
  });
  it('names the standing route that most of the lamps elsewhere are on', () => {
    expect(countLit(sample, reading({ H1: 'good', H2: 'unlit', H3: 'unlit' }), 2)).toMatchObject({
      onRoute: 0,
      onOther: { index: 0, lit: 1 },
      elsewhere: 0,
    });
  });
  it('names none that does not stand', () => {
    expect(countLit(sample, reading({ H1: 'good' }, { L1: 'reverse' }), 2)).toMatchObject({
      elsewhere: 1,
      onOther: null,
    });
  });
  it('counts those on the picked route', () => {
    const count = countLit(sample, reading({ H2: 'good', H3: 'good' }, { L1: 'reverse', L2: 'reverse' }), 2);
    expect(count).toMatchObject({ onRoute: 2, elsewhere: 0, onOther: null });
  });
});

describe('changedLamps', () => {
  it('names strips once, on and off apart', () => {
    const before = reading({ H1: 'good', H2: 'unlit', H3: 'unlit' });
    const after = reading({ H1: 'unlit', H2: 'good', H3: 'faint' });
    expect(changedLamps(sample, before, after)).toEqual({ on: ['Loop'], off: ['Main'] });
  });
});
