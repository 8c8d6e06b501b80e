/** What the plan could not read, or read with a doubt; and what it cannot reach. */
import { editOf, nextFreeId, type PanelFile, type Strip } from '../panel/index.ts';
import { BRANCH_LEAST, BRANCH_MOST, type PlanProblem } from '../plan/index.ts';
import type { Spot } from '../units/index.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkPlan(input: CheckInput): readonly RawFinding[] {
  return input.plan.problems.map((problem) => ofProblem(input.panel, problem));
}

function ofProblem(panel: PanelFile, problem: PlanProblem): RawFinding {
  switch (problem.code) {
    case 'strip-no-length':
      return raw(problem.code, [problem.strip], problem.at, {}, [lift(panel, problem.strip)]);
    case 'end-too-square':
      return raw(problem.code, [problem.strip, problem.onto], problem.at, { angle: problem.angle, most: BRANCH_MOST }, [
        moveEnd(panel, problem.strip, problem.at, problem.swingTo, 'swing-end', 'Swing the end to 32 degrees'),
      ]);
    case 'end-too-flat':
      return raw(problem.code, [problem.strip, problem.onto], problem.at, {
        angle: problem.angle,
        least: BRANCH_LEAST,
      });
    case 'end-misses':
      return raw(problem.code, [problem.strip, problem.onto], problem.at, { gap: problem.gap }, [
        moveEnd(panel, problem.strip, problem.at, problem.snapTo, 'join-end', 'Join the end'),
      ]);
    case 'butt-kink':
      return raw(problem.code, problem.strips, problem.at, { kink: problem.kink });
    case 'ends-ambiguous':
      return raw(problem.code, problem.strips, problem.at);
    case 'strips-overlap':
      return raw(problem.code, problem.strips, problem.at, { length: problem.length });
    case 'crossing-unreadable':
      return raw(problem.code, problem.strips, problem.at);
    case 'record-finds-nothing':
      return raw(problem.code, [problem.id], problem.at, { kind: problem.kind, reach: problem.reach });
    case 'records-on-one':
      return raw(problem.code, problem.ids, problem.at, { kind: problem.kind });
    case 'normal-unknown':
      return raw(problem.code, [problem.point], problem.at, { normal: problem.normal });
    case 'place-unnamed':
      return raw(problem.code, [problem.place], problem.at, { strip: problem.strip }, [namePlace(panel, problem.at)]);
    case 'lever-works-nothing-there':
      return raw(problem.code, [problem.lever], null, { point: problem.point });
    case 'lever-works-nothing':
      return raw(problem.code, [problem.lever]);
    case 'point-worked-twice':
      return raw(problem.code, [problem.point], problem.at, { levers: problem.levers.join(' and ') });
    case 'point-worked-by-none':
      return raw(problem.code, [problem.point], problem.at);
  }
}

function lift(panel: PanelFile, id: string): Mend {
  return {
    id: 'lift-strip',
    text: 'Lift the strip',
    price: null,
    edit: editOf(panel).remove('strips', id).done('strip.lift'),
  };
}

/** Move the end of a strip that lies nearest a spot. */
function moveEnd(panel: PanelFile, id: string, at: Spot, to: Spot, mend: string, text: string): Mend {
  const strip = panel.strips.find((each) => each.id === id);
  const edit =
    strip === undefined
      ? null
      : editOf(panel)
          .update('strips', id, { ...strip, path: withEndAt(strip, at, to) })
          .done('strip.move-end');
  return { id: mend, text, price: null, edit };
}

function withEndAt(strip: Strip, at: Spot, to: Spot): Strip['path'] {
  const path = strip.path.map((corner) => [corner[0], corner[1]] as [number, number]);
  const [first, last] = [path[0], path[path.length - 1]];
  if (first === undefined || last === undefined) return path;
  const near = (corner: readonly [number, number]) => Math.hypot(corner[0] - at[0], corner[1] - at[1]);
  path[near(first) < near(last) ? 0 : path.length - 1] = [to[0], to[1]];
  return path;
}

function namePlace(panel: PanelFile, at: Spot): Mend {
  const id = nextFreeId(panel, 'place');
  const edit = editOf(panel)
    .add('places', { id, name: `Place ${id.slice('place'.length)}`, at: [at[0], at[1]] })
    .done('place.name');
  return { id: 'name-place', text: 'Name this place', price: null, edit };
}
