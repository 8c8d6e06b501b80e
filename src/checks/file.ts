/** What the file says that nothing answers to: unknown keys, references to ids that are not there, parts of the user's own. */
import { editOf, type PanelFile, unknownKeys } from '../panel/index.ts';
import { mend } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkFile(input: CheckInput): readonly RawFinding[] {
  const { panel, catalogue } = input;
  return [
    ...unknownKeys(panel).map(({ path }) => raw('key-unknown', [], null, { path })),
    ...references(panel, input),
    ...catalogue.problems.map((problem) => {
      const { code, id, ...values } = problem;
      return raw(code, [id], null, values, code === 'part-figure-bad' ? [typical(panel, id, problem.figure)] : []);
    }),
    ...(panel.strips.length === 0 ? [raw('strips-none', [])] : []),
  ];
}

function typical(panel: PanelFile, id: string, figure: string): Mend {
  const edit = panel.parts?.some((part) => part.id === id)
    ? editOf(panel)
        .update('parts', id, { [figure]: undefined })
        .done('part.figure')
    : null;
  return mend('typical-figure', 'Use the typical figure', edit);
}

/** References that no other subject follows. Those of points, levers, lamps, groups, feeds and pins are found where they are used. */
function references(panel: PanelFile, input: CheckInput): readonly RawFinding[] {
  const found: RawFinding[] = [];
  const points = new Set(input.plan.points.map((point) => point.id));
  const places = new Set(input.plan.places.map((place) => place.id));
  const levers = new Set(input.plan.levers.map((lever) => lever.id));
  const lamps = new Set((panel.lamps ?? []).map((lamp) => lamp.id));
  const supplies = new Set((panel.supplies ?? [{ id: 'S1' }]).map((supply) => supply.id));
  const boards = new Set((panel.boards ?? []).map((board) => board.id));
  const crossings = new Set([
    ...input.plan.crossings.map((crossing) => crossing.id),
    ...(panel.crossings ?? []).map((record) => record.id),
  ]);
  const want = (owner: string, key: string, kind: string, names: string | undefined, known: ReadonlySet<string>) => {
    if (names !== undefined && !known.has(names))
      found.push(raw('reference-unknown', [owner], null, { key, kind, names }));
  };
  for (const frog of panel.frogs ?? [])
    want(frog.id, 'of', 'point or crossing', frog.of, new Set([...points, ...crossings]));
  for (const button of panel.buttons ?? [])
    for (const id of Object.keys(button.sets ?? {})) want(button.id, 'sets', 'point', id, points);
  for (const relay of panel.relays ?? []) want(relay.id, 'follows', 'point', relay.follows, points);
  for (const train of panel.trains ?? []) {
    want(train.id, 'stands', 'place', train.stands, places);
    want(train.id, 'heads', 'place', train.heads, places);
  }
  for (const each of panel.returns ?? []) {
    want(each.id, 'supply', 'supply', each.supply, supplies);
    for (const id of each.levers ?? []) want(each.id, 'levers', 'lever', id, levers);
  }
  for (const joint of panel.boardJoints ?? [])
    for (const id of joint.between ?? []) want(joint.id, 'between', 'board', id, boards);
  for (const supply of panel.supplies ?? []) want(supply.id, 'from', 'supply', supply.from, supplies);
  want('lighting', 'supply', 'supply', panel.lighting?.supply, supplies);
  want('lighting', 'from', 'place', panel.lighting?.from, places);
  for (const lamp of panel.lamps ?? []) want(lamp.id, 'from', 'place', lamp.from, places);
  for (const [id, group] of Object.entries(panel.built?.groups ?? {}))
    for (const lamp of group.lamps) want(id, 'lamps', 'lamp', lamp, lamps);
  return found;
}
