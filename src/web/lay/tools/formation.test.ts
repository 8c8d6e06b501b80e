import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { snap, snapContext } from '../../../laying/index.ts';
import { applyTransaction, checkPanel, type PanelFile, type Transaction } from '../../../panel/index.ts';
import { readPlan } from '../../../plan/index.ts';
import type { Spot } from '../../../units/index.ts';
import { FORMATIONS, type Formation, formationTool } from './formation.ts';
import type { Deed, ToolContext, ToolEvent } from './types.ts';

/** Two roads beside each other, and a third across the upper one at 32 degrees. */
const PANEL: PanelFile = {
  format: 'mimic-panel',
  version: 1,
  face: { width: 500, height: 300 },
  strips: [
    {
      id: 'main',
      path: [
        [20, 100],
        [480, 100],
      ],
    },
    {
      id: 'other',
      path: [
        [20, 150],
        [480, 150],
      ],
    },
  ],
};
const CROSSED: PanelFile = {
  ...PANEL,
  strips: [
    ...PANEL.strips,
    {
      id: 'across',
      path: [
        [200 - 48, 70],
        [200 + 48, 130],
      ],
    },
  ],
};

/** A drag with a formation in the hand, and every deed that was answered. */
function drag(formation: Exclude<Formation, 'strip'>, from: Spot, to: Spot, { roads = 4, panel = PANEL } = {}) {
  const tool = formationTool(formation, roads);
  let state = tool.start;
  const deeds: Deed[] = [];
  const context: ToolContext = {
    panel,
    picked: [],
    still: 1,
    under: () => [],
    within: () => [],
    snap: (spot, { without, free, ...rest }) => snap(snapContext(panel, without), spot, { reach: 4, free, ...rest }),
    snapMove: () => {
      throw new Error('a formation moves nothing');
    },
  };
  const send = (event: ToolEvent): void => {
    const answer = tool.on(state, event, context);
    state = answer.state;
    deeds.push(...answer.deeds);
  };
  send({ kind: 'down', at: from, more: false, free: false, again: false });
  send({ kind: 'move', at: [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], free: false });
  send({ kind: 'move', at: to, free: false });
  const offered = deeds.flatMap((deed): readonly (Transaction | null)[] => (deed.do === 'would' ? [deed.edit] : []));
  return {
    send,
    deeds,
    offered: offered[offered.length - 1] ?? null,
    get laid(): PanelFile | null {
      const edit = deeds.flatMap((deed) => (deed.do === 'edit' ? [deed.edit] : []))[0];
      return edit === undefined ? null : applyTransaction(panel, edit);
    },
    get refused(): string | null {
      return deeds.flatMap((deed) => (deed.do === 'refuse' ? [deed.why] : []))[0] ?? null;
    },
  };
}

const up = (at: Spot): ToolEvent => ({ kind: 'up', at, free: false });
const pointsOf = (panel: PanelFile | null): number => (panel === null ? -1 : readPlan(panel).points.length);

// How many points each formation has: common practice, no source.
describe('a formation in one drag', () => {
  it('lays a passing loop with two points, on the side and as far off as the hand', () => {
    for (const [y, road] of [
      [130, 130],
      [70, 70],
      [100, 124],
    ] as const) {
      const hand = drag('loop', [100, 100], [360, y]);
      hand.send(up([360, y]));
      expect(pointsOf(hand.laid)).toBe(2);
      const path = hand.laid?.strips[2]?.path ?? [];
      expect([path[1]?.[1], path[2]?.[1]]).toEqual([road, road]);
    }
  });

  it('lays a loop on the side of the hand where the drag runs backwards', () => {
    const hand = drag('loop', [360, 100], [100, 70]);
    hand.send(up([100, 70]));
    expect(hand.laid?.strips[2]?.path[1]?.[1]).toBe(70);
  });

  it('lays a crossover from one road to the other, with two points', () => {
    const hand = drag('crossover', [100, 100], [200, 150]);
    hand.send(up([200, 150]));
    expect(pointsOf(hand.laid)).toBe(2);
  });

  it('lays a lead with one point', () => {
    const hand = drag('lead', [100, 150], [260, 190]);
    hand.send(up([260, 190]));
    expect(pointsOf(hand.laid)).toBe(1);
    expect(hand.laid?.strips).toHaveLength(3);
  });

  it.each([2, 3, 4])('lays a ladder of %i roads with as many points', (roads) => {
    const hand = drag('ladder', [40, 150], [400, 200], { roads });
    hand.send(up([400, 200]));
    expect(pointsOf(hand.laid)).toBe(roads);
    expect(hand.laid?.strips).toHaveLength(2 + roads);
  });

  it('makes a slip of the crossing that is pressed', () => {
    for (const kind of ['single-slip', 'double-slip'] as const) {
      const hand = drag(kind, [200, 100], [200, 100], { panel: CROSSED });
      hand.send(up([200, 100]));
      expect(readPlan(hand.laid ?? CROSSED).crossings.map((each) => each.kind)).toEqual([kind]);
    }
  });

  it('offers while the hand moves what it lays when the hand lets go', () => {
    const hand = drag('ladder', [40, 150], [400, 200]);
    expect(hand.offered).not.toBeNull();
    hand.send(up([400, 200]));
    expect(applyTransaction(PANEL, hand.offered ?? { name: '', changes: [] }).strips).toEqual(hand.laid?.strips);
  });

  it('says why nothing is laid', () => {
    const bare = drag('lead', [100, 250], [200, 280]);
    bare.send(up([200, 280]));
    const short = drag('loop', [100, 100], [120, 100]);
    short.send(up([120, 100]));
    const uncrossed = drag('double-slip', [300, 100], [300, 100]);
    uncrossed.send(up([300, 100]));
    expect([bare.refused, short.refused, uncrossed.refused]).toEqual(['no strip', 'no room', 'no crossing']);
    expect([bare.laid, short.laid, uncrossed.laid]).toEqual([null, null, null]);
  });

  it('lays nothing and offers nothing more where the drag is called off', () => {
    const hand = drag('lead', [100, 150], [260, 190]);
    hand.send({ kind: 'cancel' });
    hand.send(up([260, 190]));
    expect(hand.laid).toBeNull();
    expect(hand.deeds.filter((deed) => deed.do === 'would').pop()).toEqual({ do: 'would', edit: null });
  });
});

it('whatever is dragged, what is laid is a panel that a file takes (seed 732)', () => {
  const spot = fc.tuple(fc.integer({ min: 0, max: 500 }), fc.integer({ min: 0, max: 300 }));
  const formation = fc.constantFrom(...FORMATIONS.filter((each) => each !== 'strip'));
  let laid = 0;
  fc.assert(
    fc.property(formation, fc.integer({ min: 40, max: 460 }), spot, (what, x, to) => {
      const hand = drag(what, [x, 100], to, { panel: CROSSED });
      hand.send(up(to));
      if (hand.laid === null) expect(hand.refused).not.toBeNull();
      else {
        laid++;
        expect(checkPanel(hand.laid).ok).toBe(true);
      }
    }),
    { seed: 732, numRuns: 150 },
  );
  expect(laid).toBeGreaterThan(20);
});
