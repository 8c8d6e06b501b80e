/** What a certificate was found to hold. */
export interface Counted {
  readonly lamps: number;
  readonly left: number;
  readonly states: number;
  readonly corners: number;
  readonly cases: number;
  readonly settings: string;
}

/** Works the certificate of a `truth` answer out again; throws with the first thing that is wrong. */
export function checkCertificate(panel: object, answer: object): Counted;
