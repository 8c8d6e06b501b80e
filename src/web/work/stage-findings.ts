/** Which findings are of levers, switches, drives and routes: those that this stage shows. */
const CODES: ReadonlySet<string> = new Set([
  'lever-works-nothing-there',
  'lever-works-nothing',
  'lever-joins-nothing',
  'point-worked-twice',
  'point-worked-by-none',
  'three-way-both-reverse',
  'route-not-settable',
  'routes-cut',
  'place-reaches-nothing',
  'switch-unknown',
  'switch-too-few-poles',
  'switch-sprung',
  'switch-centre-silent',
  'switch-overloaded',
  'twin-unfit',
  'twin-bat-says-nothing',
  'contact-makes-too-much',
  'button-unfit',
  'drive-unknown',
  'drive-part-unknown',
  'drive-kind-unfit',
  'drive-would-burn',
  'coil-held-by-unit',
  'contacts-overdrawn',
  'drive-two-levers',
  'drive-pulled-both-ways',
  'drive-volts-low',
  'drive-volts-high',
  'drive-volts-edge',
  'throw-too-weak',
  'lamp-point-has-no-lever',
]);

/** The findings of this stage, in the order that they have. */
export function workFindings<T extends { readonly code: string }>(findings: readonly T[]): readonly T[] {
  return findings.filter(({ code }) => CODES.has(code));
}

/** For the test that holds them to the codes there are. */
export const WORK_CODES = CODES;
