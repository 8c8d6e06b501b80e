/** How large the thing in the middle of a stage is drawn: smaller, larger, the whole of it. The same in Lay, Work and Wire. */
import type { KeyboardEvent, ReactNode } from 'react';
import { helped } from '../help/switch.ts';
import { Minus, Plus } from '../icons.tsx';
import type { HelpKey } from '../words/help.ts';
import { layWords } from '../words/lay.ts';

interface Props {
  /** How large it is now, 1 where it is as large as it is built; null while it is not drawn. */
  readonly share: number | null;
  /** Of what the share is. */
  readonly of: string;
  readonly help: HelpKey;
  /** Null at the end of the steps. */
  readonly out: (() => void) | null;
  readonly larger: (() => void) | null;
  readonly fit: () => void;
  readonly fitTitle: string;
  /** What keys do on the buttons, and what is read out of them. */
  readonly keyed?: (event: KeyboardEvent) => void;
  readonly keys?: string;
  /** Further buttons behind. */
  readonly children?: ReactNode;
}

export function ZoomPill({ share, of, help, out, larger, fit, fitTitle, keyed, keys, children }: Props) {
  return (
    <div
      className="pill zoom"
      role="toolbar"
      aria-label={layWords.zoom}
      aria-description={keys}
      {...helped(help)}
      onKeyDown={keyed}
    >
      <button
        type="button"
        className="ibtn"
        aria-label={layWords.zoomOut}
        title={layWords.zoomOut}
        disabled={out === null}
        onClick={() => out?.()}
      >
        <Minus />
      </button>
      <output title={of}>{share === null ? '' : layWords.percent(share)}</output>
      <button
        type="button"
        className="ibtn"
        aria-label={layWords.zoomIn}
        title={layWords.zoomIn}
        disabled={larger === null}
        onClick={() => larger?.()}
      >
        <Plus />
      </button>
      <button type="button" className="word" title={fitTitle} onClick={fit}>
        {layWords.fit}
      </button>
      {children}
    </div>
  );
}
