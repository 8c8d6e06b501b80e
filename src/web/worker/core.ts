/** The worker: holds the panel that is open, and answers what stands on it. */
import { expose } from 'comlink';
import { type DerivedPanel, derivePanel } from '../../derive.ts';
import { readPanel } from '../../panel/index.ts';
import type { Core } from './types.ts';
import { makeFindings, makeReading, makeView, takePositions } from './view.ts';

let held: { readonly derived: DerivedPanel; readonly levers: ReturnType<typeof makeView>['levers'] } | null = null;

const opened = (): NonNullable<typeof held> => {
  if (held === null) throw new Error('No panel is open.');
  return held;
};

const core: Core = {
  open(text, levers) {
    const read = readPanel(text);
    if (!read.ok) return { ok: false, problems: read.problems };
    const derived = derivePanel(held?.derived ?? null, read.panel);
    const view = makeView(derived, levers);
    held = { derived, levers: view.levers };
    return { ok: true, view };
  },
  operate(levers) {
    const { derived, levers: known } = opened();
    return makeReading(derived.operate(takePositions(known, levers)));
  },
  async findings() {
    const { derived, levers } = opened();
    // The costly parts one at a time, with room between them for a throw; the core keeps what is worked out.
    const everyReverse = Object.fromEntries(levers.map(({ id }) => [id, 'reverse'] as const));
    for (const part of [() => derived.routes(), () => derived.operate(everyReverse), () => derived.truth()]) {
      part();
      await new Promise((done) => setTimeout(done));
    }
    return makeFindings(derived);
  },
};

expose(core);
