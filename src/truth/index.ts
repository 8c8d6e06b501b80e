export { type Certificate, certifyHealthy } from './certificate.ts';
export type { CertifiedIsland, CertifiedPoint, CertifiedState } from './certificate-states.ts';
export { KeptTruth } from './kept-truth.ts';
export { type DriveAtPowerUp, type LampAtPowerUp, type PowerUp, powerUp } from './power-up.ts';
export { proveFaults } from './prove-faults.ts';
export { proveHealthy, type TruthInput } from './prove-healthy.ts';
export { type Suggestion, type SuggestionId, suggestCures } from './suggest.ts';
export type * from './types.ts';
export { holds, type Verdict, verdictOf } from './verdict.ts';
