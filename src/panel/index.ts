export {
  DEFAULTS,
  type FaceSize,
  type Feed,
  faceOf,
  feedOf,
  type Lighting,
  leverRow,
  lightingOf,
  nextFreeId,
  nextFreeLetters,
  type Supply,
  stripBend,
  stripWidth,
  suppliesOf,
  takenIds,
} from './defaults.ts';
export { foldId } from './ids.ts';
export { checkPanel, type FileProblem, type PanelRead, problemLine, readPanel, type UnknownKey } from './read.ts';
export type * from './schema.ts';
export { FORMAT, ID_PATTERN, VERSION } from './schema.ts';
export { writePanel } from './write.ts';
