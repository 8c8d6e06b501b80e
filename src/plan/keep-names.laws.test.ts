import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Crossing,
  crossingsOf,
  endsOf,
  far,
  jointsOf,
  type Model,
  newModel,
  offTrack,
  panelOf,
  type Spot,
  type Step,
  stepOf,
  stripsOf,
} from '../../tests/generate/edit-scripts.ts';
import { randomOf } from '../../tests/generate/random.ts';
import { printPlan, printTracks } from '../../tests/generate/tracks.ts';
import {
  applyTransaction,
  foldId,
  invertTransaction,
  type PanelFile,
  type Transaction,
  writePanel,
} from '../panel/index.ts';
import {
  addCorner,
  deleteStrips,
  joinStrips,
  keepNames,
  moveCorner,
  moveStrips,
  type Plan,
  readPlan,
  recordsToAdd,
  removeCorner,
  reverseStrip,
  splitStrip,
} from './index.ts';

const SEED = 20_261_125;
const SCRIPTS = 300;
const EDITS = 20;

/** A state of a script. `named`: which id each joint, end and crossing has, by what the layout was built from. */
interface State {
  readonly model: Model;
  readonly panel: PanelFile;
  readonly plan: Plan;
  readonly named: ReadonlyMap<string, string>;
  /** Every id that was ever given to something. */
  readonly given: ReadonlySet<string>;
}

function editOf(panel: PanelFile, call: Step['call']): Transaction | null {
  switch (call.kind) {
    case 'move':
      return moveStrips(panel, call.strips, call.by);
    case 'corner':
      return moveCorner(panel, call.strip, call.at, call.to);
    case 'add':
      return addCorner(panel, call.strip, call.at, call.to);
    case 'take':
      return removeCorner(panel, call.strip, call.at);
    case 'split':
      return splitStrip(panel, call.strip, call.at);
    case 'join':
      return joinStrips(panel, call.first, call.second);
    case 'delete':
      return deleteStrips(panel, call.strips);
    case 'reverse':
      return reverseStrip(panel, call.strip);
    case 'lay': {
      const record = { id: call.strip, path: call.path };
      return { name: 'strip.lay', changes: [{ kind: 'add', list: 'strips', index: panel.strips.length, record }] };
    }
  }
}

/** The ids of what the model says must be there; and that there is nothing else. */
function namesIn(model: Model, plan: Plan): ReadonlyMap<string, string> {
  const named = new Map<string, string>();
  const at = <T extends { readonly id: string; readonly at: Spot }>(things: readonly T[], key: string, spot: Spot) => {
    const found = things.filter((thing) => far(thing.at, spot) <= 0.02);
    if (found.length !== 1) throw new Error(`${found.length} at ${spot.join(',')} for ${key}`);
    named.set(key, found[0]?.id ?? '');
  };
  const joints = jointsOf(model);
  for (const { key, at: spot } of joints)
    at(
      plan.points.filter(({ of }) => of === 'point'),
      key,
      spot,
    );
  const joined = new Set(joints.map(({ key }) => key));
  const free = model.tracks.flatMap(endsOf).filter(({ key }) => !joined.has(key));
  const ends = plan.places.filter(({ kind }) => kind === 'end');
  for (const { key, spot } of free) at(ends, `end ${key}`, spot);
  const pairs = new Map<string, Crossing[]>();
  for (const crossing of crossingsOf(model)) pairs.set(crossing.pair, [...(pairs.get(crossing.pair) ?? []), crossing]);
  const all = [...plan.crossings, ...plan.bridges.map((bridge) => ({ ...bridge, id: 'over' }))];
  for (const [pair, spots] of pairs) {
    spots.forEach((spot, i) => {
      at(all, `${pair} ${i} of ${spots.length}`, spot.at);
    });
  }
  const roads = plan.places.filter(({ kind }) => kind === 'road');
  for (const { id, at: spot } of roads) {
    const track = model.tracks.find((each) => offTrack(each, spot) <= 0.02);
    named.set(`road on ${track?.name}`, id);
  }
  const slips = plan.points.filter(({ of }) => of === 'slip').length;
  expect([plan.points.length - slips, ends.length, all.length]).toEqual([
    joints.length,
    free.length,
    crossingsOf(model).length,
  ]);
  return named;
}

/** What must hold of every panel after an edit, whatever was done. */
function expectSound(panel: PanelFile, plan: Plan): void {
  const wrong = plan.problems.filter(({ code }) => code !== 'place-unnamed' && code !== 'crossing-unreadable');
  expect(wrong).toEqual([]);
  const things = [...plan.points, ...plan.crossings, ...plan.places];
  expect(things.filter(({ id, record }) => record?.id !== id)).toEqual([]);
  const ids = plan.points.filter(({ of }) => of === 'point').map(({ id }) => id);
  expect((panel.points ?? []).map(({ id }) => id).sort()).toEqual(ids.sort());
  expect((panel.places ?? []).map(({ id }) => id).sort()).toEqual(plan.places.map(({ id }) => id).sort());
  expect(panel.crossings?.length ?? 0).toBe(plan.crossings.length + plan.bridges.length);
  const retired = new Set(panel.retired?.map(foldId));
  expect(retired.size).toBe(panel.retired?.length ?? 0);
  expect(things.filter(({ id }) => retired.has(foldId(id)))).toEqual([]);
}

/** Joints and ends keep their ids while they are there; crossings of two tracks while they are as many; new ones are never old. */
function expectStayed(before: State, model: Model, named: ReadonlyMap<string, string>): void {
  const tracks = new Set(model.tracks.map(({ name }) => name));
  const old = new Set(before.named.values());
  const wrong: string[] = [];
  for (const [key, id] of named) {
    const was = before.named.get(key);
    if (was !== undefined) {
      if (was !== id) wrong.push(`${key} was ${was} and is ${id}`);
    } else if (!(/ \d+ of \d+$/.test(key) && old.has(id)) && before.given.has(id))
      wrong.push(`${key} has the old id ${id}`);
  }
  for (const [key, id] of before.named) {
    const track = key.startsWith('road on ') ? key.slice('road on '.length) : null;
    if (tracks.has(track ?? '') && named.get(key) !== id) wrong.push(`${key} was ${id} and is ${named.get(key)}`);
  }
  expect(wrong).toEqual([]);
}

/** Kinds and normal legs that the file says, at random, so that what is said is seen to stay with its strips. */
function dress(panel: PanelFile, plan: Plan, seed: number): PanelFile {
  const random = randomOf(seed);
  const points = plan.points.map(({ id, at, reverseStrip: branch }): NonNullable<PanelFile['points']>[number] => ({
    id,
    at: [at[0], at[1]],
    ...(random.chance(30) ? { normal: branch } : random.chance(30) ? { normal: random.pick(['left', 'right']) } : {}),
  }));
  const crossings = plan.crossings.map(({ id, at }, i): NonNullable<PanelFile['crossings']>[number] => ({
    id,
    at: [at[0], at[1]],
    ...(random.chance(30) ? { kind: 'over' } : {}),
    ...(random.chance(30) ? { kind: 'double-slip', ends: [{ id: `P${900 + 2 * i}` }, { id: `P${901 + 2 * i}` }] } : {}),
  }));
  const roads = panel.strips.flatMap(({ id, path: [, a, b] }): NonNullable<PanelFile['places']> => {
    if (a === undefined || b === undefined || random.chance(40)) return [];
    return [{ id: `road-${id}`, name: id, at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] }];
  });
  return { ...panel, points, crossings, places: roads };
}

/** Of each joint: does its normal leg lie on the branch? Slips: which way each end looks. Told by tracks, not by strips. */
function liesIn({ model, plan }: Pick<State, 'model' | 'plan'>, named: ReadonlyMap<string, string>) {
  const byId = new Map(plan.points.map((point) => [point.id, point]));
  const trackOfStrip = new Map(
    model.tracks.flatMap((track) => track.pieces.map(({ strip }) => [strip, track.name] as const)),
  );
  const told = new Map<string, string>();
  for (const [key, id] of named) {
    const point = byId.get(id);
    if (point !== undefined)
      told.set(key, `${id} normal ${trackOfStrip.get(point.normalStrip)}`.replace(/m\d$/, 'main'));
  }
  return told;
}

function slipsIn({ model, plan }: Pick<State, 'model' | 'plan'>): ReadonlyMap<string, string> {
  const told = new Map<string, string>();
  for (const point of plan.points) {
    if (point.of !== 'slip') continue;
    const leg = (strip: string) =>
      model.tracks.find((track) => track.pieces.some((piece) => piece.strip === strip))?.name;
    const looks = point.toward.toe[0] < 0 ? 'left' : 'right';
    told.set(point.id, `${looks}: normal ${leg(point.normalStrip)} reverse ${leg(point.reverseStrip)}`);
  }
  return told;
}

/** What both tell, and tell otherwise. */
function turned(before: ReadonlyMap<string, string>, now: ReadonlyMap<string, string>): readonly string[] {
  return [...before].flatMap(([key, was]) => {
    const is = now.get(key);
    return is === undefined || is === was ? [] : [`${key} was ${was} and is ${is}`];
  });
}

/** The strips lie as the model has them. */
function expectLaid(panel: PanelFile, model: Model): void {
  const strips = new Map(panel.strips.map(({ id, path }) => [id, path]));
  const laid = stripsOf(model);
  const wrong = [...laid].filter(([id, path]) => {
    const there = strips.get(id) ?? [];
    return there.length !== path.length || path.some((spot, i) => !(far(there[i] ?? [NaN, NaN], spot) < 1e-6));
  });
  expect([wrong, strips.size]).toEqual([[], laid.size]);
}

function begin(seed: number): State {
  const model = newModel(seed);
  const bare = panelOf(model);
  const dressed = dress(bare, readPlan(bare), seed);
  const records = recordsToAdd(dressed, readPlan(dressed));
  const panel = records === null ? dressed : applyTransaction(dressed, records);
  const plan = readPlan(panel);
  const named = namesIn(model, plan);
  return { model, panel, plan, named, given: new Set(named.values()) };
}

describe(`[KN1] [KN2] [KN3] [KN10] [KN11] names stay through ${SCRIPTS} scripts of ${EDITS} edits (seed ${SEED})`, () => {
  it('whatever is moved, bent, split, joined, taken off, laid, turned round, undone and done again', () => {
    const small = fc.nat({ max: 999 });
    const orders = fc.array(fc.tuple(fc.nat({ max: 13 }), small, small, small), { minLength: EDITS, maxLength: EDITS });
    let edits = 0;
    const kinds = new Map<string, number>();
    const report: string[] = [];
    fc.assert(
      fc.property(fc.nat({ max: 1_000_000 }), orders, (seed, script) => {
        let state = begin(seed);
        const past: { readonly state: State; readonly tx: Transaction }[] = [];
        let future: { readonly state: State; readonly tx: Transaction }[] = [];
        report.length = 0;
        report.push(`seed ${seed}`, printTracks(state.panel));
        try {
          for (const order of script) {
            if (order[0] === 12) {
              const last = past.pop();
              if (last === undefined) continue;
              report.push('undo');
              const back = applyTransaction(state.panel, invertTransaction(last.tx));
              expect(writePanel(back)).toBe(writePanel(last.state.panel));
              future.push({ state, tx: last.tx });
              state = { ...last.state, panel: back };
              continue;
            }
            if (order[0] === 13) {
              const next = future.pop();
              if (next === undefined) continue;
              report.push('redo');
              const on = applyTransaction(state.panel, next.tx);
              expect(writePanel(on)).toBe(writePanel(next.state.panel));
              past.push({ state, tx: next.tx });
              state = { ...next.state, panel: on };
              continue;
            }
            const step = stepOf(state.model, order);
            if (step === null) continue;
            report.push(step.say);
            const tx = editOf(state.panel, step.call);
            if (tx === null) throw new Error('the edit says that there is nothing to do');
            const kept = keepNames(state.panel, state.plan, tx);
            const panel = applyTransaction(state.panel, kept);
            const fresh = panel.strips.find(({ id }) => !state.panel.strips.some((strip) => strip.id === id))?.id;
            const model = step.next(fresh ?? '');
            expectLaid(panel, model);
            const plan = readPlan(panel);
            expectSound(panel, plan);
            const named = namesIn(model, plan);
            expectStayed(state, model, named);
            const next: State = { model, panel, plan, named, given: new Set([...state.given, ...named.values()]) };
            expect([
              ...turned(liesIn(state, state.named), liesIn(next, named)),
              ...turned(slipsIn(state), slipsIn(next)),
            ]).toEqual([]);
            past.push({ state, tx: kept });
            future = [];
            state = next;
            edits += 1;
            kinds.set(step.call.kind, (kinds.get(step.call.kind) ?? 0) + 1);
          }
        } catch (fault) {
          report.push('--- now ---', printTracks(state.panel), printPlan(state.plan));
          throw new Error(`${fault instanceof Error ? fault.message : String(fault)}\n${report.join('\n')}`);
        }
      }),
      { seed: SEED, numRuns: SCRIPTS, endOnFailure: true },
    );
    // Of what the orders ask much is passed over; enough must be left, of every kind.
    expect(edits).toBeGreaterThan((SCRIPTS * EDITS) / 4);
    for (const kind of ['move', 'corner', 'add', 'take', 'split', 'join', 'delete', 'reverse', 'lay'])
      expect(kinds.get(kind) ?? 0, kind).toBeGreaterThan(SCRIPTS / 20);
  }, 120_000);
});
