import type { ReactNode } from 'react';
import type { Severity } from '../checks/index.ts';

/** A sign of 24 by 24, drawn by its lines; never without its word. */
export function Icon({ children }: { readonly children: ReactNode }) {
  return (
    <svg className="ic" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      {children}
    </svg>
  );
}

export const ChevronDown = () => (
  <Icon>
    <path d="m6.5 9.5 5.5 5.5 5.5-5.5" />
  </Icon>
);
export const ChevronRight = () => (
  <Icon>
    <path d="m9.5 6 6 6-6 6" />
  </Icon>
);
export const Swap = () => (
  <Icon>
    <path d="M4 8.5h14M14.5 5 18 8.5 14.5 12M20 15.5H6M9.5 12 6 15.5 9.5 19" />
  </Icon>
);
export const Tick = () => (
  <Icon>
    <path d="M4.5 12.5 10 18 20 6.5" />
  </Icon>
);
export const Question = () => (
  <Icon>
    <path d="M8.5 9a3.5 3.5 0 1 1 5.2 3.1c-1.1.6-1.7 1.3-1.7 2.6" />
    <path className="dots" d="M12 18.5v.01" />
  </Icon>
);
export const Cross = () => (
  <Icon>
    <path d="M6 6l12 12M18 6 6 18" />
  </Icon>
);
export const Moon = () => (
  <Icon>
    <path d="M19.5 14.2A8 8 0 0 1 9.8 4.5a8 8 0 1 0 9.7 9.7z" />
  </Icon>
);
export const Sun = () => (
  <Icon>
    <circle cx="12" cy="12" r="4" />
    <path d="M12 3v2.2M12 18.8V21M3 12h2.2M18.8 12H21M5.6 5.6l1.6 1.6M16.8 16.8l1.6 1.6M18.4 5.6l-1.6 1.6M7.2 16.8l-1.6 1.6" />
  </Icon>
);
export const Dots = () => (
  <Icon>
    <path className="dots" d="M5.5 12h.01M12 12h.01M18.5 12h.01" />
  </Icon>
);
export const Folder = () => (
  <Icon>
    <path d="M3.5 18.5v-12h6l2 2.5h9v9.5z" />
  </Icon>
);
export const Panels = () => (
  <Icon>
    <path d="M4 5h7v6H4zM13 5h7v6h-7zM4 13h7v6H4zM13 13h7v6h-7z" />
  </Icon>
);
export const Sheet = () => (
  <Icon>
    <rect x="4" y="4" width="16" height="16" rx="1.5" />
    <path d="M8 9h8M8 12.5h8M8 16h5" />
  </Icon>
);
export const NoEye = () => (
  <Icon>
    <path d="M3 12s3.4-6 9-6 9 6 9 6-3.4 6-9 6-9-6-9-6z" />
    <circle cx="12" cy="12" r="2.6" />
    <path d="M4.5 20 19.5 4" />
  </Icon>
);
/** A lever to be thrown. */
export const Bat = () => (
  <Icon>
    <circle cx="12" cy="15.5" r="4.5" />
    <path d="M12 15.5 16.5 5" />
  </Icon>
);

export const Minus = () => (
  <Icon>
    <path d="M5 12h14" />
  </Icon>
);
export const Plus = () => (
  <Icon>
    <path d="M12 5v14M5 12h14" />
  </Icon>
);
export const Undo = () => (
  <Icon>
    <path d="M8.5 5 4 9.5 8.5 14" />
    <path d="M4.5 9.5H14a5.5 5.5 0 0 1 0 11H9" />
  </Icon>
);
export const Redo = () => (
  <Icon>
    <path d="M15.5 5 20 9.5 15.5 14" />
    <path d="M19.5 9.5H10a5.5 5.5 0 0 0 0 11h5" />
  </Icon>
);
/** What was before: versions. */
export const Before = () => (
  <Icon>
    <path d="M4.5 12a7.5 7.5 0 1 0 2.3-5.4L4.5 9M4.5 4.5V9H9" />
    <path d="M12 8v4.3l3 1.8" />
  </Icon>
);

/** The sign of a severity: a shape of its own, in a hue of its own. Never without its word. */
export function SeverityMark({ severity, count }: { readonly severity: Severity; readonly count: number }) {
  const solid = severity === 'danger' || severity === 'wrong';
  return (
    <svg className={`sev ${count === 0 ? 'none' : severity}`} viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <g className={solid ? 'sev-solid' : 'sev-open'}>
        {severity === 'danger' ? <path d="M12 3.5 21.5 20h-19z" /> : null}
        {severity === 'wrong' ? <rect x="3.5" y="3.5" width="17" height="17" rx="2" /> : null}
        {severity === 'caution' ? <path d="M12 2.8 21.2 12 12 21.2 2.8 12z" /> : null}
        {severity === 'hint' ? <circle cx="12" cy="12" r="9" /> : null}
      </g>
      <path
        className={solid ? 'sev-ink-on' : 'sev-ink'}
        d={
          severity === 'wrong'
            ? 'M8.2 8.2l7.6 7.6M15.8 8.2l-7.6 7.6'
            : severity === 'hint'
              ? 'M12 11v5.5M12 7.6v.2'
              : severity === 'danger'
                ? 'M12 9.2v5M12 17v.2'
                : 'M12 7.6v5.4M12 16.2v.2'
        }
      />
    </svg>
  );
}
