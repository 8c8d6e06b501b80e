export { caseText } from './list-frogs.ts';
export { type TrackInput, trackFeed } from './track-feed.ts';
export type * from './types.ts';
