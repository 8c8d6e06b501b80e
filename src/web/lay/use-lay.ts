import { createContext, useContext } from 'react';
import { useStore } from 'zustand';
import type { LayActions, LayState, LayStore } from './lay-store.ts';

export const LayContext = createContext<LayStore | null>(null);

/** The store of the Lay stage. Only below `LayContext`. */
export function useLayStore(): LayStore {
  const store = useContext(LayContext);
  if (store === null) throw new Error('No Lay store above this component.');
  return store;
}

/** Does another window edit the panel, so that this one follows? */
export function useFollows(): boolean {
  return useLay(({ kept }) => kept !== null && kept.role !== 'editing');
}

/** One thing of the stage; drawn again when it changes. */
export function useLay<T>(pick: (state: LayState & LayActions) => T): T {
  return useStore(useLayStore(), pick);
}
