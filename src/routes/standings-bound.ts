/** Throws that no plan does without. */
import type { StandingsModel, WayGroup } from './standings-model.ts';

/**
 * A lever counts where, without the ways that need it to lie one way, some train would have no way to where it is wanted, and it does not
 * lie so yet; once more where the same holds of both ways. Admissible: such a train passes it so at least once, in whatever plan; to lie
 * both ways in turn it has to be thrown between.
 */
export function throwsAtLeast(model: StandingsModel, lies: ArrayLike<number>): number {
  let sum = 0;
  for (let thing = 0; thing < lies.length; thing++) {
    const needed = [0, 1].map((position) => isNeeded(model, thing, position));
    if (needed[0] === true && needed[1] === true) sum += lies[thing] === 2 ? 2 : 1;
    else if (needed.some((each, position) => each && lies[thing] !== position)) sum += 1;
  }
  return sum;
}

/** Whether a train cannot get where it is wanted without this lying so. */
function isNeeded(model: StandingsModel, thing: number, position: number): boolean {
  const { wants, start, alone, places, groups } = model;
  const serves = ({ ways }: WayGroup) =>
    ways.some(({ needs }) => needs?.every((need) => need[0] !== thing || need[1] !== position) === true);
  return wants.some((want, train) => {
    const from = start.places[train] ?? -1;
    if (want.place < 0 || want.place === from) return false;
    const reached = new Uint8Array(places);
    reached[from] = 1;
    const ahead = [from];
    for (let place = ahead.pop(); place !== undefined; place = ahead.pop()) {
      for (const group of groups[place] ?? []) {
        if (reached[group.to] === 1 || alone[train * places + group.to] !== 1 || !serves(group)) continue;
        if (group.to === want.place) return false;
        reached[group.to] = 1;
        ahead.push(group.to);
      }
    }
    return true;
  });
}
