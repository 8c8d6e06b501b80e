/** Ways to build a panel otherwise, one by one from a worker of their own, so that nothing else waits and they can be stopped. */
import { useCallback, useEffect, useRef, useState } from 'react';
import { type StartedCore, startCore } from '../start-core.ts';
import type { ViewOption } from '../worker/options.ts';

export interface Weighing {
  readonly options: readonly ViewOption[];
  readonly state: 'weighing' | 'weighed' | 'stopped' | 'failed';
  /** Ids of those whose every single fault is being tried. */
  readonly trying: ReadonlySet<string>;
}

const NOTHING: Weighing = { options: [], state: 'weighing', trying: new Set() };

export function useOptions(text: string): Weighing & {
  readonly stop: () => void;
  readonly again: () => void;
  readonly tryFaults: (id: string) => void;
} {
  const [weighing, setWeighing] = useState(NOTHING);
  const worker = useRef<StartedCore | null>(null);
  const begin = useCallback((): void => {
    setWeighing(NOTHING);
    let on = true;
    const fail = (): void => {
      if (on) setWeighing((now) => ({ ...now, state: 'failed' }));
      end();
    };
    const started = startCore(fail);
    const { core } = started;
    const end = (): void => {
      on = false;
      started.end();
    };
    worker.current = { core, end };
    const weigh = async (): Promise<void> => {
      let option = await core.nextOption(text);
      while (on && option !== null) {
        const came = option;
        setWeighing((now) => ({ ...now, options: [...now.options, came] }));
        option = await core.nextOption(null);
      }
      if (on) setWeighing((now) => ({ ...now, state: now.options.length === 0 ? 'failed' : 'weighed' }));
    };
    weigh().catch(fail);
  }, [text]);
  useEffect(() => {
    begin();
    return () => worker.current?.end();
  }, [begin]);
  return {
    ...weighing,
    stop() {
      worker.current?.end();
      setWeighing((now) => ({ ...now, state: 'stopped', trying: new Set() }));
    },
    again() {
      worker.current?.end();
      begin();
    },
    tryFaults(id) {
      const core = worker.current?.core;
      if (core === undefined) return;
      setWeighing((now) => ({ ...now, trying: new Set([...now.trying, id]) }));
      const done = (option: ViewOption | null): void =>
        setWeighing((now) => ({
          ...now,
          trying: new Set([...now.trying].filter((each) => each !== id)),
          options: option === null ? now.options : now.options.map((each) => (each.id === id ? option : each)),
        }));
      core.tryOption(id).then(done, () => done(null));
    },
  };
}
