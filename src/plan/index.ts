export { byId } from './by-id.ts';
export { keepNames, nameChanges } from './keep-names.ts';
export { pointsWithoutLever } from './levers.ts';
export { alongSpan, legsOf, spanAt } from './queries.ts';
export { type PlanReading, readPlan, rereadPlan } from './read-plan.ts';
export { recordsToAdd } from './records-to-add.ts';
export {
  addCorner,
  deleteStrips,
  joinStrips,
  moveCorner,
  moveStrips,
  removeCorner,
  reverseStrip,
  splitStrip,
} from './strip-edits.ts';
export { BRANCH_LEAST, BRANCH_MOST, BRANCH_USUAL, RECORD_REACH } from './tolerances.ts';
export type * from './types.ts';
