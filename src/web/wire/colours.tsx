/** The insulation of a wire by the letters of IEC 60757: its body, its tracer, and a dark edge. Always beside its letters. */
const TRACED = /^([A-Z]{2})([A-Z]{2})$/;
const KNOWN = new Set(['BK', 'BN', 'RD', 'OG', 'YE', 'GN', 'BU', 'VT', 'GY', 'WH', 'PK', 'TQ']);

export function Insulation({ colour }: { readonly colour: string }) {
  const [, body = colour.slice(0, 2), tracer] = TRACED.exec(colour) ?? [];
  return (
    <svg className="insulation" viewBox="0 0 26 10" aria-hidden="true" focusable="false">
      <rect className={`ins ${KNOWN.has(body) ? `ins-${body}` : ''}`} x=".5" y=".5" width="25" height="9" rx="4.5" />
      {tracer === undefined ? null : (
        <rect className={`ins-trace ${KNOWN.has(tracer) ? `ins-${tracer}` : ''}`} x="1" y="3.5" width="24" height="3" />
      )}
    </svg>
  );
}
