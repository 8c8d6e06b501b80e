export { budgetContacts, type ContactBudget, type ContactUse } from './budget.ts';
export { chooseSwitches, type PoleBudget, poleBudgets } from './choose-switches.ts';
export { type DriveTrap, driveTrap } from './drive-traps.ts';
export { contactsForLamps, drivesOfPoints, type PointDrive } from './point-drives.ts';
export {
  type ContactDuty,
  type ContactJudged,
  type ContactRating,
  type ContactVerdict,
  type RatedContact,
  rateContact,
} from './rate-contact.ts';
export {
  type Latch,
  latchesOf,
  polesForFeed,
  polesForLever,
  polesForTwin,
  springsBack,
  twinFor,
  twinId,
  twinOf,
  whyNoTwin,
} from './twins.ts';
export type * from './types.ts';
