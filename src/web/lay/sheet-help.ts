/** While help is on: the sheet says what lies under the pointer. */
import { useEffect, useRef } from 'react';
import { isHelpOn } from '../help/switch.ts';
import type { HelpKey } from '../words/help.ts';
import { thingsUnder } from './tools/under.ts';
import { useLayStore } from './use-lay.ts';

/** How near the pointer has to be to a thing, px. */
const REACH_PX = 8;

/** For the element round the sheet. */
export function useSheetHelp(): React.RefObject<HTMLDivElement | null> {
  const store = useLayStore();
  const ref = useRef<HTMLDivElement>(null);
  useEffect(
    () =>
      store.subscribe((now, was) => {
        if (!isHelpOn() || now.pointer === was.pointer || ref.current === null) return;
        const { panel, shown, picked, pointer, camera } = now;
        const [top] =
          pointer === null || camera === null
            ? []
            : thingsUnder(panel, shown?.view ?? null, picked, pointer, REACH_PX / camera.pxPerMm);
        const key: HelpKey = top === undefined ? 'sheet' : `thing.${top.list}`;
        ref.current.dataset.help = key;
      }),
    [store],
  );
  return ref;
}
