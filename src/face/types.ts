import type { Degree, Millimetre, Spot } from '../units/index.ts';

/** A piece of a strip's centre line as drawn: bends are arcs of the tape's radius. */
export type Stroke =
  | { readonly kind: 'line'; readonly from: Spot; readonly to: Spot }
  | {
      readonly kind: 'arc';
      readonly from: Spot;
      readonly to: Spot;
      readonly centre: Spot;
      readonly radius: Millimetre;
      readonly clockwise: boolean;
    };

export interface DrawnStrip {
  readonly id: string;
  readonly tape: string;
  readonly width: Millimetre;
  readonly strokes: readonly Stroke[];
}

/** A lamp; of two colours each element is one, and both stand in one hole. */
export interface DrawnLamp {
  readonly id: string;
  readonly at: Spot;
  readonly size: Millimetre;
  readonly drill: Millimetre;
  readonly colour: string;
}

export interface DrawnLever {
  readonly id: string;
  readonly at: Spot;
  /** 0: bat up is normal, down is reverse. Turned clockwise. */
  readonly angle: Degree;
  readonly drill: Millimetre;
  readonly nut: Millimetre;
  readonly driver: Millimetre;
  readonly body: readonly [Millimetre, Millimetre];
  readonly depth: Millimetre;
  readonly poles: number;
  readonly centreOff: boolean;
}

/** A push button. */
export interface DrawnButton {
  readonly id: string;
  readonly at: Spot;
  readonly drill: Millimetre;
  /** Across its rim on the face. */
  readonly rim: Millimetre;
}

/** A plate with its lettering; `at` is its middle. */
export interface DrawnPlate {
  readonly id: string;
  readonly kind: 'place' | 'lever' | 'title' | 'text';
  readonly at: Spot;
  readonly width: Millimetre;
  readonly height: Millimetre;
  /** Lines from the top; `y` is the baseline measured from the plate's top, `size` the height of the type in mm. */
  readonly lines: readonly {
    readonly text: string;
    readonly size: Millimetre;
    readonly y: Millimetre;
    readonly weight: 500 | 600 | 700;
    readonly spacing: Millimetre;
  }[];
  readonly screws: boolean;
}

export interface DrawnPlatform {
  readonly at: Spot;
  readonly size: readonly [Millimetre, Millimetre];
  readonly names: readonly { readonly at: Spot; readonly text: string; readonly anchor: 'start' | 'middle' | 'end' }[];
}

/** A hole to drill. Numbered in the order of the list: lamps, levers, buttons, fixings, each by id. */
export interface Hole {
  readonly no: number;
  readonly id: string;
  readonly at: Spot;
  readonly drill: Millimetre;
  readonly what: 'lamp' | 'lever' | 'button' | 'fixing' | 'tab';
  /** What it is for, in words: "L5 normal", "Yard 2". */
  readonly for: string;
}

/** Everything on the sheet, in true millimetres: the one source of the screen, the pictures and the templates. */
export interface Face {
  readonly width: Millimetre;
  readonly height: Millimetre;
  readonly thickness: Millimetre;
  readonly material: string;
  readonly view: 'front' | 'rear';
  /** In the order of drawing: later lies on top. */
  readonly strips: readonly DrawnStrip[];
  readonly lamps: readonly DrawnLamp[];
  readonly levers: readonly DrawnLever[];
  readonly buttons: readonly DrawnButton[];
  readonly plates: readonly DrawnPlate[];
  readonly platforms: readonly DrawnPlatform[];
  readonly fixings: readonly { readonly id: string; readonly at: Spot; readonly drill: Millimetre }[];
  /** What stands behind the sheet without a hole: relays that the file places, by id. */
  readonly relays: readonly {
    readonly id: string;
    readonly at: Spot;
    readonly body: readonly [Millimetre, Millimetre];
    readonly depth: Millimetre;
  }[];
  readonly holes: readonly Hole[];
  readonly problems: readonly FaceProblem[];
}

export type FaceProblem =
  | { readonly code: 'off-the-face'; readonly id: string; readonly at: Spot }
  | {
      readonly code: 'holes-clash';
      readonly ids: readonly [string, string];
      readonly at: Spot;
      readonly gap: Millimetre;
      readonly least: Millimetre;
    }
  | {
      readonly code: 'hole-near-edge';
      readonly id: string;
      readonly at: Spot;
      readonly gap: Millimetre;
      readonly least: Millimetre;
    }
  | {
      readonly code: 'bodies-clash';
      readonly ids: readonly [string, string];
      readonly at: Spot;
      readonly overlap: Millimetre;
    }
  | { readonly code: 'body-over-hole'; readonly id: string; readonly hole: string; readonly at: Spot }
  | {
      readonly code: 'nut-driver-fouls';
      readonly id: string;
      readonly other: string;
      readonly at: Spot;
      readonly gap: Millimetre;
    }
  | {
      readonly code: 'bats-too-close';
      readonly ids: readonly [string, string];
      readonly at: Spot;
      readonly clear: Millimetre;
      readonly least: Millimetre;
    }
  | {
      readonly code: 'hole-cuts-tape';
      readonly id: string;
      readonly strip: string;
      readonly at: Spot;
      readonly drill: Millimetre;
      readonly width: Millimetre;
      readonly left: Millimetre;
    }
  | {
      readonly code: 'lettering-small';
      readonly id: string;
      readonly at: Spot;
      readonly size: Millimetre;
      readonly least: Millimetre;
    }
  | { readonly code: 'plates-overlap'; readonly ids: readonly [string, string]; readonly at: Spot }
  | { readonly code: 'plate-hides'; readonly plate: string; readonly id: string; readonly at: Spot }
  | { readonly code: 'in-keep-out'; readonly id: string; readonly at: Spot }
  | {
      readonly code: 'box-too-shallow';
      readonly id: string;
      readonly at: Spot;
      readonly needs: Millimetre;
      readonly has: Millimetre;
    }
  | { readonly code: 'tape-on-paint'; readonly strip: string; readonly ratio: number; readonly least: number };
