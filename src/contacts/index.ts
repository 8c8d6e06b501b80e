export { budgetContacts, type ContactBudget, type ContactUse } from './budget.ts';
export { chooseSwitches, type PoleBudget, poleBudgets, polesForFeed } from './choose-switches.ts';
export { contactsForLamps, drivesOfPoints, type PointDrive } from './point-drives.ts';
export {
  type ContactDuty,
  type ContactJudged,
  type ContactRating,
  type ContactVerdict,
  type RatedContact,
  rateContact,
} from './rate-contact.ts';
export type * from './types.ts';
