/** What passes between the window and the worker: plain data that can be cloned. */
import type { Paper, PrintedDocument } from '../../book/index.ts';
import type { Mend, Severity } from '../../checks/index.ts';
import type { Counts, LaidCounts, LeverPositions } from '../../derive-panel.ts';
import type { Face } from '../../face/index.ts';
import type { Described } from '../../laying/index.ts';
import type { FileProblem, Lie, Lies } from '../../panel/index.ts';
import type { PlanCrossing, PlanPoint } from '../../plan/index.ts';
import type { Conflict, Standing } from '../../routes/index.ts';
import type { Ampere, Degree, Millimetre, Spot } from '../../units/index.ts';
import type { Look, Position, ThrownBy } from '../../wiring/index.ts';
import type { Delta } from './delta.ts';
import type { ViewOption } from './options.ts';
import type { BringAnswer, BringAsk, TrainsAnswer, TrainsAsk } from './trains.ts';
import type { WireAsk, WireTruth, WireView } from './wire-types.ts';
import type { WorkPart, WorkPiece, WorkRouteView, WorkView } from './work-view.ts';

export interface ViewPlace {
  readonly id: string;
  /** As the plate says it; the id where the file gives no name. */
  readonly name: string;
  readonly at: Spot;
}

export interface ViewPoint {
  readonly id: string;
  readonly at: Spot;
  /** The lever that works it, and how it lies when that lever is normal; null where none does. */
  readonly lever: string | null;
  readonly whenNormal: Lie;
  /** Names of the strips of its two legs. */
  readonly normalTo: string;
  readonly reverseTo: string;
}

export interface ViewLever {
  readonly id: string;
  readonly name: string | null;
  readonly at: Spot;
  /** Ids of the points that it works. */
  readonly works: readonly string[];
  /** In the order of its throw: normal, centre where it has one, reverse. */
  readonly positions: readonly Position[];
}

/** A push button, and what it throws; one that works nothing is not here. */
export type ViewButton = ThrownBy;

export interface ViewLamp {
  readonly id: string;
  /** Name of the strip that it stands on. */
  readonly on: string;
}

/** A route, as the list of routes gives it, with the lamps that stand along its line. */
export interface ViewRoute {
  readonly from: string;
  readonly to: string;
  readonly points: Readonly<Record<string, Lie>>;
  readonly levers: Readonly<Record<string, Lie>> | null;
  /** Push buttons that it takes as well, in the order of the file. */
  readonly presses: readonly string[];
  readonly why: string | null;
  readonly through: readonly string[];
  readonly path: readonly Spot[];
  readonly lamps: readonly string[];
}

interface ViewSupply {
  readonly id: string;
  readonly name: string;
  readonly rating: Ampere;
}

/** What the solver says of one setting, as far as Run shows it. */
export interface ViewReading {
  readonly levers: LeverPositions;
  readonly looks: Readonly<Record<string, Look>>;
  readonly amps: Readonly<Record<string, Ampere>>;
  /** The network has no answer that holds with the levers so: what looks and amps say is not to be relied on. */
  readonly unsolved: boolean;
}

export interface ViewFinding {
  readonly code: string;
  readonly severity: Severity;
  readonly ids: readonly string[];
  readonly at: Spot | null;
  readonly message: string;
  /** What a finding of this code means and why it matters. */
  readonly why: string;
  readonly mends: readonly string[];
}

/** Everything that Run draws from. */
export interface View {
  readonly name: string;
  /** The empty text where the file gives none. */
  readonly revision: string;
  readonly face: Face;
  readonly places: readonly ViewPlace[];
  readonly points: readonly ViewPoint[];
  readonly levers: readonly ViewLever[];
  readonly buttons: readonly ViewButton[];
  readonly lamps: readonly ViewLamp[];
  readonly routes: readonly ViewRoute[];
  /** True where the list of routes was cut at its limit. */
  readonly cut: boolean;
  readonly conflicts: readonly Conflict[];
  readonly supplies: readonly ViewSupply[];
  readonly counts: Counts;
  /** Every lever as `levers` of the call asked, else normal. */
  readonly reading: ViewReading;
}

/** An end that meets a strip at no angle that can be read. */
export interface LayLoose {
  readonly strip: string;
  readonly onto: string;
  readonly at: Spot;
  readonly angle: Degree;
  /** Too square; else too flat. */
  readonly square: boolean;
}

/** Everything that Lay draws from, but for what the hand holds. */
export interface LayView {
  readonly face: Face;
  readonly counts: LaidCounts;
  readonly points: readonly (Pick<PlanPoint, 'id' | 'at' | 'toward' | 'of'> & { readonly lever: string | null })[];
  readonly crossings: readonly Pick<PlanCrossing, 'id' | 'at' | 'kind'>[];
  readonly places: readonly {
    readonly id: string;
    readonly name: string | null;
    readonly at: Spot;
    readonly kind: 'end' | 'road';
    /** Does the file name it? */
    readonly recorded: boolean;
  }[];
  /** The track, for what keeps clear of it. */
  readonly lines: readonly { readonly from: Spot; readonly to: Spot }[];
  readonly loose: readonly LayLoose[];
}

type OpenAnswer =
  | { readonly ok: true; readonly view: View }
  | { readonly ok: false; readonly problems: readonly FileProblem[] };

export interface LayFinding extends Omit<ViewFinding, 'mends'> {
  readonly mends: readonly Mend[];
}

/** What shall be printed: of which panel, and on which paper. */
export interface BookOrder {
  readonly text: string;
  readonly what: PrintedDocument;
  readonly paper: Paper;
  /** What the bar of 100 mm measures on the user's print, mm: templates are drawn to suit. */
  readonly barMeasured: Millimetre;
}

export interface BookAnswer {
  readonly title: string;
  /** A page each: SVG at its true size. */
  readonly pages: readonly string[];
}

/** The worker's calls. */
export interface Core {
  /**
   * What lies on the sheet now, as what has changed since the number that was laid before; `since` null: of everything. The panel that the
   * two calls below speak of under `number` from here on. Null where the panel of `since` is not at hand: to be told as a whole.
   */
  lay(change: Delta | null, since: number | null, number: number): { readonly change: Delta | null } | null;
  /** What is found on the panel last laid; null where another was laid meanwhile. */
  check(number: number): Promise<readonly LayFinding[] | null>;
  /** Everything on the sheet last laid in reading order; null where another was laid meanwhile. */
  describe(number: number): Promise<readonly Described[] | null>;
  /** Who works what on the sheet last laid, from what lies there alone; null where another was laid meanwhile. */
  work(number: number): Promise<WorkView | null>;
  /** One piece of what takes longer; null where another panel was laid meanwhile. */
  workPiece(number: number, part: WorkPart): Promise<WorkPiece | null>;
  /** One route of that list, with what stands beside it; null where there is none, or another panel was laid meanwhile. */
  workRoute(number: number, route: number): Promise<WorkRouteView | null>;
  /** Read and derive a panel; one that cannot be used leaves the panel at hand untouched. Levers that the panel has not are passed over. */
  open(text: string, levers: LeverPositions): OpenAnswer;
  /** What the lamps show with the levers so, on the panel last opened. */
  /** `lies`: how points lie that buttons threw. */
  operate(levers: LeverPositions, lies: Lies): ViewReading;
  /** The trains of the panel last opened, where its file has them stand. */
  standing(): Standing;
  /** Trains as a running sheet has them on the panel last opened: where they stand, and what each could do. */
  trains(ask: TrainsAsk): Promise<TrainsAnswer>;
  /** The fewest moves, then throws, that bring trains where they are wanted. */
  bring(ask: BringAsk): Promise<BringAnswer>;
  /** All findings on the panel last opened, worst first as the core sorts them. Throws asked for meanwhile are answered in between. */
  findings(): Promise<readonly ViewFinding[]>;
  /** The next of the ways to build a panel otherwise, weighed; `text` begins with it anew. Null after the last. Asked of a worker of its own. */
  nextOption(text: string | null): Promise<ViewOption | null>;
  /** One that came, with every single fault of it tried. */
  tryOption(id: string): ViewOption | null;
  /** The pages of a document to print; null where the text is no panel. Asked of a worker of its own: it takes seconds. */
  book(order: BookOrder): Promise<BookAnswer | null>;
  /** A circuit of the panel last laid, live in one setting; null where another was laid meanwhile. */
  wire(number: number, ask: WireAsk): Promise<WireView | null>;
  /** Looks of every lamp of the panel in that setting; null where another was laid meanwhile. */
  wireLooks(number: number, ask: WireAsk): Promise<Readonly<Record<string, Look>> | null>;
  /** What single faults do to what lamps say, circuit by circuit; null where another panel was laid meanwhile. Takes seconds. */
  wireTruth(number: number): Promise<WireTruth | null>;
}
