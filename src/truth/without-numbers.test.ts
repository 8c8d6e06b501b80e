import { describe, expect, it } from 'vitest';
import { generatePanel } from '../../tests/generate/panels.ts';
import { derive } from '../derive.ts';
import { faultsOf } from '../wiring/index.ts';
import { withoutNumbers } from './without-numbers.ts';

describe('withoutNumbers', () => {
  const { wiring } = derive(generatePanel(3, 12));
  const { wiring: made, numbered } = withoutNumbers(wiring);

  it('names each wire by its two ends, once', () => {
    expect(new Set(made.wires.map(({ id }) => id)).size).toBe(wiring.wires.length);
    for (const { id, from, to } of made.wires) expect(id.startsWith(`${from}~${to}`)).toBe(true);
    expect(made.wires.map(({ id: _, ...rest }) => rest)).toEqual(wiring.wires.map(({ id: _, ...rest }) => rest));
  });

  it('has the same faults in the same order, and gives them their numbers back', () => {
    const outcomes = faultsOf(made).map(({ code }) => ({ fault: code, class: 'latent' as const }));
    const truth = {
      outcomes,
      faults: { tried: outcomes.length, rightSide: 0, wrongSide: 0, latent: outcomes.length },
      wrongSide: [],
      share: 0,
      weightedShare: 0,
    };
    expect(numbered(truth).outcomes.map(({ fault }) => fault)).toEqual(faultsOf(wiring).map(({ code }) => code));
  });
});
