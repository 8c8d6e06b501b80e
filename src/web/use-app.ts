import { createContext, useContext, useEffect, useState } from 'react';
import { useStore } from 'zustand';
import type { Actions, State, Store } from './store.ts';

export const StoreContext = createContext<Store | null>(null);

/** The store of this window. Only below `StoreContext`. */
export function useAppStore(): Store {
  const store = useContext(StoreContext);
  if (store === null) throw new Error('No store above this component.');
  return store;
}

/** One thing of the store; drawn again when it changes. */
export function useApp<T>(pick: (state: State & Actions) => T): T {
  return useStore(useAppStore(), pick);
}

/** Does a media query hold now? */
export function useMedia(query: string): boolean {
  const [holds, setHolds] = useState(() => matchMedia(query).matches);
  useEffect(() => {
    const list = matchMedia(query);
    const changed = (): void => setHolds(list.matches);
    changed();
    list.addEventListener('change', changed);
    return () => list.removeEventListener('change', changed);
  }, [query]);
  return holds;
}

/** In px; `em` is the size of the page's text. */
export interface Size {
  readonly width: number;
  readonly height: number;
  readonly em: number;
}

/** Size of an element in px, its scroll bar within it, and of the page's text, kept up to date; null until it is laid out. */
export function useSize(): {
  readonly ref: (element: HTMLElement | null) => void;
  readonly size: Size | null;
} {
  const [element, ref] = useState<HTMLElement | null>(null);
  const [size, setSize] = useState<Size | null>(null);
  useEffect(() => {
    if (element === null) return;
    const measure = (): void => {
      const em = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
      setSize((old) => {
        const next = { width: element.offsetWidth, height: element.offsetHeight, em };
        return old !== null && old.width === next.width && old.height === next.height && old.em === em ? old : next;
      });
    };
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    measure();
    return () => observer.disconnect();
  }, [element]);
  return { ref, size };
}
