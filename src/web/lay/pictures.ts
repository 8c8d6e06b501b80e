/** Pictures for the shelf, drawn when a hand has left a panel alone for a while. */
import type { KeptPanel } from '../document/index.ts';
import { keeper } from './keeper.ts';
import { pictureOf } from './picture.ts';

/** An edit is settled when nothing followed it for so long: ms. */
const SETTLED_MS = 2000;

const due = new Map<string, { readonly timer: ReturnType<typeof setTimeout>; readonly draw: () => Promise<void> }>();

/** Draw it now. A picture that cannot be kept is drawn again after the next edit: nothing else hangs on it. */
export async function drawPicture({ id, document }: KeptPanel): Promise<void> {
  const svg = pictureOf(document.history.panel);
  await keeper()
    .then((keeping) => keeping.setPicture(id, svg))
    .catch(() => {});
}

/** Draw it once its edits have settled. */
export function drawSoon(kept: KeptPanel): void {
  clearTimeout(due.get(kept.id)?.timer);
  const draw = (): Promise<void> => {
    clearTimeout(due.get(kept.id)?.timer);
    due.delete(kept.id);
    return drawPicture(kept);
  };
  due.set(kept.id, { timer: setTimeout(() => void draw(), SETTLED_MS), draw });
}

/** Draw now what is due. */
export async function drawDue(): Promise<void> {
  await Promise.all([...due.values()].map(({ draw }) => draw()));
}
