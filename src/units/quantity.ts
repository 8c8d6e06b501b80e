/**
 * Quantities as flavoured numbers: a plain number may become any quantity, but one quantity never passes for another.
 * Units are the base units of SI, except millimetres and square millimetres, which are what a builder measures.
 */
declare const unit: unique symbol;
type Quantity<Unit extends string> = number & { readonly [unit]?: Unit };

export type Volt = Quantity<'volt'>;
export type Ampere = Quantity<'ampere'>;
export type Ohm = Quantity<'ohm'>;
export type Watt = Quantity<'watt'>;
export type Farad = Quantity<'farad'>;
export type Henry = Quantity<'henry'>;
export type Second = Quantity<'second'>;
export type Hertz = Quantity<'hertz'>;
export type Joule = Quantity<'joule'>;
export type Coulomb = Quantity<'coulomb'>;
export type Siemens = Quantity<'siemens'>;
export type Celsius = Quantity<'celsius'>;
/** Millimetres, on the face or on the layout; the name of the field says which. */
export type Millimetre = Quantity<'millimetre'>;
export type SquareMillimetre = Quantity<'square millimetre'>;
export type Degree = Quantity<'degree'>;

/** A spot on the face: x to the right, y down, millimetres from the top left corner seen from the front. */
export type Spot = readonly [x: Millimetre, y: Millimetre];
