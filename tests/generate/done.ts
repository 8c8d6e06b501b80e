/** An edit that is tried both ways. */
import { expect } from 'vitest';
import {
  applyTransaction,
  invertTransaction,
  type PanelFile,
  readPanel,
  type Transaction,
  writePanel,
} from '../../src/panel/index.ts';

/** The panel after an edit, which is taken back to the byte and reads back. Throws where there is no edit. */
export function done(panel: PanelFile, tx: Transaction | null): PanelFile {
  if (tx === null) throw new Error('no edit');
  const after = applyTransaction(panel, tx, { freeze: true });
  expect(writePanel(applyTransaction(after, invertTransaction(tx)))).toBe(writePanel(panel));
  expect(readPanel(writePanel(after)).ok).toBe(true);
  return after;
}
