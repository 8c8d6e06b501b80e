/**
 * A plan that is a given directed graph: each node a span that every way through it runs along, ways in joined by trailing points
 * before it, ways out parted by facing points after it. So a route is a path without a node twice. No strips: only what routes need.
 */
import type { Passage, Place, Plan, PlanPoint, Span, SpanEnd } from '../../src/plan/index.ts';

export function planOfGraph(
  arcs: readonly (readonly [from: number, to: number])[],
  entry: number,
  exits: readonly number[],
): Plan {
  const spans: Span[] = [];
  const points: PlanPoint[] = [];
  const passages: Passage[] = [];
  const places: Place[] = [];
  const lay = (): string => {
    const id = `S${spans.length + 1}`;
    spans.push({
      id,
      ends: ['-', '-'],
      path: [
        [0, 0],
        [1, 0],
      ],
      length: 1,
      layoutLength: null,
      stretches: [],
    });
    return id;
  };
  const addPoint = (toe: SpanEnd, normal: SpanEnd, reverse: SpanEnd): void => {
    const id = `P${points.length + 1}`;
    points.push({
      id,
      name: null,
      at: [0, 0],
      toe,
      normal,
      reverse,
      normalStrip: '-',
      reverseStrip: '-',
      toward: { toe: [-1, 0], normal: [1, 0], reverse: [1, 0] },
      angle: 32,
      hand: 'left',
      record: null,
      of: 'point',
      trap: false,
    });
    passages.push(
      { feature: id, between: [toe, normal], asks: { [id]: 'normal' }, crossing: null },
      { feature: id, between: [toe, reverse], asks: { [id]: 'reverse' }, crossing: null },
    );
  };
  const addPlace = (id: string, span: string, along: 0 | 1): void => {
    places.push({ id, name: id, at: [0, 0], kind: 'end', span, along, length: null, record: null });
    const held = spans.find((each) => each.id === span);
    if (held !== undefined) spans[spans.indexOf(held)] = { ...held, ends: along === 0 ? [id, '-'] : ['-', id] };
  };

  const nodes = [...new Set(arcs.flat())].sort((a, b) => a - b);
  const arcSpans = arcs.map(lay);
  const start = lay();
  addPlace(`from${entry}`, start, 0);
  const finish = new Map(exits.map((node) => [node, lay()]));
  for (const [node, span] of finish) addPlace(`to${node}`, span, 1);
  for (const node of nodes) {
    const into = arcSpans.filter((_, i) => arcs[i]?.[1] === node);
    if (node === entry) into.unshift(start);
    const out = arcSpans.filter((_, i) => arcs[i]?.[0] === node);
    const last = finish.get(node);
    if (last !== undefined) out.unshift(last);
    let [core] = into;
    if (core === undefined || out.length === 0) continue;
    for (const next of into.slice(1)) {
      const joined = lay();
      addPoint({ span: joined, end: 0 }, { span: core, end: 1 }, { span: next, end: 1 });
      core = joined;
    }
    // The node itself: one span, however many ways lead in.
    let here = core;
    out.forEach((way, i) => {
      const [on, other] = [i + 2 < out.length ? lay() : (out[i + 1] ?? null), way];
      if (on === null) return;
      if (i + 1 < out.length) {
        addPoint({ span: here, end: 1 }, { span: other, end: 0 }, { span: on, end: 0 });
        here = on;
      }
    });
    const [only] = out;
    if (out.length === 1 && only !== undefined)
      passages.push({
        feature: `N${node}`,
        between: [
          { span: core, end: 1 },
          { span: only, end: 0 },
        ],
        asks: {},
        crossing: null,
      });
  }
  return { spans, points, crossings: [], bridges: [], butts: [], places, passages, levers: [], problems: [] };
}
