export { DATABASE_NAME } from './constants.ts';
export {
  type Difference,
  difference,
  type KeyChange,
  type ListDifference,
  type RecordDifference,
} from './difference.ts';
export { type DocumentOptions, type EditedPanel, type EditOptions, makeDocument, type StepName } from './document.ts';
export { type FileHandle, fileNameOf, type Handles, type Saved, saveToFile, type WaysOut } from './files.ts';
export { beginHistory, type Entry, type History, type Step } from './history.ts';
export { type Judged, judgeText, type Unusable } from './judge-text.ts';
export { type From, type Incoming, type Keeper, startKeeper } from './keeper.ts';
export { type Keeping, type Promised, REMIND_EDITS } from './keeping.ts';
export { FROM_OTHER_WINDOW, type KeptPanel, type KeptState, type Opening, type Role, type Stranded } from './kept.ts';
export type { Known } from './known.ts';
export type { Counts, SetAside, VersionRecord } from './records.ts';
export { barePanel, type NewPanel, type Shelf, type ShelfRow } from './shelf.ts';
export { browserSurroundings, type Surroundings } from './surroundings.ts';
