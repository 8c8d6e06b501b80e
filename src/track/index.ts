export { caseText } from './list-frogs.ts';
export { sumBus } from './sum-bus.ts';
export { COIN_MARGIN, DROP_MOST, REACH } from './tolerances.ts';
export { type TrackInput, trackFeed } from './track-feed.ts';
export type * from './types.ts';
