export { chooseSwitches } from './choose-switches.ts';
export {
  type ContactDuty,
  type ContactJudged,
  type ContactRating,
  type ContactVerdict,
  type RatedContact,
  rateContact,
} from './rate-contact.ts';
export type * from './types.ts';
