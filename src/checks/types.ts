import type { CircuitProblem } from '../circuit/index.ts';
import type { ContactProblem, LeverSwitch } from '../contacts/index.ts';
import type { DecoderList } from '../decoders/index.ts';
import type { Face } from '../face/index.ts';
import type { LampGroup, LampProblem, LampUse } from '../lamps/index.ts';
import type { Loom } from '../loom/index.ts';
import type { PanelFile, Transaction } from '../panel/index.ts';
import type { Catalogue } from '../parts/index.ts';
import type { Plan } from '../plan/index.ts';
import type { RouteList } from '../routes/index.ts';
import type { TrackFeed } from '../track/index.ts';
import type { HealthyTruth } from '../truth/index.ts';
import type { Spot } from '../units/index.ts';
import type { Reading, Wiring } from '../wiring/index.ts';

/** danger: can hurt or burn; wrong: will not work or tells an untruth; caution; hint. */
export type Severity = 'danger' | 'wrong' | 'caution' | 'hint';

export interface Mend {
  readonly id: string;
  /** What the button says: "Swing the end to 32 degrees". */
  readonly text: string;
  /** In the user's money; null where it costs nothing to buy. */
  readonly price: number | null;
  /** The edit that does it; null where only hands can. */
  readonly edit: Transaction | null;
}

/** Numbers in base units, and words of the user's own. */
export type Values = Readonly<Record<string, number | string>>;

export interface Finding {
  readonly code: string;
  readonly severity: Severity;
  readonly where: { readonly ids: readonly string[]; readonly at: Spot | null };
  readonly message: string;
  readonly values: Values;
  readonly mends: readonly Mend[];
}

/** Everything a check may look at: the derived panel below this layer. */
export interface CheckInput {
  readonly panel: PanelFile;
  readonly catalogue: Catalogue;
  readonly plan: Plan;
  readonly decoders: DecoderList;
  readonly routes: RouteList;
  readonly switches: readonly LeverSwitch[];
  readonly contactProblems: readonly ContactProblem[];
  readonly lamps: readonly LampUse[];
  readonly groups: readonly LampGroup[];
  readonly lampProblems: readonly LampProblem[];
  readonly wiring: Wiring;
  readonly loom: Loom;
  readonly face: Face;
  readonly track: TrackFeed;
  readonly truth: HealthyTruth;
  /** One reading a lever position: every lever normal, every lever reverse, every lever at its centre where it has one. */
  readonly readings: readonly Reading[];
  readonly circuitProblems: readonly CircuitProblem[];
}
