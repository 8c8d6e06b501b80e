import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { handlesOf, type Picked, snap, snapContext, snapMove } from '../../../laying/index.ts';
import { applyTransaction, type PanelFile } from '../../../panel/index.ts';
import { readPlan } from '../../../plan/index.ts';
import type { Spot } from '../../../units/index.ts';
import { makeDocument } from '../../document/document.ts';
import { beginHistory } from '../../document/history.ts';
import { pickTool } from './pick.ts';
import { lampTool, measureTool, platformTool } from './put.ts';
import { stripTool } from './strip.ts';
import type { Tool, ToolContext, ToolEvent } from './types.ts';
import { thingsWithin } from './under.ts';

const PANEL: PanelFile = {
  format: 'mimic-panel',
  version: 1,
  face: { width: 400, height: 200 },
  strips: [
    {
      id: 'main',
      path: [
        [20, 60],
        [380, 60],
      ],
    },
    {
      id: 'loop',
      path: [
        [100, 60],
        [148, 90],
        [252, 90],
        [300, 60],
      ],
    },
  ],
  lamps: [{ id: 'H1', at: [200, 60], shows: {} }],
};

/** A tool in a hand over a document, with the real snapping; what lies under a spot is told by the test. */
function handOf<S>(tool: Tool<S>, panel: PanelFile = PANEL, under: (spot: Spot) => readonly Picked[] = () => []) {
  const document = makeDocument(beginHistory(panel), { now: () => 0 });
  let state = tool.start;
  let picked: readonly Picked[] = [];
  let ghost: readonly Spot[] = [];
  const send = (event: ToolEvent): void => {
    const base = document.atStart;
    const context: ToolContext = {
      panel: base,
      picked,
      still: 1,
      under,
      within: (a, b) => thingsWithin(base, null, a, b),
      snap: (spot, { without, free, ...from }) => snap(snapContext(base, without), spot, { reach: 4, free, ...from }),
      snapMove: (what, by, free) => snapMove(snapContext(base, what), handlesOf(base, what), by, { reach: 4, free }),
    };
    const answer = tool.on(state, event, context);
    state = answer.state;
    for (const deed of answer.deeds) {
      if (deed.do === 'pick') picked = deed.picked;
      if (deed.do === 'begin') document.begin(deed.name, deed.subject);
      if (deed.do === 'redraw' && deed.edit !== null) document.redraw(deed.edit);
      if (deed.do === 'end') document.end();
      if (deed.do === 'abandon') document.abandon();
      if (deed.do === 'edit') document.edit(deed.edit, { subject: deed.subject });
      if (deed.do === 'ghost') ghost = deed.path;
    }
  };
  const down = (at: Spot, more = false, again = false) => send({ kind: 'down', at, more, free: false, again });
  const move = (at: Spot, free = false) => send({ kind: 'move', at, free });
  const up = (at: Spot, free = false) => send({ kind: 'up', at, free });
  return {
    document,
    send,
    down,
    move,
    up,
    drag: (from: Spot, to: Spot, free = false) => {
      down(from);
      for (let k = 1; k <= 4; k++)
        move([from[0] + ((to[0] - from[0]) * k) / 4, from[1] + ((to[1] - from[1]) * k) / 4], free);
      up(to, free);
    },
    get picked() {
      return picked;
    },
    get ghost() {
      return ghost;
    },
    get state() {
      return state;
    },
  };
}

describe('the strip tool', () => {
  it('lays a strip in one drag, which joins the tape it begins on at 32 degrees', () => {
    const hand = handOf(stripTool);
    hand.drag([330.6, 61], [352.4, 46.6]);
    const { panel, undoes } = hand.document;
    expect(panel.strips).toHaveLength(3);
    const angle = readPlan(panel).points.find(({ at }) => Math.abs(at[0] - 330) < 3)?.angle;
    expect(angle).toBeCloseTo(32, 0);
    expect(undoes?.name).toBe('strip.lay');
    hand.document.undo();
    expect(hand.document.panel).toEqual(PANEL);
  });

  it('lays corner by corner with single presses, and Enter ends it', () => {
    const hand = handOf(stripTool);
    for (const at of [
      [40, 140],
      [100, 140],
      [160, 170],
    ] as const) {
      hand.down([...at]);
      hand.up([...at]);
    }
    hand.send({ kind: 'enter' });
    expect(hand.document.panel.strips[2]?.path).toHaveLength(3);
    expect(hand.ghost).toEqual([]);
  });

  it('takes typed figures for the next corner', () => {
    const hand = handOf(stripTool);
    hand.down([40, 140]);
    hand.up([40, 140]);
    hand.send({ kind: 'typed', length: 50, angle: 0 });
    hand.send({ kind: 'typed', length: 30, angle: 90 });
    hand.send({ kind: 'enter' });
    expect(hand.document.panel.strips[2]?.path).toEqual([
      [40, 140],
      [90, 140],
      [90, 110],
    ]);
  });

  it('lays nothing where the drag is called off or too short', () => {
    const hand = handOf(stripTool);
    hand.down([40, 140]);
    hand.move([80, 140]);
    hand.send({ kind: 'cancel' });
    hand.drag([40, 140], [42, 140]);
    expect(hand.document.panel).toBe(PANEL);
    expect(hand.document.undoes).toBeNull();
  });
});

describe('the tool that picks', () => {
  const onLoop = (): readonly Picked[] => [{ list: 'strips', id: 'loop' }];

  it('picks at a press and moves in a drag, as one step', () => {
    const hand = handOf(pickTool, PANEL, onLoop);
    hand.drag([200, 90], [200, 110], true);
    expect(hand.picked).toEqual([{ list: 'strips', id: 'loop' }]);
    expect(hand.document.panel.strips[1]?.path[1]).toEqual([148, 110]);
    expect(hand.document.undoes).toEqual({ name: 'strip.move', subject: 'loop' });
    hand.document.undo();
    expect(hand.document.panel).toEqual(PANEL);
  });

  it('moves a corner of a picked strip alone', () => {
    const corner: Picked = { list: 'strips', id: 'loop', part: 1 };
    const hand = handOf(pickTool, PANEL, (spot) => (Math.hypot(spot[0] - 148, spot[1] - 90) < 4 ? [corner] : onLoop()));
    hand.down([200, 90]);
    hand.up([200, 90]);
    hand.drag([148, 90], [160, 98], true);
    expect(hand.document.panel.strips[1]?.path).toEqual([
      [100, 60],
      [160, 98],
      [252, 90],
      [300, 60],
    ]);
    expect(hand.document.undoes?.name).toBe('strip.corner');
  });

  it('takes what lies beneath at a second tap', () => {
    const stack: readonly Picked[] = [
      { list: 'lamps', id: 'H1' },
      { list: 'strips', id: 'main' },
    ];
    const hand = handOf(pickTool, PANEL, () => stack);
    hand.down([200, 60]);
    hand.up([200, 60]);
    expect(hand.picked).toEqual([stack[0]]);
    hand.down([200, 60], false, true);
    hand.up([200, 60]);
    expect(hand.picked).toEqual([stack[1]]);
  });

  it('picks all that lies within the oblong drawn from bare sheet', () => {
    const hand = handOf(pickTool);
    hand.drag([80, 40], [320, 120]);
    expect(hand.picked).toEqual([
      { list: 'strips', id: 'loop' },
      { list: 'lamps', id: 'H1' },
    ]);
    expect(hand.document.panel).toBe(PANEL);
  });

  it('leaves the panel as it was where a drag is called off, wherever it had come to (seed 731)', () => {
    const spot = fc.tuple(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 0, max: 200 }));
    fc.assert(
      fc.property(fc.array(spot, { minLength: 1, maxLength: 8 }), (way) => {
        const hand = handOf(pickTool, PANEL, onLoop);
        hand.down([200, 90]);
        for (const at of way) hand.move(at);
        hand.send({ kind: 'cancel' });
        expect(hand.document.panel).toBe(PANEL);
        expect(hand.document.dragging).toBe(false);
        expect(hand.ghost).toEqual([]);
      }),
      { seed: 731, numRuns: 60 },
    );
  });
});

describe('tools that put things', () => {
  it('put a platform as large as it is drawn', () => {
    const hand = handOf(platformTool);
    hand.drag([120, 66], [220, 82], true);
    expect(hand.document.panel.platforms).toEqual([{ at: [120, 66], size: [100, 16] }]);
  });

  it('strew lamps along the tape that a drag runs over', () => {
    const hand = handOf(lampTool);
    hand.drag([40, 60], [88, 60]);
    const made = hand.document.panel.lamps?.filter(({ id }) => id !== 'H1') ?? [];
    expect(made).toHaveLength(3);
    for (const { at } of made) expect(at[1]).toBeCloseTo(60, 6);
  });

  it('measure and lay nothing', () => {
    const hand = handOf(measureTool);
    hand.drag([100, 60], [300, 60]);
    expect(hand.document.panel).toBe(PANEL);
    expect(hand.ghost).toEqual([
      [100, 60],
      [300, 60],
    ]);
  });
});

it('every edit of a tool is one that the file takes back whole', () => {
  const hand = handOf(stripTool);
  hand.drag([40, 140], [200, 140]);
  const [step] = hand.document.history.past;
  expect(step === undefined ? null : applyTransaction(PANEL, step.transaction)).toEqual(hand.document.panel);
});
