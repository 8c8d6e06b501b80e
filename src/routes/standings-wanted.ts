/** What is wanted of trains, and why it cannot be had. */
import type { Plan } from '../plan/index.ts';
import { foulsOf } from './legal-moves.ts';
import type { Want } from './standings-model.ts';
import {
  fitOf,
  fullWords,
  headingTo,
  inWords,
  isLeftToRight,
  placeName,
  type Stands,
  trainName,
} from './train-stands.ts';
import type { StandingTrain, WantedTrain } from './train-types.ts';
import type { TrainWays } from './train-ways.ts';

export interface WantedRead {
  /** By train. */
  readonly wants: readonly Want[];
  /** Trains wanted at one place in the order that they must have along its span. */
  readonly orders: readonly (readonly number[])[];
  readonly why: readonly string[];
}

/** What is wanted by number; `why` is not empty where it cannot be had whatever moves. */
export function readWanted(
  plan: Plan,
  ways: TrainWays,
  stands: Stands,
  wanted: readonly WantedTrain[],
  { othersStay = false, inOrder = false }: { readonly othersStay?: boolean; readonly inOrder?: boolean },
): WantedRead {
  const why: string[] = [];
  const wants: Want[] = stands.trains.map((_, i) => ({
    place: othersStay ? (stands.places[i] ?? -1) : -1,
    head: -1,
  }));
  const named = new Map<number, number[]>();
  const seen = new Set<string>();
  for (const { train, place, heads = null } of wanted) {
    const number = stands.trains.findIndex(({ id }) => id === train);
    const there = plan.places.findIndex(({ id }) => id === place);
    const marker = stands.trains[number];
    if (number < 0) why.push(`there is no train ${train} that stands on the plan`);
    if (there < 0) why.push(`there is no place ${place}`);
    if (seen.has(train)) why.push(`${train} is wanted in two places`);
    seen.add(train);
    if (marker === undefined || there < 0) continue;
    let head = -1;
    if (heads !== null) {
      const way = headingTo(plan, ways, there, heads);
      if (way === null) why.push(`${heads} lies neither one way nor the other from ${placeName(plan, there)}, or both`);
      if ((stands.heads[number] ?? null) === null)
        why.push(`how ${trainName(marker)} heads where it stands is not given`);
      head = way ?? -1;
    }
    wants[number] = { place: there, head };
    named.set(there, [...(named.get(there) ?? []), number]);
  }
  for (const [place] of plan.places.entries()) {
    const there = wants.flatMap((want, i) => (want.place === place ? [i] : []));
    const all = (list: readonly number[]): readonly StandingTrain[] => list.flatMap((i) => stands.trains[i] ?? []);
    // Those that stand there already, and all together, need no room that is not there.
    const come = there.filter((i) => stands.places[i] !== place);
    const alone = come.filter((i) => fitOf(plan, place, all([i])) === 'no');
    for (const i of alone) why.push(fullWords(plan, place, all([i])));
    if (alone.length === 0 && come.length > 0 && fitOf(plan, place, all(there)) === 'no')
      why.push(fullWords(plan, place, all([...there.filter((i) => !come.includes(i)), ...come])));
  }
  const orders = inOrder
    ? [...named].map(([place, list]) => (isLeftToRight(plan, place) ? list : [...list].reverse()))
    : [];
  return { wants, orders, why };
}

/** Why a search to its end found nothing. */
export function whyNot(
  plan: Plan,
  ways: TrainWays,
  stands: Stands,
  wants: readonly Want[],
  { moved, standings }: { readonly moved: Uint8Array; readonly standings: number },
): readonly string[] {
  const why: string[] = [];
  wants.forEach((want, i) => {
    const train = stands.trains[i];
    const from = stands.places[i] ?? -1;
    if (train === undefined || want.place < 0 || want.place === from) return;
    why.push(...noWay(plan, ways, train, from, want.place));
  });
  if (why.length > 0) return why;
  wants.forEach((want, i) => {
    const train = stands.trains[i];
    const from = stands.places[i] ?? -1;
    if (train === undefined || want.place < 0 || want.place === from || moved[i] === 1) return;
    const fouls = (ways.from[from] ?? []).flatMap((way) => foulsOf(plan, stands, i, way));
    const names = [...new Set(fouls.map(({ train: id, place }) => `${id} ${place}`))].map((each) => {
      const [id = '', place = ''] = each.split(' ');
      const other = stands.trains.find((one) => one.id === id);
      const number = plan.places.findIndex((one) => one.id === place);
      return `${other === undefined ? id : trainName(other)} stands in ${placeName(plan, number)}`;
    });
    if (names.length > 0) why.push(`${trainName(train)} cannot leave ${placeName(plan, from)} while ${inWords(names)}`);
  });
  const all = `no order of moves brings it about: the search looked at every standing that can be reached, ${standings} in all`;
  return [...why, all];
}

/** Why a train that is alone cannot get from one place to another; empty where it can. */
function noWay(plan: Plan, ways: TrainWays, train: StandingTrain, from: number, to: number): readonly string[] {
  const fits = (place: number) => fitOf(plan, place, [train]) !== 'no';
  if (placesAlong(ways, from, to, fits, true) !== null) return [];
  const names = `from ${placeName(plan, from)} to ${placeName(plan, to)}`;
  const short = placesAlong(ways, from, to, () => true, true);
  if (short !== null) return short.filter((place) => !fits(place)).map((place) => fullWords(plan, place, [train]));
  const unset = placesAlong(ways, from, to, () => true, false);
  return [
    unset === null
      ? `no way leads ${names}, turning back or not`
      : `the levers can set no way ${names}, turning back or not`,
  ];
}

/** Places at which the fewest moves end, the last `to`; null where there is no way. */
function placesAlong(
  ways: TrainWays,
  from: number,
  to: number,
  mayStop: (place: number) => boolean,
  set: boolean,
): readonly number[] | null {
  const by = new Map<number, number>([[from, -1]]);
  const ahead = [from];
  for (const place of ahead) {
    for (const way of ways.from[place] ?? []) {
      if (by.has(way.to) || !mayStop(way.to) || (set && way.needs === null)) continue;
      by.set(way.to, place);
      ahead.push(way.to);
    }
  }
  if (!by.has(to)) return null;
  const along: number[] = [];
  for (let place = to; place !== from && place >= 0; place = by.get(place) ?? -1) along.unshift(place);
  return along;
}
