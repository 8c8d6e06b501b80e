/** Circuit symbols in the manner of IEC 60617, as the book draws them: px round their middle, upright; the caller turns them. */
import type { ModelSymbol, SymbolKind } from '../../book/index.ts';

/** A sine of two half waves, and the straight and broken lines of direct current. */
const WAVE = 'M-8 0C-5 -7 -3 -7 0 0S5 7 8 0';

/** What of a symbol turns with it. */
export function TurningArt({ kind, panelHalf }: Pick<ModelSymbol, 'kind' | 'panelHalf'>) {
  switch (kind) {
    case 'resistor':
      return <rect className="art" x="-9" y="-20" width="18" height="40" />;
    case 'fuse':
      return (
        <>
          <rect className="art" x="-7" y="-17" width="14" height="34" />
          <path className="art" d="M0-17V17" />
        </>
      );
    case 'lamp':
    case 'diode':
      return (
        <>
          <path className="art body" d="M-11-9H11L0 9Z" />
          <path className="art" d="M-11 9H11M0-9V9" />
          {kind === 'diode' ? null : (
            <path className="art rays" d="M14-2 23-10M17 5 26-3M18-9.600 23-10 22.600-5M21-2.600 26-3 25.600 2" />
          )}
        </>
      );
    case 'capacitor':
      return <path className="art" d="M-15-4H15M-15 4H15M0-15V-4M0 15V4M6-12H12M9-15V-9" />;
    case 'coil':
      return (
        <path
          className="art"
          d="M0-22A5.500 5.500 0 0 1 0-11A5.500 5.500 0 0 1 0 0A5.500 5.500 0 0 1 0 11A5.500 5.500 0 0 1 0 22"
        />
      );
    case 'relay-coil':
      return <rect className="art" x="-14" y="-11" width="28" height="22" />;
    case 'button':
      return <path className="art" d="M0-18V-13M0 18V13M0 13 12-10M7 0H20M16-7H20V7H16" />;
    case 'battery':
      return <path className="art" d="M0-26V-12M0 26V12M-18-12H18M-9-4H9M-18 4H18M-9 12H9" />;
    case 'way':
      return <Way half={panelHalf ?? 'socket'} />;
    default:
      return null;
  }
}

/** The panel's half above: a socket is the arc, a plug the bar that enters it. */
function Way({ half }: { readonly half: 'plug' | 'socket' }) {
  return (
    <g transform={half === 'socket' ? undefined : 'rotate(180)'}>
      <path className="art" d="M0-13V-7M-7 0A7 7 0 0 1 7 0M0 11V13" />
      <path className="art solid" d="M-2.500-3H2.500V11H-2.500Z" />
    </g>
  );
}

/** What of a symbol always stands upright. */
export function UprightArt({ kind }: { readonly kind: SymbolKind }) {
  switch (kind) {
    case 'supply':
      return (
        <>
          <rect className="art" x="-26" y="-26" width="52" height="52" />
          <path className="art thin" d="M-26 26 26-26" />
          <path className="art thin" transform="translate(-11 -11)" d={WAVE} />
          <path className="art thin" d="M4 11H20M4 16H8M10 16H14M16 16H20" />
        </>
      );
    case 'ac':
      return (
        <>
          <circle className="art" r="22" />
          <path className="art thin" d={WAVE} />
        </>
      );
    case 'motor':
      return (
        <>
          <circle className="art" r="24" />
          <text className="cct-m" y="3" textAnchor="middle">
            M
          </text>
          <path className="art thin" d="M-9 9H9M-9 14H-5M-2 14H2M5 14H9" />
        </>
      );
    default:
      return null;
  }
}
