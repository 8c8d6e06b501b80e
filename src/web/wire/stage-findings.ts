/** Which findings are of circuits: supplies, lamps, switches, contacts, pins and wires. All others are mended where they lie. */
/** First words of codes of the sheet, the track, the strips and the routes. */
const ELSEWHERE: ReadonlySet<string> = new Set([
  ...['address', 'bats', 'bodies', 'body', 'box', 'bus', 'butt', 'crossing', 'decoder', 'decoders', 'end', 'ends'],
  ...['face', 'frog', 'hole', 'holes', 'in', 'key', 'leg', 'lettering', 'normal', 'nut', 'off', 'place', 'plate'],
  ...['plates', 'rails', 'record', 'records', 'reversing', 'route', 'routes', 'short', 'strip', 'strips', 'tape'],
  ...['three', 'track', 'not'],
]);

/** A leg without a lamp is a matter of lamps, whatever its first word says. */
const HERE: ReadonlySet<string> = new Set(['leg-without-lamp']);

/** The findings of circuits, in the order that they have. */
export function wireFindings<T extends { readonly code: string }>(findings: readonly T[]): readonly T[] {
  return findings.filter(({ code }) => HERE.has(code) || !ELSEWHERE.has(code.split('-')[0] ?? ''));
}
