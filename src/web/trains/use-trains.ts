import { createContext, useContext } from 'react';
import { useStore } from 'zustand';
import type { StandingTrain } from '../../routes/index.ts';
import { inOrderOf } from '../run/throws.ts';
import { trainWords } from '../words/trains.ts';
import type { ViewMove } from '../worker/trains.ts';
import type { View } from '../worker/types.ts';
import type { TrainsActions, TrainsState, TrainsStore } from './trains-store.ts';

export const TrainsContext = createContext<TrainsStore | null>(null);

/** One thing of the trains; drawn again when it changes. Only below `TrainsContext`. */
export function useTrains<T>(pick: (state: TrainsState & TrainsActions) => T): T {
  const store = useContext(TrainsContext);
  if (store === null) throw new Error('No trains above this component.');
  return useStore(store, pick);
}

/** A train as it is called: by its name, else by its number. */
export function trainName({ id, name }: Pick<StandingTrain, 'id' | 'name'>): string {
  return name === null || name === '' ? trainWords.numbered(Number(id.replace(/\D+/g, '')) || 1) : name;
}

/** The name of one of the trains that stand; by its number where it is none of them. */
export function nameIn(standing: readonly StandingTrain[], id: string): string {
  return trainName(standing.find((each) => each.id === id) ?? { id, name: null });
}

/** What is thrown before a move, in the order of its line. */
export function throwsOf(view: View, move: ViewMove | null): readonly (readonly [id: string, lie: string])[] {
  if (move === null) return [];
  const throws = move.throws ?? {};
  return inOrderOf(view, move, Object.keys(throws)).flatMap((id) => {
    const lie = throws[id];
    return lie === undefined ? [] : [[id, lie] as const];
  });
}

/** The trains as they are now: as the sheet has them, or as they were told where it cannot be read. */
export function useStanding(): readonly StandingTrain[] {
  return useTrains(({ answer, standing }) => (answer === null || answer.why.length > 0 ? standing : answer.now));
}
