import { createContext, useContext } from 'react';
import { useStore } from 'zustand';
import type { StandingTrain } from '../../routes/index.ts';
import { trainWords } from '../words/trains.ts';
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

/** The trains as they are now: as the sheet has them, or as they were told where it cannot be read. */
export function useStanding(): readonly StandingTrain[] {
  return useTrains(({ answer, standing }) => (answer === null || answer.why.length > 0 ? standing : answer.now));
}
