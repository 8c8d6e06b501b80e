/** What a new panel begins with. */
import { applyTransaction, type PanelFile } from '../../panel/index.ts';
import { barePanel } from '../document/index.ts';
import { putCornerFixings } from './panel-edits.ts';

/** A sheet for a first panel, about as large as a hand's span across: mm. */
const SHEET = { width: 300, height: 150 } as const;

/** A bare sheet of 300 by 150 mm with a screw hole in each corner. */
export function bareSheet(): PanelFile {
  const panel: PanelFile = { ...barePanel(), face: { ...SHEET } };
  const screws = putCornerFixings(panel, SHEET.width, SHEET.height);
  return screws === null ? panel : applyTransaction(panel, screws);
}
