import type { KeptPanel } from '../document/index.ts';
import type { Store } from '../store.ts';
import { keeper } from './keeper.ts';
import { pictureOf } from './picture.ts';

/** A panel that the browser has deleted, kept again as a new one and opened in place of the old. */
export async function keepAnew(app: Store, kept: KeptPanel): Promise<void> {
  const keeping = await keeper();
  const { panel } = kept.document.history;
  const id = await keeping.create({ panel, picture: pictureOf(panel) });
  keeping.forget(kept.id);
  await app.getState().open(kept.state.file ?? panel.name ?? '', kept.text(), 'kept', id);
}
