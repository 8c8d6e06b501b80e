/** The worker: holds the panel that is open, and answers what stands on it. */
import { expose } from 'comlink';
import { type Derived, derive } from '../../derive.ts';
import { readPanel } from '../../panel/index.ts';
import type { Core } from './types.ts';
import { makeFindings, makeReading, makeView, takePositions } from './view.ts';

let held: { readonly derived: Derived; readonly levers: ReturnType<typeof makeView>['levers'] } | null = null;

const opened = (): NonNullable<typeof held> => {
  if (held === null) throw new Error('No panel is open.');
  return held;
};

const core: Core = {
  open(text, levers) {
    const read = readPanel(text);
    if (!read.ok) return { ok: false, problems: read.problems };
    const derived = derive(read.panel);
    const view = makeView(derived, levers);
    held = { derived, levers: view.levers };
    return { ok: true, view };
  },
  operate(levers) {
    const { derived, levers: known } = opened();
    return makeReading(derived.operate(takePositions(known, levers)));
  },
  findings() {
    return makeFindings(opened().derived);
  },
};

expose(core);
