import { createContext, useContext } from 'react';
import { useStore } from 'zustand';
import type { WorkActions, WorkState, WorkStore } from './work-store.ts';

export const WorkContext = createContext<WorkStore | null>(null);

/** The store of the stage Work. Only below `WorkContext`. */
export function useWorkStore(): WorkStore {
  const store = useContext(WorkContext);
  if (store === null) throw new Error('No Work store above this component.');
  return store;
}

/** One thing of the stage; drawn again when it changes. */
export function useWork<T>(pick: (state: WorkState & WorkActions) => T): T {
  return useStore(useWorkStore(), pick);
}
