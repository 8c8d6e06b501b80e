/**
 * The truth proof beside brute force over whole panels: every combination of drive, feed and lighting that is sound, and small panels of
 * several levers. Brute force takes its time, so each panel tries some of its faults, each panel others; all of them agree when all are
 * tried.
 */
import { expect } from 'vitest';
import { type Derived, derive } from '../../src/derive.ts';
import type { PanelFile } from '../../src/panel/index.ts';
import { type Fault, faultsOf } from '../../src/wiring/index.ts';
import { type Setting, WholePanel } from '../oracle/whole-panel.ts';
import { combinations, FEEDS, type FeedKind } from './whole-panels.ts';

/** Of so many faults one is tried. */
const SPARSE = 12;

/** Feeds that hold a drive where it lies; the others throw it and let go. */
export const HOLDING: readonly FeedKind[] = FEEDS.filter((feed) => ['reversing', 'split', 'half-wave'].includes(feed));
export const THROWING: readonly FeedKind[] = FEEDS.filter((feed) => !HOLDING.includes(feed));

interface Entry {
  readonly lamp: string;
  readonly levers: Readonly<Record<string, string>>;
  readonly history: Readonly<Record<string, string>>;
}

/** The settings that entries of the proof stand for, as the oracle names them: an entry may name some levers only. */
function spread(whole: WholePanel, entries: readonly Entry[]): readonly string[] {
  const holds = ({ levers, history }: Entry, setting: Setting) =>
    Object.entries(levers).every(([lever, at]) => setting.levers[lever] === at) &&
    Object.entries(history).every(([point, lie]) => setting.meant[point] === lie);
  const found = whole
    .settings()
    .flatMap((setting) =>
      entries
        .filter((entry) => holds(entry, setting))
        .map(({ lamp }) => `${lamp} ${JSON.stringify(setting.levers)} ${JSON.stringify(setting.meant)}`),
    );
  return [...new Set(found)].sort();
}

/** What the healthy panel says. Sprung levers have no position in the proof: a point's history stands for their throws. */
function compareHealthy(panel: Derived, whole: WholePanel): void {
  const truth = panel.truth();
  const healthy = whole.healthy();
  expect(truth.settings).toBe(String(whole.count()));
  for (const list of ['untruths', 'doubtful', 'silent'] as const)
    expect([list, spread(whole, truth[list])]).toEqual([list, [...new Set(healthy[list])].sort()]);
  expect(truth.contradictions.length > 0).toBe(healthy.contradictions.length > 0);
}

function compareFaults(panel: Derived, whole: WholePanel, tried: readonly Fault[]): void {
  const classes = new Map(panel.faultTruth().outcomes.map(({ fault, class: found }) => [fault, found]));
  const own = tried.map((fault) => [fault.code, whole.judge(fault).class] as const);
  expect(tried.map(({ code }) => [code, classes.get(code)])).toEqual(own);
}

/** Every witness can be seen: with its levers, fault and history the lamp shows what is said, and that is not what it should. */
function compareWitnesses(panel: Derived): void {
  const faults = new Map(faultsOf(panel.wiring).map((fault) => [fault.code, fault]));
  // A reading of an alternating supply is a mean over its cycle; the proof takes steady rails.
  if (panel.wiring.supplies.some(({ kind }) => kind === 'ac')) return;
  for (const { fault, levers, history, lamp, shown, should, mark } of panel.faultTruth().wrongSide) {
    const broken = faults.get(fault);
    const reading = panel.operate(levers, broken === undefined ? [] : [broken], history);
    const read = reading.lamps.find(({ id }) => id === lamp);
    const seen = panel.lamps.find(({ id }) => id === lamp)?.part.seen ?? 0;
    const doubtful = (read?.low ?? 0) < seen && (read?.high ?? 0) > seen / 20;
    const dark = read?.look === 'unlit' || read?.look === 'destroyed';
    const shows = mark === 'doubtful' ? doubtful : (dark ? 'unlit' : 'lit') === shown;
    expect([fault, lamp, levers, history, shows]).toEqual([fault, lamp, levers, history, true]);
    if (mark === null) expect(shown).not.toBe(should);
  }
}

/** One panel of several levers: no lamp is left out, and both agree. */
export function comparePanel(file: PanelFile): void {
  const panel = derive(file);
  const whole = new WholePanel(panel);
  expect(whole.isSound()).toBe(true);
  expect(panel.lamps.filter(({ circuit }) => circuit === null)).toEqual([]);
  compareHealthy(panel, whole);
  const tried = faultsOf(panel.wiring).filter((_fault, i) => i % (2 * SPARSE) === 0);
  expect(tried.length).toBeGreaterThan(2);
  compareFaults(panel, whole, tried);
  compareWitnesses(panel);
}

/** Every combination of drive and lighting on a feed that is sound. */
export function compareFeed(feed: FeedKind): void {
  let sound = 0;
  for (const [at, { name, panel: file }] of combinations(feed).entries()) {
    const panel = derive(file);
    if (panel.lamps.some(({ circuit }) => circuit === null)) continue;
    if (panel.findings().some(({ severity }) => severity === 'danger' || severity === 'wrong')) continue;
    const whole = new WholePanel(panel);
    if (!whole.isSound()) continue;
    sound += 1;
    try {
      compareHealthy(panel, whole);
      const tried = faultsOf(panel.wiring).filter((_fault, i) => (i + at) % SPARSE === 0);
      compareFaults(panel, whole, tried);
      if (at % 4 === 0) compareWitnesses(panel);
    } catch (error) {
      throw new Error(`${name}: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  // Hand-worked points alone make seven.
  expect(sound).toBeGreaterThan(7);
}
