/** What hands do to a panel, at random: strips laid, bent and taken up, names, plates, drags and nudges. */
import { editOf, type PanelFile, type Transaction } from '../../src/panel/index.ts';
import type { EditedPanel } from '../../src/web/document/document.ts';
import type { Random } from './random.ts';

/** A sheet with two strips. */
export const startingPanel = (): PanelFile => ({
  format: 'mimic-panel',
  version: 1,
  strips: [
    {
      id: 'main',
      path: [
        [20, 60],
        [580, 60],
      ],
    },
    {
      id: 'loop',
      path: [
        [100, 60],
        [140, 85],
        [400, 85],
      ],
    },
  ],
});

/** One thing that a hand does, accepted at once. */
export function randomEdit(document: EditedPanel, random: Random): void {
  const draw = random.whole(0, 9);
  if (draw < 2) {
    document.begin('strip.move', 'a strip');
    for (let i = random.whole(0, 5); i > 0; i--) document.extend(randomStroke(document.panel, random));
    if (random.chance(15)) document.abandon();
    else document.end();
  } else if (draw < 5) document.edit(randomStroke(document.panel, random), { gesture: 'nudge', subject: 'a strip' });
  else document.edit(randomStroke(document.panel, random), { subject: `stroke ${random.whole(1, 99)}` });
}

/** One edit that fits the panel. */
export function randomStroke(panel: PanelFile, random: Random): Transaction {
  const spot = (): [number, number] => [random.whole(0, 6000) / 10, random.whole(0, 3000) / 10];
  const strip = panel.strips[random.whole(0, Math.max(0, panel.strips.length - 1))];
  const draw = random.whole(0, 9);
  if (draw < 4 || strip === undefined) {
    const id = `s${(panel.retired?.length ?? 0) + panel.strips.length}x${random.whole(1, 1e9)}`;
    return editOf(panel)
      .add('strips', { id, path: [spot(), spot()] }, random.whole(0, panel.strips.length))
      .done('strip.lay');
  }
  if (draw < 7)
    return editOf(panel)
      .update('strips', strip.id, { path: [spot(), spot(), spot()] })
      .done('strip.bend');
  if (draw < 8) return editOf(panel).remove('strips', strip.id).done('strip.take-up');
  if (draw < 9)
    return editOf(panel)
      .set('name', `Yard ${random.whole(1, 99)}`)
      .done('panel.name');
  return editOf(panel)
    .set('retired', [...(panel.retired ?? []), `old${random.whole(1, 1e9)}`])
    .done('panel.retire');
}
