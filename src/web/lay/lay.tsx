/** The Lay stage: tools at the left, the sheet on its bench in the middle, findings under it, and what is picked at the right. */
import './lay.css';
import './keep.css';
import { useLayoutEffect } from 'react';
import { helped } from '../help/switch.ts';
import { openFile } from '../incoming.ts';
import type { StageProps } from '../screen-props.ts';
import { useAppStore, useMedia } from '../use-app.ts';
import { layWords } from '../words/lay.ts';
import { Canvas } from './canvas.tsx';
import { ChangeMarks } from './change-marks.tsx';
import { listenToClipboard } from './clipboard.ts';
import { Deeds } from './deeds.tsx';
import { fileKey } from './file-keys.ts';
import { FirstStrip } from './first-strip.tsx';
import { LayFoot } from './foot.tsx';
import { Formations } from './formations.tsx';
import { Inspector } from './inspector.tsx';
import { KeepLines } from './keep-line.tsx';
import { layKey } from './lay-keys.ts';
import { Loupe } from './loupe.tsx';
import { Outline } from './outline.tsx';
import { Rail } from './rail.tsx';
import { useSheetHelp } from './sheet-help.ts';
import { TooNarrow, WIDE_ENOUGH } from './too-narrow.tsx';
import { Tray } from './tray.tsx';
import { LayContext, useLay } from './use-lay.ts';

export function Lay({ store, go }: StageProps) {
  const app = useAppStore();
  const wide = useMedia(WIDE_ENOUGH);
  useLayoutEffect(() => {
    const keyed = (event: KeyboardEvent): void => {
      // What is over the sheet has the keys.
      if (document.querySelector('dialog:modal') !== null) return;
      const opened = (file: File): void => void openFile(app, file);
      if (fileKey(store, event, opened) || layKey(store, event)) event.preventDefault();
    };
    addEventListener('keydown', keyed);
    const deaf = listenToClipboard(store, document);
    return () => {
      removeEventListener('keydown', keyed);
      deaf();
    };
  }, [store, app]);
  return (
    <LayContext value={store}>
      {wide ? (
        <main className="lay">
          <Rail />
          <section className="lay-mid" aria-label={layWords.sheet}>
            <Middle />
            <KeepLines grave />
            <Tray />
          </section>
          <Inspector />
        </main>
      ) : (
        <TooNarrow stage="lay" go={go} />
      )}
    </LayContext>
  );
}

function Middle() {
  const name = useLay((lay) => lay.panel.name ?? '');
  const sheet = useSheetHelp();
  return (
    <div ref={sheet} className="lay-desk" {...helped('sheet')}>
      <Outline />
      <Canvas label={layWords.sheetOf(name)} />
      <FirstStrip />
      <ChangeMarks />
      <Deeds />
      <Formations />
      <Loupe />
      <LayFoot />
    </div>
  );
}
