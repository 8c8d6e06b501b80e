export { isAlike } from './alike.ts';
export {
  DEFAULTS,
  type FaceSize,
  type Feed,
  faceOf,
  feedOf,
  type Lighting,
  leverRow,
  lightingOf,
  type NewIds,
  newIds,
  nextFreeId,
  nextFreeLetters,
  type Supply,
  stripBend,
  stripWidth,
  suppliesOf,
  takenIds,
} from './defaults.ts';
export {
  type Added,
  type ApplyOptions,
  applyTransaction,
  type Change,
  type Edit,
  editOf,
  freezePanel,
  invertTransaction,
  type KeySet,
  type PlainRecord,
  type RecordName,
  type Removed,
  squash,
  type Transaction,
  type Updated,
} from './edit.ts';
export { fileFormatPage } from './file-format-page.ts';
export { foldId } from './ids.ts';
export { type JsonSchema, panelJsonSchema } from './json-schema.ts';
export {
  checkPanel,
  type FileProblem,
  findUnknownKeys as unknownKeys,
  type PanelRead,
  problemLine,
  readPanel,
  type UnknownKey,
} from './read.ts';
export { recordSupplies } from './record-supplies.ts';
export type * from './schema.ts';
export { FORMAT, ID_PATTERN, VERSION } from './schema.ts';
export { keptFor, sharing } from './sharing.ts';
export { writePanel } from './write.ts';
