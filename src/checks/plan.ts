/** What the plan could not read, or read with a doubt; and what it allows that no train should meet. */
import { editOf, type ListKey, nextFreeId, type PanelFile, type Strip } from '../panel/index.ts';
import { BRANCH_LEAST, BRANCH_MOST, type PlanProblem } from '../plan/index.ts';
import type { Spot } from '../units/index.ts';
import { addLever, leaveTo, liftRecord, mend } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import { MANY_CORNERS } from './tolerances.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkPlan(input: CheckInput): readonly RawFinding[] {
  return [
    ...input.plan.problems.map((problem) => ofProblem(input, problem)),
    ...pressedToo(input),
    ...crossingThemselves(input),
    ...manyCorners(input),
    ...threeWays(input),
  ];
}

/** A button that sets what a lever holds asks the same point a second time; beside a lever that springs back it is one more pulse. */
function pressedToo({ panel, plan, switches }: CheckInput): readonly RawFinding[] {
  if ((panel.buttons ?? []).length === 0) return [];
  const holds = (lever: string) => switches.find((each) => each.lever === lever)?.part.sprung !== true;
  return plan.points.flatMap((point): readonly RawFinding[] => {
    const levers = plan.levers.filter(
      (lever) => holds(lever.id) && lever.works.some((worked) => worked.point === point.id),
    );
    const buttons = (panel.buttons ?? []).filter((button) => button.sets?.[point.id] !== undefined);
    if (levers.length === 0 || buttons.length === 0) return [];
    const by = [...levers, ...buttons].map((each) => each.id).join(' and ');
    return [
      raw('point-worked-twice', [point.id], point.at, { levers: by }, [
        ...buttons
          .map(({ id }) => liftRecord(panel, 'buttons', id, 'lift-button', `Take button ${id} away`))
          .slice(0, 1),
      ]),
    ];
  });
}

/** Diamonds of a strip with itself that no record speaks of: once a strip, at the first. */
function crossingThemselves({ panel, plan }: CheckInput): readonly RawFinding[] {
  const own = plan.crossings.filter(({ strips, record }) => strips[0] === strips[1] && record === null);
  return [...new Set(own.map(({ strips }) => strips[0]))].flatMap((strip) => {
    const [first, ...more] = own.filter(({ strips }) => strips[0] === strip);
    if (first === undefined) return [];
    const record = { id: first.id, at: [first.at[0], first.at[1]] as [number, number], kind: 'over' as const };
    const edit = more.length > 0 ? null : editOf(panel).add('crossings', record).done('crossing.over');
    return [
      raw('strip-crosses-itself', [strip], first.at, { more: more.length }, [
        mend('make-bridge', 'Make it a bridge', edit),
      ]),
    ];
  });
}

function manyCorners({ panel }: CheckInput): readonly RawFinding[] {
  return panel.strips.flatMap(({ id, path }) => {
    const [first] = path;
    if (first === undefined || path.length <= MANY_CORNERS) return [];
    return [raw('strip-many-corners', [id], [first[0], first[1]], { corners: path.length })];
  });
}

/** Can the levers set both halves of a three-way point to reverse? */
function threeWays({ plan }: CheckInput): readonly RawFinding[] {
  const halves = plan.points.filter((point) => point.of === 'three-way');
  return halves.flatMap((one, i): readonly RawFinding[] => {
    const two = halves.find((other, j) => j > i && other.at[0] === one.at[0] && other.at[1] === one.at[1]);
    if (two === undefined) return [];
    const [a, b] = [one, two].map(({ id }) => {
      const lever = plan.levers.find((each) => each.works.some((worked) => worked.point === id));
      return { lever: lever?.id, whenNormal: lever?.works.find((worked) => worked.point === id)?.whenNormal };
    });
    if (a?.lever === undefined || b?.lever === undefined) return [];
    // One lever that takes turns between the two never has both reverse.
    if (a.lever === b.lever && a.whenNormal !== b.whenNormal) return [];
    const levers = [...new Set([a.lever, b.lever])];
    return [
      raw('three-way-both-reverse', [one.id, two.id], one.at, {
        levers: levers.join(' and '),
        can: levers.length === 1 ? 'sets' : 'together can set',
      }),
    ];
  });
}

function ofProblem({ panel, plan, catalogue }: CheckInput, problem: PlanProblem): RawFinding {
  const leverAt = (id: string) => plan.levers.find((lever) => lever.id === id)?.at ?? null;
  switch (problem.code) {
    case 'strip-no-length':
      return raw(problem.code, [problem.strip], problem.at, {}, [lift(panel, problem.strip)]);
    case 'end-too-square':
      return raw(
        problem.code,
        [problem.strip, problem.onto],
        problem.at,
        { angle: problem.angle, most: BRANCH_MOST },
        moveEnd(panel, problem.strip, problem.at, problem.swingTo, 'swing-end', 'Swing the end to 32 degrees'),
      );
    case 'end-too-flat':
      return raw(problem.code, [problem.strip, problem.onto], problem.at, {
        angle: problem.angle,
        least: BRANCH_LEAST,
      });
    case 'end-misses':
      return raw(
        problem.code,
        [problem.strip, problem.onto],
        problem.at,
        { gap: problem.gap },
        moveEnd(panel, problem.strip, problem.at, problem.snapTo, 'join-end', 'Join the end'),
      );
    case 'butt-kink':
      return raw(problem.code, problem.strips, problem.at, { kink: problem.kink });
    case 'ends-ambiguous':
      return raw(problem.code, problem.strips, problem.at);
    case 'strips-overlap':
      return raw(problem.code, [...new Set(problem.strips)], problem.at, { length: problem.length }, [
        lift(panel, problem.strips[1]),
      ]);
    case 'crossing-unreadable':
      return raw(problem.code, [...new Set(problem.strips)], problem.at);
    case 'record-finds-nothing':
      return raw(problem.code, [problem.id], problem.at, { kind: problem.kind, reach: problem.reach }, [
        liftRecord(panel, LIST_OF[problem.kind], problem.id, 'lift-record', `Take ${problem.id} out of the file`),
      ]);
    case 'records-on-one':
      return raw(problem.code, problem.ids, problem.at, { kind: problem.kind }, [
        keepFirst(panel, LIST_OF[problem.kind], problem.ids),
      ]);
    case 'normal-unknown':
      return raw(problem.code, [problem.point], problem.at, { normal: problem.normal }, [
        straighter(panel, problem.point),
      ]);
    case 'place-unnamed':
      return raw(problem.code, [problem.place], problem.at, { strip: problem.strip }, [
        namePlace(panel, problem.place, problem.at),
      ]);
    case 'lever-works-nothing-there':
      return raw(problem.code, [problem.lever], leverAt(problem.lever), { point: problem.point }, [
        dropWork(panel, problem.lever, problem.point),
      ]);
    case 'lever-works-nothing':
      return raw(problem.code, [problem.lever], leverAt(problem.lever), {}, [
        liftRecord(panel, 'levers', problem.lever, 'lift-lever', 'Take the lever away'),
      ]);
    case 'point-worked-twice':
      return raw(problem.code, [problem.point], problem.at, { levers: problem.levers.join(' and ') }, [
        leaveTo(panel, problem.levers[0] ?? '', [problem.point]),
      ]);
    case 'point-worked-by-none':
      return raw(problem.code, [problem.point], problem.at, {}, [addLever(panel, catalogue, problem.point)]);
  }
}

const LIST_OF = { place: 'places', point: 'points', crossing: 'crossings', threeWay: 'threeWays' } as const;

/** Of several records of one thing the first in the file stays. */
function keepFirst(panel: PanelFile, list: ListKey, ids: readonly string[]): Mend {
  const [first, ...others] = ids;
  let edit = editOf(panel);
  for (const id of others) edit = edit.remove(list, id);
  return mend('keep-first', `Keep ${first ?? ''} alone`, edit.done('record.lift'));
}

function straighter(panel: PanelFile, point: string): Mend {
  const edit = panel.points?.some((record) => record.id === point)
    ? editOf(panel).update('points', point, { normal: undefined }).done('point.normal')
    : null;
  return mend('straighter-leg', 'Take the straighter leg as normal', edit);
}

function dropWork(panel: PanelFile, lever: string, point: string): Mend {
  const record = panel.levers?.find((each) => each.id === lever);
  const works = (record?.works ?? []).filter((each) => each.point !== point);
  const edit = record === undefined ? null : editOf(panel).update('levers', lever, { works }).done('lever.works');
  return mend('drop-point', `Take ${point} off ${lever}`, edit);
}

function lift(panel: PanelFile, id: string): Mend {
  return {
    id: 'lift-strip',
    text: 'Lift the strip',
    price: null,
    edit: editOf(panel).remove('strips', id).done('strip.lift'),
  };
}

/** Move the end of a strip that lies nearest a spot; nothing is offered where there is no better spot for it. */
function moveEnd(panel: PanelFile, id: string, at: Spot, to: Spot, name: string, text: string): readonly Mend[] {
  const strip = panel.strips.find((each) => each.id === id);
  if (strip === undefined || (at[0] === to[0] && at[1] === to[1])) return [];
  const edit = editOf(panel)
    .update('strips', id, { path: withEndAt(strip, at, to) })
    .done('strip.move-end');
  return [mend(name, text, edit)];
}

function withEndAt(strip: Strip, at: Spot, to: Spot): Strip['path'] {
  const path = strip.path.map((corner) => [corner[0], corner[1]] as [number, number]);
  const [first, last] = [path[0], path[path.length - 1]];
  if (first === undefined || last === undefined) return path;
  const near = (corner: readonly [number, number]) => Math.hypot(corner[0] - at[0], corner[1] - at[1]);
  path[near(first) < near(last) ? 0 : path.length - 1] = [to[0], to[1]];
  return path;
}

function namePlace(panel: PanelFile, place: string, at: Spot): Mend {
  const number = nextFreeId(panel, 'place').slice('place'.length);
  const name = `Place ${number}`;
  const record = panel.places?.find((each) => each.id === place);
  // A record without a name gets one; a second record on the same end would be one too many.
  const edit =
    record === undefined
      ? editOf(panel).add('places', { id: `place${number}`, name, at: [at[0], at[1]] })
      : editOf(panel).update('places', place, { name });
  return { id: 'name-place', text: 'Name this place', price: null, edit: edit.done('place.name') };
}
