/** The Lay stage: tools at the left, the sheet on its bench in the middle, findings under it, and what is picked at the right. */
import './lay.css';
import { useEffect } from 'react';
import { Canvas } from './canvas.tsx';
import { LayFoot } from './foot.tsx';
import { layKey } from './lay-keys.ts';
import type { LayStore } from './lay-store.ts';
import { layWords } from './lay-words.ts';
import { Rail } from './rail.tsx';
import { Tray } from './tray.tsx';
import { LayContext, useLay } from './use-lay.ts';

export function Lay({ store }: { readonly store: LayStore }) {
  useEffect(() => {
    const keyed = (event: KeyboardEvent): void => {
      if (layKey(store, event)) event.preventDefault();
    };
    addEventListener('keydown', keyed);
    return () => removeEventListener('keydown', keyed);
  }, [store]);
  return (
    <LayContext value={store}>
      <main className="lay">
        <Rail />
        <section className="lay-mid" aria-label={layWords.sheet}>
          <Middle />
          <Tray />
        </section>
      </main>
    </LayContext>
  );
}

function Middle() {
  const name = useLay((lay) => lay.panel.name ?? '');
  return (
    <div className="lay-desk">
      <Canvas label={layWords.sheetOf(name)} />
      <LayFoot />
    </div>
  );
}
