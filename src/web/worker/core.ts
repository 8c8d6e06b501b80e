/** The worker: holds the panel that is open, and answers what stands on it. */
import { expose } from 'comlink';
import type { DerivedPanel } from '../../derive.ts';
import { type DrawnPanel, drawPanel, drawSketch, type SketchedPanel, sketchPanel } from '../../derive-panel.ts';
import { type PanelFile, readPanel } from '../../panel/index.ts';
import { readTrains } from '../../routes/index.ts';
import { deltaOf, withDelta } from './delta.ts';
import { makeLayView } from './lay-view.ts';
import type { OptionsWeigher } from './options.ts';
import type { Core, LayView } from './types.ts';
import { makeFindings, makeLayFindings, makeReading, makeView, takePositions } from './view.ts';

let held: { readonly drawn: DrawnPanel; readonly levers: ReturnType<typeof makeView>['levers'] } | null = null;
/** What was laid last, under which number, and what was told of it. */
let laid: {
  readonly sketch: SketchedPanel;
  readonly panel: PanelFile;
  readonly view: LayView;
  readonly number: number;
  /** Once it was judged. */
  derived: DerivedPanel | null;
} | null = null;
/** The last panel that was judged. */
let judged: DerivedPanel | null = null;

/** What weighs the same panel made otherwise. */
let weigher: OptionsWeigher | null = null;

const opened = (): NonNullable<typeof held> => {
  if (held === null) throw new Error('No panel is open.');
  return held;
};

/** The panel last laid, drawn and judged once for all who ask; null where another was laid meanwhile. */
async function judgeLaid(number: number): Promise<DerivedPanel | null> {
  if (laid?.number !== number) return null;
  const { judgePanel } = await import('../../derive.ts');
  if (laid?.number !== number) return null;
  laid.derived ??= judgePanel(judged, drawSketch(judged, laid.sketch));
  judged = laid.derived;
  return laid.derived;
}

const core: Core = {
  lay(change, since, number) {
    const before = since === null ? null : laid;
    if (before !== null && before.number !== since) return null;
    const panel = withDelta<PanelFile | undefined>(before?.panel, change);
    if (panel === undefined) return null;
    const sketch = sketchPanel(laid?.sketch ?? held?.drawn ?? null, panel);
    const view = makeLayView(sketch);
    laid = { sketch, panel, view, number, derived: null };
    return { change: deltaOf(before?.view, view) };
  },
  async check(number) {
    const derived = await judgeLaid(number);
    if (derived === null) return null;
    const { whyOf } = await import('../../derive.ts');
    // The costly parts one at a time, so that a hand that lays on is answered in between.
    for (const part of [() => derived.routes(), () => derived.truth()]) {
      part();
      await new Promise((done) => setTimeout(done));
      if (laid?.number !== number) return null;
    }
    return makeLayFindings(derived, whyOf);
  },
  async describe(number) {
    const { describeFace } = await import('../../laying/index.ts');
    return laid?.number === number ? describeFace(laid.sketch.panel, laid.sketch.plan) : null;
  },
  async work(number) {
    const { makeWorkView } = await import('./work-view.ts');
    return laid?.number === number ? makeWorkView(laid.sketch) : null;
  },
  async workPiece(number, part) {
    const derived = await judgeLaid(number);
    const { makeWorkPiece } = await import('./work-view.ts');
    return derived === null ? null : makeWorkPiece(derived, part);
  },
  async workRoute(number, route) {
    const derived = await judgeLaid(number);
    const { makeRouteView } = await import('./work-view.ts');
    return derived === null ? null : makeRouteView(derived, route);
  },
  async wire(number, ask) {
    const derived = await judgeLaid(number);
    const { makeWireView } = await import('./wire-view.ts');
    return derived === null ? null : makeWireView(derived, ask);
  },
  async wireLooks(number, ask) {
    const derived = await judgeLaid(number);
    const { makeWireLooks } = await import('./wire-view.ts');
    return derived === null ? null : makeWireLooks(derived, ask);
  },
  async wireTruth(number) {
    const derived = await judgeLaid(number);
    const { makeWireTruth } = await import('./wire-view.ts');
    return derived === null ? null : makeWireTruth(derived);
  },
  open(text, levers) {
    const read = readPanel(text);
    if (!read.ok) return { ok: false, problems: read.problems };
    const drawn = drawPanel(held?.drawn ?? null, read.panel);
    const view = makeView(drawn, levers);
    held = { drawn, levers: view.levers };
    return { ok: true, view };
  },
  operate(levers, lies) {
    const { drawn, levers: known } = opened();
    return makeReading(drawn.operate(takePositions(known, levers), [], lies));
  },
  standing: () => {
    const { panel, plan } = opened().drawn;
    return readTrains(panel, plan);
  },
  async trains(ask) {
    const { plan } = opened().drawn;
    const { tellTrains } = await import('./trains.ts');
    return tellTrains(plan, ask);
  },
  async bring(ask) {
    const { plan } = opened().drawn;
    const { bringTrains } = await import('./trains.ts');
    return bringTrains(plan, ask);
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
  async nextOption(text) {
    if (text !== null) {
      const { weighOptions } = await import('./options.ts');
      weigher = weighOptions(text);
    }
    return weigher?.next() ?? null;
  },
  tryOption: (id) => weigher?.tryFaults(id) ?? null,
  async book(order) {
    const { makeBook } = await import('./book.ts');
    return makeBook(order);
  },
};

expose(core);
