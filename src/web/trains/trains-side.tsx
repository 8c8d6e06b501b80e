/** Beside the panel: the trains, what the picked one can do, the fewest moves to a standing, and the running sheet. */
import './trains.css';
import { helped } from '../help/switch.ts';
import { trainWords } from '../words/trains.ts';
import type { View } from '../worker/types.ts';
import { Bring } from './bring.tsx';
import { SheetList } from './sheet-list.tsx';
import { TrainList } from './train-list.tsx';
import type { TrainsStore } from './trains-store.ts';
import { TrainsContext, useTrains } from './use-trains.ts';

export function TrainsSide({ store, view }: { readonly store: TrainsStore; readonly view: View }) {
  return (
    <TrainsContext value={store}>
      <div className="trains-side">
        <section className="side-list" {...helped('trains.list')}>
          <TrainList view={view} />
        </section>
        <section className="side-list" {...helped('trains.sheet')}>
          <SheetList view={view} />
        </section>
        <section className="side-list" {...helped('trains.bring')}>
          <Bring view={view} />
        </section>
        <p className="note">{trainWords.told}</p>
        <Said />
      </div>
    </TrainsContext>
  );
}

function Said() {
  const said = useTrains((trains) => trains.said);
  return (
    <p className="unseen" role="status">
      {said}
    </p>
  );
}
