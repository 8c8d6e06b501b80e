/** The keys 1 to 6 go to the stages, in the order of the bar: to those that are there. */
import { useEffect } from 'react';
import { isField } from './lay/is-field.ts';
import { hasSingleKeys } from './single-keys.ts';
import { type Stage, stageNames, stageWhy } from './words/stages.ts';

const STAGES = Object.keys(stageNames) as readonly Stage[];

type Pressed = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'altKey' | 'target'>;

/** The stage that a key goes to; null where it goes to none, is typed into something, or single keys are off. */
export function stageOfKey({ key, ctrlKey, metaKey, altKey, target }: Pressed, on: boolean): Stage | null {
  if (!on || ctrlKey || metaKey || altKey || isField(target)) return null;
  const stage = STAGES[Number(key) - 1];
  return stage === undefined || stageWhy[stage] !== undefined ? null : stage;
}

/** Listens while there is somewhere to go. */
export function useStageKeys(go: ((stage: Stage) => void) | null): void {
  useEffect(() => {
    if (go === null) return;
    const keyed = (event: KeyboardEvent): void => {
      const stage = stageOfKey(event, hasSingleKeys());
      if (stage === null || document.querySelector('dialog[open]') !== null) return;
      // Figures that are typed while tape is laid are lengths: whoever takes a key says so by then.
      setTimeout(() => {
        if (!event.defaultPrevented) go(stage);
      });
    };
    addEventListener('keydown', keyed);
    return () => removeEventListener('keydown', keyed);
  }, [go]);
}
