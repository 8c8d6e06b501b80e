/** The worker: holds the panel that is open, and answers what stands on it. */
import { expose } from 'comlink';
import type { DerivedPanel } from '../../derive.ts';
import { type DrawnPanel, drawPanel, type SketchedPanel, sketchPanel } from '../../derive-panel.ts';
import { readPanel } from '../../panel/index.ts';
import { makeLayView } from './lay-view.ts';
import type { Core } from './types.ts';
import { makeFindings, makeLayFindings, makeReading, makeView, takePositions } from './view.ts';

let held: { readonly drawn: DrawnPanel; readonly levers: ReturnType<typeof makeView>['levers'] } | null = null;
/** What was laid last, with the revision of its document. */
let laid: { readonly sketch: SketchedPanel; readonly revision: number } | null = null;
/** The last panel that was judged. */
let judged: DerivedPanel | null = null;

const opened = (): NonNullable<typeof held> => {
  if (held === null) throw new Error('No panel is open.');
  return held;
};

const core: Core = {
  lay(panel, revision) {
    const sketch = sketchPanel(laid?.sketch ?? held?.drawn ?? null, panel);
    laid = { sketch, revision };
    return makeLayView(sketch, revision);
  },
  async check(revision) {
    if (laid?.revision !== revision) return null;
    const { judgePanel, whyOf } = await import('../../derive.ts');
    if (laid?.revision !== revision) return null;
    const drawn = drawPanel(laid.sketch, laid.sketch.panel);
    const derived = judgePanel(judged, drawn);
    judged = derived;
    // The costly parts one at a time, so that a hand that lays on is answered in between.
    for (const part of [() => derived.routes(), () => derived.truth()]) {
      part();
      await new Promise((done) => setTimeout(done));
      if (laid?.revision !== revision) return null;
    }
    return makeLayFindings(derived, whyOf);
  },
  async describe(revision) {
    const { describeFace } = await import('../../laying/index.ts');
    return laid?.revision === revision ? describeFace(laid.sketch.panel, laid.sketch.plan) : null;
  },
  open(text, levers) {
    const read = readPanel(text);
    if (!read.ok) return { ok: false, problems: read.problems };
    const drawn = drawPanel(held?.drawn ?? null, read.panel);
    const view = makeView(drawn, levers);
    held = { drawn, levers: view.levers };
    return { ok: true, view };
  },
  operate(levers) {
    const { drawn, levers: known } = opened();
    return makeReading(drawn.operate(takePositions(known, levers)));
  },
  async findings() {
    const { drawn, levers } = opened();
    // What judges is fetched once the panel is drawn.
    const { judgePanel, whyOf } = await import('../../derive.ts');
    const derived = judgePanel(judged, drawn);
    judged = derived;
    // The costly parts one at a time, with room between them for a throw; the core keeps what is worked out.
    const everyReverse = Object.fromEntries(levers.map(({ id }) => [id, 'reverse'] as const));
    for (const part of [() => derived.routes(), () => derived.operate(everyReverse), () => derived.truth()]) {
      part();
      await new Promise((done) => setTimeout(done));
    }
    return makeFindings(derived, whyOf);
  },
};

expose(core);
  async book(order) {
    const { makeBook } = await import('./book.ts');
    return makeBook(order);
  },
